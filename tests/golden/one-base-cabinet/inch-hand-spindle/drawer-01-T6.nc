(job One base cabinet)
(fingerprint 7d974c9e74)
(sheet drawer-01 of drawer)
(program 1 of 4 for this sheet)
(blank 48.0315 x 24.0157 in, 0.4646 in thick, measured)
(cutter 6: 3 mm brad-point drill)
(cutter diameter 0.1181 in)
(x0 y0 at the blank's lower left corner)
(z0 at the stock top)
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
G0 X0.62598 Y2.05315
(stop: set the spindle to 8000 rpm)
(switch the spindle on, let it reach speed, press start)
M0
G4 P5
(op 1: B1 drawer 1 left side: 4 pilot holes 3 mm, through)
G0 Z0.03937
G1 Z-0.07874 F30.24
G0 Z0.03937
G1 Z-0.19685
G0 Z0.03937
G1 Z-0.31496
G0 Z0.03937
G1 Z-0.43307
G0 Z0.03937
G1 Z-0.47638
G0 Z0.3937
G0 Y3.89173
G0 Z0.03937
G1 Z-0.07874
G0 Z0.03937
G1 Z-0.19685
G0 Z0.03937
G1 Z-0.31496
G0 Z0.03937
G1 Z-0.43307
G0 Z0.03937
G1 Z-0.47638
G0 Z0.3937
G0 X21.81496
G0 Z0.03937
G1 Z-0.07874
G0 Z0.03937
G1 Z-0.19685
G0 Z0.03937
G1 Z-0.31496
G0 Z0.03937
G1 Z-0.43307
G0 Z0.03937
G1 Z-0.47638
G0 Z0.3937
G0 Y2.05315
G0 Z0.03937
G1 Z-0.07874
G0 Z0.03937
G1 Z-0.19685
G0 Z0.03937
G1 Z-0.31496
G0 Z0.03937
G1 Z-0.43307
G0 Z0.03937
G1 Z-0.47638
G0 Z0.3937
(op 2: B1 drawer 1 right side: 4 pilot holes 3 mm, through)
G0 X22.93543
G0 Z0.03937
G1 Z-0.07874 F30.24
G0 Z0.03937
G1 Z-0.19685
G0 Z0.03937
G1 Z-0.31496
G0 Z0.03937
G1 Z-0.43307
G0 Z0.03937
G1 Z-0.47638
G0 Z0.3937
G0 Y3.89173
G0 Z0.03937
G1 Z-0.07874
G0 Z0.03937
G1 Z-0.19685
G0 Z0.03937
G1 Z-0.31496
G0 Z0.03937
G1 Z-0.43307
G0 Z0.03937
G1 Z-0.47638
G0 Z0.3937
G0 X44.12441
G0 Z0.03937
G1 Z-0.07874
G0 Z0.03937
G1 Z-0.19685
G0 Z0.03937
G1 Z-0.31496
G0 Z0.03937
G1 Z-0.43307
G0 Z0.03937
G1 Z-0.47638
G0 Z0.3937
G0 Y2.05315
G0 Z0.03937
G1 Z-0.07874
G0 Z0.03937
G1 Z-0.19685
G0 Z0.03937
G1 Z-0.31496
G0 Z0.03937
G1 Z-0.43307
G0 Z0.03937
G1 Z-0.47638
G0 Z0.3937
G0 Z0.3937
(stop: switch the spindle off, wait until it stands, press start)
M0
G0 X0 Y0
M30
