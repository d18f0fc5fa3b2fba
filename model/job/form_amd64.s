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
DATA spread<>+0(SB)/8, $const_spread
GLOBL spread<>(SB), RODATA|NOPTR, $8

// The form of no line: it gives no word.
GLOBL empty<>(SB), RODATA|NOPTR, $256

// CONSTANTS sets Y0 to Y6, which hold through both loops.
#define CONSTANTS \
	VPBROADCASTQ zeros<>(SB), Y0; \
	VPBROADCASTQ lift<>(SB), Y1; \
	VPBROADCASTQ below<>(SB), Y2; \
	VPBROADCASTQ ends<>(SB), Y3; \
	VPBROADCASTQ tens<>(SB), Y4; \
	VPBROADCASTQ hundreds<>(SB), Y5; \
	VPBROADCASTQ myriads<>(SB), Y6

// FIND looks at the line at SI. It sets R9 to its length less one, R10 to its key and R11 to its form
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
	SHLQ $32, BX; \
	SHLQ $32, R11; \
	ORQ BX, AX; \
	ORQ R11, R10; \
	BLSMSKQ AX, BX; \
	TZCNTQ AX, R9; \
	ANDNQ BX, R10, R10; \
	MOVBLZX 1(SI), R11; \
	SHLQ $57, R11; \
	XORQ R10, R11; \
	IMULQ spread<>(SB), R11; \
	SHRQ $55, R11; \
	SHLQ $8, R11; \
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

// NUMBERS sets Y13 to the numbers of the line at R12 whose form is R13, by lane. Eight digits each are
// picked, and made two, four and eight.
#define NUMBERS \
	MOVBLZX form_at+0(R13), AX; \
	MOVBLZX form_at+1(R13), BX; \
	VMOVDQU (R12)(AX*1), X13; \
	VMOVDQU (R12)(BX*1), X14; \
	MOVBLZX form_at+2(R13), AX; \
	MOVBLZX form_at+3(R13), BX; \
	VMOVDQU (R12)(AX*1), X15; \
	VMOVDQU (R12)(BX*1), X11; \
	VPSHUFB form_pick+0(R13), X13, X13; \
	VPSHUFB form_pick+16(R13), X14, X14; \
	VPSHUFB form_pick+32(R13), X15, X15; \
	VPSHUFB form_pick+48(R13), X11, X11; \
	VPOR X14, X13, X13; \
	VPOR X11, X15, X15; \
	VINSERTI128 $1, X15, Y13, Y13; \
	VPSUBUSB Y0, Y13, Y13; \
	VPMADDUBSW Y4, Y13, Y13; \
	VPMADDWD Y5, Y13, Y13; \
	VPACKUSDW Y13, Y13, Y13; \
	VPMADDWD Y6, Y13, Y13; \
	VPSHUFD $0x50, Y13, Y13; \
	VPMULDQ form_scale(R13), Y13, Y13

// func sumAVX2(b []byte, f *forms, u *level) int
//
// SI is a line, CX the last place one may begin at, DX the sums; Y7 to Y9 are level.to, back and fixed,
// Y10 is nothing but zeros, R8 level.drive, R14 level.count, R15 level.strange.
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
	VMOVDQU level_to(DX), Y7
	VMOVDQU level_back(DX), Y8
	VMOVDQU level_fixed(DX), Y9
	VPXOR Y10, Y10, Y10
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
	VPAND Y9, Y7, Y14
	VPSUBQ Y14, Y13, Y13
	VPAND form_given(R13), Y13, Y13
	VPADDQ Y13, Y7, Y7
	VPCMPGTQ Y13, Y10, Y14
	VPAND Y13, Y14, Y14
	VPADDQ Y14, Y8, Y8
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
	LEAQ 1(SI)(R9*1), SI
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
	VMOVDQU Y7, level_to(DX)
	VMOVDQU Y8, level_back(DX)
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
	LEAQ 1(R14)(R9*1), R14
	LEAQ 1(SI)(R9*1), SI
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
