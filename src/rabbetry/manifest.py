"""The manifest: what other programs may rely on in an output folder. Its JSON Schema is made from these models."""

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from rabbetry.findings import Finding

VERSION = 1


class _Row(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class WhereRow(_Row):
    """The place of a finding; the parts that are known. Millimetres, program frame."""

    file: str | None = None
    line: int | None = None
    panel: str | None = None
    x: float | None = None
    y: float | None = None
    z: float | None = None


class FindingRow(_Row):
    """Something the user must hear; codes are listed in docs/findings.md."""

    severity: Literal["error", "warning", "note"]
    code: str
    message: str
    where: WhereRow


class JobRow(_Row):
    """What was built. `ready` is false when anything is an error."""

    name: str
    file: str
    units: Literal["mm", "in"]
    machine: str
    post: str
    fingerprint: str = Field(description="Short hash of the job, its tables, the post and this program's version.")
    ready: bool
    findings: tuple[FindingRow, ...] = Field(description="Findings that belong to no program.")


class ToolRow(_Row):
    """The program that wrote this folder."""

    name: str
    version: str
    manifest_version: int


class PanelRow(_Row):
    """A part, and the lower left corner of its turned rectangle on its blank; `sheet` is empty where it has none."""

    id: str
    cabinet: str
    role: str
    stock: str
    thickness_mm: float
    length_mm: float
    width_mm: float
    grain: Literal["along", "across", "free"]
    sheet: str
    x_mm: float
    y_mm: float
    rotation_deg: int
    faces_machined: tuple[str, ...]
    drawing: str = Field(
        description="Its drawing (`.dxf`, and `.svg` of the same name); like panels share one. Empty without a sheet."
    )


class OffcutRow(_Row):
    """A free rectangle worth keeping, blank frame."""

    x_mm: float
    y_mm: float
    length_x_mm: float
    length_y_mm: float


class SheetRow(_Row):
    """One blank; `utilisation` is the share of its area that becomes panels."""

    id: str
    stock: str
    thickness_mm: float
    blank_mm: tuple[float, float]
    utilisation: float
    offcut: str = Field(default="", description="Name of the shelf's offcut that it is cut from; empty for a blank.")
    offcuts: tuple[OffcutRow, ...]


class BoundRow(_Row):
    """Blanks used beside the least number that could do, proven."""

    sheets: int
    lower_bound: int
    grain_cost: int


class ProgramRow(_Row):
    """One released program. Times and lengths are the dry run's."""

    file: str
    kind: Literal["cut", "air run", "hold-down"] = Field(
        description="cut: it cuts parts; air run: it traces blank, clamps and cuts with the spindle off; hold-down: it "
        "drills for the screws that hold the blank"
    )
    sheet: str
    cutters: tuple[int, ...]
    post: str
    fingerprint: str = Field(description="Short hash of all that the text follows from; its head says the same.")
    sha256: str
    lines: int
    time_s: float
    cut_mm: float
    traverse_mm: float
    findings: tuple[FindingRow, ...]


class FitRow(_Row):
    """How many checks the virtual assembly made, and what it found."""

    checks: int
    findings: tuple[FindingRow, ...]


class Manifest(_Row):
    """manifest.json of an output folder."""

    job: JobRow
    tool: ToolRow
    panels: tuple[PanelRow, ...]
    sheets: tuple[SheetRow, ...]
    bounds: dict[str, BoundRow]
    programs: tuple[ProgramRow, ...]
    fit: FitRow
    files: dict[str, str] = Field(description="SHA-256 of every other file of the folder but timings.json, by name.")


def finding_row(item: Finding) -> FindingRow:
    """Return a finding in the form of the manifest."""
    where = WhereRow.model_validate(item.where.as_json())
    return FindingRow(severity=item.severity, code=item.code, message=item.message, where=where)


def manifest_text(manifest: Manifest) -> str:
    """Return the manifest as JSON text; unknown parts of a place are left out."""
    return manifest.model_dump_json(indent=1, exclude_none=True) + "\n"
