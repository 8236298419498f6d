(job One base cabinet)
(fingerprint 3f24cee5e6)
(sheet drawer-01 of drawer)
(program 2 of 4 for this sheet)
(blank 1220 x 610 mm, 11.8 mm thick, measured)
(cutter 8: 6 mm brad-point drill)
(cutter diameter 6 mm)
(x0 y0 at the blank's lower left corner)
(z0 at the stock top)
(before start: fit cutter 8 and touch off Z on the stock top)
G17
G21
G90
G94
G54
G0 Z10
G0 X531.4 Y162.86
M3 S8000
G4 P5
(op 3: B1 drawer 1 back: 2 rear hook holes 6 mm, through)
G0 Z1
G1 Z-12.1 F1445.6
G0 Z10
G0 X23
G0 Z1
G1 Z-12.1
G0 Z10
G0 Z10
M5
G0 X0 Y0
M30
