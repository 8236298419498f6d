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
