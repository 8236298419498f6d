"""Setup sheets to print: one page of A4 or Letter for each program, with everything that it relies on.

Every row is set as large as the page allows; the picture takes what is left. What a program asks for, its first and its
last move come from its dry run.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from rabbetry.page.flip import turn_over
from rabbetry.page.html import duration
from rabbetry.page.model import PageView, ProgramView, SheetView
from rabbetry.page.render import load_text, render
from rabbetry.page.setup_steps import clamp_place, cutter_in_words, lay_down, speed_in_words, zero_place
from rabbetry.page.text import plain, wrap
from rabbetry.page.watch import Ask, Watch
from rabbetry.units import inches_from_mm, show_length

_COLUMN_MM = 92.0
_TEXT_HEIGHT_MM = 150.0
"""Height of the two columns of text at most; the picture has the rest of the page, 85 mm at least."""
_SIZES_MM = tuple(3.6 - 0.1 * k for k in range(20))
_LEADING, _GAP_MM = 1.25, 1.2
_MOST_ASKS = 12
"""Stops that are told one by one; of more the last lines say how many."""
_IDS = re.compile(r' id="(?!hatch-)[^"]*"')


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """A heading and its lines; `is_done` ones get a box to tick."""

    name: str
    lines: tuple[str, ...]
    has_tick: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class _Page:
    program: str
    fingerprint: str
    sheet: str
    order: str
    time: str
    rows: tuple[_Row, ...]
    size_mm: str
    picture: Markup


def setup_sheets_html(view: PageView, *, paper: str | None = None) -> str:
    """Return the setup sheets as HTML, in the order in which the programs run. `paper` is "A4" or "letter"; None: A4
    for a millimetre job, Letter for an inch job."""
    paper = paper or ("A4" if view.units == "mm" else "letter")
    if paper not in ("A4", "letter"):
        raise ValueError(f'paper must be "A4" or "letter", not {paper!r}')
    pages = [page for item in view.sheets for page in _pages(item, view)]
    return render("setup-sheets.html.j2", job_name=plain(view.job_name), paper=paper, pages=pages, units=view.units)


def _pages(item: SheetView, view: PageView) -> Iterator[_Page]:
    air = next((program for program in item.programs if program.kind == "air run"), None)
    style = f"<style>{load_text('sheet.css')}</style>"
    cutting = [program for program in item.programs if program is not air]
    fitted_now = air.cutters[0] if air and air.cutters else 0
    for number, program in enumerate(cutting, start=1):
        rows = tuple(_rows(item, view, program, air if number == 1 else None, number, fitted_now))
        fitted_now = program.cutters[-1] if program.cutters else fitted_now
        yield _Page(
            program=_name(program),
            fingerprint=program.fingerprint,
            sheet=item.sheet.id,
            order=f"program {number} of {len(cutting)} for this set-up",
            time=f"about {duration(program.time_s)}",
            rows=rows,
            size_mm=f"{_size(rows):.1f}",
            picture=Markup(_IDS.sub("", item.picture.replace(style, ""))),
        )


def _rows(
    item: SheetView, view: PageView, program: ProgramView, air: ProgramView | None, number: int, fitted_now: int
) -> Iterator[_Row]:
    sheet, units, machine = item.sheet, view.units, view.machine
    if sheet.flip is not None and sheet.side == 2 and number == 1:
        yield _Row(name="Turn the blank over", lines=(turn_over(sheet.flip, sheet.thickness_mm, units),), has_tick=True)
        text = f"{plain(sheet.stock)}, {show_length(sheet.thickness_mm, units)} thick; reference corner as on side 1."
        yield _Row(name="Blank", lines=(text,))
    else:
        text = lay_down(sheet, units) if number == 1 else f"Leave the blank as it is. {lay_down(sheet, units)}"
        yield _Row(name="Blank", lines=(text, "Reference corner: lower left in the picture."), has_tick=True)
    clamps = tuple(clamp_place(clamp, units) for clamp in machine.clamps)
    none = ("No clamp is set for this machine: hold the blank where no cutter passes, so that it cannot lift.",)
    head = ("From the lower left corner:",) if clamps else ()
    yield _Row(name="Clamps", lines=head + (clamps or none), has_tick=True)
    yield _Row(name="Zero", lines=(_zero(item, view, program, number, fitted_now),), has_tick=True)
    for cutter in program.cutters:
        yield _Row(
            name="Cutter" if len(program.cutters) == 1 else f"Cutter {cutter}",
            lines=(_cutter(cutter, sheet.stock, view, program.watch),),
            has_tick=True,
        )
    if air is not None:
        yield _Row(name="Air run first", lines=tuple(_air_run(air, units)), has_tick=True)
    elif number == 1 and not any(other.kind == "air run" for other in item.programs):
        text = f"Run {_name(program)} in the air first, well above the work, hand on the stop; then cut."
        yield _Row(name="Air run first", lines=(text,), has_tick=True)
    yield _Row(name="It stops for", lines=tuple(_asked(program.watch)))
    if program.watch is not None:
        yield _Row(name="First and last move", lines=tuple(_moves(program.watch, units)))
    if sheet.flip is not None and sheet.side == 1:
        text = "Nothing is cut free yet: leave x and y zero, and go on with side 2, where the blank is flipped."
        yield _Row(name="Afterwards", lines=(text,))
    if program.findings:
        codes = sorted({f"{found.severity}: {found.message}" for found in program.findings})
        told = (*codes[:_MOST_ASKS], *((f"and {len(codes) - _MOST_ASKS} more",) if len(codes) > _MOST_ASKS else ()))
        yield _Row(name="The dry run says", lines=told)
    yield _Row(name="Before the start", lines=_CAUTIONS, has_tick=True)


_CAUTIONS = (
    "Eyes, ears and lungs protected; nothing loose on the table, no loose sleeves; emergency stop within reach.",
    "Stay at the machine. Wait until the spindle stands still before you reach in.",
)


def _zero(item: SheetView, view: PageView, program: ProgramView, number: int, fitted_now: int) -> str:
    offset = program.watch.work_offset if program.watch is not None else ""
    system = f" (in {offset})" if offset else ""
    z = f"z zero on {zero_place(view.machine)}"
    is_kept = item.sheet.side == 2 or number > 1
    xy = "x and y zero stay as they are" if is_kept else "x and y zero at the blank's lower left corner"
    xy += system
    if number > 1 and program.cutters and program.cutters[0] == fitted_now:
        return f"{xy}, and so does {z}: the cutter is still in."
    return f"{xy[0].upper()}{xy[1:]}; touch off {z} with this cutter."


def _cutter(number: int, stock: str, view: PageView, watch: Watch | None) -> str:
    speed = speed_in_words(number, stock, view)
    if not speed and watch is not None and watch.speeds_rpm:
        speed = " or ".join(f"{rpm:.0f} rpm" for rpm in watch.speeds_rpm) + " set by the program"
    text = cutter_in_words(number, view) + (f"; {speed}" if speed else "")
    return text[0].upper() + text[1:]


def _air_run(air: ProgramView, units: str) -> Iterator[str]:
    yield (
        f"{_name(air)} (fingerprint {air.fingerprint}), about {duration(air.time_s)}, spindle off, hand on the stop: "
        "it goes slowly round the blank, each clamp and all cuts, above the clamps. Does it go where they are?"
    )
    if air.watch is not None:
        yield from _moves(air.watch, units)
        yield from (f"It stops: {text}" for text in _asked(air.watch) if air.watch.asks)


def _asked(watch: Watch | None) -> Iterator[str]:
    asks = watch.asks if watch is not None else ()
    if not asks:
        yield "Nothing: it runs through to the end."
    for ask in asks[:_MOST_ASKS]:
        yield _ask(ask)
    if len(asks) > _MOST_ASKS:
        yield f"and {len(asks) - _MOST_ASKS} times more, as its comments say"


def _ask(ask: Ask) -> str:
    what = f"cutter {ask.cutter}" if ask.cutter else "a stop that can be switched off" if ask.is_optional else "a stop"
    if ask.text.lower().startswith("stop"):
        return f"line {ask.line}: {plain(ask.text)}"
    return f"line {ask.line}, {what}" + (f": {plain(ask.text)}" if ask.text else "")


def _moves(watch: Watch, units: str) -> Iterator[str]:
    x, y, z = (_axis(value, units) for value in watch.first_mm)
    lifts = _axis(watch.lifts_to_mm, units)
    yield f"First: up to z {lifts}, over to x {x}, y {y}, down to z {z} {units}, then it feeds."
    x, y, z = (_axis(value, units) for value in watch.last_mm)
    yield f"Last: it ends at x {x}, y {y}, z {z} {units}. Deepest: z {_axis(watch.lowest_mm, units)} {units}."


def _axis(mm: float, units: str) -> str:
    """Return a position as a control shows it: two decimals of a millimetre, three of an inch."""
    text = f"{mm:.2f}" if units == "mm" else f"{inches_from_mm(mm):.3f}"
    return text.removeprefix("-") if not text.strip("-0.") else text


def _name(program: ProgramView) -> str:
    return plain(program.file.rpartition("/")[2])


def _size(rows: Sequence[_Row]) -> float:
    """Return the largest letters with which the rows fit into two columns."""
    for size in _SIZES_MM:
        room = _COLUMN_MM / size
        high = 0.0
        for row in rows:
            lines = 1 + sum(len(wrap(plain(text), room - 2.5)) for text in row.lines)
            high += lines * size * _LEADING + _GAP_MM + 0.3 * len(row.lines)
        if high <= 2 * _TEXT_HEIGHT_MM * 0.9:
            return size
    return _SIZES_MM[-1]
