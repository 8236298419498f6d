"""Everything a user must hear about a job or a program is a `Finding`; its codes stand in one table.

`CODES` is the only list of codes: docs/findings.md is made from it, and `finding()` refuses a code that is not in it.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal

Severity = Literal["error", "warning", "note"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Where:
    """The place a finding speaks of. Coordinates in millimetres, program frame; all parts optional."""

    file: str | None = None
    line: int | None = None
    panel: str | None = None
    x: float | None = None
    y: float | None = None
    z: float | None = None

    def as_json(self) -> dict[str, str | int | float]:
        """Return the parts that are known, in the order file, line, panel, x, y, z; coordinates to 0.001 mm."""
        known: dict[str, str | int | float] = {}
        for name in ("file", "line", "panel"):
            value = getattr(self, name)
            if value is not None:
                known[name] = value
        for name in ("x", "y", "z"):
            value = getattr(self, name)
            if value is not None:
                known[name] = round(value, 3) + 0.0
        return known


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """Something the user must hear: severity, a stable code of `CODES`, one sentence, and the place."""

    severity: Severity
    code: str
    message: str
    where: Where = field(default_factory=Where)

    def as_json(self) -> dict[str, object]:
        """Return the finding in the form of design section 4."""
        return {"severity": self.severity, "code": self.code, "message": self.message, "where": self.where.as_json()}


@dataclass(frozen=True, slots=True)
class CodeRow:
    """One row of the table of codes: default severity, the stage that reports it, what it means."""

    severity: Severity
    stage: str
    meaning: str


CODES: dict[str, CodeRow] = {
    "back-shows": CodeRow("note", "cabinets", "the edge of an applied back shows on a finished end"),
    "corner-too-large": CodeRow("error", "cabinets", "the L-shaped bottom of a corner does not fit its blank"),
    "corner-too-narrow": CodeRow("error", "cabinets", "a leg of a corner leaves no room for its front"),
    "corner-word-unused": CodeRow("warning", "cabinets", "a word or length given for a corner changes nothing in it"),
    "divider-not-possible": CodeRow("error", "cabinets", "a box cannot have the dividers ordered"),
    "divider-pins-shallow": CodeRow(
        "note", "cabinets", "blind shelf-pin holes in both faces of a divider are less deep than set"
    ),
    "blind-not-possible": CodeRow("error", "cabinets", "a cabinet cannot have the blind part ordered"),
    "cabinet-split": CodeRow("note", "cabinets", "a cabinet longer than the blank is made of several boxes"),
    "cut-out-misplaced": CodeRow("error", "cabinets", "a cut-out leaves too little wood, or lies beside its panel"),
    "opening-loose": CodeRow("note", "cabinets", "an appliance is much narrower than its opening"),
    "opening-too-low": CodeRow("error", "cabinets", "an appliance's opening does not fit the cabinet's height"),
    "opening-too-narrow": CodeRow("error", "cabinets", "a cabinet is too narrow for its appliance"),
    "opening-too-shallow": CodeRow("error", "cabinets", "a cabinet is not as deep as its appliance"),
    "panel-uneven": CodeRow("note", "cabinets", "a panel covers cabinets of unlike sizes"),
    "seat-span": CodeRow("note", "cabinets", "a seat spans more than its board carries"),
    "split-not-possible": CodeRow("error", "cabinets", "a cabinet cannot be split into stacked boxes there"),
    "door-tall": CodeRow("note", "cabinets", "a door of stiles and rails is so high that it needs a middle rail"),
    "door-too-low": CodeRow("error", "cabinets", "a door is too low for its hinges"),
    "door-wide": CodeRow("note", "cabinets", "a single door is wider than is usual"),
    "drawer-bottom-thick": CodeRow("error", "cabinets", "a drawer's bottom reaches into the slides' hook holes"),
    "drawer-too-deep": CodeRow("error", "cabinets", "a drawer box is longer than the inside depth allows"),
    "drawer-too-low": CodeRow("error", "cabinets", "a drawer's opening is too low for its box"),
    "drawer-too-narrow": CodeRow("error", "cabinets", "a drawer box is too narrow for its slides"),
    "end-unheld": CodeRow("warning", "cabinets", "a butt joint on a finished end has no screws"),
    "face-frame-blocking": CodeRow("note", "cabinets", "drawer slides behind a face frame need blocking on the sides"),
    "face-frame-impossible": CodeRow("error", "cabinets", "a face frame, or the fronts before it, cannot be made"),
    "face-frame-parted": CodeRow("note", "cabinets", "one face frame asked for a run cannot run over two neighbours"),
    "face-frame-unusual": CodeRow("note", "cabinets", "a face frame's member or a reveal has an unusual size"),
    "front-left-open": CodeRow("warning", "cabinets", "the fronts of a cabinet do not fill its front"),
    "fronts-too-high": CodeRow("error", "cabinets", "the fronts of a cabinet do not fit between its bottom and top"),
    "box-screws-left-out": CodeRow("note", "cabinets", "a screw between two boxes has no free place on the side"),
    "drawer-side-thick": CodeRow("error", "cabinets", "a drawer's sides are thicker than its slides take"),
    "hinge-edge": CodeRow(
        "warning", "cabinets", "hinge cups are nearer the door's edge, or farther, than the row says"
    ),
    "hinges-by-weight": CodeRow("note", "cabinets", "a door gets more hinges for its weight than for its height"),
    "hooks-by-hand": CodeRow("note", "cabinets", "hook holes of drawer slides are drilled by hand without guide holes"),
    "pin-pitches-alike": CodeRow("note", "cabinets", "two pitches of shelf pins in one job look alike and are not"),
    "hinge-moved": CodeRow("note", "cabinets", "a hinge was moved so that its plate stays clear of a dado"),
    "hole-deep": CodeRow("warning", "cabinets", "a blind hole leaves less wood than is sound"),
    "kick-floor": CodeRow("note", "cabinets", "where the floor below a toe kick is highest and lowest"),
    "kick-height": CodeRow("warning", "cabinets", "a cabinet's sides are higher than the room measured below its box"),
    "kick-no-room": CodeRow(
        "error", "cabinets", "a toe-kick piece is too long, or its feet, corners or apron do not fit"
    ),
    "kick-shims": CodeRow("note", "cabinets", "a floor falls away more than feet or shims take up"),
    "kick-split": CodeRow("note", "cabinets", "a toe kick longer than its blank is made in pieces"),
    "kick-step": CodeRow("warning", "cabinets", "heights measured at the joint of two cabinets differ"),
    "kick-swapped": CodeRow("warning", "cabinets", "a cabinet's left and right heights look swapped"),
    "vent-area": CodeRow("note", "panels", "how much a vent's slots leave open"),
    "vent-no-room": CodeRow("error", "panels", "a vent's slots come too near to an edge or to another cut"),
    "vent-panel": CodeRow("error", "panels", "a vent names a panel that the job does not make"),
    "joint-impossible": CodeRow("error", "cabinets", "a joint or end cannot be made as the construction's words ask"),
    "joint-other": CodeRow("note", "cabinets", "a part is joined otherwise than a word of the construction says"),
    "ladder-not-possible": CodeRow("error", "cabinets", "a ladder base cannot be made in its sizes"),
    "ladder-spliced": CodeRow("note", "cabinets", "rails of a ladder base longer than the blank are made in pieces"),
    "no-inside-depth": CodeRow("error", "cabinets", "the depth ordered leaves no room for the parts of the box"),
    "no-inside-height": CodeRow("error", "cabinets", "the height ordered leaves no room between bottom and top"),
    "no-inside-width": CodeRow("error", "cabinets", "the width ordered leaves no room between the sides"),
    "no-room-for-pins": CodeRow("error", "cabinets", "an opening has fewer shelf-pin levels than adjustable shelves"),
    "no-shelf-opening": CodeRow("error", "cabinets", "shelves are ordered where drawers fill the whole front"),
    "part-cut": CodeRow("error", "cabinets", "a cut of a plain part does not lie within it"),
    "part-outline": CodeRow("error", "cabinets", "the outline of a plain part encloses no sound area"),
    "pins-under-plates": CodeRow("note", "cabinets", "shelf-pin levels were left out where hinge plates sit"),
    "recess-deep": CodeRow("warning", "cabinets", "a dado, rabbet or groove leaves less wood than is sound"),
    "recess-through": CodeRow("error", "cabinets", "a recess or blind hole would go right through its panel"),
    "shelves-left-out": CodeRow("warning", "cabinets", "shelves are ordered in a cabinet whose kind has none"),
    "shelves-too-many": CodeRow("error", "cabinets", "fixed shelves leave no useful room between them"),
    "shoulder-seats": CodeRow("note", "cabinets", "panels seat on shoulders; says where the depth clearance is"),
    "kitchen-guideline": CodeRow("note", "runs", "a clearance usual in kitchen planning is not kept"),
    "run-base": CodeRow("note", "runs", "boxes of a run and the ladder base under them differ in length or depth"),
    "run-heights": CodeRow("note", "runs", "a height of a run is unusual, or its boxes do not carry the counter"),
    "run-kick": CodeRow("error", "runs", "a box that stands on a ladder base has a toe kick of its own"),
    "run-overlap": CodeRow("error", "runs", "two things of a run would fill the same place"),
    "run-sum": CodeRow("error", "runs", "what stands along a wall does not add up to its length"),
    "run-too-high": CodeRow("error", "runs", "a run is higher than its room"),
    "scribe-unusual": CodeRow("note", "runs", "a filler or its scribe has an unusual width"),
    "air-run-fast": CodeRow("error", "dry run", "an air run is not slow"),
    "air-run-low": CodeRow("error", "dry run", "an air run comes down to stock or clamps"),
    "air-run-spindle": CodeRow("error", "dry run", "an air run starts the spindle"),
    "axis-limit": CodeRow("error", "dry run", "a motion leaves the machine's travels"),
    "bore-missing": CodeRow("error", "dry run", "a hole was not made"),
    "bore-too-deep": CodeRow("error", "dry run", "a hole is deeper than asked"),
    "bore-too-narrow": CodeRow("error", "dry run", "a hole is narrower than asked"),
    "bore-too-shallow": CodeRow("error", "dry run", "a hole is not as deep as asked"),
    "bore-too-wide": CodeRow("error", "dry run", "a hole is wider than asked"),
    "cannot-verify": CodeRow("error", "dry run", "where a motion goes cannot be known from the text and the setup"),
    "compression-shallow-pass": CodeRow(
        "warning", "dry run", "a compression cutter's pass at the top face stays within its up-cut tip: splinters"
    ),
    "corner-too-tight": CodeRow("error", "dry run", "a corner that a square corner must enter is not relieved"),
    "cut-after-outline": CodeRow("warning", "dry run", "a part is worked on after it was cut out, held by tabs alone"),
    "cut-into-clamp": CodeRow("error", "dry run", "a cut runs into a clamp"),
    "cut-off-blank": CodeRow("warning", "dry run", "a cut lies wholly beside the blank"),
    "cutter-unknown": CodeRow("error", "dry run", "a program calls a cutter that the setup does not have"),
    "deeper-than-flutes": CodeRow("error", "dry run", "a cut is deeper than the cutter's flutes are long"),
    "distance-not-stated": CodeRow(
        "error", "dry run", "a program does not say absolute or relative before its first motion"
    ),
    "end-mill-drills": CodeRow(
        "warning", "dry run", "an end mill drills many holes deeper than it is wide at one go: heat"
    ),
    "ends-low": CodeRow("error", "dry run", "a program ends with the cutter not above the stock"),
    "cut-through-early": CodeRow(
        "error", "dry run", "a flipped blank is cut through elsewhere than in index holes and parts before the flip"
    ),
    "faces-meet": CodeRow("error", "dry run", "cuts from the two faces of a blank leave too little wood between them"),
    "index-hole-missing": CodeRow("error", "dry run", "an index hole of a flipped blank is not made, or too shallow"),
    "index-hole-wrong": CodeRow(
        "error", "dry run", "index holes and the line a blank is turned about do not belong together"
    ),
    "pin-cut": CodeRow("error", "dry run", "a cut meets a pin that holds a flipped blank"),
    "two-faces-alone": CodeRow("error", "dry run", "side 2 of a flipped blank was given without side 1"),
    "two-faces-differ": CodeRow("error", "dry run", "the two sides of a flipped blank do not belong together"),
    "two-faces-order": CodeRow("error", "dry run", "side 2 of a flipped blank would be run before side 1"),
    "feature-missing": CodeRow("error", "dry run", "a recess was not cut"),
    "feed-mode-not-stated": CodeRow(
        "warning", "dry run", "a program does not state its feed mode before its first cut"
    ),
    "feed-over-limit": CodeRow("warning", "dry run", "a feed is faster than the axes can move"),
    "first-motion": CodeRow(
        "error", "dry run", "a program's first motion does not lift the cutter straight up over stock and clamps"
    ),
    "gouge": CodeRow("error", "dry run", "wood that must stay is cut away"),
    "holder-hits-clamp": CodeRow("error", "dry run", "collet or dust shoe runs into a clamp"),
    "holder-hits-stock": CodeRow("error", "dry run", "a cut is so deep that the collet meets the stock"),
    "leftover": CodeRow("error", "dry run", "wood that must go is left"),
    "loose-part-cut": CodeRow("error", "dry run", "a part or piece of waste that was cut loose is cut again"),
    "long-wait": CodeRow("warning", "dry run", "a program waits so long that milliseconds may be meant"),
    "loose-waste": CodeRow("note", "dry run", "a piece of waste comes loose while it is cut"),
    "more-findings": CodeRow("note", "dry run", "further findings of a code are counted, not listed"),
    "near-clamp": CodeRow("error", "dry run", "a motion passes a clamp within the margin"),
    "nearly-through": CodeRow("warning", "dry run", "the deepest cut stops just above the spoilboard"),
    "no-cutter": CodeRow("error", "dry run", "which cutter is in the spindle cannot be known"),
    "not-cut-free": CodeRow("error", "dry run", "a part is still joined to the blank"),
    "offset-not-stated": CodeRow("warning", "dry run", "a program does not call a work offset before its first motion"),
    "not-checked": CodeRow("note", "dry run", "something could not be judged because the dry run was not told of it"),
    "outline-not-cut": CodeRow("error", "dry run", "no cutter went along a part's outline"),
    "part-off-blank": CodeRow("error", "dry run", "a part does not lie within the blank"),
    "pass-too-deep": CodeRow("error", "dry run", "a pass is deeper than the cutter may take"),
    "plane-not-stated": CodeRow("warning", "dry run", "a program does not state its plane before its first motion"),
    "plunge-fast": CodeRow("warning", "dry run", "an end mill goes straight down into wood too quickly"),
    "plunge-in-stock": CodeRow(
        "error", "dry run", "a cutter that does not cut at its centre goes straight down into wood"
    ),
    "recess-cut-too-deep": CodeRow("error", "dry run", "a recess is deeper than asked"),
    "recess-too-shallow": CodeRow("error", "dry run", "a recess is not as deep as asked"),
    "sheet-incomplete": CodeRow(
        "warning", "dry run", "not all programs of a sheet were given, so what is left standing was not judged"
    ),
    "skin-missing": CodeRow("error", "dry run", "the skin that holds a part is cut through or too thin"),
    "spindle-backwards": CodeRow("error", "dry run", "the spindle turns the wrong way round"),
    "spindle-kept-speed": CodeRow(
        "warning", "dry run", "after a change of cutter no speed was given: the spindle keeps that of the cutter before"
    ),
    "spindle-left-on": CodeRow("error", "dry run", "a program ends without switching the spindle off"),
    "spindle-no-speed": CodeRow("error", "dry run", "a cut begins and no spindle speed was given"),
    "spindle-not-waited": CodeRow("error", "dry run", "a cut begins before the spindle can be at speed"),
    "spindle-off": CodeRow("error", "dry run", "a cut begins with the spindle off"),
    "spindle-range": CodeRow("warning", "dry run", "a spindle speed is outside what the spindle can do"),
    "spoilboard-bite": CodeRow("error", "dry run", "a cut goes deeper into the spoilboard than allowed"),
    "stands-in-wood": CodeRow("warning", "dry run", "a cutter turns on the spot in the wood and burns it"),
    "tab-cut-off": CodeRow("warning", "dry run", "a holding tab is cut off by another cut, so that it holds nothing"),
    "tab-too-big": CodeRow("warning", "dry run", "a holding tab is longer or higher than asked"),
    "tab-too-small": CodeRow("warning", "dry run", "a holding tab is shorter or lower than asked"),
    "tabs-missing": CodeRow("error", "dry run", "a part is held by fewer tabs than asked"),
    "tabs-too-many": CodeRow("warning", "dry run", "a part is held by more tabs than asked"),
    "tool-change-low": CodeRow("error", "dry run", "the cutter is changed while it is not above the stock"),
    "tooth-overloaded": CodeRow("warning", "dry run", "a tooth takes clearly more than the chart's highest chip load"),
    "tooth-rubs": CodeRow("warning", "dry run", "a tooth takes so little wood that it rubs and burns"),
    "traverse-in-stock": CodeRow("error", "dry run", "a traverse runs below the stock's top"),
    "traverse-through-clamp": CodeRow("error", "dry run", "a traverse runs into a clamp"),
    "units-not-stated": CodeRow("error", "dry run", "a program does not state its unit before its first motion"),
    "wrong-cutter": CodeRow("error", "dry run", "a program calls a cutter other than the one it is set up for"),
    "wrong-length-offset": CodeRow("error", "dry run", "a cut begins with the length offset of another cutter"),
    "wrong-work-offset": CodeRow("error", "dry run", "a program calls another work offset than the blank's"),
    "chip-load-high": CodeRow("warning", "feeds", "a tooth takes more than the chart's highest chip load"),
    "chip-load-rubbing": CodeRow("warning", "feeds", "a tooth takes so little that it rubs and burns"),
    "cutter-worn": CodeRow("note", "feeds", "a cutter goes farther through wood in this job than it is set to last"),
    "cutter-bends": CodeRow("warning", "feeds", "a cutter is so thin and long that its tip gives way in a slot"),
    "chip-load-unknown": CodeRow(
        "warning", "feeds", "the chip-load table has no row for the material; the lowest of the others is used"
    ),
    "compression-pass-raised": CodeRow(
        "warning", "feeds", "passes were made deeper so that a compression cutter gets past its up-cut tip"
    ),
    "compression-pass-shallow": CodeRow(
        "warning", "feeds", "a compression cutter's pass stays within its up-cut tip: the top face splinters"
    ),
    "flute-shorter-than-stock": CodeRow(
        "note", "feeds", "the cutter's flutes are shorter than the stock is thick: not for through cuts"
    ),
    "fit-bore": CodeRow("error", "fit", "a hole meets another hole or a recess or leaves its panel, or its screw does"),
    "fit-drawer": CodeRow("error", "fit", "a drawer box does not fit its opening"),
    "fit-hinge": CodeRow("error", "fit", "hinge-plate holes are not level with the door's hinges, or cover shelf pins"),
    "fit-interference": CodeRow("error", "fit", "two panels of the box would fill the same space"),
    "fit-joint": CodeRow(
        "error",
        "fit",
        "a recess is wider or narrower than the panel that enters it, plus the clearance, or stays empty",
    ),
    "divider-holes-shallow": CodeRow(
        "note", "fit", "holes in a divider are less deep than set, because both its faces are cut there"
    ),
    "fit-two-faces": CodeRow("error", "fit", "cuts from the two faces of a panel meet"),
    "fit-outside": CodeRow("error", "fit", "the assembled box differs from the outside size ordered"),
    "fit-pins": CodeRow("error", "fit", "shelf-pin rows are not level with each other or not on their pitch"),
    "fit-seat": CodeRow("error", "fit", "a panel does not reach the floor of its recess"),
    "shelf-sags": CodeRow("warning", "fit", "a shelf or bottom would sag visibly under the load set for it"),
    "shelf-not-judged": CodeRow("note", "fit", "how far a shelf sags is not judged, because it is no rectangle"),
    "fit-shelf": CodeRow("error", "fit", "an adjustable shelf does not fit between the sides or on its pins"),
    "fit-slide": CodeRow("error", "fit", "slide holes are not level with each other or with the drawer"),
    "blank-exceeds-sheet": CodeRow("warning", "job", "a blank is larger than the sheet it is said to come from"),
    "drawing-curve": CodeRow("note", "job", "curves of a drawing became arcs and lines, within the tolerance told"),
    "drawing-doubled": CodeRow("note", "job", "a drawing has lines that lie on others; they are cut once"),
    "drawing-dropped": CodeRow("note", "job", "a drawing holds things that are not used; told by kind and layer"),
    "drawing-joined": CodeRow("note", "job", "ends of a drawing that nearly met were joined"),
    "drawing-repaired": CodeRow("warning", "job", "a drawing file has faults of its own that were repaired"),
    "drawing-read": CodeRow("note", "job", "the size of a part read from a drawing, and the unit it was read in"),
    "improper-fraction": CodeRow("note", "job", "a length is a fraction above one; a mixed number may be meant"),
    "odd-size": CodeRow("warning", "job", "a size accepted on request looks like inches in a job in millimetres"),
    "quantity-zero": CodeRow("note", "job", "a cabinet or part with qty 0 is left out"),
    "thickness-not-measured": CodeRow(
        "warning", "job", "a stock has only a nominal thickness; joints are cut for that"
    ),
    "thickness-unusual": CodeRow("warning", "job", "a measured thickness is outside its sheet's standard"),
    "corner-not-relieved": CodeRow("warning", "motions", "an inside corner that should be square stays round"),
    "no-room-for-cutter": CodeRow("error", "motions", "the cutter does not fit, or cannot get down without plunging"),
    "path-not-possible": CodeRow("error", "motions", "no path could be made for an operation"),
    "compression-shallow": CodeRow(
        "warning", "operations", "a recess is shallower than the up-cut tip of the compression cutter that cuts it"
    ),
    "cut-in-clamp": CodeRow("error", "operations", "a cut, with its margin, enters a clamp's box"),
    "cut-in-part": CodeRow("error", "operations", "a part's outline cut enters the part beside it"),
    "cut-out-too-narrow": CodeRow("error", "operations", "an opening is narrower than every loaded cutter"),
    "cutter-missing": CodeRow("error", "operations", "a cutter that a step needs is not loaded or has no feed"),
    "flute-too-short": CodeRow(
        "warning", "operations", "a cut goes deeper than the cutter's flutes: its shank rubs or does not fit"
    ),
    "hold-too-tall": CodeRow("error", "operations", "tabs or skin are not thinner than the stock"),
    "hole-too-deep": CodeRow("error", "operations", "a blind hole is as deep as the stock is thick"),
    "hole-too-small": CodeRow("error", "operations", "a hole is smaller than every loaded cutter"),
    "notch-too-narrow": CodeRow("error", "operations", "a notch in an outline is narrower than the cutter"),
    "plunged-end-mill": CodeRow(
        "warning", "operations", "holes are plunged with an end mill of their own diameter: heat; lift often"
    ),
    "recess-neck": CodeRow("warning", "operations", "part of a recess is too narrow for the cutter and stays"),
    "recess-too-deep": CodeRow("error", "operations", "a recess is as deep as the stock is thick"),
    "recess-too-narrow": CodeRow("error", "operations", "a recess is narrower than every loaded cutter"),
    "run-out-in-part": CodeRow(
        "error", "operations", "the cutter cannot run out past an open edge without entering a part"
    ),
    "small-part": CodeRow("warning", "operations", "a part is so small that it needs extra holding"),
    "tabs-fewer": CodeRow(
        "warning", "operations", "fewer tabs than asked, so that the last pass still cuts half the way round"
    ),
    "through-too-deep": CodeRow("error", "operations", "through cuts bite deeper into the spoilboard than is allowed"),
    "post-coarse": CodeRow("error", "post", "a post rounds so coarsely that joints would not fit"),
    "post-cut-differs": CodeRow("error", "post", "a program does not cut where, or as fast as, its plan says"),
    "post-cutter-differs": CodeRow("error", "post", "a program cuts with another cutter or speed than its plan says"),
    "hold-down-few": CodeRow("warning", "sheets", "a blank has room for very few screws clear of every cut"),
    "hold-down-no-place": CodeRow("error", "sheets", "screws are asked for and a blank has no place for any"),
    "post-air-run": CodeRow(
        "warning", "post", "the template does not ask whether this is an air run, so that the job gets none"
    ),
    "post-fingerprint": CodeRow(
        "warning", "post", "a program's head does not tell its fingerprint, so that an old program passes for a new one"
    ),
    "post-operations-unnamed": CodeRow(
        "warning", "post", "operations are not named in comments, so that no program can be resumed by name"
    ),
    "post-text": CodeRow("error", "post", "a program's text is not what post.toml says"),
    "post-wait": CodeRow("error", "post", "the wait for the spindle is not the planned one in the controller's unit"),
    "arc-mismatch": CodeRow(
        "note", "reader", "an arc's start and end lie at slightly different distances from its centre"
    ),
    "blank-in-number": CodeRow(
        "warning", "reader", "a blank stands inside a number of the program; controllers read on after it"
    ),
    "block-delete": CodeRow(
        "note", "reader", "the program has lines that begin with a slash; says whether they were carried out"
    ),
    "program-arc": CodeRow("error", "reader", "an arc is impossible or not described"),
    "program-cycle": CodeRow("error", "reader", "a canned cycle lacks a number or has an impossible one"),
    "program-end": CodeRow("warning", "reader", "the program has no M2, M30 or closing per cent sign"),
    "program-expression": CodeRow("error", "reader", "an expression or parameter of the program has no value"),
    "program-feed": CodeRow("error", "reader", "a cutting motion has no feed"),
    "program-group": CodeRow(
        "error", "reader", "two words of one modal group, or two users of the axis words, stand in one line"
    ),
    "program-size": CodeRow("error", "reader", "a line or the program is longer, or makes more motions, than is read"),
    "program-syntax": CodeRow("error", "reader", "a line is not RS-274"),
    "program-tool": CodeRow("error", "reader", "the program asks for a tool number that is not there"),
    "program-word": CodeRow(
        "error", "reader", "a word is unknown, not accepted here, out of range, repeated, or without its companion"
    ),
    "relative-at-cut": CodeRow("warning", "reader", "relative mode is still on at the program's first cut"),
    "text-after-end": CodeRow("warning", "reader", "text after the program's end, which no controller carries out"),
    "units-and-feed": CodeRow("warning", "reader", "F stands on the line that changes the length unit"),
    "units-change": CodeRow("warning", "reader", "the length unit changes in mid-file"),
    "recut-seat": CodeRow(
        "warning", "recut", "a panel recut in another thickness enters a recess that stays as it was cut"
    ),
    "blank-loses-to-kerf": CodeRow(
        "warning", "sheets", "the saw's kerf leaves fewer blanks of a full sheet: slightly smaller blanks save sheets"
    ),
    "grain-cost": CodeRow(
        "note", "sheets", "the grain costs more blanks than the parts would need if they might be turned"
    ),
    "no-profile-cutter": CodeRow("error", "sheets", "no loaded end mill can cut right through a stock"),
    "no-place-for-index-holes": CodeRow(
        "error", "sheets", "the clamps leave no place for the index holes of a blank that is flipped"
    ),
    "offcut-used": CodeRow("note", "sheets", "panels lie on an offcut of the shelf instead of a blank"),
    "offcut-thickness": CodeRow("note", "sheets", "an offcut of the right sheet is too thick or too thin"),
    "offcut-joint": CodeRow("note", "sheets", "joints are cut for the thickness of an offcut"),
    "offcut-too-small": CodeRow("error", "sheets", "the one blank named does not hold all panels to recut"),
    "part-too-big": CodeRow("error", "sheets", "a part does not fit any blank of its stock"),
    "two-faces-off": CodeRow("error", "sheets", "a part needs cuts in both faces, and two-face work is off"),
    "spacing-raised": CodeRow(
        "warning", "sheets", "the gap between parts was less than the profile cutter is wide, and was raised"
    ),
}


def finding(code: str, message: str, *, severity: Severity | None = None, **where: str | int | float | None) -> Finding:
    """Make a finding with a code of `CODES`; severity is the row's unless given. An unknown code is a KeyError."""
    row = CODES[code]
    return Finding(severity=severity or row.severity, code=code, message=message, where=Where(**where))  # type: ignore[arg-type]


def has_error(findings: Iterable[Finding]) -> bool:
    """Tell whether any finding is an error."""
    return any(item.severity == "error" for item in findings)
