(job One base cabinet)
(fingerprint 4c1ca5843d)
(sheet thin-01 of thin)
(program 1 of 1 for this sheet)
(blank 48.0315 x 47.9528 in, 0.2283 in thick, measured)
(cutter 1: 1/4 in up-cut end mill)
(cutter diameter 0.2492 in)
(x0 y0 at the blank's lower left corner)
(z0 at the stock top)
(air run: the spindle stays off and nothing is cut)
(watch it clear the clamps, hand on the stop)
(before start: fit cutter 1 and touch off Z on the stock top with pa)
G17
G20
G90
G94
G54
(stop: is cutter 1 fitted_ then touch off Z on the stock top with pa)
(when done, press start and Z goes up. Or end the program here)
M0
G0 Z0.3937
G1 F59.06 X0 Y0
(op 1: air run round the blank)
G1 X48.0315 F59.06
G1 Y47.95276
G1 X0
G1 Y0
(op 2: air run round all cuts)
G1 X0.26909 Y0.25925 F59.06
G1 X45.04823
G1 Y31.06949
G1 X0.26909
G1 Y0.25925
G0 Z0.3937
G1 F59.06 X0 Y0
M30
