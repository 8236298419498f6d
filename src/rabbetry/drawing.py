"""Pictures, drawings and playbacks of a sheet: one set of each, or one for each side of a blank that is flipped."""

import hashlib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from rabbetry.dryrun.report import ProgramReport
from rabbetry.hold_downs import heads_of
from rabbetry.job.model import Job
from rabbetry.page.dxf import panel_dxf, sheet_dxf
from rabbetry.page.panel_drawing import panel_svg
from rabbetry.page.pictures import sheet_svg
from rabbetry.page.playback import PlayedProgram, playback_html
from rabbetry.page.totals import like_parts
from rabbetry.page.watch import Watch, watch_of
from rabbetry.pipeline import Program, ProvenSheet
from rabbetry.sheets.faces import side_views
from rabbetry.sheets.model import Sheet
from rabbetry.shop.model import Clamp

Played = Sequence[tuple[Program, ProgramReport]]


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnView:
    """One set-up of a sheet: how it lies, its picture, and what shows its programs."""

    view: Sheet
    picture: str
    programs: tuple[str, ...]
    """Names of the set-up's programs."""
    playback: str
    """Name of the playback's file; empty when nothing was cut."""
    cut_picture: str
    """Name of the picture of what the dry run says is left; empty when there is none."""
    screws: tuple[Clamp, ...] = ()
    """Heads of the screws that hold the blank down."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A sheet's pictures and the files that show it."""

    views: tuple[DrawnView, ...]
    files: dict[str, bytes]
    watches: Mapping[str, Watch]
    """What to watch for in each program, by its name."""


def draw_sheet(
    sheet: Sheet, proven: ProvenSheet | None, job: Job, *, alike: Mapping[str, tuple[str, ...]] = {}
) -> Drawn:
    """Draw a sheet, and play back its programs where there are any. A flipped one also under its own name: its first
    side, with what comes after. Of its panels those that `alike` names are drawn by themselves (`drawn_for`)."""
    files: dict[str, bytes] = {}
    views = tuple(_draw_view(view, proven, job, files) for view in side_views(sheet))
    if sheet.flip is not None:
        files[f"sheets/{sheet.id}.svg"] = files[f"sheets/{views[0].view.id}.svg"]
        files[f"sheets/{sheet.id}.dxf"] = files[f"sheets/{views[0].view.id}.dxf"]
    for placement in sheet.placements:
        panel = placement.panel
        if panel.id in alike:
            names = alike[panel.id]
            files[panel_file(panel.id)] = panel_dxf(panel, count=len(names)).encode("utf-8")
            picture = panel_svg(panel, names, units=job.units)
            files[panel_file(panel.id, ending="svg")] = picture.encode("utf-8")
    run = proven.run if proven is not None else None
    watches = {report.name: watch for report in (run.programs if run else ()) if (watch := watch_of(report.events))}
    return Drawn(views=views, files=files, watches=watches)


def drawn_for(sheets: Sequence[Sheet]) -> dict[str, tuple[str, ...]]:
    """Return the ids of the panels that have a drawing, each with the ids of all panels on the sheets that are made
    after it: like panels with the same face up and the same front have one drawing, under the name of the first."""
    placed = [placement.panel for sheet in sheets for placement in sheet.placements]
    groups: dict[tuple[str, str, str], list[str]] = {}
    for group in like_parts(placed):
        for panel in group:
            groups.setdefault((group[0].id, panel.face_up, panel.front_edge), []).append(panel.id)
    return {names[0]: tuple(names) for names in groups.values()}


def panel_file(panel: str, *, ending: str = "dxf") -> str:
    """Return the name of a panel's drawing: what every system takes of its id, with a check sum that tells ids apart
    which differ only in the rest or in capitals."""
    said = re.sub(r"[^a-z0-9]+", "-", panel.lower()).strip("-")[:60].rstrip("-")
    code = hashlib.sha256(panel.encode("utf-8", "surrogatepass")).hexdigest()[:8]
    return f"panels/{said or 'panel'}-{code}.{ending}"


def _draw_view(view: Sheet, proven: ProvenSheet | None, job: Job, files: dict[str, bytes]) -> DrawnView:
    machine, screws = job.shop.machine, heads_of(view, job)
    title = f"{job.name}: {view.id}"
    order = {} if view.side == 1 else _order_of_cuts(proven)
    picture = sheet_svg(
        view, clamps=(*machine.clamps, *screws), order=order, units=job.units, title=title, anchors=view.side != 2
    )
    files[f"sheets/{view.id}.svg"] = picture.encode("utf-8")
    files[f"sheets/{view.id}.dxf"] = sheet_dxf(view).encode("utf-8")
    playback = cut_picture = ""
    own = _own_programs(view, proven)
    if proven is not None and proven.run is not None:
        playback = f"sheets/{view.id}-playback.html"
        played = [
            PlayedProgram(
                name=item.name,
                cutters=item.cutters,
                events=report.events,
                text=item.text.decode("ascii"),
                findings=report.findings,
            )
            for item, report in own
            if item.kind != "air run"
        ]
        files[playback] = playback_html(
            view, played, machine=machine, cutters=job.shop.cutters, job_name=job.name, units=job.units
        ).encode("utf-8")
        left = proven.run.first_face_picture if view.side == 1 else proven.run.height_picture
        if left:
            cut_picture = f"sheets/{view.id}-cut.svg"
            files[cut_picture] = left.encode("utf-8")
    names = tuple(program.name for program, _ in own)
    return DrawnView(
        view=view, picture=picture, programs=names, playback=playback, cut_picture=cut_picture, screws=screws
    )


def _own_programs(view: Sheet, proven: ProvenSheet | None) -> Played:
    """Return the programs of a set-up with their dry runs."""
    if proven is None or proven.run is None:
        return ()
    both = zip(proven.planned.programs, proven.run.programs, strict=True)
    return tuple((program, report) for program, report in both if program.side == view.side)


def _order_of_cuts(proven: ProvenSheet | None) -> dict[str, int]:
    """Number the panels in the order in which their outlines are cut."""
    if proven is None:
        return {}
    profiles = [step.panel for step in proven.planned.operations if step.kind == "profile"]
    return {panel: number for number, panel in enumerate(dict.fromkeys(profiles), 1)}
