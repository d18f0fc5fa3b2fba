; r = 10 in all. A quarter moves 10 along each axis, a half 20 and 20, a whole turn 40 and 40.
G90
M83
G0 X10 Y0                 ; x 10
G3 X0 Y10 I-10 J0 E1      ; quarter about 0 0: x 20, y 10
G3 X-10 Y0 R10            ; quarter: x 30, y 20
G2 X-10 Y0 I10 J0         ; a whole turn about 0 0: x 70, y 60
G2 X10 Y0 R10             ; half: x 90, y 80
G3 X0 Y-10 R-10           ; three quarters, about 0 0: x 90 + 10 + 20, y 80 + 10 + 20 = 120, 110
G3 X10 Y0 Z2 I0 J10 E1    ; quarter and up by 2: x 130, y 120, z 2
G18
G3 X0 Z12 I0 K10          ; in ZX about x 10, z 12: from below to the left: x 140, z 12
G19
G3 Y10 Z22 J0 K10         ; in YZ about y 0, z 22: from below to the right: y 130, z 22
G91
G17
G2 X10 Y10 I10 J0         ; from the left of its centre to the top of it: x 150, y 140
; In all: x 150, y 140, z 22. Arcs 9, moves 10.
; Length: 10 + 10 pi (1/2 + 1/2 + 2 + 1 + 3/2) + sqrt((5 pi)^2 + 2^2) + 10 pi (1/2 + 1/2 + 1/2)
;       = 10 + 55 pi + 15.834775 + 15 pi = 245.746261
