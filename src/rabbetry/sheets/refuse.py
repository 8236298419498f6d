"""Says of a part that fits no blank by how much it is too big, in the job's unit."""

from collections.abc import Sequence
from dataclasses import dataclass

from rabbetry.findings import Finding, finding
from rabbetry.job.model import Stock
from rabbetry.panels.model import Panel
from rabbetry.tolerances import POINT_MM
from rabbetry.units import write_length


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """What a blank offers inside its trim, millimetres, and the unit for messages."""

    x_mm: float
    y_mm: float
    units: str


def refusal(panel: Panel, *, stock: Stock, turns: Sequence[int], room: Room, fits_turned: bool) -> Finding:
    """Return the error for a panel that fits none of the allowed `turns`."""
    turn, long, wide = min(((turn, *_excess(panel, turn, room)) for turn in turns), key=lambda row: (max(row[1:]), row))
    size = f"{_plain(panel.length_mm, room.units)} x {write_length(panel.width_mm, room.units)}"
    along_x = turn == 0
    space = f"{_plain(room.x_mm, room.units)} x {write_length(room.y_mm, room.units)}"
    message = f'{panel.id}: {size} does not fit the {space} that a blank of "{stock.name}" offers'
    if stock.trim_mm > POINT_MM:
        message += f" inside its trim of {write_length(stock.trim_mm, room.units)}"
    too = [
        f"{write_length(over, room.units)} too {word}"
        for over, word in ((long, "long"), (wide, "wide"))
        if over > POINT_MM
    ]
    if too:
        message += ": " + " and ".join(too)
        if len(turns) == 1 and stock.has_grain:
            message += f" with its length along {'X' if along_x else 'Y'}, as the grain asks"
            message += "; turned it would fit" if fits_turned else ""
    else:
        message += ": the clamps leave no room for it; move them or the part to another blank"
    return finding("part-too-big", message, panel=panel.id)


def _excess(panel: Panel, turn: int, room: Room) -> tuple[float, float]:
    """Return by how much the panel's length and its width exceed the blank."""
    if turn == 90:
        return panel.length_mm - room.y_mm, panel.width_mm - room.x_mm
    return panel.length_mm - room.x_mm, panel.width_mm - room.y_mm


def _plain(mm: float, units: str) -> str:
    return write_length(mm, units).removesuffix(f" {units}")
