"""Runs the stages for an output folder, shares the sheets among worker processes, and keeps the clock."""

import json
import os
import sys
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, replace

from rabbetry import __version__
from rabbetry.drawing import Drawn, draw_sheet, drawn_for
from rabbetry.findings import Finding, has_error
from rabbetry.fingerprint import fingerprint
from rabbetry.job.model import Job
from rabbetry.output import Work, folder_content, program_rows
from rabbetry.page.html import duration
from rabbetry.panels.model import Panel
from rabbetry.pipeline import (
    PostText,
    ProvenSheet,
    compile_job,
    plan_sheet,
    prove_sheet,
    with_breakdown,
)
from rabbetry.recut import only
from rabbetry.sheets.model import Sheet, StockCount
from rabbetry.shelf import place

try:
    import resource
except ImportError:  # a system without it: peak memory is then not told
    resource = None  # type: ignore[assignment]

Tell = Callable[[str], None]
Alike = Mapping[str, tuple[str, ...]]
"""Panels with a drawing of their own, each with all the panels that are made after it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Built:
    """An output folder's content, all findings, and the closing summary."""

    content: dict[str, bytes]
    findings: tuple[Finding, ...]
    summary: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Done:
    """What a worker makes of one sheet, and the seconds it took."""

    proven: ProvenSheet
    drawn: Drawn
    seconds: dict[str, float]


class _Clock:
    """Seconds per stage, in order of the stages."""

    def __init__(self, tell: Tell) -> None:
        self.seconds: dict[str, float] = {}
        self._tell = tell

    @contextmanager
    def stage(self, name: str) -> Iterator[None]:
        self._tell(name)
        start = time.perf_counter()
        yield
        self.seconds[name] = time.perf_counter() - start


def build_folder(
    job: Job, post: PostText, *, workers: int | None, tell: Tell, panels: Sequence[Panel] | None = None
) -> Built:
    """Run every stage and return the folder's content. `tell` hears the name of each stage as it begins; `panels` are
    cut in place of all that the job compiles to.

    When the job itself has an error, no program is written at all: a half-right kitchen is not cut.
    """
    clock = _Clock(tell)
    post.read()
    with clock.stage("panels and fit"):
        compiled = compile_job(job)
        if panels is not None:
            compiled = only(compiled, panels)
    with clock.stage("sheets"):
        compiled, nesting = place(job, compiled)
        if panels is None:
            nesting = with_breakdown(nesting, job)
    done: tuple[_Done, ...] = ()
    alike = drawn_for(nesting.sheets)
    if not has_error((*compiled.findings, *nesting.findings)):
        with clock.stage("programs and dry runs"):
            done = _prove_all(nesting.sheets, job, post, alike, workers=workers, tell=tell)
        for name in ("planning", "dry runs", "drawings"):
            clock.seconds[f"{name}, all workers together"] = sum(item.seconds[name] for item in done)
    with clock.stage("page and lists"):
        work = Work(
            job=job,
            post=post.name,
            fingerprint=_fingerprint(job, post),
            compiled=compiled,
            nesting=nesting,
            proven=tuple(item.proven for item in done),
            drawn=tuple(item.drawn for item in done)
            or tuple(draw_sheet(sheet, None, job, alike=alike) for sheet in nesting.sheets),
        )
        content = folder_content(work)
    content["timings.json"] = _timings(clock.seconds)
    return Built(content=content, findings=work.findings, summary=_summary(work))


def _fingerprint(job: Job, post: PostText) -> str:
    """Return the fingerprint of all that a build follows from: not of the job file's own name, nor of its comments."""
    return fingerprint(__version__, replace(job, file="", echoes=(), notes=()), post)


def _prove_all(
    sheets: Sequence[Sheet], job: Job, post: PostText, alike: Alike, *, workers: int | None, tell: Tell
) -> tuple[_Done, ...]:
    count = min(workers or os.cpu_count() or 1, max(1, len(sheets)))
    done: list[_Done] = []
    for item in _results(sheets, job, post, alike, count):
        done.append(item)
        tell(f"programs and dry runs: {len(done)} of {len(sheets)} sheets")
    return tuple(done)


def _results(sheets: Sequence[Sheet], job: Job, post: PostText, alike: Alike, count: int) -> Iterator[_Done]:
    if count == 1:
        yield from (_plan_and_prove(sheet, job, post, alike) for sheet in sheets)
        return
    with ProcessPoolExecutor(max_workers=count) as pool:
        many = len(sheets)
        yield from pool.map(_plan_and_prove, sheets, [job] * many, [post] * many, [alike] * many)


def _plan_and_prove(sheet: Sheet, job: Job, post: PostText, alike: Alike) -> _Done:
    times = [time.perf_counter()]
    planned = plan_sheet(sheet, job, post)
    times.append(time.perf_counter())
    proven = prove_sheet(planned)
    times.append(time.perf_counter())
    drawn = draw_sheet(sheet, proven, job, alike=alike)
    times.append(time.perf_counter())
    seconds = {name: times[k + 1] - times[k] for k, name in enumerate(("planning", "dry runs", "drawings"))}
    return _Done(proven=_without_events(proven), drawn=drawn, seconds=seconds)


def _without_events(proven: ProvenSheet) -> ProvenSheet:
    """Leave the motions behind once they are drawn: they would cost more to hand over than to make."""
    if proven.run is None:
        return proven
    reports = tuple(replace(report, events=()) for report in proven.run.programs)
    return replace(proven, run=replace(proven.run, programs=reports, height_picture=""))


def _timings(seconds: dict[str, float]) -> bytes:
    told: dict[str, object] = {"seconds": {name: round(value, 3) for name, value in seconds.items()}}
    if resource is not None:
        scale = 1 if sys.platform == "darwin" else 1024
        told["peak_memory_bytes"] = {
            "main process": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * scale,
            "largest worker": resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss * scale,
        }
    return (json.dumps(told, indent=1) + "\n").encode("utf-8")


def counted(count: int, noun: str) -> str:
    """Return a count with its noun: `1 box`, `2 boxes`."""
    plural = noun + ("es" if noun.endswith("x") else "s")
    return f"{count} {noun if count == 1 else plural}"


def sheets_in_words(count: StockCount) -> str:
    """Return how many blanks and offcuts a stock takes: `3 blanks`, `2 blanks, 1 offcut`."""
    blanks = counted(count.sheets - count.offcuts, "blank")
    return f"{blanks}, {counted(count.offcuts, 'offcut')}" if count.offcuts else blanks


def _summary(work: Work) -> tuple[str, ...]:
    job, rows = work.job, program_rows(work)
    lines = [f"{job.name}: {counted(len(work.compiled.boxes), 'box')}, {counted(len(work.compiled.panels), 'panel')}"]
    for count in work.nesting.counts:
        proof = "proven least" if count.sheets == count.lower_bound else f"proven at least {count.lower_bound}"
        lines.append(f"  {count.stock}: {sheets_in_words(count)} ({proof})")
    air_runs = [row for row in rows if row.kind == "air run"]
    rows = tuple(row for row in rows if row.kind != "air run")
    total_s = sum(row.time_s for row in rows)
    lines.append(
        f"  {counted(len(rows), 'program')}, {counted(sum(row.lines for row in rows), 'line')}, "
        f"machine time {duration(total_s)}" + (f"; {counted(len(air_runs), 'air run')}" if air_runs else "")
    )
    severities = [item.severity for item in work.findings]
    lines.append("  " + ", ".join(counted(severities.count(name), name) for name in ("error", "warning", "note")))
    held = [item.planned.sheet for item in work.proven if not work.released(item)]
    if held:
        lines.append(f"  NOT RELEASED: {', '.join(held)}")
    elif has_error(work.findings):
        lines.append("  NOT READY: the job has errors, so no program was written")
    return tuple(lines)
