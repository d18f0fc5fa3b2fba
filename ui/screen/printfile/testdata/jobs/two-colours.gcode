; Two layers in two colours, absolute everything. The arithmetic stands behind the lines:
; x, y, z are travel so far, E what was pushed (+) or pulled back (-) by which tool.
M201 X1000 Y1000 Z100 E1000
M140 S60
M109 S215           ; hot end 215
M190 S65            ; bed 65
T1000               ; a service call: beyond the tools
G28                 ; at 0 0 0
G90
M82
T2                  ; the first T loads: the start, no change
G92 E0
G1 Z0.2 F600        ; z 0.2
G1 X10 Y0 E1 F1200  ; x 10            tool 2 +1   layer 1 at 0.2
G1 X10 Y10 E2       ; y 10            tool 2 +1
G1 E1.2             ; tool 2 -0.8     first time back
G0 Z0.6             ; z 0.6
G0 X0 Y0 F6000      ; x 20, y 20
G0 Z0.2             ; z 1.0
G1 E2               ; tool 2 +0.8
G1 X3 Y4 E2.5 F1200 ; x 23, y 24      tool 2 +0.5
T0                  ; change 1
T0                  ; no change
T255                ; service
G92 E0
G1 X0 Y0 E0.5       ; x 26, y 28      tool 0 +0.5
G1 Z0.4             ; z 1.2
G1 X1 Y0 E1.5       ; x 27            tool 0 +1   layer 2 at 0.4
M104 S230           ; hot end 230
T2                  ; change 2
G92 E0
M83
G1 X0 E0.25         ; x 28            tool 2 +0.25
G1 E-2              ; tool 2 -2       second time back
M600                ; change 3, by hand
G4 P1500            ; 1.5 s
G4 S2               ; 2 s
M84
; In all: x 28, y 28, z 1.2. Tool 2: pushed 1+1+0.8+0.5+0.25 = 3.55, back 0.8+2 = 2.8.
; Tool 0: pushed 1.5. Moves: 14. Layers 2. Waits 3.5 s. Service 2.
