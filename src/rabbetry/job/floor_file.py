"""A file of floor measurements beside the job: CSV with the columns cabinet,left,right or x,height.

The first line names the columns. Commas part the columns, or semicolons where the first line has one; lengths are
written as in the job file. Empty lines are passed over. Every wrong line is told by its number.
"""

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from rabbetry.errors import Fault, did_you_mean, shown
from rabbetry.job.fields import ODD_KICK_MM, not_odd
from rabbetry.job.kick_rows import MAX_FLOOR_MM, MAX_POINTS, MAX_RUN_MM
from rabbetry.units import Length, LengthError, read_length

BY_CABINET = ("cabinet", "left", "right")
BY_PLACE = ("x", "height")


@dataclass(frozen=True, slots=True, kw_only=True)
class FloorFile:
    """Heights as measured: by cabinet (left, right and the line they stand in), or by place along the run."""

    by_cabinet: Mapping[str, tuple[Length, Length, int]]
    points: tuple[tuple[Length, Length], ...]


def floor_file_names(data: Mapping[str, object]) -> tuple[str, ...]:
    """Return the names of the measurement files that a parsed job asks for, each once, in order."""
    rows = data.get("kick")
    names = [row.get("measurements") for row in rows if isinstance(row, Mapping)] if isinstance(rows, list) else []
    return tuple(dict.fromkeys(name.strip() for name in names if isinstance(name, str) and name.strip()))


def read_floor(
    text: str, *, file: str, context: Mapping[str, object], cabinets: Sequence[str]
) -> tuple[FloorFile, tuple[Fault, ...]]:
    """Return the measurements and the fault of each line that is wrong. `context` tells the job's unit and whether odd
    sizes are accepted; `cabinets` are the names that may stand in the file."""
    faults: list[Fault] = []
    lines = list(_lines(text, file, faults))
    header = tuple(cell.lower() for cell in lines[0][1]) if lines else ()
    if header not in (BY_CABINET, BY_PLACE):
        problem = f"the columns are {shown(', '.join(header))}" if header else "the file is empty"
        cure = f"begin with a line {','.join(BY_CABINET)} or {','.join(BY_PLACE)}"
        faults.insert(0, Fault(file=file, place="line 1", problem=problem, cure=cure))
        return FloorFile(by_cabinet={}, points=()), tuple(faults)
    if len(lines) == 1:
        faults.append(Fault(file=file, place="", problem="no measurements stand below the columns' names"))
    if len(lines) > MAX_POINTS + 1:
        problem = f"{len(lines) - 1} lines are more than the {MAX_POINTS} allowed"
        return FloorFile(by_cabinet={}, points=()), (Fault(file=file, place="", problem=problem),)
    rows = _Rows(file=file, context=context, faults=faults, columns=header)
    if header == BY_CABINET:
        return FloorFile(by_cabinet=rows.by_cabinet(lines[1:], cabinets), points=()), tuple(faults)
    return FloorFile(by_cabinet={}, points=rows.points(lines[1:])), tuple(faults)


def _lines(text: str, file: str, faults: list[Fault]) -> Iterator[tuple[int, tuple[str, ...]]]:
    """Yield the number and the cells of each line that is not empty."""
    first = next((line for line in text.splitlines() if line.strip()), "")
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=";" if ";" in first else ",")
    try:
        for row in reader:
            cells = tuple(cell.strip() for cell in row)
            if any(cells):
                yield reader.line_num, cells
    except csv.Error as error:
        faults.append(Fault(file=file, place=f"line {reader.line_num}", problem=f"is not CSV: {error}"))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rows:
    """The lines below the header; adds what is wrong to `faults`."""

    file: str
    context: Mapping[str, object]
    faults: list[Fault]
    columns: tuple[str, ...]

    def by_cabinet(
        self, lines: Sequence[tuple[int, tuple[str, ...]]], cabinets: Sequence[str]
    ) -> dict[str, tuple[Length, Length, int]]:
        found: dict[str, tuple[Length, Length, int]] = {}
        for number, cells in lines:
            if not self._is_whole(number, cells):
                continue
            name = cells[0]
            if name not in cabinets:
                self._tell(
                    number, f"the job has no cabinet, filler or ladder base {shown(name)}", did_you_mean(name, cabinets)
                )
            elif name in found:
                self._tell(number, f"{shown(name)} stands already in line {found[name][2]}", "keep one of them")
            else:
                left, right = (self._length(number, cells, column) for column in (1, 2))
                if left is not None and right is not None:
                    found[name] = (left, right, number)
        return found

    def points(self, lines: Sequence[tuple[int, tuple[str, ...]]]) -> tuple[tuple[Length, Length], ...]:
        found: list[tuple[Length, Length]] = []
        for number, cells in lines:
            if not self._is_whole(number, cells):
                continue
            place, height = (self._length(number, cells, column) for column in (0, 1))
            if place is None or height is None:
                continue
            if found and place.mm <= found[-1][0].mm:
                problem = f"x {place.text} is not more than the {found[-1][0].text} before it"
                self._tell(number, problem, "list the points from left to right")
                continue
            found.append((place, height))
        return tuple(found)

    def _is_whole(self, number: int, cells: tuple[str, ...]) -> bool:
        if len(cells) == len(self.columns) and all(cells):
            return True
        cure = f"each line has {', '.join(self.columns)}; a decimal comma is not read"
        self._tell(number, f"{shown(', '.join(cells))} has not {len(self.columns)} values", cure)
        return False

    def _length(self, number: int, cells: tuple[str, ...], column: int) -> Length | None:
        is_place = self.columns[column] == "x"
        units = str(self.context.get("units", "mm"))
        try:
            if is_place:
                return read_length(cells[column], units, least_mm=0.0, most_mm=MAX_RUN_MM)
            length = read_length(cells[column], units, above_mm=0.0, most_mm=MAX_FLOOR_MM)
            return not_odd(length, self.context, ODD_KICK_MM)
        except LengthError as error:
            self.faults.append(
                Fault(
                    file=self.file,
                    place=f"line {number}, {self.columns[column]}",
                    problem=error.problem,
                    cure=error.cure,
                )
            )
            return None

    def _tell(self, number: int, problem: str, cure: str) -> None:
        self.faults.append(Fault(file=self.file, place=f"line {number}", problem=problem, cure=cure))
