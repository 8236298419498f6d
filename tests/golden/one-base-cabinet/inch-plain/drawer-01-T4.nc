(job One base cabinet)
(fingerprint 0564e5acef)
(sheet drawer-01 of drawer)
(program 3 of 4 for this sheet)
(blank 48.0315 x 24.0157 in, 0.4646 in thick, measured)
(cutter 4: 6 mm up-cut end mill)
(cutter diameter 0.2362 in)
(x0 y0 at the blank's lower left corner)
(z0 at the stock top)
(before start: fit cutter 4 and touch off Z on the stock top)
G17
G20
G90
G94
G54
G0 Z0.3937
G0 X0.26772 Y6.09291
M3 S18000
G4 P5
(op 4: B1 drawer 1 back: bottom groove)
G0 Z0.03937
G1 Z0 F42.69
G1 X2.52139 Z-0.11811 F64.03
G1 X0.26772 Z-0.23622
G1 X21.55906 F128.06
G0 Z0.3937
(op 5: B1 drawer 1 box front: bottom groove)
G0 X21.96299
G0 Z0.03937
G1 Z0 F42.69
G1 X24.21667 Z-0.11811 F64.03
G1 X21.96299 Z-0.23622
G1 X43.25433 F128.06
G0 Z0.3937
(op 6: B1 drawer 1 right side: bottom groove)
G0 X44.48268 Y1.01969
G0 Z0.03937
G1 Z0 F42.69
G1 X42.229 Z-0.11811 F64.03
G1 X44.48268 Z-0.23622
G1 X22.57717 F128.06
G0 Z0.3937
(op 7: B1 drawer 1 left side: bottom groove)
G0 X22.17323
G0 Z0.03937
G1 Z0 F42.69
G1 X19.91955 Z-0.11811 F64.03
G1 X22.17323 Z-0.23622
G1 X0.26772 F128.06
G0 Z0.3937
G0 Z0.3937
M5
G0 X0 Y0
M30
