(job Sample all motions)
(fingerprint 1b6687e746)
(sheet sample-18-01 of sample-18)
(program 1 of 2 for this sheet)
(blank 15.748 x 11.811 in, 0.7008 in thick, measured)
(cutter 2: brad point 5 mm)
(cutter diameter 0.1969 in)
(x0 y0 at the blank's lower left corner)
(z0 at the stock top)
(before start: fit cutter 2 and touch off Z on the stock top with pa)
G17
G20
G90
G94
G54
(stop: is cutter 2 fitted_ then touch off Z on the stock top with pa)
(when done, press start and Z goes up. Or end the program here)
M0
G0 Z0.59055
G0 X3.4252 Y4.33071
(stop: set the dial to 2 for 12000 rpm)
(switch the spindle on, let it reach speed, press start)
M0
G4 P4
(op 1: S1 left side: shelf pins)
G0 Z0.07874
G1 Z-0.47244 F23.62
G0 Z0.59055
G0 Y5.59055
G0 Z0.07874
G1 Z-0.47244
G0 Z0.59055
G0 Y6.85039
G0 Z0.07874
G1 Z-0.47244
G0 Z0.59055
(op 2: S1 left side: pilot hole)
G0 X7.87402 Y2.3622
G0 Z0.07874
G1 Z-0.15748 F23.62
G0 Z0.07874
G1 Z-0.3937
G0 Z0.07874
G1 Z-0.62992
G0 Z0.07874
G1 Z-0.7126
G0 Z0.59055
G0 Z0.59055
(stop: switch the spindle off, wait until it stands, press start)
M0
G0 X0 Y11.81102
M30
