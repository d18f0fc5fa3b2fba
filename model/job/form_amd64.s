#include "go_asm.h"
#include "textflag.h"

// Constants, each for all lanes.
DATA zeros<>+0(SB)/8, $0x3030303030303030 // the digit 0
GLOBL zeros<>(SB), RODATA|NOPTR, $8
DATA ends<>+0(SB)/8, $0x0a0a0a0a0a0a0a0a // the line end
GLOBL ends<>(SB), RODATA|NOPTR, $8
DATA lift<>+0(SB)/8, $0x4646464646464646 // brings 9 to the highest signed byte
GLOBL lift<>(SB), RODATA|NOPTR, $8
DATA below<>+0(SB)/8, $0x7575757575757575 // is then one below 0
GLOBL below<>(SB), RODATA|NOPTR, $8
DATA tens<>+0(SB)/8, $0x010a010a010a010a // bytes 10, 1
GLOBL tens<>(SB), RODATA|NOPTR, $8
DATA hundreds<>+0(SB)/8, $0x0001006400010064 // words 100, 1
GLOBL hundreds<>(SB), RODATA|NOPTR, $8
DATA myriads<>+0(SB)/8, $0x0001271000012710 // words 10000, 1
GLOBL myriads<>(SB), RODATA|NOPTR, $8
DATA millions<>+0(SB)/8, $const_scale
GLOBL millions<>(SB), RODATA|NOPTR, $8

// The form of no line: it gives no word.
GLOBL empty<>(SB), RODATA|NOPTR, $256

// CONSTANTS sets Y0 to Y7, which hold through both loops.
#define CONSTANTS \
	VPBROADCASTQ zeros<>(SB), Y0; \
	VPBROADCASTQ lift<>(SB), Y1; \
	VPBROADCASTQ below<>(SB), Y2; \
	VPBROADCASTQ ends<>(SB), Y3; \
	VPBROADCASTQ tens<>(SB), Y4; \
	VPBROADCASTQ hundreds<>(SB), Y5; \
	VPBROADCASTQ myriads<>(SB), Y6; \
	VPBROADCASTQ millions<>(SB), Y7

// FIND looks at the line at SI. It sets R9 to its length, R10 to its key and R11 to its form
// among those at DI, or goes to missed. The form is the line's if its key is the same and so is all
// that is no digit, and the digit after G.
#define FIND(missed) \
	VMOVDQU (SI), Y11; \
	VMOVDQU 32(SI), Y12; \
	VPCMPEQB Y3, Y11, Y13; \
	VPCMPEQB Y3, Y12, Y14; \
	VPMOVMSKB Y13, AX; \
	VPMOVMSKB Y14, BX; \
	VPADDB Y1, Y11, Y13; \
	VPADDB Y1, Y12, Y14; \
	VPCMPGTB Y2, Y13, Y13; \
	VPCMPGTB Y2, Y14, Y14; \
	VPMOVMSKB Y13, R10; \
	VPMOVMSKB Y14, R11; \
	SHLQ $33, BX; \
	ADDQ AX, AX; \
	SHLQ $32, R11; \
	ORQ BX, AX; \
	ORQ R11, R10; \
	TZCNTQ AX, R9; \
	LEAQ -1(AX), BX; \
	ANDNQ BX, AX, BX; \
	ANDNQ BX, R10, R10; \
	MOVL (SI), R11; \
	CRC32Q R10, R11; \
	ANDL $(const_formMask<<8), R11; \
	ADDQ DI, R11; \
	VPCMPEQB form_want(R11), Y11, Y13; \
	VPCMPEQB form_want+32(R11), Y12, Y14; \
	VPMOVMSKB Y13, AX; \
	VPMOVMSKB Y14, BX; \
	CMPQ R10, form_key(R11); \
	JNE missed; \
	ORQ $2, R10; \
	SHLQ $32, BX; \
	ORQ BX, AX; \
	ANDNQ R10, AX, AX; \
	JNE missed

// NUMBERS sets Y13 to the numbers of the line at R12 whose form is R13, by lane. Sixteen digits each are
// picked, and made two, four and eight: the whole part and the millionths.
#define NUMBERS \
	MOVBLZX form_at+(1*const_laneY)(R13), AX; \
	MOVBLZX form_at+(1*const_laneF)(R13), BX; \
	VMOVDQU (R12)(AX*1), X14; \
	VMOVDQU (R12)(BX*1), X11; \
	MOVBLZX form_at+(1*const_laneX)(R13), AX; \
	MOVBLZX form_at+(1*const_laneE)(R13), BX; \
	VMOVDQU (R12)(AX*1), X13; \
	VMOVDQU (R12)(BX*1), X15; \
	VPSHUFB form_pick+(16*const_laneY)(R13), X14, X14; \
	VPSHUFB form_pick+(16*const_laneF)(R13), X11, X11; \
	VPSHUFB form_pick+(16*const_laneX)(R13), X13, X13; \
	VPSHUFB form_pick+(16*const_laneE)(R13), X15, X15; \
	VINSERTI128 $1, X11, Y14, Y14; \
	VINSERTI128 $1, X15, Y13, Y13; \
	VPSUBUSB Y0, Y14, Y14; \
	VPSUBUSB Y0, Y13, Y13; \
	VPMADDUBSW Y4, Y14, Y14; \
	VPMADDUBSW Y4, Y13, Y13; \
	VPMADDWD Y5, Y14, Y14; \
	VPMADDWD Y5, Y13, Y13; \
	VPACKUSDW Y14, Y13, Y13; \
	VPMADDWD Y6, Y13, Y13; \
	VPSRLQ $32, Y13, Y14; \
	VPMULUDQ Y7, Y13, Y13; \
	VPADDQ Y14, Y13, Y13; \
	VMOVDQU form_minus(R13), Y14; \
	VPXOR Y14, Y13, Y13; \
	VPSUBQ Y14, Y13, Y13

// func sumAVX2(b []byte, f *forms, u *level) int
//
// SI is a line, CX the last place one may begin at, DX the sums; Y8 to Y10 are level.to, back and fixed,
// R8 is level.drive, R14 level.count, R15 level.strange.
//
// Each turn finds the form of one line and adds up the line before it, which is at R12 and has the form
// R13: neither has to wait for the other.
TEXT ·sumAVX2(SB), NOSPLIT, $0-48
	MOVQ b_base+0(FP), SI
	MOVQ b_len+8(FP), CX
	MOVQ f+24(FP), DI
	MOVQ u+32(FP), DX
	LEAQ -const_formRoom(SI)(CX*1), CX
	CONSTANTS
	VMOVDQU level_to(DX), Y8
	VMOVDQU level_back(DX), Y9
	VMOVDQU level_fixed(DX), Y10
	MOVBLZX level_drive(DX), R8
	MOVQ level_count(DX), R14
	MOVBLZX level_strange(DX), R15
	MOVQ SI, R12
	LEAQ empty<>(SB), R13

	PCALIGN $64
line:
	FIND(last)
	TESTB R15, form_has(R11)
	JNE last

numbers:
	NUMBERS

	// Y13: how far that is. A word not given stays where it was.
	VPAND Y10, Y8, Y14
	VPSUBQ Y14, Y13, Y13
	VPAND form_given(R13), Y13, Y13
	VPADDQ Y13, Y8, Y8
	VPXOR Y15, Y15, Y15
	VPCMPGTQ Y13, Y15, Y14
	VPAND Y13, Y14, Y14
	VPADDQ Y14, Y9, Y9
	VEXTRACTI128 $1, Y13, X14 // E first
	VMOVQ X14, AX
	TESTQ AX, AX
	JLE still
	XORL R8, R8 // pushed
	CMPB level_laid(DX), $0
	JEQ laid

next:
	TESTQ R11, R11
	JEQ done
	ADDQ form_count(R11), R14
	MOVQ SI, R12
	MOVQ R11, R13
	ADDQ R9, SI
	CMPQ SI, CX
	JLS line

last:
	XORL R11, R11
	JMP numbers

done:
	LEAQ empty<>(SB), AX
	CMPQ AX, R13
	JEQ none
	MOVBLZX form_op(R13), AX
	MOVB AX, level_op(DX)
	VMOVDQU Y8, level_to(DX)
	VMOVDQU Y9, level_back(DX)
	MOVB R8, level_drive(DX)
	MOVQ R14, level_count(DX)

none:
	SUBQ b_base+0(FP), SI
	MOVQ SI, ret+40(FP)
	VZEROUPPER
	RET

still:
	JEQ next
	CMPL R8, $const_still
	JEQ first
	CMPL R8, $const_pushed
	JNE next
	INCQ level_turns(DX)
	MOVL $const_pulled, R8
	JMP next

first:
	MOVB $1, level_backOff(DX)
	MOVL $const_pulled, R8
	JMP next

laid:
	VPTEST X13, X13 // X and Y
	SETNE level_laid(DX)
	JMP next

// func readAVX2(b []byte, f *forms, to []rec, line uint32) (n, recs int)
//
// SI is a line, CX the last place one may begin at, DX the next record, R8 the end of the records, R14 the
// line in its block.
TEXT ·readAVX2(SB), NOSPLIT, $0-80
	MOVQ b_base+0(FP), SI
	MOVQ b_len+8(FP), CX
	MOVQ f+24(FP), DI
	MOVQ to_base+32(FP), DX
	MOVQ to_len+40(FP), R8
	MOVLQZX line+56(FP), R14
	LEAQ -const_formRoom(SI)(CX*1), CX
	IMULQ $rec__size, R8
	ADDQ DX, R8
	CONSTANTS

	PCALIGN $64
line:
	CMPQ SI, CX
	JHI done
	CMPQ DX, R8
	JEQ done
	FIND(done)
	MOVQ SI, R12
	MOVQ R11, R13
	NUMBERS
	VMOVDQU X13, rec_v+(8*const_atX)(DX)
	VEXTRACTI128 $1, Y13, rec_v+(8*const_atE)(DX)
	MOVQ form_said(R13), AX
	ADDQ R14, AX
	MOVQ AX, rec_line(DX)
	ADDQ R9, R14
	ADDQ R9, SI
	ADDQ $rec__size, DX
	JMP line

done:
	SUBQ b_base+0(FP), SI
	MOVQ SI, n+64(FP)
	SUBQ to_base+32(FP), DX
	MOVQ DX, AX
	XORL DX, DX
	MOVQ $rec__size, BX
	DIVQ BX
	MOVQ AX, recs+72(FP)
	VZEROUPPER
	RET
