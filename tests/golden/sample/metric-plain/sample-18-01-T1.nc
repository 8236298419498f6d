(job Sample all motions)
(fingerprint b08c5de65e)
(sheet sample-18-01 of sample-18)
(program 2 of 2 for this sheet)
(blank 400 x 300 mm, 17.8 mm thick, measured)
(cutter 1: compression 1/4 in)
(cutter diameter 6.35 mm)
(x0 y0 at the blank's lower left corner)
(z0 at the stock top)
(before start: fit cutter 1 and touch off Z on the stock top)
G17
G21
G90
G94
G54
G0 Z15
G0 X264.325 Y180
M3 S18000
G4 P4
(op 3: S1 left side: hinge cup)
G0 Z1
G1 Z0 F600
G3 X235.675 Y180 Z-1.6 I-14.325 J0 F900
G3 X264.325 Y180 Z-3.2 I14.325 J0
G3 X235.675 Y180 Z-4.8 I-14.325 J0
G3 X264.325 Y180 Z-6.4 I14.325 J0
G3 X235.675 Y180 Z-8 I-14.325 J0
G3 X264.325 Y180 Z-9.6 I14.325 J0
G3 X235.675 Y180 Z-11.2 I-14.325 J0
G3 X264.325 Y180 Z-12.8 I14.325 J0
G3 X235.675 Y180 I-14.325 J0 F1500
G3 X264.325 Y180 I14.325 J0
G1 X250
G0 Z15
(op 4: S1 left side: bottom dado)
G0 X46.3333 Y100.1
G0 Z1
G1 Z0 F600
G1 X353.6667 Z-6 F1200
G1 X46.3333 F2400
G0 Z15
(op 5: S1 left side: profile)
G0 X46.825 Y150
G0 Z1
G1 Z0 F600
G1 Y238 Z-18.1 F900
G2 X62 Y253.175 I15.175 J0 F1800
G1 X338
G2 X353.175 Y238 I0 J-15.175
G1 Y62
G2 X338 Y46.825 I-15.175 J0
G1 X62
G2 X46.825 Y62 I0 J15.175
G1 Y190
G0 Z15
G0 Z15
M5
G0 X0 Y300
M30
