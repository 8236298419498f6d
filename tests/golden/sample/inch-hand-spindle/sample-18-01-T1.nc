(job Sample all motions)
(fingerprint ba4a441a91)
(sheet sample-18-01 of sample-18)
(program 2 of 2 for this sheet)
(blank 15.748 x 11.811 in, 0.7008 in thick, measured)
(cutter 1: compression 1/4 in)
(cutter diameter 0.25 in)
(x0 y0 at the blank's lower left corner)
(z0 at the stock top)
(before start: fit cutter 1 and touch off Z on the stock top with pa)
G17
G20
G90
G94
G54
(stop: is cutter 1 fitted_ then touch off Z on the stock top with pa)
(when done, press start and Z goes up. Or end the program here)
M0
G0 Z0.59055
G0 X10.4065 Y7.08661
(stop: set the dial to 3 for 18000 rpm)
(switch the spindle on, let it reach speed, press start)
M0
G4 P4
(op 3: S1 left side: hinge cup)
G0 Z0.03937
G1 Z0 F23.62
G3 X9.27854 Y7.08661 Z-0.06299 I-0.56398 J0 F35.43
G3 X10.4065 Y7.08661 Z-0.12598 I0.56398 J0
G3 X9.27854 Y7.08661 Z-0.18898 I-0.56398 J0
G3 X10.4065 Y7.08661 Z-0.25197 I0.56398 J0
G3 X9.27854 Y7.08661 Z-0.31496 I-0.56398 J0
G3 X10.4065 Y7.08661 Z-0.37795 I0.56398 J0
G3 X9.27854 Y7.08661 Z-0.44094 I-0.56398 J0
G3 X10.4065 Y7.08661 Z-0.50394 I0.56398 J0
G3 X9.27854 Y7.08661 I-0.56398 J0 F59.06
G3 X10.4065 Y7.08661 I0.56398 J0
G1 X9.84252
G0 Z0.59055
(op 4: S1 left side: bottom dado)
G0 X1.82415 Y3.94094
G0 Z0.03937
G1 Z0 F23.62
G1 X13.92388 Z-0.23622 F47.24
G1 X1.82415 F94.49
G0 Z0.59055
(op 5: S1 left side: profile)
G0 X1.8435 Y5.90551
G0 Z0.03937
G1 Z0 F23.62
G1 Y9.37008 Z-0.7126 F35.43
G2 X2.44094 Y9.96752 I0.59744 J0 F70.87
G1 X13.30709
G2 X13.90453 Y9.37008 I0 J-0.59744
G1 Y2.44094
G2 X13.30709 Y1.8435 I-0.59744 J0
G1 X2.44094
G2 X1.8435 Y2.44094 I0 J0.59744
G1 Y7.48031
G0 Z0.59055
G0 Z0.59055
(stop: switch the spindle off, wait until it stands, press start)
M0
G0 X0 Y11.81102
M30
