"""Panels over the sides of cabinets, and fillers beside them: their sizes follow the cabinets'. Millimetres."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from rabbetry.findings import Finding, finding
from rabbetry.job.choices import CoverOrder, FillerOrder
from rabbetry.job.kinds import KINDS
from rabbetry.job.model import CabinetOrder, Grain, Job, PartOrder
from rabbetry.tolerances import FIT_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Outside:
    """What of a cabinet matters to what stands beside it: outside sizes, its toe kick's height, its fronts' stock."""

    width_mm: float
    depth_mm: float
    height_mm: float
    kick_mm: float
    front_stock: str


def outside_of(order: CabinetOrder) -> Outside:
    """Return a cabinet's outside as ordered, whole even when it is made of several boxes."""
    return Outside(
        width_mm=order.width_mm,
        depth_mm=order.depth_mm,
        height_mm=order.height_mm,
        kick_mm=order.construction.kick_height_mm if KINDS[order.kind].has_kick else 0.0,
        front_stock=order.front_stock,
    )


def parts_beside(job: Job, outsides: Mapping[str, Outside]) -> tuple[tuple[PartOrder, ...], tuple[Finding, ...]]:
    """Return the job's panels over cabinets and its fillers as plain parts, and what should be said of them."""
    covers = [_cover(cover, outsides) for cover in job.covers]
    fillers = [_filler(filler, outsides) for filler in job.fillers]
    return (*(part for part, _ in covers), *fillers), tuple(item for _, said in covers for item in said)


def _cover(cover: CoverOrder, outsides: Mapping[str, Outside]) -> tuple[PartOrder, tuple[Finding, ...]]:
    """Return the panel: length up (of a top: along the row), width across, each with its overhangs.

    Raises KeyError for a cabinet that is not there.
    """
    boxes = [outsides[name] for name in cover.covers]
    left, right, low, high = cover.overhang_mm
    kick = 0.0 if cover.to_floor else max(box.kick_mm for box in boxes)
    row, deep = sum(box.width_mm for box in boxes), max(box.depth_mm for box in boxes)
    up = max(box.height_mm for box in boxes) - kick
    if cover.side == "top":
        length, width = row + left + right, deep + low + high
    else:
        length, width = up + low + high, (row if cover.side == "back" else deep) + left + right
    part = PartOrder(
        name=cover.name,
        qty=1,
        stock=cover.stock or boxes[0].front_stock,
        length_mm=length,
        width_mm=width,
        grain=Grain.ALONG,
        note=cover.note or f"{cover.side} of {', '.join(cover.covers)}",
    )
    return part, tuple(_uneven(cover, boxes))


def _filler(filler: FillerOrder, outsides: Mapping[str, Outside]) -> PartOrder:
    """Return the strip: as high as the cabinet's front, or from the floor, and wider than the gap by what is scribed.

    Raises KeyError for a cabinet that is not there.
    """
    box = outsides[filler.beside]
    scribe = f"; {filler.scribe_mm:g} mm of its width to scribe" if filler.scribe_mm else ""
    return PartOrder(
        name=filler.name,
        qty=1,
        stock=filler.stock or box.front_stock,
        length_mm=box.height_mm - (0.0 if filler.to_floor else box.kick_mm),
        width_mm=filler.width_mm + filler.scribe_mm,
        grain=Grain.ALONG,
        note=filler.note or f"beside {filler.beside}{scribe}",
    )


def _uneven(cover: CoverOrder, boxes: list[Outside]) -> Iterator[Finding]:
    """A panel over boxes of unlike sizes follows the largest: say so."""
    if cover.side in ("left", "right") and len(boxes) > 1:
        message = f'panel "{cover.name}": an end has one cabinet; the deepest and highest of {len(boxes)} is covered'
        yield finding("panel-uneven", message)
        return
    sizes = [box.depth_mm if cover.side == "top" else box.height_mm for box in boxes]
    if max(sizes) - min(sizes) > FIT_MM:
        word = "deep" if cover.side == "top" else "high"
        message = f'panel "{cover.name}": its cabinets are {min(sizes):g} to {max(sizes):g} mm {word}; it follows the '
        yield finding("panel-uneven", message + f"{word}est" if word == "deep" else message + "highest")
