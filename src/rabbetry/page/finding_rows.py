"""The page's findings: grouped, and each linked to its place in the picture and to its line in the playback."""

import re
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from rabbetry.findings import CODES, Finding
from rabbetry.page.model import PageView, SheetView
from rabbetry.page.playback import playback_link
from rabbetry.page.render import load_text
from rabbetry.page.svg import anchor, escaped, number
from rabbetry.sheets.model import Sheet

_SEVERITIES = ("error", "warning", "note")
_UNIT_BLANK_MM = 1220.0
_CABINET = re.compile(r'cabinet "([^"]+)"')
_BESIDE_MM = 60.0
"""A place this far off the blank is still marked: the picture's margin is wider."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingRow:
    """One finding: its sentence, the place in words with the link to it in the picture or a list ('' when the page does
    not show the place), and the line in words with the link to it in the playback ('' when there is none)."""

    message: str
    place: str
    link: str
    line: str = ""
    line_link: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingGroup:
    """All findings of one severity and code."""

    severity: str
    code: str
    meaning: str
    rows: tuple[FindingRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A finding's number at its place on a sheet, blank frame."""

    number: int
    x_mm: float
    y_mm: float
    severity: str
    message: str


def finding_groups(view: PageView) -> tuple[FindingGroup, ...]:
    """Return the findings by severity (errors first) and code; the same finding is shown once."""
    links = _links(view)
    numbers = {item: k for marks in _marked(view).values() for k, item in marks}
    grouped: defaultdict[tuple[int, str], list[Finding]] = defaultdict(list)
    for item in _once(view):
        grouped[_SEVERITIES.index(item.severity), item.code].append(item)
    return tuple(
        FindingGroup(
            severity=_SEVERITIES[rank],
            code=code,
            meaning=CODES[code].meaning if code in CODES else "",
            rows=tuple(_finding_row(item, numbers.get(item), links, view) for item in items),
        )
        for (rank, code), items in sorted(grouped.items())
    )


def _once(view: PageView) -> tuple[Finding, ...]:
    return tuple(dict.fromkeys(view.findings))


def _links(view: PageView) -> dict[str, str]:
    """Return what can be linked to: panels on sheets, panels in tables, programs by path and by name."""
    links = {panel.id: f"#row-{anchor(panel.id)}" for panel in view.panels}
    for item in view.sheets:
        links.update({place.panel.id: f"#panel-{anchor(place.panel.id)}" for place in item.sheet.placements})
        for program in item.programs:
            links[program.file] = links[_name(program.file)] = f"#program-{anchor(program.file)}"
    return links


def _name(file: str) -> str:
    return file.rpartition("/")[2]


def _finding_row(item: Finding, mark: int | None, links: Mapping[str, str], view: PageView) -> FindingRow:
    where = item.where
    line_link = _line_link(item, view)
    line = f"line {where.line}" if where.line is not None else ""
    parts = [where.file or "", "" if line_link else line, where.panel or ""]
    parts.extend(
        f"{axis} {value:.3f}" for axis, value in (("x", where.x), ("y", where.y), ("z", where.z)) if value is not None
    )
    link = f"#finding-{mark}" if mark else links.get(where.panel or "") or links.get(where.file or "") or ""
    about = _CABINET.match(item.message)
    if not link and about and about[1] in {cabinet.name for cabinet in view.cabinets}:
        parts.append(about[1])
        link = f"#cabinet-{anchor(about[1])}"
    place = ", ".join(filter(None, parts))
    return FindingRow(message=item.message, place=place, link=link, line=line if line_link else "", line_link=line_link)


def _line_link(item: Finding, view: PageView) -> str:
    for sheet in view.sheets:
        if item.where.line is not None and sheet.playback and item.where.file in sheet.program_names:
            return f"{sheet.playback}#{playback_link(sheet.program_names.index(item.where.file), item.where.line)}"
    return ""


def marks_of(view: PageView) -> Mapping[str, tuple[Mark, ...]]:
    """Return the marks of each sheet by its id, numbered through the page."""
    return {
        sheet: tuple(
            Mark(
                number=k,
                x_mm=item.where.x or 0.0,
                y_mm=item.where.y or 0.0,
                severity=item.severity,
                message=item.message,
            )
            for k, item in found
        )
        for sheet, found in _marked(view).items()
    }


def _marked(view: PageView) -> dict[str, list[tuple[int, Finding]]]:
    marked: defaultdict[str, list[tuple[int, Finding]]] = defaultdict(list)
    number_of = 0
    for item in sorted(_once(view), key=lambda each: _SEVERITIES.index(each.severity)):
        sheet = _sheet_of(item, view.sheets)
        if sheet is not None and _is_near(item, sheet):
            number_of += 1
            marked[sheet.id].append((number_of, item))
    return marked


def _sheet_of(item: Finding, sheets: Sequence[SheetView]) -> Sheet | None:
    for view in sheets:
        if item.where.file is not None and item.where.file in view.program_names:
            return view.sheet
    for view in sheets:
        if any(place.panel.id == item.where.panel for place in view.sheet.placements):
            return view.sheet
    return None


def _is_near(item: Finding, sheet: Sheet) -> bool:
    x, y = item.where.x, item.where.y
    if x is None or y is None:
        return False
    beside = _BESIDE_MM * max(sheet.blank_x_mm, sheet.blank_y_mm) / _UNIT_BLANK_MM
    return -beside <= x <= sheet.blank_x_mm + beside and -beside <= y <= sheet.blank_y_mm + beside


def with_marks(picture: str, sheet: Sheet, marks: Sequence[Mark]) -> str:
    """Return the sheet's picture with the marks on top, each with the id `finding-` and its number to link to. Its
    style is left out: the page has it once, which is quicker than once a sheet."""
    picture = picture.replace(f"<style>{load_text('sheet.css')}</style>", "")
    unit = max(sheet.blank_x_mm, sheet.blank_y_mm) / _UNIT_BLANK_MM
    drawn = "".join(
        f'<g class="finding-mark {mark.severity}" id="finding-{mark.number}"><title>{escaped(mark.message)}</title>'
        f'<circle cx="{number(mark.x_mm)}" cy="{number(-mark.y_mm)}" r="{number(13 * unit)}"/>'
        f'<text x="{number(mark.x_mm)}" y="{number(-mark.y_mm + 5.5 * unit)}" font-size="{number(16 * unit)}" '
        f'text-anchor="middle">{mark.number}</text></g>'
        for mark in marks
    )
    before, end, after = picture.rpartition("</svg>")
    return before + drawn + end + after
