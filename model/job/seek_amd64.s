#include "textflag.h"

DATA small<>+0(SB)/8, $0x2020202020202020 // makes capital letters small
GLOBL small<>(SB), RODATA|NOPTR, $8
DATA tee<>+0(SB)/8, $0x7474747474747474 // t
GLOBL tee<>(SB), RODATA|NOPTR, $8
DATA emm<>+0(SB)/8, $0x6d6d6d6d6d6d6d6d // m
GLOBL emm<>(SB), RODATA|NOPTR, $8

// MATCH sets OUT where the 32 bytes at AT are t or m, large or small.
#define MATCH(AT, OUT, TMP) \
	VPOR AT, Y0, TMP; \
	VPCMPEQB Y1, TMP, OUT; \
	VPCMPEQB Y2, TMP, TMP; \
	VPOR TMP, OUT, OUT

// func seekAVX2(b []byte) int
//
// SI is where it looks, CX what is left. 128 bytes at once, then 32.
TEXT ·seekAVX2(SB), NOSPLIT, $0-32
	MOVQ b_base+0(FP), SI
	MOVQ b_len+8(FP), CX
	VPBROADCASTQ small<>(SB), Y0
	VPBROADCASTQ tee<>(SB), Y1
	VPBROADCASTQ emm<>(SB), Y2

	PCALIGN $32
far:
	CMPQ CX, $128
	JLT near
	MATCH((SI), Y3, Y4)
	MATCH(32(SI), Y5, Y6)
	MATCH(64(SI), Y7, Y8)
	MATCH(96(SI), Y9, Y10)
	VPOR Y3, Y5, Y5
	VPOR Y7, Y9, Y9
	VPOR Y5, Y9, Y9
	VPTEST Y9, Y9
	JNE near
	ADDQ $128, SI
	SUBQ $128, CX
	JMP far

near:
	CMPQ CX, $32
	JLT done
	MATCH((SI), Y3, Y4)
	VPMOVMSKB Y3, AX
	TESTL AX, AX
	JNE found
	ADDQ $32, SI
	SUBQ $32, CX
	JMP near

found:
	TZCNTL AX, AX
	ADDQ AX, SI

done:
	SUBQ b_base+0(FP), SI
	MOVQ SI, ret+24(FP)
	VZEROUPPER
	RET
