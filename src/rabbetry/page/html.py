"""The job's page: one HTML file that opens on what matters and asks nothing of any network."""

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from rabbetry.page.buying import buying_rows
from rabbetry.page.economics import cutter_takes, price_of_all, stock_takes
from rabbetry.page.finding_rows import Mark, finding_groups, marks_of, with_marks
from rabbetry.page.model import PageView, ProgramView, SheetView
from rabbetry.page.policy import script_policy
from rabbetry.page.render import load_text, render
from rabbetry.page.rows import band_rows, cabinet_rows, cut_rows, hardware_rows, run_rows
from rabbetry.page.setup_steps import setup_steps
from rabbetry.page.solid_lists import solid_view
from rabbetry.page.svg import anchor
from rabbetry.page.text import plain
from rabbetry.page.wording import fine_length, short_size
from rabbetry.units import inches_from_mm, show_length


@dataclass(frozen=True, slots=True, kw_only=True)
class _ProgramRow:
    file: str
    name: str
    anchor: str
    setup: str
    fingerprint: str
    cutters: str
    lines: int
    time: str
    cut: str
    traverse: str
    findings: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _SheetRow:
    id: str
    anchor: str
    stock: str
    facts: str
    picture: Markup
    panels: tuple[tuple[str, str], ...]
    programs: tuple[_ProgramRow, ...]
    steps: tuple[str, ...]
    playback: str
    cut_picture: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _FeedRow:
    cutter: int
    name: str
    kind: str
    diameter: str
    stock: str
    rpm: str
    feed: str
    plunge: str
    step: str
    chip_load: str
    decided_by: str


def index_html(view: PageView) -> str:
    """Return the page. All text of the job is escaped; only the pictures of sheets and runs go in as they are."""
    script = "".join(map(load_text, ("page.js", "sheet_view.js", "box.js")))
    programs = [program for item in view.sheets for program in item.programs if program.kind != "air run"]
    groups = finding_groups(view)
    marks = marks_of(view)
    tally = {
        name: sum(len(group.rows) for group in groups if group.severity == name)
        for name in ("error", "warning", "note")
    }
    return render(
        "index.html.j2",
        view=view,
        job_name=plain(view.job_name),
        script=Markup(script),
        policy=script_policy(script),
        groups=groups,
        tally=tally,
        sheets=[_sheet_row(item, view, marks.get(item.sheet.id, ())) for item in view.sheets],
        total_time=duration(sum(program.time_s for program in programs)),
        total_cut=_travel(sum(program.cut_mm for program in programs), view.units),
        program_count=len(programs),
        used=sum(count.sheets for count in view.counts),
        bound=sum(count.lower_bound for count in view.counts),
        feeds=_feed_rows(view),
        runs=run_rows(view),
        cabinets=cabinet_rows(view),
        cut_list=cut_rows(view),
        banding=band_rows(view),
        buying=buying_rows(view.breakdowns, view.units),
        cost=price_of_all(row.cost for row in view.breakdowns),
        stock_takes=stock_takes(view),
        cutter_takes=cutter_takes(view),
        hardware=hardware_rows(view.boxes),
        solid=solid_view(view.faced, view.units),
    )


def duration(seconds: float) -> str:
    """Return a time for a reader, rounded up to a second: `1 h 02 min`, `12 min 05 s`, `8 s`."""
    whole = int(-(-seconds // 1))
    if whole >= 3600:
        minutes = -(-whole // 60)
        return f"{minutes // 60} h {minutes % 60:02d} min"
    return f"{whole // 60} min {whole % 60:02d} s" if whole >= 60 else f"{whole} s"


def _travel(mm: float, units: str) -> str:
    return f"{mm / 1000:.1f} m" if units == "mm" else f"{inches_from_mm(mm) / 12:.1f} ft"


def _sheet_row(item: SheetView, view: PageView, marks: Sequence[Mark]) -> _SheetRow:
    sheet = item.sheet
    count = len(sheet.placements)
    known = "measured" if sheet.thickness_is_measured else "thickness not measured"
    facts = (
        f"{show_length(sheet.thickness_mm, view.units)} thick ({known}), "
        f"{f'offcut {plain(sheet.offcut)}' if sheet.offcut else 'blank'} "
        f"{short_size(sheet.blank_x_mm, sheet.blank_y_mm, view.units)}, {count} {'panel' if count == 1 else 'panels'}, "
        f"{sheet.utilisation * 100:.0f} % of the blank used"
    )
    return _SheetRow(
        id=sheet.id,
        anchor=anchor(sheet.id),
        stock=sheet.stock,
        facts=facts,
        picture=Markup(with_marks(item.picture, sheet, marks)),
        # Nothing is cut free on the first side of a flipped blank.
        panels=tuple((place.panel.id, anchor(place.panel.id)) for place in sheet.placements if sheet.side != 1),
        programs=tuple(_program_row(program, view.units) for program in item.programs),
        steps=setup_steps(item, view) if item.programs else (),
        playback=item.playback,
        cut_picture=item.cut_picture,
    )


def _program_row(program: ProgramView, units: str) -> _ProgramRow:
    count = len(program.findings)
    return _ProgramRow(
        file=program.file,
        name=program.file.rpartition("/")[2],
        anchor=anchor(program.file),
        setup=program.file.rpartition(".")[0] + ".setup.json",
        fingerprint=program.fingerprint,
        cutters=", ".join(map(str, program.cutters)),
        lines=program.lines,
        time=duration(program.time_s),
        cut=_travel(program.cut_mm, units),
        traverse=_travel(program.traverse_mm, units),
        findings="none" if not count else f"{count}, listed above",
    )


def _feed_rows(view: PageView) -> tuple[_FeedRow, ...]:
    cutters = {cutter.number: cutter for cutter in view.cutters}
    stocks = {item.sheet.stock for item in view.sheets}
    return tuple(
        _FeedRow(
            cutter=choice.cutter,
            name=cutters[choice.cutter].name,
            kind=cutters[choice.cutter].kind.value,
            diameter=fine_length(cutters[choice.cutter].cut_diameter_mm, view.units),
            stock=choice.stock,
            rpm=f"{choice.rpm:.0f}" + (f" (dial {choice.dial})" if choice.dial else ""),
            feed=_rate(choice.feed_mm_per_min, view.units),
            plunge=_rate(choice.plunge_mm_per_min, view.units),
            step=fine_length(choice.pass_mm, view.units),
            chip_load=_chip_load(choice.chip_load_mm_per_tooth, view.units),
            decided_by=choice.decided_by,
        )
        for choice in sorted(view.feeds, key=lambda item: (item.cutter, item.stock))
        if choice.cutter in cutters and choice.stock in stocks
    )


def _rate(mm_per_min: float, units: str) -> str:
    return f"{mm_per_min:.0f} mm/min" if units == "mm" else f"{inches_from_mm(mm_per_min):.0f} in/min"


def _chip_load(mm: float, units: str) -> str:
    return f"{mm:.3f} mm" if units == "mm" else f"{inches_from_mm(mm):.4f} in"
