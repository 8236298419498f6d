(job One base cabinet)
(fingerprint c66960504c)
(sheet carcass-02 of carcass)
(program 2 of 3 for this sheet)
(blank 1220 x 1218 mm, 17.8 mm thick, measured)
(cutter 5: 5 mm brad-point drill)
(cutter diameter 5 mm)
(x0 y0 at the blank's lower left corner)
(z0 at the stock top)
(before start: fit cutter 5 and touch off Z on the stock top)
G17
G21
G90
G94
G54
G0 Z10
G0 X47 Y234.9
M3 S8000
G4 P5
(op 2: B1 left side: 26 shelf pin and slide holes 5 mm, 12 deep)
G0 Z1
G1 Z-12 F1221.6
G0 Z10
G0 Y266.9
G0 Z1
G1 Z-12
G0 Z10
G0 Y298.9
G0 Z1
G1 Z-12
G0 Z10
G0 Y330.9
G0 Z1
G1 Z-12
G0 Z10
G0 Y362.9
G0 Z1
G1 Z-12
G0 Z10
G0 Y394.9
G0 Z1
G1 Z-12
G0 Z10
G0 Y426.9
G0 Z1
G1 Z-12
G0 Z10
G0 Y458.9
G0 Z1
G1 Z-12
G0 Z10
G0 Y490.9
G0 Z1
G1 Z-12
G0 Z10
G0 Y522.9
G0 Z1
G1 Z-12
G0 Z10
G0 Y554.9
G0 Z1
G1 Z-12
G0 Z10
G0 Y586.9
G0 Z1
G1 Z-12
G0 Z10
G0 Y763
G0 Z1
G1 Z-12
G0 Z10
G0 X271
G0 Z1
G1 Z-12
G0 Z10
G0 X553 Y586.9
G0 Z1
G1 Z-12
G0 Z10
G0 Y554.9
G0 Z1
G1 Z-12
G0 Z10
G0 Y522.9
G0 Z1
G1 Z-12
G0 Z10
G0 Y490.9
G0 Z1
G1 Z-12
G0 Z10
G0 Y458.9
G0 Z1
G1 Z-12
G0 Z10
G0 Y426.9
G0 Z1
G1 Z-12
G0 Z10
G0 Y394.9
G0 Z1
G1 Z-12
G0 Z10
G0 Y362.9
G0 Z1
G1 Z-12
G0 Z10
G0 Y330.9
G0 Z1
G1 Z-12
G0 Z10
G0 Y298.9
G0 Z1
G1 Z-12
G0 Z10
G0 Y266.9
G0 Z1
G1 Z-12
G0 Z10
G0 Y234.9
G0 Z1
G1 Z-12
G0 Z10
G0 Z10
M5
G0 X0 Y0
M30
