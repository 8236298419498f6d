"""Reads the text of a setup file into records; every fault is told at once, with its key."""

import json
import math
from typing import Literal

from rabbetry.dryrun.dialects import DIALECTS
from rabbetry.dryrun.json_node import Node
from rabbetry.dryrun.setup import (
    Bend,
    Bore,
    Clamp,
    Contour,
    CutOut,
    Cutter,
    Hold,
    IndexHole,
    Machine,
    Panel,
    Recess,
    Setup,
    TwoFaces,
)
from rabbetry.errors import Fault, InputError

FORMAT = "rabbetry setup 1"
OFFSET_WORDS = ("G54", "G55", "G56", "G57", "G58", "G59", "G59.1", "G59.2", "G59.3")
_HOLDS: tuple[Literal["tabs", "skin", "uncut"], ...] = ("tabs", "skin", "uncut")
_SIDES: tuple[Literal[1, 2], ...] = (1, 2)
_LINES: tuple[Literal["x", "y"], ...] = ("x", "y")


def read_setup(text: str, *, file: str) -> Setup:
    """Return the setup in a JSON text. Raises InputError with all its faults, each naming the file and the key."""
    try:
        data = json.loads(text)
    except (ValueError, RecursionError) as error:
        raise InputError(Fault(file=file, place="", problem=f"this is no JSON text: {error}")) from None
    faults: list[Fault] = []
    root = Node(data, "", file, faults)
    if not root.is_object():
        raise InputError(Fault(file=file, place="", problem="a setup file holds one JSON object"))
    if root.value("format") != FORMAT:
        cure = "make the setup again with this version"
        raise InputError(
            Fault(file=file, place="format", problem=f"{root.value('format')!r} is not {FORMAT!r}", cure=cure)
        )
    setup = _setup(root)
    if faults:
        raise InputError(*faults)
    return setup


def _setup(root: Node) -> Setup:
    controller, offset, blank = root.child("controller"), root.child("work_offset"), root.child("blank")
    words = None
    if controller.value("allowed_words") is not None:
        words = frozenset(controller.items("allowed_words", Node.text))
    limit = controller.child("line_limit")
    word = "" if offset.value("word") is None else offset.text("word")
    if word and word not in OFFSET_WORDS:
        offset.child("word").fault("one of " + ", ".join(OFFSET_WORDS))
    dialect = controller.text("dialect")
    if dialect not in DIALECTS:
        controller.child("dialect").fault("one of " + ", ".join(sorted(DIALECTS)))
    cutters = root.items("cutters", _cutter)
    if len({cutter.number for cutter in cutters}) < len(cutters):
        root.child("cutters").fault("each cutter number once")
    top, spoilboard = root.number("stock_top_z_mm"), root.number("spoilboard_z_mm")
    if spoilboard >= top:
        root.child("spoilboard_z_mm").fault(f"less than stock_top_z_mm {top:g}")
    return Setup(
        program=root.text("program"),
        sheet=root.text("sheet"),
        programs=root.items("programs", Node.text),
        loaded=root.items("loaded", Node.whole, optional=True),
        machine=_machine(root.child("machine")),
        dialect=dialect,
        allowed_words=words,
        line_limit=None if limit.data is None else limit.whole(),
        dwell_unit_s=1.0 if controller.value("dwell_unit_s") is None else controller.size("dwell_unit_s"),
        spindle_reversed=controller.value("spindle_reversed") is not None and controller.truth("spindle_reversed"),
        changes_at_stop=controller.value("changes_at_stop") is not None and controller.truth("changes_at_stop"),
        work_offset_word=word,
        work_offset_mm=None if offset.value("machine_mm") is None else offset.point3("machine_mm"),
        stock_top_z_mm=top,
        spoilboard_z_mm=spoilboard,
        blank_x_mm=blank.size("x_mm"),
        blank_y_mm=blank.size("y_mm"),
        clamps=root.items("clamps", _clamp),
        cutters=cutters,
        panels=root.child("target").items("panels", _panel),
        air_run=root.value("air_run") is not None and root.truth("air_run"),
        two_faces=None if root.value("two_faces") is None else _two_faces(root.child("two_faces")),
    )


def _machine(node: Node) -> Machine:
    shoe = node.child("dust_shoe_mm").point2()
    return Machine(
        name=node.text("name"),
        travel_min_mm=node.point3("travel_min_mm"),
        travel_max_mm=node.point3("travel_max_mm"),
        max_rate_mm_per_min=node.rates("max_rate_mm_per_min"),
        acceleration_mm_per_s2=node.rates("acceleration_mm_per_s2"),
        spindle_by_hand=node.truth("spindle_by_hand"),
        spindle_min_rpm=node.size("spindle_min_rpm"),
        spindle_max_rpm=node.size("spindle_max_rpm"),
        spindle_wait_s=node.size("spindle_wait_s"),
        vacuum_holds_mm2=0.0 if node.value("vacuum_holds_mm2") is None else node.size("vacuum_holds_mm2"),
        collet_diameter_mm=node.size("collet_diameter_mm"),
        dust_shoe_mm=shoe,
        dust_shoe_height_mm=node.size("dust_shoe_height_mm"),
        clamp_margin_mm=node.size("clamp_margin_mm"),
        spoilboard_allowance_mm=node.size("spoilboard_allowance_mm"),
        home_mm=None if node.value("home_mm") is None else node.point3("home_mm"),
    )


def _clamp(node: Node) -> Clamp:
    return Clamp(
        name=node.text("name"),
        x_mm=node.number("x_mm"),
        y_mm=node.number("y_mm"),
        length_x_mm=node.size("length_x_mm"),
        length_y_mm=node.size("length_y_mm"),
        top_z_mm=node.number("top_z_mm"),
    )


def _cutter(node: Node) -> Cutter:
    diameter = node.size("diameter_mm")
    if diameter <= 0:
        node.child("diameter_mm").fault("more than 0")
    return Cutter(
        number=node.child("number").whole(),
        name=node.text("name"),
        kind=node.text("kind"),
        diameter_mm=diameter,
        flute_length_mm=node.size("flute_length_mm"),
        centre_cutting=node.truth("centre_cutting"),
        pass_limit_mm=node.size("pass_limit_mm"),
        stick_out_mm=node.size("stick_out_mm"),
        up_cut_length_mm=0.0 if node.value("up_cut_length_mm") is None else node.size("up_cut_length_mm"),
        flutes=0 if node.value("flutes") is None else node.child("flutes").whole(),
        chip_load_high_mm=None if node.value("chip_load_high_mm") is None else node.size("chip_load_high_mm"),
    )


def _two_faces(node: Node) -> TwoFaces:
    about = node.child("turned_about")
    side = next((side for side in _SIDES if side == node.value("side")), None)
    if side is None:
        node.child("side").fault("1 or 2")
    line = next((line for line in _LINES if line == about.value("line")), None)
    if line is None:
        about.child("line").fault('"x" or "y"')
    return TwoFaces(
        side=side or 1,
        first_side_programs=node.items("first_side_programs", Node.text),
        line=line or "x",
        at_mm=about.number("at_mm"),
        least_left_mm=node.size("least_left_mm"),
        index_holes=node.items("index_holes", _index_hole),
    )


def _index_hole(node: Node) -> IndexHole:
    return IndexHole(
        x_mm=node.number("x_mm"),
        y_mm=node.number("y_mm"),
        diameter_mm=node.size("diameter_mm"),
        depth_mm=node.size("depth_mm"),
    )


def _panel(node: Node) -> Panel:
    return Panel(
        id=node.text("id"),
        outline=_contour(node.child("outline")),
        hold=_hold(node.child("hold")),
        cutouts=node.items("cutouts", _cutout),
        recesses=node.items("recesses", _recess),
        bores=node.items("bores", _bore),
    )


def _cutout(node: Node) -> CutOut:
    outline = _contour(node.child("outline"))
    return CutOut(name=node.text("name"), outline=outline, hold=_hold(node.child("hold")))


def _recess(node: Node) -> Recess:
    return Recess(
        name=node.text("name"),
        outline=_contour(node.child("outline")),
        islands=node.items("islands", _contour),
        depth_mm=node.size("depth_mm"),
        relieved_corners=node.items("relieved_corners", Node.point2),
    )


def _bore(node: Node) -> Bore:
    return Bore(
        name=node.text("name"),
        x_mm=node.number("x_mm"),
        y_mm=node.number("y_mm"),
        diameter_mm=node.size("diameter_mm"),
        depth_mm=node.size("depth_mm"),
        through=node.truth("through"),
    )


def _hold(node: Node) -> Hold:
    kind = next((kind for kind in _HOLDS if kind == node.value("kind")), None)
    if kind == "tabs":
        return Hold(
            kind=kind,
            at_least=node.child("at_least").whole(),
            at_most=node.child("at_most").whole(),
            length_mm=node.size("length_mm"),
            height_mm=node.size("height_mm"),
        )
    if kind is None:
        node.child("kind").fault('"tabs", "skin" or "uncut"')
        return Hold(kind="skin")
    if kind == "uncut":
        return Hold(kind=kind)
    return Hold(kind=kind, height_mm=node.size("thickness_mm"))


def _contour(node: Node) -> Contour:
    start = node.child("start").point2()
    segments = node.items("segments", _bend)
    if segments and math.dist(start, segments[-1].to) > 0.001:
        node.child("segments").fault("an end at the contour's start")
    if len(segments) < 2:
        node.child("segments").fault("two segments or more")
    return Contour(start=start, segments=segments)


def _bend(node: Node) -> Bend:
    to = node.child("to").point2()
    if node.value("centre") is None:
        return Bend(to=to)
    turn = node.value("turn")
    if turn not in (1, -1):
        node.child("turn").fault("1 or -1")
    return Bend(to=to, centre=node.child("centre").point2(), turn=1 if turn == 1 else -1)
