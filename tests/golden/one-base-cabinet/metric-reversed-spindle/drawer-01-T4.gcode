(job One base cabinet)
(fingerprint 2c572b368d)
(sheet drawer-01 of drawer)
(program 3 of 4 for this sheet)
(blank 1220 x 610 mm, 11.8 mm thick, measured)
(cutter 4: 6 mm up-cut end mill)
(cutter diameter 6 mm)
(x0 y0 at the blank's lower left corner)
(z0 at the stock top)
(before start: fit cutter 4 and touch off Z on the stock top with paper)
N5 G17
N10 G21
N15 G80
N20 G90
N25 G94
N30 G54
N35 G0 Z10
N40 G0 X6.8 Y154.76
N45 M4 S18000
N50 G4 P5000
(op 4: B1 drawer 1 back: bottom groove)
N55 G0 Z1
N60 G1 Z0 F1084.2
N65 X64.0434 Z-3 F1626.3
N70 X6.8 Z-6
N75 X547.6 F3252.6
N80 G0 Z10
(op 5: B1 drawer 1 box front: bottom groove)
N85 G0 X557.86
N90 Z1
N95 G1 Z0 F1084.2
N100 X615.1034 Z-3 F1626.3
N105 X557.86 Z-6
N110 X1098.66 F3252.6
N115 G0 Z10
(op 6: B1 drawer 1 right side: bottom groove)
N120 G0 X1129.86 Y25.9
N125 Z1
N130 G1 Z0 F1084.2
N135 X1072.6166 Z-3 F1626.3
N140 X1129.86 Z-6
N145 X573.46 F3252.6
N150 G0 Z10
(op 7: B1 drawer 1 left side: bottom groove)
N155 G0 X563.2
N160 Z1
N165 G1 Z0 F1084.2
N170 X505.9566 Z-3 F1626.3
N175 X563.2 Z-6
N180 X6.8 F3252.6
N185 G0 Z10
N190 G0 Z10
N195 M5
N200 G0 X0 Y0
N205 M30
