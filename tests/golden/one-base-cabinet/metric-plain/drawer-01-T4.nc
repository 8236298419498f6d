(job One base cabinet)
(fingerprint 067869a94a)
(sheet drawer-01 of drawer)
(program 3 of 4 for this sheet)
(blank 1220 x 610 mm, 11.8 mm thick, measured)
(cutter 4: 6 mm up-cut end mill)
(cutter diameter 6 mm)
(x0 y0 at the blank's lower left corner)
(z0 at the stock top)
(before start: fit cutter 4 and touch off Z on the stock top)
G17
G21
G90
G94
G54
G0 Z10
G0 X6.8 Y154.76
M3 S18000
G4 P5
(op 4: B1 drawer 1 back: bottom groove)
G0 Z1
G1 Z0 F1084.2
G1 X64.0434 Z-3 F1626.3
G1 X6.8 Z-6
G1 X547.6 F3252.6
G0 Z10
(op 5: B1 drawer 1 box front: bottom groove)
G0 X557.86
G0 Z1
G1 Z0 F1084.2
G1 X615.1034 Z-3 F1626.3
G1 X557.86 Z-6
G1 X1098.66 F3252.6
G0 Z10
(op 6: B1 drawer 1 right side: bottom groove)
G0 X1129.86 Y25.9
G0 Z1
G1 Z0 F1084.2
G1 X1072.6166 Z-3 F1626.3
G1 X1129.86 Z-6
G1 X573.46 F3252.6
G0 Z10
(op 7: B1 drawer 1 left side: bottom groove)
G0 X563.2
G0 Z1
G1 Z0 F1084.2
G1 X505.9566 Z-3 F1626.3
G1 X563.2 Z-6
G1 X6.8 F3252.6
G0 Z10
G0 Z10
M5
G0 X0 Y0
M30
