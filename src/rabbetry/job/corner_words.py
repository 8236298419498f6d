"""Which of the job's words an L-shaped corner cabinet cannot follow, and why: nothing given for it is passed over in
silence."""

from collections.abc import Collection, Iterator
from dataclasses import replace

from rabbetry.job.basics import Construction, DoorStyle, Faces, Mount
from rabbetry.job.settings import SETTINGS
from rabbetry.job.special_rows import CornerBase
from rabbetry.job.words import BackPlace, BottomWord, FinishedEnd, LevelJoint, TopWord
from rabbetry.shop.hardware import PlateFrom

_STOPS = (LevelJoint.STOPPED_DADO, LevelJoint.TONGUE)


def corner_construction(asked: Construction) -> tuple[Construction, tuple[str, ...]]:
    """Return the construction as a corner can be made, and what of `asked` it cannot follow, each as a sentence's part
    that names the word."""
    made, told = asked, []
    if asked.back is not BackPlace.RABBET:
        told.append(f'back = "{asked.back}": its two backs stand in rabbets and meet in the corner')
        made = replace(made, back=BackPlace.RABBET)
    if asked.top is TopWord.ON_EDGE:
        told.append(
            'top = "on edge": no rail on edge turns the inner corner; write "stretchers" for strips that lie flat'
        )
    if asked.top is not TopWord.STRETCHERS:
        made = replace(made, top=TopWord.FULL)
    if asked.finished is not FinishedEnd.NONE and asked.scribe_mm > 0:
        told.append(f"scribe = {asked.scribe_mm:g}: a corner's sides end at its backs")
    return replace(made, scribe_mm=0.0), tuple(told)


def unused_sizes(
    row: CornerBase, made: Construction, *, faces: Faces, mount: Mount, door_style: DoorStyle
) -> tuple[str, ...]:
    """Return the lengths that the row gives and that change nothing in this corner, each with the reason. `made` is its
    construction."""
    given = {setting.key: setting.field for setting in SETTINGS if getattr(row, setting.key, None) is not None}
    rules = tuple(_rules(row, made, faces=faces, mount=mount, door_style=door_style))
    told = []
    for key in given:
        reason = next((reason for starts, reason in rules if _is_of(key, starts)), None)
        if reason is not None:
            told.append(f"{key}: {reason}")
    return tuple(told)


def _is_of(key: str, names: Collection[str]) -> bool:
    """A name that ends in a low line stands for every key that begins with it."""
    return any(key.startswith(name) if name.endswith("_") else key == name for name in names)


def _rules(
    row: CornerBase, made: Construction, *, faces: Faces, mount: Mount, door_style: DoorStyle
) -> Iterator[tuple[tuple[str, ...], str]]:
    """Yield keys, and why they change nothing."""
    framed, inset = faces is Faces.FACE_FRAME, mount is Mount.INSET
    joints = (made.bottom_joint, made.top_joint, *((made.shelf_joint,) if row.fixed_shelves else ()))
    yield ("drawer_", "slide_"), "a corner has no drawers"
    yield ("back_inset",), "its backs stand in rabbets"
    yield ("scribe",), "a corner's sides end at its backs"
    yield ("frame_middle_",), "its face frame has outer stiles, top and bottom rails only"
    if row.wall:
        yield ("kick_",), "a corner on the wall has no toe kick"
    else:
        yield ("nailer_width",), "only a corner on the wall has nailers"
    has_kick = not row.wall and made.kick_height_mm > 0
    if not has_kick:
        yield ("kick_depth",), "it has no toe kick"
    if made.bottom is BottomWord.FLUSH or (made.bottom is BottomWord.BY_KIND and has_kick):
        yield ("bottom_lift",), "its bottom is not raised"
    if made.top is TopWord.FULL:
        yield ("stretcher_width",), "it has a full top"
    if not any(joint in _STOPS for joint in joints):
        yield ("dado_stop",), "no joint of it is stopped"
    if LevelJoint.TONGUE not in joints:
        yield ("tongue_thickness", "depth_clearance"), "no joint of it is a tongue"
    if not row.adjustable_shelves:
        yield ("shelf_",), "it has no adjustable shelves"
    if not framed:
        yield ("frame_",), "it has no face frame"
    if row.doors == "open":
        yield ("hinge_", "front_", "inset_reveal", "door_", "frame_overlay"), "it has no doors"
    plates = made.fittings.plate_from
    on_frame = plates is PlateFrom.ON_FRAME or (plates is None and framed and not inset)
    yield from _door_rules(row, on_frame=on_frame, inset=inset, door_style=door_style)


def _door_rules(
    row: CornerBase, *, on_frame: bool, inset: bool, door_style: DoorStyle
) -> Iterator[tuple[tuple[str, ...], str]]:
    yield (("frame_overlay", "front_gap"), "its doors are inset") if inset else (("inset_reveal",), "its doors overlay")
    if on_frame:
        yield ("hinge_plate_",), "its hinge plates sit on the face frame"
        if not row.slab_doors:
            yield ("hinge_end", "hinge_pitch"), "its hinges are set by hand, on the face frame and on bought doors"
    if row.slab_doors:
        yield ("front_thickness", "door_"), "its doors are cut from sheet"
    else:
        yield ("hinge_cup_depth", "hinge_cup_edge", "hinge_fixing_"), "its doors are made elsewhere"
        if door_style is DoorStyle.PLAIN:
            yield ("door_",), "its doors are plain boards"
