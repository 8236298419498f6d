"""Everything a user must hear about a job or a program is a `Finding`; its codes stand in one table.

`CODES` is the only list of codes: docs/findings.md is made from it, and `finding()` refuses a code that is not in it.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal

Severity = Literal["error", "warning", "note"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Where:
    """The place a finding speaks of. Coordinates in millimetres, program frame; all parts optional."""

    file: str | None = None
    line: int | None = None
    panel: str | None = None
    x: float | None = None
    y: float | None = None
    z: float | None = None

    def as_json(self) -> dict[str, str | int | float]:
        """Return the parts that are known, in the order file, line, panel, x, y, z; coordinates to 0.001 mm."""
        known: dict[str, str | int | float] = {}
        for name in ("file", "line", "panel"):
            value = getattr(self, name)
            if value is not None:
                known[name] = value
        for name in ("x", "y", "z"):
            value = getattr(self, name)
            if value is not None:
                known[name] = round(value, 3) + 0.0
        return known


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """Something the user must hear: severity, a stable code of `CODES`, one sentence, and the place."""

    severity: Severity
    code: str
    message: str
    where: Where = field(default_factory=Where)

    def as_json(self) -> dict[str, object]:
        """Return the finding in the form of design section 4."""
        return {"severity": self.severity, "code": self.code, "message": self.message, "where": self.where.as_json()}


@dataclass(frozen=True, slots=True)
class CodeRow:
    """One row of the table of codes: default severity, the stage that reports it, what it means."""

    severity: Severity
    stage: str
    meaning: str


CODES: dict[str, CodeRow] = {
    "arc-mismatch": CodeRow("note", "reader", "an arc's start and end lie at slightly different distances from its centre"),
    "blank-in-number": CodeRow("warning", "reader", "a blank stands inside a number of the program; controllers read on after it"),
    "block-delete": CodeRow("note", "reader", "the program has lines that begin with a slash; says whether they were carried out"),
    "program-arc": CodeRow("error", "reader", "an arc is impossible or not described"),
    "program-cycle": CodeRow("error", "reader", "a canned cycle lacks a number or has an impossible one"),
    "program-end": CodeRow("warning", "reader", "the program has no M2, M30 or closing per cent sign"),
    "program-expression": CodeRow("error", "reader", "an expression or parameter of the program has no value"),
    "program-feed": CodeRow("error", "reader", "a cutting motion has no feed"),
    "program-group": CodeRow("error", "reader", "two words of one modal group, or two users of the axis words, stand in one line"),
    "program-size": CodeRow("error", "reader", "a line or the program is longer, or makes more motions, than is read"),
    "program-syntax": CodeRow("error", "reader", "a line is not RS-274"),
    "program-tool": CodeRow("error", "reader", "the program asks for a tool number that is not there"),
    "program-word": CodeRow("error", "reader", "a word is unknown, not accepted here, out of range, repeated, or without its companion"),
    "relative-at-cut": CodeRow("warning", "reader", "relative mode is still on at the program's first cut"),
    "text-after-end": CodeRow("warning", "reader", "text after the program's end, which no controller carries out"),
    "units-and-feed": CodeRow("warning", "reader", "F stands on the line that changes the length unit"),
    "units-change": CodeRow("warning", "reader", "the length unit changes in mid-file"),
}


def finding(code: str, message: str, *, severity: Severity | None = None, **where: str | int | float | None) -> Finding:
    """Make a finding with a code of `CODES`; its severity is the row's unless given. Raises KeyError for an unknown code."""
    row = CODES[code]
    return Finding(severity=severity or row.severity, code=code, message=message, where=Where(**where))  # type: ignore[arg-type]


def has_error(findings: Iterable[Finding]) -> bool:
    """Tell whether any finding is an error."""
    return any(item.severity == "error" for item in findings)
