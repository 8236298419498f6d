"""Drawings made with ezdxf, and parts read from them, for the tests of this folder."""

import io
from collections.abc import Callable

import ezdxf
import pytest
from ezdxf.document import Drawing
from ezdxf.layouts import Modelspace

from rabbetry.errors import InputError
from rabbetry.files import load_tables
from rabbetry.findings import Finding
from rabbetry.job.model import Job
from rabbetry.panels.model import Panel
from rabbetry.pipeline import compile_job, load_job

MM, INCH = 4, 1
"""Unit codes of the header variable INSUNITS (DXF reference)."""


def drawing(draw: Callable[[Modelspace], object], *, units: int = MM, release: str = "R2010") -> bytes:
    """Return a DXF file with what `draw` puts into its model space."""
    document: Drawing = ezdxf.new(release, units=units)  # type: ignore[attr-defined]
    draw(document.modelspace())
    return bytes_of(document)


def bytes_of(document: Drawing) -> bytes:
    stream = io.StringIO(newline="\n")
    document.write(stream)
    return stream.getvalue().encode(document.output_encoding)


def rectangle(space: Modelspace, x: float, y: float, dx: float, dy: float, layer: str = "0") -> None:
    corners = [(x, y), (x + dx, y), (x + dx, y + dy), (x, y + dy)]
    space.add_lwpolyline(corners, close=True, dxfattribs={"layer": layer})


def job_text(lines: str, units: str = "mm") -> str:
    blank = "blank = [1200, 700]" if units == "mm" else "blank = [48, 28]"
    thickness = "17.8" if units == "mm" else '"17.8 mm"'
    machine, post = ("bench-4x4", "metric-plain") if units == "mm" else ("bench-4x4", "inch-plain")
    return (
        f'name = "Net loft"\nunits = "{units}"\nmachine = "{machine}"\npost = "{post}"\ncutters = [1, 5, 6, 8]\n'
        f'[stock.ply]\nsheet = "birch-18"\nthickness = {thickness}\n{blank}\n'
        f'[[part]]\nname = "Gusset"\nstock = "ply"\ndrawing = "gusset.dxf"\n{lines}'
    )


def job_of(data: bytes, lines: str = "", units: str = "mm") -> Job:
    """Return the job with one part, drawn in `data`; `lines` are more keys of the part."""
    return load_job(
        job_text(lines, units), file="loft.toml", tables=load_tables(), own_tables={}, drawings={"gusset.dxf": data}
    )


def part_of(data: bytes, lines: str = "", units: str = "mm") -> Panel:
    """Return the part that the drawing comes to."""
    compiled = compile_job(job_of(data, lines, units))
    assert not [item for item in compiled.findings if item.severity == "error"], compiled.findings
    (panel,) = compiled.panels
    return panel


def notes_of(data: bytes, lines: str = "", units: str = "mm") -> dict[str, str]:
    """Return the report on the drawing: message by code."""
    found: tuple[Finding, ...] = job_of(data, lines, units).notes
    assert len({item.code for item in found}) == len(found)
    return {item.code: item.message.removeprefix('part "Gusset": ') for item in found}


def faults_of(data: bytes, lines: str = "", units: str = "mm") -> list[str]:
    """Return the faults that the drawing is refused with."""
    with pytest.raises(InputError) as refused:
        job_of(data, lines, units)
    return [str(fault) for fault in refused.value.faults]
