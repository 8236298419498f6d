(job One base cabinet)
(fingerprint a1ab0e9165)
(sheet drawer-01 of drawer)
(program 2 of 4 for this sheet)
(blank 1220 x 610 mm, 11.8 mm thick, measured)
(cutter 8: 6 mm brad-point drill)
(cutter diameter 6 mm)
(x0 y0 at the blank's lower left corner)
(z0 at the stock top)
(before start: fit cutter 8 and touch off Z on the stock top with paper)
N5 G17
N10 G21
N15 G80
N20 G90
N25 G94
N30 G54
N35 G0 Z10
N40 G0 X531.4 Y162.86
N45 M4 S8000
N50 G4 P5000
(op 3: B1 drawer 1 back: 2 rear hook holes 6 mm, through)
N55 G98 G81 X531.4 Y162.86 Z-12.1 R1 F1445.6
N60 X23 Y162.86 Z-12.1 R1
N65 G80
N70 G0 Z10
N75 M5
N80 G0 X0 Y0
N85 M30
