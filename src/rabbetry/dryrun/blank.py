"""Whether parts and cuts lie on the blank. Millimetres, program frame."""

from collections.abc import Iterator, Sequence

from rabbetry.dryrun.setup import Setup
from rabbetry.dryrun.strokes import Stroke
from rabbetry.dryrun.target import PanelTarget
from rabbetry.dryrun.tolerances import BOUNDARY_MM, RUN_OUT_DIAMETERS, RUN_OUT_MM, TEXT_MM
from rabbetry.findings import Finding, finding


def check_parts(targets: Sequence[PanelTarget], setup: Setup, name: str) -> Iterator[Finding]:
    """Yield a finding for each part that reaches over the blank's edge: the blank is too small, or turned."""
    for target in targets:
        if target.outline.is_empty:
            continue
        x0, y0, x1, y1 = target.outline.bounds
        over = max(-x0, -y0, x1 - setup.blank_x_mm, y1 - setup.blank_y_mm)
        if over > BOUNDARY_MM:
            size = f"{setup.blank_x_mm:g} x {setup.blank_y_mm:g} mm"
            message = f'panel "{target.panel.id}" reaches {over:.2f} mm over the edge of the blank of {size}'
            yield finding("part-off-blank", message, file=name, panel=target.panel.id, x=x1, y=y1)


def check_cuts(strokes: Sequence[Stroke], setup: Setup, name: str) -> Iterator[Finding]:
    """Yield a finding for each cut of a program that lies wholly beside the blank, farther out than a run-out."""
    for stroke in strokes:
        if stroke.is_traverse or stroke.lowest >= setup.stock_top_z_mm - TEXT_MM or not stroke.from_known:
            continue
        x0, y0, x1, y1 = stroke.bounds()
        out = max(x0 - setup.blank_x_mm, y0 - setup.blank_y_mm, -x1, -y1)
        width = stroke.cutter.diameter_mm if stroke.cutter else 0.0
        if out > RUN_OUT_MM + RUN_OUT_DIAMETERS * width:
            x, y, z = stroke.to
            message = f"cuts {out:.1f} mm beside the blank"
            yield finding("cut-off-blank", message, file=name, line=stroke.line, x=x, y=y, z=z)
