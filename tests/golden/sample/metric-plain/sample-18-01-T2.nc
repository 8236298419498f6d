(job Sample all motions)
(fingerprint cb2ddcf72b)
(sheet sample-18-01 of sample-18)
(program 1 of 2 for this sheet)
(blank 400 x 300 mm, 17.8 mm thick, measured)
(cutter 2: brad point 5 mm)
(cutter diameter 5 mm)
(x0 y0 at the blank's lower left corner)
(z0 at the stock top)
(before start: fit cutter 2 and touch off Z on the stock top)
G17
G21
G90
G94
G54
G0 Z15
G0 X87 Y110
M3 S12000
G4 P4
(op 1: S1 left side: shelf pins)
G0 Z2
G1 Z-12 F600
G0 Z15
G0 Y142
G0 Z2
G1 Z-12
G0 Z15
G0 Y174
G0 Z2
G1 Z-12
G0 Z15
(op 2: S1 left side: pilot hole)
G0 X200 Y60
G0 Z2
G1 Z-4 F600
G0 Z2
G1 Z-10
G0 Z2
G1 Z-16
G0 Z2
G1 Z-18.1
G0 Z15
G0 Z15
M5
G0 X0 Y300
M30
