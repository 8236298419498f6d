(job One base cabinet)
(fingerprint 562c027824)
(sheet drawer-01 of drawer)
(program 1 of 4 for this sheet)
(blank 1220 x 610 mm, 11.8 mm thick, measured)
(cutter 6: 3 mm brad-point drill)
(cutter diameter 3 mm)
(x0 y0 at the blank's lower left corner)
(z0 at the stock top)
(before start: fit cutter 6 and touch off Z on the stock top)
G17
G21
G90
G94
G54
G0 Z10
G0 X15.9 Y52.15
M3 S8000
G4 P5
(op 1: B1 drawer 1 left side: 4 pilot holes 3 mm, through)
G0 Z1
G1 Z-2 F768
G0 Z1
G1 Z-5
G0 Z1
G1 Z-8
G0 Z1
G1 Z-11
G0 Z1
G1 Z-12.1
G0 Z10
G0 Y98.85
G0 Z1
G1 Z-2
G0 Z1
G1 Z-5
G0 Z1
G1 Z-8
G0 Z1
G1 Z-11
G0 Z1
G1 Z-12.1
G0 Z10
G0 X554.1
G0 Z1
G1 Z-2
G0 Z1
G1 Z-5
G0 Z1
G1 Z-8
G0 Z1
G1 Z-11
G0 Z1
G1 Z-12.1
G0 Z10
G0 Y52.15
G0 Z1
G1 Z-2
G0 Z1
G1 Z-5
G0 Z1
G1 Z-8
G0 Z1
G1 Z-11
G0 Z1
G1 Z-12.1
G0 Z10
(op 2: B1 drawer 1 right side: 4 pilot holes 3 mm, through)
G0 X582.56
G0 Z1
G1 Z-2 F768
G0 Z1
G1 Z-5
G0 Z1
G1 Z-8
G0 Z1
G1 Z-11
G0 Z1
G1 Z-12.1
G0 Z10
G0 Y98.85
G0 Z1
G1 Z-2
G0 Z1
G1 Z-5
G0 Z1
G1 Z-8
G0 Z1
G1 Z-11
G0 Z1
G1 Z-12.1
G0 Z10
G0 X1120.76
G0 Z1
G1 Z-2
G0 Z1
G1 Z-5
G0 Z1
G1 Z-8
G0 Z1
G1 Z-11
G0 Z1
G1 Z-12.1
G0 Z10
G0 Y52.15
G0 Z1
G1 Z-2
G0 Z1
G1 Z-5
G0 Z1
G1 Z-8
G0 Z1
G1 Z-11
G0 Z1
G1 Z-12.1
G0 Z10
G0 Z10
M5
G0 X0 Y0
M30
