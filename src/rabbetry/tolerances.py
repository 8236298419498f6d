"""Named tolerances of the planning side, each with its unit and its reason. The dry run has its own."""

POINT_MM = 1e-6
"""Two points nearer than this are one point: a hundredth of the finest step a post writes (0.0001 mm)."""

CHORD_MM = 0.002
"""Largest distance between a flattened arc and the arc, where a region is only measured or drawn: half of what a
1.8 degree stepper on a fine screw resolves."""

OFFSET_CHORD_MM = 0.0005
"""Chord error inside the offset engine; its rings are rebuilt as exact lines and arcs afterwards, so this only has to
be fine enough to name the right neighbours."""

WIDTH_MM = 0.02
"""A slot this much wider or narrower than the cutter is cut on its centre line: below a hobby spindle's run-out."""

FIT_MM = 0.01
"""Slack allowed when the virtual box is put together: rounding of settings given in inches to four decimals."""

SAME_THICKNESS_MM = 0.05
"""Two sheets nearer in thickness than this go into the same joints: half of the usual clearance, and about what a
caliper repeats on plywood."""

DEPTH_MM = 1e-4
"""Two depths nearer than this are one depth: the finest step a metric post writes."""

MOVE_MM = 0.001
"""A motion shorter than this is not made: the last digit of a millimetre post with three decimals."""

OFFSET_PROOF_MM = 0.005
"""An exact ring farther than this from the engine's flattened one is a fault of ours: ten chord errors."""

SMOOTH_MM = 1e-4
"""Two curves whose ends are nearer than this run on smoothly: a tenth of the finest step of a millimetre post."""

ARC_MISMATCH_MM = 0.002
ARC_MISMATCH_IN = 0.0002
"""Largest difference of an arc's radii at its start and its end, in the program's unit (NISTIR 6556, section 3.5.3.2);
a controller refuses an arc that misses by more."""
