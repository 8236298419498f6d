(job One base cabinet)
(fingerprint 915b2b2661)
(sheet carcass-02 of carcass)
(program 1 of 3 for this sheet)
(blank 1220 x 1218 mm, 17.8 mm thick, measured)
(cutter 6: 3 mm brad-point drill)
(cutter diameter 3 mm)
(x0 y0 at the blank's lower left corner)
(z0 at the stock top)
(before start: fit cutter 6 and touch off Z on the stock top)
G17
G21
G90
G94
G54
G0 Z10
G0 X50 Y118.9
M3 S8000
G4 P5
(op 1: B1 left side: 8 pilot holes 3 mm, through)
G0 Z1
G1 Z-2 F768
G0 Z1
G1 Z-5
G0 Z1
G1 Z-8
G0 Z1
G1 Z-11
G0 Z1
G1 Z-14
G0 Z1
G1 Z-17
G0 Z1
G1 Z-18.1
G0 Z10
G0 X214.7333
G0 Z1
G1 Z-2
G0 Z1
G1 Z-5
G0 Z1
G1 Z-8
G0 Z1
G1 Z-11
G0 Z1
G1 Z-14
G0 Z1
G1 Z-17
G0 Z1
G1 Z-18.1
G0 Z10
G0 X379.4667
G0 Z1
G1 Z-2
G0 Z1
G1 Z-5
G0 Z1
G1 Z-8
G0 Z1
G1 Z-11
G0 Z1
G1 Z-14
G0 Z1
G1 Z-17
G0 Z1
G1 Z-18.1
G0 Z10
G0 X544.2
G0 Z1
G1 Z-2
G0 Z1
G1 Z-5
G0 Z1
G1 Z-8
G0 Z1
G1 Z-11
G0 Z1
G1 Z-14
G0 Z1
G1 Z-17
G0 Z1
G1 Z-18.1
G0 Z10
G0 X559.2 Y877.1
G0 Z1
G1 Z-2
G0 Z1
G1 Z-5
G0 Z1
G1 Z-8
G0 Z1
G1 Z-11
G0 Z1
G1 Z-14
G0 Z1
G1 Z-17
G0 Z1
G1 Z-18.1
G0 Z10
G0 X509.2
G0 Z1
G1 Z-2
G0 Z1
G1 Z-5
G0 Z1
G1 Z-8
G0 Z1
G1 Z-11
G0 Z1
G1 Z-14
G0 Z1
G1 Z-17
G0 Z1
G1 Z-18.1
G0 Z10
G0 X85
G0 Z1
G1 Z-2
G0 Z1
G1 Z-5
G0 Z1
G1 Z-8
G0 Z1
G1 Z-11
G0 Z1
G1 Z-14
G0 Z1
G1 Z-17
G0 Z1
G1 Z-18.1
G0 Z10
G0 X35
G0 Z1
G1 Z-2
G0 Z1
G1 Z-5
G0 Z1
G1 Z-8
G0 Z1
G1 Z-11
G0 Z1
G1 Z-14
G0 Z1
G1 Z-17
G0 Z1
G1 Z-18.1
G0 Z10
G0 Z10
M5
G0 X0 Y0
M30
