"""A box on the page: its exploded picture, the numbers that the script turns, and the order of assembly in words."""

from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup

from rabbetry.fit.model import Assembly, Step
from rabbetry.page.box_view import box_svg, solids_json
from rabbetry.page.svg import anchor
from rabbetry.panels.model import Vec3

_SIDES: Mapping[Vec3, str] = {
    (-1.0, 0.0, 0.0): "from the left",
    (1.0, 0.0, 0.0): "from the right",
    (0.0, -1.0, 0.0): "from the front",
    (0.0, 1.0, 0.0): "from behind",
    (0.0, 0.0, 1.0): "from above",
    (0.0, 0.0, -1.0): "from below",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class StepRow:
    """A step of the assembly: the panel ('' where a whole goes in), its name within the cabinet, what to do, and
    its number in the picture (0 for a whole)."""

    panel: str
    anchor: str
    name: str
    words: str
    number: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxPart:
    """What the page shows of a box."""

    picture: Markup
    solids: str
    steps: tuple[StepRow, ...]
    count: int


def box_part(assembly: Assembly) -> BoxPart:
    """Return the box's part of the page."""
    roles = {solid.panel: solid.role for solid in assembly.solids}
    numbers = {solid.panel: k for k, solid in enumerate(assembly.solids, 1)}
    return BoxPart(
        picture=Markup(box_svg(assembly, title=f"{assembly.cabinet}, exploded")),
        solids=solids_json(assembly),
        steps=tuple(_step_row(step, roles, numbers.get(step.panel, 0)) for step in assembly.steps),
        count=len(assembly.solids),
    )


def _step_row(step: Step, roles: Mapping[str, str], number: int) -> StepRow:
    if step.group:
        name = "All of " + _and([roles[panel] for panel in step.group])
        return StepRow(panel="", anchor="", name=name, words=f"as one, {_way(step)}", number=number)
    first = not step.is_stuck and step.from_side is None
    words = ["begin with it"] if first else [_way(step)]
    into = [(receiver, recess) for receiver, recess, entering in step.joins if entering == step.panel]
    over = [(entering, recess) for receiver, recess, entering in step.joins if receiver == step.panel]
    if into:
        words.append("into " + _and([_seat(roles.get(panel, panel), recess) for panel, recess in into]))
    if over:
        words.append("over " + _and([_seat(roles.get(panel, panel), recess) for panel, recess in over]))
    name = roles[step.panel]
    return StepRow(panel=step.panel, anchor=anchor(step.panel), name=name, words=", ".join(words), number=number)


def _way(step: Step) -> str:
    if step.from_side is None:
        return "no straight way in was found: try it dry first"
    return _SIDES[step.from_side]


def _seat(panel: str, recess: str) -> str:
    return f"{panel} ({recess})" if recess else panel


def _and(names: list[str]) -> str:
    return " and ".join(filter(None, [", ".join(names[:-1]), names[-1]]))
