"""What a layer of a drawing holds: as the job says, else as its name says in the words of our own drawings."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from rabbetry.errors import Fault, did_you_mean, shown
from rabbetry.job.drawings import LayerOrder


@dataclass(frozen=True, slots=True)
class Meaning:
    """What shapes are: 'outline', 'cut-out', 'hole', 'pocket', 'dado', 'groove', 'rabbet', 'relief' (points),
    'nothing', or 'free' for a layer of which nothing is said. `face` is named where both are cut."""

    cut: str
    depth_mm: float | None = None
    face: str = ""
    is_rear: bool = False
    """Cut from the other face, drawn as seen through the part."""


FREE = Meaning("free")

_FACE = r"(?: in (?P<face>.+?)(?P<rear> seen through)?)?"
_WORDS = (
    (re.compile(r"outline"), "outline"),
    (re.compile(r"cut through"), "cut-out"),
    (re.compile(r"bore [\d.]+ through"), "hole"),
    (re.compile(rf"bore [\d.]+ x (?P<depth>\d+\.\d+) deep{_FACE}"), "hole"),
    (re.compile(rf"(?P<cut>dado|groove|rabbet|pocket) (?P<depth>\d+\.\d+) deep{_FACE}"), ""),
    (re.compile(rf"relieved corners{_FACE}"), "relief"),
    (re.compile(r"names"), "nothing"),
)


def meanings(
    layers: Iterable[str], orders: Sequence[LayerOrder], *, file: str, place: str
) -> tuple[dict[str, Meaning], tuple[Fault, ...]]:
    """Return the meaning of each layer of a drawing, and a fault for each order of a layer that it does not have.
    Names of layers are alike whatever their capitals."""
    found = {layer: _by_words(layer) for layer in layers}
    faults = []
    for order in orders:
        named = [layer for layer in found if layer.casefold() == order.layer.casefold()]
        if not named:
            problem = f"{file} has no layer {shown(order.layer)}"
            faults.append(Fault(file="", place=place, problem=problem, cure=did_you_mean(order.layer, sorted(found))))
        found.update({layer: Meaning(order.cut, order.depth_mm) for layer in named})
    return found, tuple(faults)


def _by_words(layer: str) -> Meaning:
    for pattern, cut in _WORDS:
        match = pattern.fullmatch(layer.casefold())
        if match:
            said = match.groupdict()
            depth = said.get("depth")
            return Meaning(
                said.get("cut") or cut,
                float(depth) if depth else None,
                said.get("face") or "",
                said.get("rear") is not None,
            )
    return FREE
