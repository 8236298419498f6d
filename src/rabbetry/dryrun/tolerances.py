"""Named limits of the dry run, each with its unit and reason. Written apart from the planning side's on purpose."""

MM_PER_INCH = 25.4
"""Exact, by definition. The dry run has its own, so that one slip cannot hide in both."""

SAME_POINT_MM = 1e-6
"""Two points nearer than this are one point: far below any step of a router, far above rounding."""

INTEGER_SLACK = 1e-4
"""A value this near to a whole number counts as that number (NISTIR 6556, section 3.3.2.1)."""

HALF_CHORD_SLACK = 1e-12
"""Relative rounding allowed where half the chord of a radius arc meets its radius (the report's sources)."""

ARC_NOTE_MM = 0.0005
"""A mismatch of an arc's two radii that four decimals in millimetres cannot explain is worth a note."""

ARC_NOTE_RELATIVE = 0.001
"""... if it is also more than this part of the radius."""

PECK_BACK_IN_MM = 0.254
"""How far above the last depth a pecking cycle returns at the fast rate: 0.010 in (the report's sources)."""

LARGEST_NUMBER = 1e9
"""No word, parameter or step of an expression may be larger: far beyond any router, so it is a slip."""

DEEPEST_NESTING = 24
"""Brackets inside brackets; a line of 256 characters from a real program stays far below."""

MOST_MOTIONS_OF_A_LINE = 20_000
"""Repeats times pecks of one cycle line."""

MOST_EVENTS = 4_000_000
"""Keeps one program within a small computer's memory (about 300 bytes an event)."""

MOST_CHARACTERS = 100_000_000
"""Same reason; a day's cutting is some millions."""

MOST_ARC_NOTES = 20
"""After so many, further arcs that barely miss their end point are not listed one by one."""

JUNCTION_DEG = 2.0
"""Motion timing: speed carries through a corner that turns by less than this; a sharper one is a full stop. Common
practice, no source: a controller of this class slows to a crawl at anything sharper."""

LARGEST_SETUP_MM = 1e5
"""No number of a setup file is larger: a hundred metres, minutes or revolutions of a thousand routers' reach."""

TEXT_MM = 0.002
"""A program's numbers are rounded: half of the last digit of four decimals in inches (0.00127 mm), rounded up."""

ARC_CHORD_MM = 0.004
"""Chord error of the flattened arcs and cutter circles with which regions are compared."""

BOUNDARY_MM = 0.03
"""A removed region may miss the wanted one by this much along an edge. Twice the chord error, the text's rounding,
and 0.02 mm for a slot that is cut on its centre line by a cutter of nearly its width."""

LEFTOVER_MM = 0.022
"""Wood left in a recess along an edge may be this wide: what a slot cut on its centre line by a cutter of nearly its
width may leave is 0.01, the text's rounding and the chord error add 0.006. A groove 0.05 narrow is found."""

DEPTH_LEVEL_MM = 0.05
"""Depths are compared this much above and below each floor: a tenth of the thinnest veneer, far above the text's
rounding."""

BORE_MM = 0.05
"""How far a hole's wall may be from where it belongs: a drill of nominal width, its wander not counted. Common
practice, no source."""

OPENING_SLACK_MM = 0.02
"""What a cutter cannot reach is computed with a cutter this much smaller in radius, so that a slot of just its width
counts as reached."""

RELIEF_REACH = 1.5
"""A relieved corner's overcut lies within this many radii of the corner: the circle through a square corner, its
centre on the bisector, leaves the edges at root two radii."""

RELIEF_BITE = 0.3
"""... and at most this many radii deep: 1 - 1 / root two = 0.293 for the same circle."""

CORNER_MM = 0.01
"""A relieved corner's point must be this near to the removed region."""

FLANK = 0.9
"""The depth of a pass is looked at on the cutter's axis and at this part of its radius to both sides: a finishing cut
that takes less than a tenth of the radius is not a pass."""

PASS_SLACK_MM = 0.1
"""A pass may be this much deeper than the cutter's limit: passes are made equal and thickness is measured by
caliper."""

PLUNGE_MM = 0.05
"""Going straight down by no more than this through wood is touching, not plunging."""

SAMPLE_EVERY_MM = 100.0
"""Distance of the places on a long motion where the depth of its pass is looked at."""

TAB_LONGER_MM = 0.5
"""A tab may be this much longer than asked (0.02 in)."""

TAB_SHORTER_MM = 0.1
"""... or this much shorter."""

ARRIVE_MM = 0.5
"""A program's end is safe when the tip is this far above the stock's top, or more."""

RUN_OUT_MM = 5.0
"""A cut farther beside the blank than this, and ..."""

RUN_OUT_DIAMETERS = 2.0
"""... this many cutter widths, is no run-out of a cut but a cut elsewhere."""

BESIDE_MM = 0.2
"""A cut whose side runs this near to an outline made it."""

LONGEST_WAIT_S = 120.0
"""A program that waits longer has its seconds written in milliseconds: no spindle takes two minutes."""

MOST_OF_A_CODE = 12
"""After so many findings of one code in a program the rest are counted, not listed."""
