"""`rabbetry resume`: a stopped program gone on with at one of its operations."""

import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from rabbetry.cli import main
from rabbetry.dryrun.model import ProgramText
from rabbetry.errors import InputError
from rabbetry.resume import resume_program

Run = Callable[..., Result]

JOB = """
name = "Shelf"
units = "mm"
machine = "bench-4x4"
post = "metric-plain"
cutters = [1, 5, 6]
stock.carcass = {sheet = "birch-18", thickness = 17.8, blank = [1220, 1220]}
stock.back = {sheet = "birch-6", thickness = 5.8, blank = [1220, 1220]}
use = {carcass = "carcass", back = "back"}
[[cabinet]]
name = "W1"
kind = "wall"
width = 400
height = 500
depth = 250
"""


@pytest.fixture(scope="module", params=["metric-plain", "full-metric", "inch-hand-spindle"])
def programs(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the programs' folder of a small wall cabinet under three kinds of post."""
    folder = tmp_path_factory.mktemp("resume")
    (folder / "job.toml").write_text(JOB, encoding="utf-8")
    args = ["build", str(folder / "job.toml"), "--out", str(folder / "out"), "--post", request.param, "--workers", "1"]
    result = CliRunner().invoke(main, args)
    assert result.exit_code == 0, result.output
    return folder / "out" / "programs"


def each(folder: Path) -> list[Path]:
    """Return the programs that cut; an air run is run as a whole."""
    return sorted(path for path in folder.iterdir() if path.suffix != ".json" and "-air" not in path.name)


def setup_text(program: Path) -> str:
    return program.with_name(program.stem + ".setup.json").read_text(encoding="utf-8")


def operations(text: str) -> list[tuple[int, str]]:
    return [(int(number), name) for number, name in re.findall(r"^\(op (\d+): (.*)\)$", text, re.M)]


def test_every_operation_of_every_program_can_be_gone_on_from(programs: Path) -> None:
    """What follows is proven motion by motion inside; here: head, lift, spindle, way over, in this order."""
    for path in each(programs):
        text = path.read_text(encoding="ascii")
        for k, (number, name) in enumerate(operations(text)):
            resumed = resume_program(
                ProgramText(name=path.name, text=text), setup_text(path), operation=str(number), name="again.nc"
            )
            assert resumed.skipped == k
            head, _, rest = resumed.program.text.partition(f"(op {number}: {name})\n")
            assert rest == text.partition(f"(op {number}: {name})\n")[2]
            lines = [line for line in head.splitlines() if not line.startswith("(")]
            moves = [line for line in lines if line.startswith("G0 ") or re.match(r"[XYZ]", line)]
            assert {"G17", "G90", "G94", "G54"} <= set(lines)
            assert re.fullmatch(r"G0 Z[\d.]+", moves[0])
            assert re.fullmatch(r"G0 X[-\d.]+ Y[-\d.]+", moves[-1])
            assert not any(line.startswith(("G1 ", "G2 ", "G3 ", "G81", "G98")) for line in lines)
            starts = "M0" if "M0" in lines else next(line for line in lines if line.startswith("M3 S"))
            over = max(k for k, line in enumerate(lines) if line == moves[-1])
            assert lines.index(starts) < over, "the spindle turns before the way over"


def test_the_last_operation_is_dry_run_with_what_is_cut_already(programs: Path, tmp_path: Path) -> None:
    path = each(programs)[-1]
    number, name = operations(path.read_text(encoding="ascii"))[-1]
    out = tmp_path / "again.nc"
    result = CliRunner().invoke(main, ["resume", str(path), "--from", str(number), "--out", str(out)])
    assert result.exit_code == 0, result.output
    assert f"goes on from op {number}: {name}" in result.stdout
    setup = json.loads((tmp_path / "again.setup.json").read_text())
    assert setup["program"] == "again.nc"
    assert "again.nc" in setup["programs"]
    assert f"{path.name} before op {number}" in setup["programs"]
    again = CliRunner().invoke(main, ["dryrun", str(out)])
    assert again.exit_code == 0, again.output
    assert "sheet-incomplete" in again.stderr, "what is left standing cannot be judged from the rest alone"


def test_nothing_is_overwritten(programs: Path, tmp_path: Path) -> None:
    path = each(programs)[0]
    (tmp_path / "again.setup.json").write_text("mine")
    result = CliRunner().invoke(main, ["resume", str(path), "--from", "1", "--out", str(tmp_path / "again.nc")])
    assert result.exit_code == 2
    assert "exists already" in result.stderr
    assert not (tmp_path / "again.nc").exists()
    assert (tmp_path / "again.setup.json").read_text() == "mine"


@pytest.fixture
def side(programs: Path) -> tuple[ProgramText, str]:
    path = next(path for path in each(programs) if "left side: bottom" in path.read_text(encoding="ascii"))
    return ProgramText(name=path.name, text=path.read_text(encoding="ascii")), setup_text(path)


@pytest.mark.parametrize("asked", ["{0}", "op {0}", "op {0}: {1}", "{1}"])
def test_an_operation_goes_by_number_or_name(side: tuple[ProgramText, str], asked: str) -> None:
    number, name = next(item for item in operations(side[0].text) if "left side: bottom" in item[1])
    resumed = resume_program(*side, operation=asked.format(number, name), name="again.nc")
    assert (resumed.step.number, resumed.step.name) == (number, name)


def test_a_panel_means_its_first_operation(side: tuple[ProgramText, str]) -> None:
    first = next(item for item in operations(side[0].text) if item[1].startswith("W1 left side: "))
    assert resume_program(*side, operation="W1 left side", name="again.nc").step.number == first[0]


@pytest.mark.parametrize(
    ("asked", "said"),
    [("W1 left sid", "did you mean W1 left side"), ("999", "the operations are"), ("W1 left side: botom", "bottom")],
)
def test_an_unknown_operation_is_told_with_the_near_ones(side: tuple[ProgramText, str], asked: str, said: str) -> None:
    with pytest.raises(InputError, match=re.escape(said)):
        resume_program(*side, operation=asked, name="again.nc")


def test_text_without_named_operations_is_refused(side: tuple[ProgramText, str]) -> None:
    text = re.sub(r"^\(op .*\n", "", side[0].text, flags=re.M)
    with pytest.raises(InputError, match="no operation is named"):
        resume_program(ProgramText(name="p.nc", text=text), side[1], operation="1", name="again.nc")


def test_text_that_depends_on_what_ran_before_is_refused(side: tuple[ProgramText, str]) -> None:
    """A relative mode switched on earlier would send the rest somewhere else."""
    head = "G17\nG21\nG90\nG94\nG54\nG0 Z10\nG0 X0 Y0\nM3 S10000\nG4 P5\n"
    first = "(op 1: A: b)\nG91\nG0 Z-9\nG1 Z-2 F100\nG0 Z11\n"
    text = f"{head}{first}(op 2: A: c)\nG0 X10\nG1 Z-11 F100\nG0 Z11\nM5\nM30\n"
    setup = json.loads(side[1])
    setup["controller"]["allowed_words"] = None
    with pytest.raises(InputError, match="depends on what ran before"):
        resume_program(ProgramText(name="p.nc", text=text), json.dumps(setup), operation="2", name="again.nc")


def test_a_feed_that_is_not_stated_again_is_restated(side: tuple[ProgramText, str]) -> None:
    number, name = operations(side[0].text)[-1]
    before, mark, rest = side[0].text.partition(f"(op {number}: {name})\n")
    at_feed = re.search(r" F([\d.]+)$", rest, re.M)
    assert at_feed is not None
    text = before + f"F{at_feed[1]}\n" + mark + rest[: at_feed.start()] + rest[at_feed.end() :]
    resumed = resume_program(ProgramText(name="p.nc", text=text), side[1], operation=str(number), name="again.nc")
    assert f"\nF{at_feed[1]}\n" in resumed.program.text.partition(mark)[0]


def test_a_missing_setup_is_named(rabbetry: Run, tmp_path: Path) -> None:
    (tmp_path / "p.nc").write_text("G21\n(op 1: A: b)\nG0 Z5\nM2\n")
    result = rabbetry("resume", Path("p.nc"), "--from", "1", "--out", Path("again.nc"))
    assert result.exit_code == 2
    assert "p.setup.json" in result.stderr


def test_numbered_lines_semicolons_and_crlf_go_on_too(tmp_path: Path) -> None:
    """The post of docs/new-machine.md differs from the shipped ones in all three."""
    walk = (Path(__file__).parents[2] / "docs" / "new-machine.md").read_text(encoding="utf-8")
    (tmp_path / "my-router").mkdir()
    for kind, name in (("toml", "post.toml"), ("jinja", "program.nc.j2")):
        text = re.findall(rf"```{kind}\n(.*?)```", walk, re.S)[0].replace('dwell = "ms"', 'dwell = "s"')
        (tmp_path / "my-router" / name).write_text(text, encoding="utf-8")
    (tmp_path / "job.toml").write_text(JOB.replace('"metric-plain"', '"my-router"'), encoding="utf-8")
    out = tmp_path / "out"
    built = CliRunner().invoke(main, ["build", str(tmp_path / "job.toml"), "--out", str(out), "--workers", "1"])
    assert built.exit_code == 0, built.output
    path = next(p for p in each(out / "programs") if b"; op 4:" in p.read_bytes())
    result = CliRunner().invoke(main, ["resume", str(path), "--from", "4", "--out", str(tmp_path / "again.txt")])
    assert result.exit_code == 0, result.output
    made = (tmp_path / "again.txt").read_bytes()
    assert made.count(b"\n") == made.count(b"\r\n")
    assert made.startswith(b"; goes on from op 4: ")
    assert max(map(len, made.split(b"\r\n"))) + 2 <= 64
