"""Small pieces of SVG: numbers, escaped text, paths with true arcs. Millimetres; y is turned over in this module."""

import html
import math

from rabbetry.geometry.curves import Arc, Contour, Segment
from rabbetry.geometry.points import Point
from rabbetry.page.text import plain

_HALF_TURN = math.pi + 1e-9
"""An arc of exactly half a turn counts as small: both flags draw it, and the choice must not hang on rounding."""


def number(value: float) -> str:
    """Return a number to 0.001, without exponent, trailing zeros or a negative zero."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def escaped(text: str) -> str:
    """Return job text as one line that is safe in XML text and in a quoted attribute."""
    return html.escape(plain(text), quote=True)


def anchor(text: str) -> str:
    """Return a name for an id or a link, different for different texts: letters and digits stay, a blank becomes `_`,
    and anything else its code point between dots."""
    return "".join(
        letter
        if letter.isascii() and (letter.isalnum() or letter == "-")
        else "_"
        if letter == " "
        else f".{ord(letter):x}."
        for letter in text
    )


def path_data(contour: Contour) -> str:
    """Return the `d` of a path, y turned over; arcs stay arcs. A closed contour is closed with `Z`."""
    parts = [f"M{_pair(contour.start)}"]
    for segment in contour.segments:
        parts.extend(_steps(segment))
    return "".join(parts) + ("Z" if contour.is_closed else "")


def _steps(segment: Segment) -> tuple[str, ...]:
    if not isinstance(segment, Arc):
        return (f"L{_pair(segment.end)}",)
    sweep = segment.sweep
    ends = (segment.at(0.5), segment.end) if abs(sweep) > 1.5 * math.pi else (segment.end,)
    large = int(abs(sweep) / len(ends) > _HALF_TURN)
    # Counter-clockwise stays counter-clockwise to the eye, which is SVG's "negative" direction.
    flag = int(segment.turn < 0)
    radius = number(segment.radius)
    return tuple(f"A{radius} {radius} 0 {large} {flag} {_pair(end)}" for end in ends)


def _pair(point: Point) -> str:
    return f"{number(point.x)} {number(-point.y)}"


def rect(css: str, x: float, y: float, dx: float, dy: float, *, title: str = "") -> str:
    """Return a rectangle with its lower left corner at (x, y), y up."""
    inside = f"<title>{escaped(title)}</title>" if title else ""
    return (
        f'<rect class="{css}" x="{number(x)}" y="{number(-y - dy)}" width="{number(dx)}" height="{number(dy)}">'
        f"{inside}</rect>"
    )


def line(css: str, a: Point, b: Point) -> str:
    return f'<line class="{css}" x1="{number(a.x)}" y1="{number(-a.y)}" x2="{number(b.x)}" y2="{number(-b.y)}"/>'


def words(css: str, at: Point, size: float, text: str, *, anchor_at: str = "middle", upright: bool = False) -> str:
    """Return one line of text with its base line's `anchor_at` at a point; `upright` makes it read upwards."""
    x, y = number(at.x), number(-at.y)
    turn = f' transform="rotate(-90 {x} {y})"' if upright else ""
    return (
        f'<text class="{css}" x="{x}" y="{y}" font-size="{number(size)}" text-anchor="{anchor_at}"{turn}>'
        f"{escaped(text)}</text>"
    )
