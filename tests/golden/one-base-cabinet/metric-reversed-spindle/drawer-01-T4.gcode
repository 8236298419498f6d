(job One base cabinet)
(fingerprint d187b9411d)
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
N40 G0 X563.2 Y25.9
N45 M4 S18000
N50 G4 P5000
(op 4: B1 drawer 1 left side: bottom groove)
N55 G0 Z1
N60 G1 Z0 F1084.2
N65 X505.9566 Z-3 F1626.3
N70 X563.2 Z-6
N75 X6.8 F3252.6
N80 G0 Z10
(op 5: B1 drawer 1 back: bottom groove)
N85 G0 X547.6 Y154.76
N90 Z1
N95 G1 Z0 F1084.2
N100 X490.3566 Z-3 F1626.3
N105 X547.6 Z-6
N110 X6.8 F3252.6
N115 G0 Z10
(op 6: B1 drawer 1 box front: bottom groove)
N120 G0 X1098.66
N125 Z1
N130 G1 Z0 F1084.2
N135 X1041.4166 Z-3 F1626.3
N140 X1098.66 Z-6
N145 X557.86 F3252.6
N150 G0 Z10
(op 7: B1 drawer 1 right side: bottom groove)
N155 G0 X1129.86 Y25.9
N160 Z1
N165 G1 Z0 F1084.2
N170 X1072.6166 Z-3 F1626.3
N175 X1129.86 Z-6
N180 X573.46 F3252.6
N185 G0 Z10
N190 G0 Z10
N195 M5
N200 G0 X0 Y0
N205 M30
