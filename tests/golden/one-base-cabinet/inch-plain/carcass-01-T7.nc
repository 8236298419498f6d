(job One base cabinet)
(fingerprint 550fa69db0)
(sheet carcass-01 of carcass)
(program 3 of 4 for this sheet)
(blank 48.0315 x 47.9528 in, 0.7008 in thick, measured)
(cutter 7: 8 mm brad-point drill)
(cutter diameter 0.315 in)
(x0 y0 at the blank's lower left corner)
(z0 at the stock top)
(before start: fit cutter 7 and touch off Z on the stock top)
G17
G20
G90
G94
G54
G0 Z0.3937
G0 X1.65354 Y21.47638
M3 S8000
G4 P5
(op 3: B1 door: 4 cup fixing holes 8 mm, 10 deep)
G0 Z0.03937
G1 Z-0.3937 F78.74
G0 Z0.3937
G0 Y19.70472
G0 Z0.03937
G1 Z-0.3937
G0 Z0.3937
G0 Y5.21654
G0 Z0.03937
G1 Z-0.3937
G0 Z0.3937
G0 Y3.44488
G0 Z0.03937
G1 Z-0.3937
G0 Z0.3937
G0 Z0.3937
M5
G0 X0 Y0
M30
