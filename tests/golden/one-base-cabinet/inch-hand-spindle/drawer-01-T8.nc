(job One base cabinet)
(fingerprint f4bc69dd60)
(sheet drawer-01 of drawer)
(program 2 of 4 for this sheet)
(blank 48.0315 x 24.0157 in, 0.4646 in thick, measured)
(cutter 8: 6 mm brad-point drill)
(cutter diameter 0.2362 in)
(x0 y0 at the blank's lower left corner)
(z0 at the stock top)
(before start: fit cutter 8 and touch off Z on the stock top with pa)
G17
G20
G90
G94
G54
(stop: is cutter 8 fitted_ then touch off Z on the stock top with pa)
(when done, press start and Z goes up. Or end the program here)
M0
G0 Z0.3937
G0 X20.92126 Y6.41181
(stop: set the spindle to 8000 rpm)
(switch the spindle on, let it reach speed, press start)
M0
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
(stop: switch the spindle off, wait until it stands, press start)
M0
G0 X0 Y0
M30
