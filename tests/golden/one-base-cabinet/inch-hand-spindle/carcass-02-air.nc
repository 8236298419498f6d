(job One base cabinet)
(fingerprint c04c25f6d4)
(sheet carcass-02 of carcass)
(program 1 of 1 for this sheet)
(blank 48.0315 x 47.9528 in, 0.7008 in thick, measured)
(cutter 6: 3 mm brad-point drill)
(cutter diameter 0.1181 in)
(x0 y0 at the blank's lower left corner)
(z0 at the stock top)
(air run: the spindle stays off and nothing is cut)
(watch it clear the clamps, hand on the stop)
(before start: fit cutter 6 and touch off Z on the stock top with pa)
G17
G20
G90
G94
G54
(stop: is cutter 6 fitted_ then touch off Z on the stock top with pa)
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
G1 X0.25925 Y0.25925 F59.06
G1 X46.2313
G1 Y46.0187
G1 X0.25925
G1 Y0.25925
G0 Z0.3937
G1 F59.06 X0 Y0
M30
