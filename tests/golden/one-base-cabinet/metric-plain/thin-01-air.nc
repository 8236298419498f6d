(job One base cabinet)
(fingerprint dc9d190a69)
(sheet thin-01 of thin)
(program 1 of 1 for this sheet)
(blank 1220 x 1218 mm, 5.8 mm thick, measured)
(cutter 1: 1/4 in up-cut end mill)
(cutter diameter 6.33 mm)
(x0 y0 at the blank's lower left corner)
(z0 at the stock top)
(air run: the spindle stays off and nothing is cut)
(watch it clear the clamps, hand on the stop)
(before start: fit cutter 1 and touch off Z on the stock top)
G17
G21
G90
G94
G54
G0 Z10
G1 F1500 X0 Y0
(op 1: air run round the blank)
G1 X1220 F1500
G1 Y1218
G1 X0
G1 Y0
(op 2: air run round all cuts)
G1 X6.835 Y6.585 F1500
G1 X1144.225
G1 Y789.165
G1 X6.835
G1 Y6.585
G0 Z10
M5
G1 F1500 X0 Y0
M30
