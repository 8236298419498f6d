"""Proves a post before any job: renders awkward plans and holds the text against post.toml, the reader and the plan."""

import json
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from rabbetry.dryrun.dryrun import dry_run
from rabbetry.dryrun.model import ProgramText
from rabbetry.dryrun.setup_read import FORMAT
from rabbetry.findings import Finding, finding
from rabbetry.motions.model import Plan
from rabbetry.post.capabilities import POST_FILE, Post
from rabbetry.post.render import ProgramFile, render_programs, template_lines
from rabbetry.post.trials import Trial, trial_plans
from rabbetry.post_compare import compare

_COARSE_MM = 0.02
"""Numbers are wrong by half a last digit; more than this shows in a joint's fit (0.2 mm of play in all)."""
_NUMBER = re.compile(r"([A-Z])(-?)(\d*)(?:\.(\d*))?")
_COMMENT = re.compile(r"\(([^()]*)\)|;(.*)")
_LINE_NUMBER = re.compile(r"^N\d+ ?")
_FAR_MM = 100_000.0
"""The trial machine reaches this far: a trial is about the text, not about a table's size."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PostCheck:
    """What was tried, how much was read, and what was found; places are the template's file and line where known."""

    trials: tuple[str, ...]
    programs: int
    lines: int
    findings: tuple[Finding, ...]


def check_post(post: Post) -> PostCheck:
    """Try a post on every plan of `trial_plans`. Raises InputError when the template fails or emits what post.toml
    does not allow; what is readable but wrong comes out as findings, each once."""
    found = list(_check_digits(post))
    programs = lines = 0
    trials = [item for item in trial_plans() if item.plan.kind != "air run" or post.knows_air_runs]
    if not post.knows_air_runs:
        message = "the template does not ask whether this is an air run ({% if not air %}): jobs get no air runs"
        found.append(finding("post-air-run", message, file=post.template_file))
    for trial in trials:
        files = render_programs(trial.plan, post)
        programs += len(files)
        lines += sum(file.text.count("\n") for file in files)
        found.extend(_check_trial(trial, files, post))
    once: dict[tuple[object, ...], Finding] = {}
    for item in found:
        once.setdefault((item.code, item.where.file, item.where.line), item)
    titles = tuple(trial.title for trial in trials)
    return PostCheck(trials=titles, programs=programs, lines=lines, findings=tuple(once.values()))


def _check_digits(post: Post) -> Iterator[Finding]:
    error_mm = post.numbers.last_digit_mm / 2
    if error_mm > _COARSE_MM:
        message = (
            f"length_decimals = {post.length_decimals} in {post.units} may place a cut {error_mm:.3f} mm off, "
            f"more than {_COARSE_MM:g} mm; write more decimals"
        )
        yield finding("post-coarse", message, file=f"{post.name}/{POST_FILE}")


def _check_trial(trial: Trial, files: Sequence[ProgramFile], post: Post) -> Iterator[Finding]:
    found = [item for file in files for item in _check_text(file, post)]
    run = dry_run(
        [(ProgramText(name=file.name, text=file.text), _setup(trial.plan, post, file, files)) for file in files]
    )
    found.extend(item for item in run.findings if item.code != "arc-mismatch")
    whole = not any(item.severity == "error" and item.code.startswith("program-") for item in run.findings)
    programs = [(report.name, report.events) for report in run.programs]
    found.extend(compare(trial.plan, programs, post, whole=whole))
    if found:
        origins = dict(zip([file.name for file in files], template_lines(trial.plan, post), strict=True))
        texts = {file.name: file.text.splitlines() for file in files}
        yield from (_placed(item, trial, post, origins, texts) for item in found)


def _placed(
    item: Finding, trial: Trial, post: Post, origins: dict[str, tuple[int, ...]], texts: dict[str, list[str]]
) -> Finding:
    """Return a finding with the template's line for its place, and the emitted line in its message."""
    name, line = item.where.file, item.where.line
    message = f"{trial.title}: {item.message}"
    where = replace(item.where, file=post.template_file, line=None, panel=None)
    if name in origins and line is not None and 0 < line <= len(origins[name]):
        message += f"; emitted line {line}: {texts[name][line - 1]!r}"
        where = replace(where, line=origins[name][line - 1])
    return replace(item, message=message, where=where)


def _check_text(file: ProgramFile, post: Post) -> Iterator[Finding]:
    """Yield what is wrong with a program as mere text."""
    ends = post.line_end_text
    if (
        not file.text.endswith(ends)
        or file.text.count("\n") != file.text.count(ends)
        or (ends == "\n" and "\r" in file.text)
    ):
        yield finding("post-text", f"lines do not end in {post.line_end}, as post.toml says", file=file.name)
    lines = file.text.splitlines()
    for number, line in enumerate(lines, start=1):
        for problem in _line_problems(line, post):
            yield finding("post-text", problem, file=file.name, line=number)
    code = [_LINE_NUMBER.sub("", line) for line in lines if not line.startswith(("(", ";", "%"))]
    if not code or code[-1] != post.program_end:
        message = f"the last word is not {post.program_end}, as post.toml says"
        yield finding("post-text", message, file=file.name, line=len(lines))
    if post.comments != "none" and file.fingerprint not in file.text:
        message = 'the head does not tell which build this is: write {{ comment("fingerprint", fingerprint) }}'
        yield finding("post-fingerprint", message, file=file.name)
    named = sum(1 for line in lines if re.match(r"(?:\(|; )op \d+:", line))
    if post.comments != "none" and named != len(file.operations):
        message = f"{named} of {len(file.operations)} operations begin with a comment (op N: name)"
        yield finding("post-operations-unnamed", message, file=file.name)


def _line_problems(line: str, post: Post) -> Iterator[str]:
    if any(not " " <= character <= "~" for character in line):
        yield "the line holds characters that are not plain ASCII"
    if post.longest_line is not None and len(line) > post.longest_line:
        yield f"the line is {len(line)} characters long, {post.longest_line} are allowed"
    for match in _COMMENT.finditer(line):
        form = "brackets" if match[1] is not None else "semicolon"
        if form != post.comments:
            yield f"a comment in the form {form}; post.toml says {post.comments}"
        bad = sorted(set(match[1] if match[1] is not None else match[2]) & set(post.forbidden_in_comments))
        if bad:
            yield f"the comment holds {' '.join(bad)}, which forbidden_in_comments lists"
    for letter, sign, whole, part in _NUMBER.findall(_COMMENT.sub("", line)):
        most = post.length_decimals if letter in "XYZIJKRQ" else post.feed_decimals if letter == "F" else None
        tiny = letter == "F" and not whole.strip("0") and not part[: post.feed_decimals].strip("0")
        if most is not None and len(part) > most and not tiny:
            yield f"{letter}{sign}{whole}.{part} has {len(part)} decimals, post.toml says {most}"
        if sign and not (whole + part).strip("0"):
            yield f"{letter}{sign}{whole} is minus zero"


def _setup(plan: Plan, post: Post, file: ProgramFile, files: Sequence[ProgramFile]) -> str:
    """Return a setup for a trial: a machine and cutters without limits, so that only the text can be at fault."""
    far = [_FAR_MM, _FAR_MM, _FAR_MM]
    setup = {
        "format": FORMAT,
        "program": file.name,
        "sheet": plan.sheet,
        "programs": [item.name for item in files],
        "loaded": list(file.cutters),
        "machine": {
            "name": "trial",
            "travel_min_mm": [-value for value in far],
            "travel_max_mm": far,
            "max_rate_mm_per_min": far,
            "acceleration_mm_per_s2": far,
            "spindle_by_hand": post.spindle == "hand",
            "spindle_min_rpm": 1.0,
            "spindle_max_rpm": _FAR_MM,
            "spindle_wait_s": plan.spindle_wait_s,
            "collet_diameter_mm": 1.0,
            "dust_shoe_mm": [0.0, 0.0],
            "dust_shoe_height_mm": 0.0,
            "clamp_margin_mm": 0.0,
            "spoilboard_allowance_mm": 100.0,
        },
        "controller": {
            "post": post.name,
            "dialect": post.dialect,
            "allowed_words": sorted(post.allowed_words),
            "line_limit": post.line_limit,
            "dwell_unit_s": post.dwell_unit_s,
            "spindle_reversed": post.spindle == "reversed",
            "changes_at_stop": post.tool_change == "pause",
        },
        # Program zero away from the machine's, so that a motion in the wrong frame cannot go unseen.
        "work_offset": {"word": post.work_offset or None, "machine_mm": [137.0, 71.0, -90.0]},
        "stock_top_z_mm": plan.stock_top_z,
        "spoilboard_z_mm": plan.spoilboard_z,
        "blank": {"x_mm": plan.blank_x_mm, "y_mm": plan.blank_y_mm},
        "clamps": [],
        "cutters": [_cutter(run.cutter.number) for run in {run.cutter.number: run for run in plan.runs}.values()],
        "target": {"panels": []},
        "air_run": plan.kind == "air run",
    }
    return json.dumps(setup)


def _cutter(number: int) -> dict[str, object]:
    return {
        "number": number,
        "name": f"cutter {number}",
        "kind": "end mill",
        "diameter_mm": 1.0,
        "flute_length_mm": 1000.0,
        "centre_cutting": True,
        "pass_limit_mm": 1000.0,
        "stick_out_mm": 1000.0,
    }
