"""The shelf of offcuts beside a job: TOML with one [[offcut]] a piece, and its own `units`.

A piece's `size` is given along the grain first, then across, as it would be measured on the shelf.
"""

import tomllib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Annotated

from pydantic import Field, ValidationError

from rabbetry.errors import Fault, InputError, did_you_mean, row_faults, shown
from rabbetry.job.fields import BlankSize, Row, Text, Thickness
from rabbetry.job.model import Job, ShelfPiece
from rabbetry.units import write_length

MAX_PIECES = 200


class OffcutRow(Row):
    """One piece on the shelf."""

    name: Text
    sheet: Text
    thickness: Thickness
    size: Annotated[list[BlankSize], Field(min_length=2, max_length=2)]
    note: Annotated[str, Field(max_length=200)] = ""


def with_shelf(job: Job, text: str) -> Job:
    """Return the job with the pieces of its shelf file. Raises InputError with all faults of the file."""
    file = job.shelf_file
    data = _parsed(text, file)
    units = data.get("units", "mm")
    faults = [
        Fault(file=file, place="", problem=f"{shown(key)} is not a known key", cure=did_you_mean(key, _KEYS))
        for key in data
        if key not in _KEYS
    ]
    if units not in ("mm", "in"):
        faults.append(
            Fault(file=file, place="units", problem=f"{shown(units)} is not a unit", cure='write "mm" or "in"')
        )
        units = "mm"
    rows = data.get("offcut", [])
    if not isinstance(rows, list) or not all(isinstance(row, Mapping) for row in rows):
        problem, cure = f"{shown(rows)} is not a list of tables", "begin each piece with [[offcut]]"
        raise InputError(*faults, Fault(file=file, place="offcut", problem=problem, cure=cure))
    if len(rows) > MAX_PIECES:
        problem = f"{len(rows)} pieces are more than the {MAX_PIECES} allowed"
        raise InputError(*faults, Fault(file=file, place="offcut", problem=problem))
    pieces: list[ShelfPiece] = []
    for number, row in enumerate(rows, start=1):
        wrong, piece = _piece(row, number, file, str(units))
        faults.extend(wrong)
        pieces.extend([piece] if piece else [])
    faults.extend(_disagreements(pieces, [good.name for good in job.shop.sheet_goods], file))
    if faults:
        raise InputError(*faults)
    return replace(job, shelf=tuple(pieces))


_KEYS = ("units", "offcut")


def _parsed(text: str, file: str) -> Mapping[str, object]:
    try:
        return tomllib.loads(text.removeprefix("\ufeff"))
    except (ValueError, RecursionError) as error:
        reason = str(error) if not isinstance(error, RecursionError) else "lists or tables are nested too deeply"
        raise InputError(Fault(file=file, place="", problem=f"not TOML: {reason}")) from None


def _piece(
    row: Mapping[str, object], number: int, file: str, units: str
) -> tuple[tuple[Fault, ...], ShelfPiece | None]:
    name = row.get("name")
    label = f"offcut {shown(name)}" if isinstance(name, str) else f"offcut {number}"
    try:
        read = OffcutRow.model_validate(row, context={"units": units, "odd_sizes": True})
    except ValidationError as error:
        return row_faults(
            [dict(complaint) for complaint in error.errors(include_url=False)],
            file=file,
            place=lambda location: ", ".join([label, *(str(part) for part in location if isinstance(part, str))]),
            known=lambda _: tuple(OffcutRow.model_fields),
        ), None
    along, across = read.size
    return (), ShelfPiece(
        name=read.name,
        sheet=read.sheet,
        thickness_mm=read.thickness.mm,
        along_mm=along.mm,
        across_mm=across.mm,
        note=read.note,
    )


def _disagreements(pieces: Sequence[ShelfPiece], goods: Sequence[str], file: str) -> Iterable[Fault]:
    seen: set[str] = set()
    for piece in pieces:
        place = f"offcut {shown(piece.name)}"
        if piece.name in seen:
            yield Fault(file=file, place=place, problem="stands twice", cure="give each piece a name of its own")
        seen.add(piece.name)
        if piece.sheet not in goods:
            problem = f"{shown(piece.sheet)} is not in the sheet-goods table"
            yield Fault(file=file, place=f"{place}, sheet", problem=problem, cure=did_you_mean(piece.sheet, goods))


def shelf_text(pieces: Iterable[ShelfPiece], units: str) -> str:
    """Return the pieces as a shelf file."""
    lines = [f'units = "{units}"']
    for piece in pieces:
        sizes = ", ".join(f'"{write_length(mm, units)}"' for mm in (piece.along_mm, piece.across_mm))
        lines += [
            "",
            "[[offcut]]",
            f"name = {_quoted(piece.name)}",
            f"sheet = {_quoted(piece.sheet)}",
            f'thickness = "{write_length(piece.thickness_mm, units)}"',
            f"size = [{sizes}]",
        ]
        lines += [f"note = {_quoted(piece.note)}"] if piece.note else []
    return "\n".join(lines) + "\n"


def _quoted(text: str) -> str:
    """Return text as a TOML string: quotes, backslashes and control signs escaped."""
    signs = ("\\" + sign if sign in '"\\' else sign if sign.isprintable() else f"\\U{ord(sign):08x}" for sign in text)
    return '"' + "".join(signs) + '"'
