(job One base cabinet)
(fingerprint 4ae48360e8)
(sheet thin-01 of thin)
(program 1 of 1 for this sheet)
(blank 1220 x 1218 mm, 5.8 mm thick, measured)
(cutter 1: 1/4 in up-cut end mill)
(cutter diameter 6.33 mm)
(x0 y0 at the blank's lower left corner)
(z0 at the stock top)
(air run: the spindle stays off and nothing is cut)
(watch it clear the clamps, hand on the stop)
(before start: fit cutter 1 and touch off Z on the stock top with paper)
N5 G17
N10 G21
N15 G80
N20 G90
N25 G94
N30 G54
N35 G0 Z10
N40 G1 F1500 X0 Y0
(op 1: air run round the blank)
N45 G1 X1220 F1500
N50 Y1218
N55 X0
N60 Y0
(op 2: air run round all cuts)
N65 G1 X6.835 Y6.585 F1500
N70 X1144.225
N75 Y789.165
N80 X6.835
N85 Y6.585
N90 G0 Z10
N95 M5
N100 G1 F1500 X0 Y0
N105 M30
