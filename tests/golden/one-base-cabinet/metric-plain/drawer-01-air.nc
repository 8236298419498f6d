(job One base cabinet)
(fingerprint 358f7fab6c)
(sheet drawer-01 of drawer)
(program 1 of 1 for this sheet)
(blank 1220 x 610 mm, 11.8 mm thick, measured)
(cutter 6: 3 mm brad-point drill)
(cutter diameter 3 mm)
(x0 y0 at the blank's lower left corner)
(z0 at the stock top)
(air run: the spindle stays off and nothing is cut)
(watch it clear the clamps, hand on the stop)
(before start: fit cutter 6 and touch off Z on the stock top)
G17
G21
G90
G94
G54
G0 Z10
G1 F1500 X0 Y0
(op 1: air run round the blank)
G1 X1220 F1500
G1 Y610
G1 X0
G1 Y0
(op 2: air run round all cuts)
G1 X6.585 Y6.585 F1500
G1 X1130.075
G1 Y254.475
G1 X6.585
G1 Y6.585
G0 Z10
M5
G1 F1500 X0 Y0
M30
