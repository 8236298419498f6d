(job One base cabinet)
(fingerprint eedc1e0c6c)
(sheet carcass-01 of carcass)
(program 3 of 4 for this sheet)
(blank 1220 x 1218 mm, 17.8 mm thick, measured)
(cutter 7: 8 mm brad-point drill)
(cutter diameter 8 mm)
(x0 y0 at the blank's lower left corner)
(z0 at the stock top)
(before start: fit cutter 7 and touch off Z on the stock top with paper)
N5 G17
N10 G21
N15 G80
N20 G90
N25 G94
N30 G54
N35 G0 Z10
N40 G0 X42 Y545.5
N45 M4 S8000
N50 G4 P5000
(op 3: B1 door: 4 cup fixing holes 8 mm, 10 deep)
N55 G98 G81 X42 Y545.5 Z-10 R1 F2000
N60 X42 Y500.5 Z-10 R1
N65 X42 Y132.5 Z-10 R1
N70 X42 Y87.5 Z-10 R1
N75 G80
N80 G0 Z10
N85 M5
N90 G0 X0 Y0
N95 M30
