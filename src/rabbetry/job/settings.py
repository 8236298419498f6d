"""The construction settings: one row each with key, bounds, defaults and meaning.

`[construction]` sets them for the whole job, and any cabinet may set them again. The defaults for jobs in millimetres
are those of `Construction`; a row says where the inch trade differs (common practice, no source).
"""

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

from rabbetry.job.model import Construction, Units
from rabbetry.job.words import BackPlace, BottomWord, FinishedEnd, LevelJoint, TopWord
from rabbetry.units import read_length


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """One construction setting. `key` is the word in the job file, `field` the record's; bounds in millimetres."""

    key: str
    field: str
    least_mm: float
    most_mm: float
    meaning: str
    inches: float | None = None
    """Default of inch jobs where it differs, in inches."""
    odd_below_mm: float = 0.0
    """A bare number below this in a job in millimetres looks like inches."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WordSetting:
    """A construction setting that is one of a few words; `key` is the word in the job file and the record's field."""

    key: str
    words: type[StrEnum]
    meaning: str


WORD_SETTINGS: tuple[WordSetting, ...] = (
    WordSetting(key="bottom_joint", words=LevelJoint, meaning="how the bottom joins the sides"),
    WordSetting(key="top_joint", words=LevelJoint, meaning="how the top or the stretchers join the sides"),
    WordSetting(key="shelf_joint", words=LevelJoint, meaning="how fixed shelves and middle rails join the sides"),
    WordSetting(key="back", words=BackPlace, meaning="where the back stands; none means nailers instead"),
    WordSetting(key="top", words=TopWord, meaning="what closes the box at its top: base and drawers get stretchers, "
                "sink stretchers on edge, wall and open a full top"),
    WordSetting(key="bottom", words=BottomWord, meaning="where the bottom lies: flush with the sides' lower ends or "
                "the toe kick, or raised by bottom_lift; wall and open without a kick get it raised, others flush"),
    WordSetting(key="finished", words=FinishedEnd, meaning="ends that show: no pilot holes through them"),
)  # fmt: skip


def _row(
    field: str,
    least_mm: float,
    most_mm: float,
    meaning: str,
    *,
    key: str = "",
    inches: float | None = None,
    odd_below_mm: float = 0.0,
) -> Setting:
    return Setting(
        key=key or field.removesuffix("_mm"),
        field=field,
        least_mm=least_mm,
        most_mm=most_mm,
        meaning=meaning,
        inches=inches,
        odd_below_mm=odd_below_mm,
    )


SETTINGS: tuple[Setting, ...] = (
    _row("dado_depth_mm", 1, 20, "depth of the dados for bottom and shelves, and of stretcher rabbets", inches=0.25),
    _row("back_rabbet_depth_mm", 1, 20, "depth of the rabbet that takes the back", inches=0.25),
    _row("fit_clearance_mm", 0, 2, "play across a joint, total; 0.10 to 0.25 for glue", inches=0.008),
    _row("kick_height_mm", 0, 400, "height of the toe kick", inches=4, odd_below_mm=20),
    _row("kick_depth_mm", 0, 200, "depth of the toe kick", inches=3, odd_below_mm=20),
    _row("dado_stop_mm", 5, 200, "stopped dados and tongues end this far behind the front edge", inches=0.375),
    _row("tongue_thickness_mm", 3, 30, "thickness of a tongue", inches=0.375),
    _row("depth_clearance_mm", 0, 3, "a tongue's dado is this much deeper than the tongue is long", inches=0.015),
    _row("back_inset_mm", 3, 200, "wood behind a back in a groove", inches=0.5),
    _row("scribe_mm", 0, 80, "a finished end is this much deeper than the box, to be planed to the wall"),
    _row("band_thickness_mm", 0, 3, "panels are cut smaller by this on each banded edge"),
    _row("bottom_lift_mm", 0, 400, "under side of a raised bottom above the sides' lower ends or the toe kick",
         inches=0.75),
    _row("stretcher_width_mm", 20, 400, "width of the stretchers on top of a base cabinet", inches=4),
    _row("nailer_width_mm", 20, 400, "width of the nailer under the top, inside the back", inches=4),
    _row("shelf_side_gap_mm", 0, 20, "play of an adjustable shelf, both ends together", inches=0.0625),
    _row("shelf_setback_mm", 0, 200, "how far an adjustable shelf stays behind the front edge", inches=0.375),
    _row("pin_diameter_mm", 2, 12, "diameter of the shelf-pin holes", key="shelf_pin_diameter"),
    _row("pin_depth_mm", 3, 40, "depth of the shelf-pin holes", key="shelf_pin_depth"),
    _row("pin_pitch_mm", 10, 200, "distance from shelf pin to shelf pin", key="shelf_pin_pitch"),
    _row("pin_front_mm", 8, 300, "front row of shelf pins behind the front edge", key="shelf_pin_front"),
    _row("pin_rear_mm", 8, 300, "rear row of shelf pins before the back", key="shelf_pin_rear"),
    _row("pin_end_margin_mm", 20, 800, "least distance of the first and last pin from the opening's ends",
         key="shelf_pin_end_margin", inches=4),
    _row("pin_first_mm", 0, 1000, "first shelf pin above the under side of the bottom, the others whole pitches from "
         "there; 0: balanced rows", key="shelf_pin_first"),
    _row("pin_rows_apart_mm", 0, 200, "the rear row comes forward until the two rows are a multiple of this apart; 0: "
         "as set", key="shelf_pin_rows_apart"),
    _row("pilot_diameter_mm", 1, 8, "diameter of the pilot holes for screws through the dados"),
    _row("pilot_spacing_mm", 40, 800, "largest distance between pilot holes"),
    _row("pilot_end_mm", 10, 200, "first pilot hole from the joint's end"),
    _row("hinge_end_mm", 40, 300, "centre of the outer hinges from the door's ends"),
    _row("hinge_pitch_mm", 0, 200, "the hinges of a door are a multiple of this apart, 32 in the 32 mm system; 0: any "
         "distance"),
    _row("hinge_cup_diameter_mm", 20, 45, "diameter of the hinge cup"),
    _row("hinge_cup_depth_mm", 5, 20, "depth of the hinge cup"),
    _row("hinge_cup_edge_mm", 2, 12, "edge of the cup from the door's edge"),
    _row("hinge_fixing_diameter_mm", 1, 12, "diameter of the two holes beside the cup"),
    _row("hinge_fixing_depth_mm", 1, 20, "depth of the two holes beside the cup"),
    _row("hinge_fixing_spacing_mm", 20, 80, "distance between the two holes beside the cup"),
    _row("hinge_fixing_offset_mm", 0, 20, "how far the two holes are behind the cup's centre"),
    _row("plate_diameter_mm", 1, 12, "diameter of the holes for the hinge plate", key="hinge_plate_diameter"),
    _row("plate_depth_mm", 3, 40, "depth of the holes for the hinge plate", key="hinge_plate_depth"),
    _row("plate_front_mm", 10, 120, "holes for the hinge plate behind the side's front edge", key="hinge_plate_front"),
    _row("plate_spacing_mm", 10, 120, "distance between the two holes for a hinge plate", key="hinge_plate_spacing"),
    _row("front_gap_mm", 0, 20, "gap between two fronts; outer edges keep half of it", inches=0.125),
    _row("slide_hole_diameter_mm", 1, 12, "diameter of the holes for drawer slides"),
    _row("slide_hole_depth_mm", 3, 40, "depth of the holes for drawer slides"),
    _row("slide_front_mm", 10, 120, "first slide hole behind the side's front edge"),
    _row("slide_spacing_mm", 32, 600, "second slide hole behind the first"),
    _row("slide_height_mm", 5, 200, "slide holes above the floor of the drawer's opening"),
    _row("drawer_width_allowance_mm", 0, 120, "opening's width less the drawer box's inside width"),
    _row("drawer_side_allowance_mm", 0, 120, "opening's width less the drawer box's outside width, side-mount slides "
         "only"),
    _row("drawer_height_allowance_mm", 0, 200, "opening's height less the drawer box's height"),
    _row("drawer_bottom_recess_mm", 3, 40, "drawer bottom above the lower edge of the box's sides", inches=0.5),
    _row("drawer_groove_depth_mm", 1, 15, "depth of the groove for the drawer bottom", inches=0.25),
    _row("drawer_rabbet_depth_mm", 0, 15, "depth of the rabbets that join the drawer's sides; 0: butt joints with "
         "pilot holes", inches=0.25),
    _row("drawer_notch_width_mm", 0, 120, "width of the notches in the drawer's back for the slides", inches=1.25),
    _row("drawer_notch_height_mm", 0, 60, "height of the notches in the drawer's back for the slides", inches=0.5),
    _row("drawer_hook_diameter_mm", 1, 12, "diameter of the hook holes in the drawer's back"),
    _row("drawer_hook_in_mm", 1, 40, "hook hole in from the inside of the drawer's side"),
    _row("drawer_hook_up_mm", 1, 60, "hook hole above the lower edge of the drawer's back"),
    _row("drawer_hook_depth_mm", 0, 40, "depth of the hook holes from the back's outside, drilled by hand on guide "
         "holes; 0: right through, by the machine"),
    _row("drawer_rear_clearance_mm", 0, 200, "least room behind the drawer box", inches=0.75),
    _row("frame_thickness_mm", 10, 40, "thickness of a face frame", inches=0.75),
    _row("frame_stile_width_mm", 15, 200, "width of a face frame's outer stiles", inches=1.5),
    _row("frame_middle_stile_width_mm", 15, 200, "width of a stile where two boxes meet under one face frame",
         inches=1.5),
    _row("frame_top_rail_width_mm", 15, 200, "width of a face frame's top rail", inches=1.5),
    _row("frame_middle_rail_width_mm", 15, 200, "width of a face frame's rails between two openings", inches=1.5),
    _row("frame_bottom_rail_width_mm", 15, 200, "width of a face frame's bottom rail over a toe kick; without a kick "
         "the rail ends with the sides", inches=1.5),
    _row("frame_bottom_lip_mm", 0, 40, "bottom rail's upper edge above the bottom's upper side; 0: flush"),
    _row("frame_overhang_mm", 0, 25, "face frame past the case at each side, for scribing; the case is that much "
         "narrower than the width ordered", inches=0.125),
    _row("frame_overlay_mm", 3, 60, "how far overlay fronts cover the face frame on each side of an opening",
         inches=0.5),
    _row("frame_tenon_length_mm", 0, 60, "what rails and middle stiles of a face frame are longer at each end; "
         "0 for butted ones, with screws or dowels"),
    _row("inset_reveal_mm", 0.5, 10, "gap round an inset door or drawer front", inches=0.09375),
    _row("front_thickness_mm", 10, 50, "thickness of doors and drawer fronts that are made elsewhere", inches=0.75),
    _row("door_stile_width_mm", 20, 200, "width of the stiles of a frame-and-panel door", inches=2),
    _row("door_rail_width_mm", 20, 200, "width of the rails of a frame-and-panel door", inches=2),
    _row("door_groove_depth_mm", 2, 40, "depth of the groove for a door's panel", inches=0.375),
    _row("door_panel_play_mm", 0, 20, "play of a door's panel in its grooves, both sides together", inches=0.125),
)  # fmt: skip


def default_construction(units: Units) -> Construction:
    """Return the settings that a job in these units begins with."""
    if units is Units.MM:
        return Construction()
    inches: dict[str, Any] = {row.field: read_length(row.inches, "in").mm for row in SETTINGS if row.inches is not None}
    return replace(Construction(), **inches)
