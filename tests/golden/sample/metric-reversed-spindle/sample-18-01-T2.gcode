(job Sample all motions)
(fingerprint d7c6a2609b)
(sheet sample-18-01 of sample-18)
(program 1 of 2 for this sheet)
(blank 400 x 300 mm, 17.8 mm thick, measured)
(cutter 2: brad point 5 mm)
(cutter diameter 5 mm)
(x0 y0 at the blank's lower left corner)
(z0 at the stock top)
(before start: fit cutter 2 and touch off Z on the stock top with paper)
N5 G17
N10 G21
N15 G80
N20 G90
N25 G94
N30 G54
N35 G0 Z15
N40 G0 X87 Y110
N45 M4 S12000
N50 G4 P4000
(op 1: S1 left side: shelf pins)
N55 G98 G81 X87 Y110 Z-12 R2 F600
N60 X87 Y142 Z-12 R2
N65 X87 Y174 Z-12 R2
N70 G80
(op 2: S1 left side: pilot hole)
N75 G0 X200 Y60
N80 Z2
N85 G1 Z-4 F600
N90 G0 Z2
N95 G1 Z-10
N100 G0 Z2
N105 G1 Z-16
N110 G0 Z2
N115 G1 Z-18.1
N120 G0 Z15
N125 G0 Z15
N130 M5
N135 G0 X0 Y300
N140 M30
