(job One base cabinet)
(fingerprint 9324fc3fac)
(sheet carcass-01 of carcass)
(program 3 of 4 for this sheet)
(blank 1220 x 1218 mm, 17.8 mm thick, measured)
(cutter 7: 8 mm brad-point drill)
(cutter diameter 8 mm)
(x0 y0 at the blank's lower left corner)
(z0 at the stock top)
(before start: fit cutter 7 and touch off Z on the stock top)
G17
G21
G90
G94
G54
G0 Z10
G0 X42 Y545.5
M3 S8000
G4 P5
(op 3: B1 door: 4 cup fixing holes 8 mm, 10 deep)
G0 Z1
G1 Z-10 F2000
G0 Z10
G0 Y500.5
G0 Z1
G1 Z-10
G0 Z10
G0 Y132.5
G0 Z1
G1 Z-10
G0 Z10
G0 Y87.5
G0 Z1
G1 Z-10
G0 Z10
G0 Z10
M5
G0 X0 Y0
M30
