"""The reference of the hardware rows for people: what each key means, and which rows the package ships."""

from collections.abc import Iterator

from rabbetry.shop.hardware import Hardware
from rabbetry.shop.hardware_rows import BoxScrewRow, HingeCupRow, HingePlateRow, PinSystemRow, SlideRow
from rabbetry.shop.rows import Row

HARDWARE_TITLES: tuple[tuple[str, type[Row], str], ...] = (
    ("[[pin_system]]", PinSystemRow, "Rows of shelf-pin holes, named by `name`; a job's key is `shelf_pins`."),
    ("[[hinge_cup]]", HingeCupRow, "What a cup hinge needs in the door; a job's key is `hinge_cups`."),
    ("[[hinge_plate]]", HingePlateRow, "What its plate needs in the side; a job's key is `hinge_plates`."),
    ("[[slide]]", SlideRow, "A pair of drawer slides and the drawer box they ask for; a job's key is `slides`."),
    ("[[box_screw]]", BoxScrewRow, "Holes for screws between boxes; a job's keys are `join_boxes` and `box_screws`."),
)

HARDWARE_MEANINGS: dict[str, str] = {
    "pin_system.name": "what jobs call it",
    "pin_system.diameter": "diameter of the holes",
    "pin_system.depth": "depth of the holes",
    "pin_system.pitch": "distance from hole to hole",
    "pin_system.front": "front row behind the side's front edge",
    "pin_system.rear": "rear row before the side's rear edge",
    "pin_system.end_margin": "first and last hole from the opening's ends, at least; as the job unless given",
    "pin_system.first_hole": "`balanced` (the same distance at both ends of the opening), `half the bottom`, or a "
    "length: first hole above the under side of the bottom, the others whole pitches from there",
    "pin_system.rows_apart": "the rear row comes forward until the rows are a multiple of this apart; 0: as set",
    "pin_system.source": "where the figures come from",
    "hinge_cup.name": "what jobs call it",
    "hinge_cup.diameter": "diameter of the cup",
    "hinge_cup.depth": "depth of the cup's bore",
    "hinge_cup.edge": "edge of the cup from the door's edge, B",
    "hinge_cup.edge_least": "least B its maker allows",
    "hinge_cup.edge_most": "largest B",
    "hinge_cup.fixing_spacing": "between the two fixing holes; 0: none are bored, the hinge is screwed on by hand",
    "hinge_cup.fixing_offset": "how far the fixing holes are behind the cup's centre",
    "hinge_cup.fixing_diameter": "diameter of the fixing holes",
    "hinge_cup.fixing_depth": "depth of the fixing holes",
    "hinge_cup.source": "where the figures come from",
    "hinge_plate.name": "what jobs call it",
    "hinge_plate.diameter": "diameter of the plate's holes",
    "hinge_plate.depth": "depth of the plate's holes",
    "hinge_plate.front": "the holes behind what `measured_from` says",
    "hinge_plate.spacing": "between the two holes of a plate",
    "hinge_plate.measured_from": "`front edge` of the side, `back of the door`, `front edge plus the frame` (a frame "
    "that stands between the sides), or `on the frame`: no holes in the side",
    "hinge_plate.overlay": "the hinge's own overlay: overlay = this + B - height of the plate; left out: not known",
    "hinge_plate.source": "where the figures come from",
    "slide.name": "what jobs call it",
    "slide.mount": "`under` the box, or at its `side`",
    "slide.width_allowance": "opening's width less the box's inside width (under) or its outside width (side)",
    "slide.side_most": "thickest drawer side it takes",
    "slide.height_allowance": "opening's height less the box's height, half of it below",
    "slide.bottom_recess": "drawer bottom above the lower edge of the box's sides",
    "slide.notch_width": "notches in the back, from the inside of each side",
    "slide.notch_height": "height of the notches",
    "slide.hook_diameter": "holes for the rear hooks",
    "slide.hook_in": "hook hole in from the inside of the side",
    "slide.hook_up": "hook hole above the lower edge of the notched back",
    "slide.hook_depth": "depth of the hook holes from the back's outside, by hand on guide holes; 0: right through",
    "slide.front": "first slide hole behind the side's front edge",
    "slide.spacing": "second slide hole behind the first; brought forward by 32 mm for a slide too short for it",
    "slide.height": "slide holes above the floor of the drawer's opening",
    "slide.hole_diameter": "diameter of the slide holes",
    "slide.hole_depth": "depth of the slide holes",
    "slide.rear_clearance": "least room behind the box",
    "slide.lengths": "lengths it is sold in, rising",
    "slide.source": "where the figures come from",
    "box_screw.name": "what jobs call it",
    "box_screw.diameter": "the hole in the side, in which the screw turns freely",
    "box_screw.front": "front line of holes behind the side's front edge",
    "box_screw.rear": "rear line before the side's rear edge; 0: none",
    "box_screw.end": "first and last hole of a line from the floor and the ceiling of the box",
    "box_screw.spacing": "largest distance from hole to hole",
    "box_screw.source": "where the figures come from",
}

_SHIPPED = """\
## Hardware rows of the package

Makers differ, also within one kind of hardware: **the maker's sheet wins**. Hold the row against it before the first
cut, and write what differs into the job or your own tables. What has no source is the usual practice, no more.
"""


def shipped_rows(hardware: Hardware) -> Iterator[str]:
    """Yield the lines of the list of hardware rows, with the source of each."""
    yield _SHIPPED
    for title, rows in (
        ("shelf_pins", hardware.pin_systems),
        ("hinge_cups", hardware.hinge_cups),
        ("hinge_plates", hardware.hinge_plates),
        ("slides", hardware.slides),
        ("box_screws", hardware.box_screws),
    ):
        yield f"| `{title}` | source |"
        yield "| --- | --- |"
        yield from (f"| `{row.name}` | {row.source} |" for row in rows)
        yield ""
