(job One base cabinet)
(fingerprint 112b634248)
(sheet drawer-01 of drawer)
(program 2 of 4 for this sheet)
(blank 48.0315 x 24.0157 in, 0.4646 in thick, measured)
(cutter 8: 6 mm brad-point drill)
(cutter diameter 0.2362 in)
(x0 y0 at the blank's lower left corner)
(z0 at the stock top)
(before start: fit cutter 8 and touch off Z on the stock top)
G17
G20
G90
G94
G54
G0 Z0.3937
G0 X20.92126 Y6.41181
M3 S8000
G4 P5
(op 3: B1 drawer 1 back: 2 rear hook holes 6 mm, through)
G0 Z0.03937
G1 Z-0.47638 F56.91
G0 Z0.3937
G0 X0.90551
G0 Z0.03937
G1 Z-0.47638
G0 Z0.3937
G0 Z0.3937
M5
G0 X0 Y0
M30
