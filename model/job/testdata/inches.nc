%
(Words as RS274/NGC has them: spaces anywhere, either case, comments in the line, no point or no)
(digits before it, modal movement, block delete.)
N10 g20 g90
n0020 g0x +0. 12 34y 7      (the example of the standard: x 0.1234 in, y 7 in)
N30 g 1 x.5 (to the right) f10
/ N40 g1 x900               (block delete: skipped)
N50 y8                      (still G1)
N60 g91 g21
N70 x-.5 y+1.
N80 g92 x0 y0
N90 g90 x1 y1
%
; inch: x 0.1234, then to 0.5: 0.5 in = 12.7 mm; y 7, then 8: 8 in = 203.2 mm
; then mm: x 0.5, y 1; then from 0 0 to 1 1: x 1, y 1
; In all: x 12.7 + 0.5 + 1 = 14.2, y 203.2 + 1 + 1 = 205.2. Moves 5.
