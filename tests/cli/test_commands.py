"""The commands as a user types them: exit status, message, and what is left on disk."""

import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result

Run = Callable[..., Result]
Write = Callable[..., Path]


def _programs(out: Path, *, air: bool = False) -> dict[str, str]:
    """Return the programs that cut, or those of the air runs."""
    return {
        path.name: path.read_text(encoding="ascii")
        for path in sorted((out / "programs").iterdir())
        if path.suffix != ".json" and path.stem.endswith("-air") == air
    }


def _manifest(out: Path) -> dict[str, object]:
    return dict(json.loads((out / "manifest.json").read_text(encoding="utf-8")))


@pytest.mark.parametrize("units", ["mm", "in"])
def test_a_new_job_builds_as_it_is(rabbetry: Run, tmp_path: Path, units: str) -> None:
    assert rabbetry("new", Path("kitchen"), "--units", units).exit_code == 0
    built = rabbetry("build", Path("kitchen/job.toml"), "--out", Path("out"))
    assert built.exit_code == 0, built.stderr
    assert _manifest(tmp_path / "out")["programs"]
    again = rabbetry("dryrun", *(Path("out/programs") / name for name in _programs(tmp_path / "out")))
    assert again.exit_code == 0, again.output


def test_new_touches_no_file_that_is_there(rabbetry: Run, tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text("mine")
    result = rabbetry("new", tmp_path)
    assert result.exit_code == 2
    assert "exists already" in result.stderr
    assert (tmp_path / "job.toml").read_text() == "mine"


def test_t01_five_spellings_of_one_width_give_the_same_programs(rabbetry: Run, job: Write, tmp_path: Path) -> None:
    spelt = ['"23-1/4 in"', '"23 1/4 in"', '"23.25 in"', "'23 1/4\"'", "590.55"]
    texts = []
    for number, width in enumerate(spelt):
        path = job(("width = 600", f"width = {width}"), name=f"{number}.toml")
        result = rabbetry("build", path, "--out", Path(f"out{number}"), "--workers", "1")
        assert result.exit_code == 0, result.stderr
        texts.append(_programs(tmp_path / f"out{number}"))
    assert all(text == texts[0] for text in texts)


def test_t39_the_same_job_twice_gives_the_same_bytes(rabbetry: Run, job: Write, tmp_path: Path) -> None:
    path = job()
    for out in ("a", "b"):
        assert rabbetry("build", path, "--out", Path(out)).exit_code == 0
    files = [{p.relative_to(tmp_path / out): p.read_bytes() for p in (tmp_path / out).rglob("*.*")} for out in "ab"]
    for found in files:
        del found[Path("timings.json")]
    assert files[0] == files[1]


@pytest.mark.parametrize(
    ("change", "said"),
    [
        pytest.param(("depth = 580", 'depth = "0,25"'), "comma", id="T03 comma decimal"),
        pytest.param(("height = 876", "height = -34.5"), "-34.5", id="T04 negative"),
        pytest.param(("height = 876", "height = 0"), "height", id="T04 nought"),
        pytest.param(("width = 600", "width = nan"), "nan", id="T05 not a number"),
        pytest.param(("width = 600", "width = inf"), "inf", id="T05 endless"),
        pytest.param(("doors = 1", "doors = 1\nqty = -1"), "-1", id="T06 negative quantity"),
        pytest.param(("doors = 1", "doors = 1\nqty = 1.5"), "1.5", id="T06 broken quantity"),
        pytest.param(("doors = 1", "doors = 1\nshelf_pin_dai = 5"), "shelf_pin_diameter", id="T07 misspelt key"),
        pytest.param(("width = 600", 'width = "3/0"'), "3/0", id="T09 divided by nought"),
        pytest.param(("width = 600", 'width = ""'), "width", id="T09 empty"),
        pytest.param(("width = 600", 'width = "wide"'), "wide", id="T09 a word"),
        pytest.param(("width = 600", "width = 24"), "inches", id="T12 inches meant"),
        pytest.param(('machine = "bench-4x4"', 'machine = "bench-4x5"'), "bench-4x4", id="near machine name"),
    ],
)
def test_a_wrong_job_is_told_plainly_and_writes_nothing(
    rabbetry: Run, job: Write, tmp_path: Path, change: tuple[str, str], said: str
) -> None:
    result = rabbetry("build", job(change), "--out", Path("out"))
    assert result.exit_code == 2
    assert said in result.stderr
    assert "job.toml" in result.stderr
    assert "Traceback" not in result.output
    assert not (tmp_path / "out").exists()


def test_t09_every_fault_is_told_in_one_run(rabbetry: Run, job: Write) -> None:
    path = job(("width = 600", 'width = "3/0"'), ("height = 876", 'height = ""'), ("depth = 580", 'depth = "wide"'))
    result = rabbetry("check", path)
    assert result.exit_code == 2
    assert result.stderr.count("error: job.toml") == 3


def test_t10_two_cabinets_of_one_name_are_refused(rabbetry: Run, job: Write) -> None:
    extra = '\n[[cabinet]]\nname = "B1"\nkind = "base"\nwidth = 500\n'
    result = rabbetry("check", job(extra=extra))
    assert result.exit_code == 2
    assert "B1" in result.stderr


def test_t11_no_room_between_the_sides_shows_the_sum(rabbetry: Run, job: Write) -> None:
    result = rabbetry("check", job(("width = 600", 'width = "1.3 in"'), ("doors = 1", "doors = 0")))
    assert result.exit_code == 1
    assert "no-inside-width" in result.stderr
    assert "33.02" in result.stderr
    assert "-2.58" in result.stderr


def test_t14_an_unmeasured_stock_is_said_on_screen_and_in_the_program(
    rabbetry: Run, job: Write, tmp_path: Path
) -> None:
    result = rabbetry("build", job(("thickness = 17.8\n", "")), "--out", Path("out"))
    assert result.exit_code == 0, result.stderr
    assert "thickness-not-measured" in result.stderr
    heads = [text for name, text in _programs(tmp_path / "out").items() if name.startswith("carcass")]
    assert heads
    assert all("not measured" in text for text in heads)


@pytest.mark.parametrize("command", [("check",), ("build", "--out", Path("out"))], ids=["check", "build"])
def test_a_misspelt_post_is_refused_with_the_nearest_one(
    rabbetry: Run, job: Write, tmp_path: Path, command: tuple[str | Path, ...]
) -> None:
    result = rabbetry(command[0], job(('"metric-plain"', '"metric-plan"')), *command[1:])
    assert result.exit_code == 2
    assert result.stderr == (
        "error: metric-plan: there is no post of that name, nor a folder; did you mean metric-plain? "
        "(`rabbetry post list` tells what each accepts)\n"
    )
    assert not (tmp_path / "out").exists()


def test_t33_parts_too_long_are_named_with_the_excess_and_no_program_is_left(
    rabbetry: Run, job: Write, tmp_path: Path
) -> None:
    part = '\n[[part]]\nname = "{}"\nstock = "carcass"\nlength = {}\nwidth = 300\n'
    path = job(extra=part.format("bar front", 1232.7) + part.format("bar rear", 1300))
    result = rabbetry("build", path, "--out", Path("out"))
    assert result.exit_code == 1
    assert "bar front" in result.stderr
    assert "bar rear" in result.stderr
    assert "too long" in result.stderr
    assert _manifest(tmp_path / "out")["programs"] == []
    assert not (tmp_path / "out" / "programs").exists()


def test_t38_a_job_without_parts_is_refused(rabbetry: Run, job: Write, tmp_path: Path) -> None:
    text = job().read_text().split("[[cabinet]]")[0]
    (tmp_path / "job.toml").write_text(text)
    result = rabbetry("build", tmp_path / "job.toml", "--out", Path("out"))
    assert result.exit_code == 2
    assert not (tmp_path / "out").exists()


def test_t46_a_bite_over_the_allowance_is_refused(rabbetry: Run, job: Write) -> None:
    deep = ('machine = "bench-4x4"\n', "")
    extra = '\n[machine]\nname = "bench-4x4"\nthrough = 0.9\nspoilboard_allowance = 0.5\n'
    result = rabbetry("build", job(deep, extra=extra), "--out", Path("out"))
    assert result.exit_code in (1, 2)
    assert "spoilboard" in result.stderr


def test_t47_the_z_zero_shifts_every_cut_by_the_thickness(rabbetry: Run, job: Write, tmp_path: Path) -> None:
    depths = []
    for zero in ("stock top", "spoilboard"):
        extra = f'\n[machine]\nname = "bench-4x4"\nz_zero = "{zero}"\n'
        path = job(('machine = "bench-4x4"\n', ""), name=f"{zero}.toml", extra=extra)
        assert rabbetry("build", path, "--out", Path(zero)).exit_code == 0
        texts = [text for name, text in _programs(tmp_path / zero).items() if name.startswith("carcass")]
        assert all(f"z0 at the {zero}" in text for text in texts)
        depths.append([float(z) for text in texts for z in re.findall(r"Z(-?[\d.]+)", text)])
    assert len(depths[0]) == len(depths[1])
    assert {round(b - a, 3) for a, b in zip(*depths, strict=True)} == {17.8}


@pytest.mark.parametrize("post", ["metric-plain", "inch-plain", "full-metric", "inch-hand-spindle"])
def test_t50_t55_t65_every_program_starts_and_ends_safely(rabbetry: Run, job: Write, tmp_path: Path, post: str) -> None:
    assert rabbetry("build", job(), "--out", Path("out"), "--post", post).exit_code == 0
    for name, text in _programs(tmp_path / "out").items():
        lines = [line for line in text.splitlines() if not line.startswith("(")]
        moves = [line for line in lines if re.match(r"(G0|G1|G2|G3|[XYZ])(?![0-9.])", line) or "G98" in line]
        assert re.fullmatch(r"G0 Z[\d.]+", moves[0]), (name, moves[:3])
        first_cut = next(i for i, line in enumerate(lines) if re.match(r"(G1|G98)\b", line))
        head = " ".join(lines[:first_cut])
        for word in ("G17", "G90", "G94", "G54", "G20" if post.startswith("inch") else "G21"):
            assert word in head.split(), (name, word)
        assert "M3" in head.split() or "switch" in text
        assert lines[-1] in ("M30", "M2"), name
        assert any(line.startswith("M5") for line in lines[-8:]) or "switch" in text
        rapid_down = [line for line in lines if re.match(r"G0 .*Z-", line)]
        assert not rapid_down, (name, rapid_down[:2])
    for name, text in _programs(tmp_path / "out", air=True).items():
        assert not re.search(r"^M[34]\b", text, re.MULTILINE), name


def test_an_output_folder_that_is_not_ours_is_left_alone(rabbetry: Run, job: Write, tmp_path: Path) -> None:
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "letters.txt").write_text("dear")
    result = rabbetry("build", job(), "--out", Path("out"))
    assert result.exit_code == 2
    assert "did not write" in result.stderr
    assert [path.name for path in (tmp_path / "out").iterdir()] == ["letters.txt"]


def test_an_output_folder_that_cannot_be_made_is_told_plainly(rabbetry: Run, job: Write, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    result = rabbetry("build", job(), "--out", Path("file/out"))
    assert result.exit_code == 2
    assert "cannot be written" in result.stderr
    assert "Traceback" not in result.output
    assert (tmp_path / "file").read_text() == "in the way"


def test_a_refused_job_leaves_the_earlier_output_as_it_was(rabbetry: Run, job: Write, tmp_path: Path) -> None:
    assert rabbetry("build", job(), "--out", Path("out")).exit_code == 0
    before = _programs(tmp_path / "out")
    assert rabbetry("build", job(("width = 600", "width = 0")), "--out", Path("out")).exit_code == 2
    assert _programs(tmp_path / "out") == before
    assert sorted(path.name for path in tmp_path.iterdir()) == ["job.toml", "out"]


@pytest.mark.parametrize("args", [("check", "nothing.toml"), ("trace", "nothing.nc"), ("dryrun", "nothing.nc")])
def test_a_missing_file_is_named(rabbetry: Run, args: tuple[str, str]) -> None:
    result = rabbetry(*args)
    assert result.exit_code == 2
    assert args[1] in result.stderr
    assert "no such file" in result.stderr


def test_bytes_that_are_no_text_are_refused(rabbetry: Run, tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_bytes(b"\xff\xfe\x00\x01")
    result = rabbetry("check", Path("job.toml"))
    assert result.exit_code == 2
    assert "UTF-8" in result.stderr


def test_feeds_shows_every_cutter_in_every_stock(rabbetry: Run, job: Write) -> None:
    result = rabbetry("feeds", job(), "--json")
    assert result.exit_code == 0
    rows = json.loads(result.stdout)
    assert {(row["stock"], row["cutter"]) for row in rows} == {
        (stock, cutter) for stock in ("carcass", "back") for cutter in (1, 2, 5, 6, 7)
    }
    assert all(row["decided_by"] for row in rows)
    assert "decided by" in rabbetry("feeds", job()).stdout


def test_check_writes_nothing_and_counts_blanks_beside_the_bound(rabbetry: Run, job: Write, tmp_path: Path) -> None:
    result = rabbetry("check", job())
    assert result.exit_code == 0, result.stderr
    assert "carcass: 2 blanks" in result.stdout
    assert [path.name for path in tmp_path.iterdir()] == ["job.toml"]


def test_trace_prints_canonical_motions(rabbetry: Run, tmp_path: Path) -> None:
    (tmp_path / "p.nc").write_text("G21 F600\nG0 X1 Y2 Z3\nG1 Z-1\nG2 X3 Y2 I1 J0\nM2\n")
    result = rabbetry("trace", Path("p.nc"))
    assert result.exit_code == 0
    events = [json.loads(line) for line in result.stdout.splitlines()]
    assert [event["op"] for event in events] == ["traverse", "feed", "arc", "end"]
    assert events[2]["center"] == [2.0, 2.0, None]


def test_trace_names_the_line_it_refuses(rabbetry: Run, tmp_path: Path) -> None:
    (tmp_path / "p.nc").write_text("G21\nG0 X1 X2\nM2\n")
    result = rabbetry("trace", Path("p.nc"))
    assert result.exit_code == 1
    assert "p.nc:2" in result.stderr


class TestPosts:
    """A post of one's own: copied, edited, used, and caught when it is edited wrongly."""

    def _copy(self, rabbetry: Run, tmp_path: Path, *changes: tuple[str, str]) -> Path:
        assert rabbetry("post", "copy", "metric-plain", Path("mine")).exit_code == 0
        template = tmp_path / "mine" / "program.nc.j2"
        text = template.read_text()
        for old, new in changes:
            assert old in text, old
            text = text.replace(old, new)
        template.write_text(text)
        return tmp_path / "mine"

    def test_every_post_is_listed_with_what_it_accepts(self, rabbetry: Run) -> None:
        result = rabbetry("post", "list")
        assert result.exit_code == 0
        assert {line.split()[0] for line in result.stdout.splitlines()} >= {"metric-plain", "full-metric"}

    def test_an_unknown_post_is_told_with_the_known_ones(self, rabbetry: Run) -> None:
        result = rabbetry("post", "show", "metric-plian")
        assert result.exit_code == 2
        assert "metric-plain" in result.stderr

    def test_a_copied_post_writes_the_same_programs(self, rabbetry: Run, job: Write, tmp_path: Path) -> None:
        mine = self._copy(rabbetry, tmp_path)
        for out, post in (("a", "metric-plain"), ("b", str(mine))):
            assert rabbetry("build", job(), "--out", Path(out), "--post", post).exit_code == 0
        assert _programs(tmp_path / "a") == _programs(tmp_path / "b")

    def test_t56_a_word_the_controller_lacks_is_refused_with_file_and_line(
        self, rabbetry: Run, job: Write, tmp_path: Path
    ) -> None:
        mine = self._copy(rabbetry, tmp_path, ("G17\n", "G17\nG64\n"))
        result = rabbetry("build", job(), "--out", Path("out"), "--post", str(mine))
        assert result.exit_code == 2
        assert "program.nc.j2" in result.stderr
        assert "G64" in result.stderr
        assert not (tmp_path / "out").exists()

    def test_a_template_that_forgets_to_lift_is_caught_by_the_dry_run(
        self, rabbetry: Run, job: Write, tmp_path: Path
    ) -> None:
        mine = self._copy(rabbetry, tmp_path, ("M5\n", ""))
        result = rabbetry("build", job(), "--out", Path("out"), "--post", str(mine))
        assert result.exit_code == 1
        assert "NOT RELEASED" in result.stdout
        assert not (tmp_path / "out" / "programs").exists()


def test_t13_a_dado_follows_the_panel_that_enters_it_not_the_one_it_is_cut_in(
    rabbetry: Run, job: Write, tmp_path: Path
) -> None:
    """Sides measure 0.731 in, the bottom 0.703 in, clearance 0.010 in: the dado is 0.713 in wide, 18.1102 mm."""
    sides = '\n[stock.sides]\nsheet = "birch-18"\nthickness = "0.731 in"\nblank = [1220, 1220]\n'
    sides += '\n[construction]\nfit_clearance = "0.010 in"\n'
    path = job(
        ("thickness = 17.8", 'thickness = "0.703 in"'), ('carcass = "carcass"', 'carcass = "carcass"\nside = "sides"')
    )
    path.write_text(path.read_text() + sides)
    result = rabbetry("build", path, "--out", Path("out"), "--workers", "1")
    assert result.exit_code == 0, result.stderr
    setup = next((tmp_path / "out" / "programs").glob("sides-*.setup.json"))
    panel = json.loads(setup.read_text())["target"]["panels"][0]
    dado = next(recess for recess in panel["recesses"] if recess["name"] == "bottom dado")
    corners = [segment["to"] for segment in dado["outline"]["segments"]]
    across = min(max(c[axis] for c in corners) - min(c[axis] for c in corners) for axis in (0, 1))
    assert across == pytest.approx(0.713 * 25.4, abs=2e-4)


def test_t23_a_hole_no_cutter_can_make_leaves_no_program_at_all(rabbetry: Run, job: Write, tmp_path: Path) -> None:
    result = rabbetry("build", job(("cutters = [1, 2, 5, 6, 7]", "cutters = [1]")), "--out", Path("out"))
    assert result.exit_code == 1
    assert "hole-too-small" in result.stderr
    assert "5 mm" in result.stderr
    assert not (tmp_path / "out" / "programs").exists()
    spiral = rabbetry("build", job(("cutters = [1, 2, 5, 6, 7]", "cutters = [1, 2, 6]")), "--out", Path("out"))
    assert spiral.exit_code == 0, spiral.stderr
    arcs = [line for text in _programs(tmp_path / "out").values() for line in text.splitlines() if "I-0.9125 " in line]
    assert arcs, "a 5 mm hole bored with a 3.175 mm cutter runs at a radius of 0.9125 mm"

    def test_a_post_that_waits_in_milliseconds_is_read_in_milliseconds(
        self, rabbetry: Run, job: Write, tmp_path: Path
    ) -> None:
        mine = self._copy(rabbetry, tmp_path)
        table = mine / "post.toml"
        assert 'dwell = "s"' in table.read_text()
        table.write_text(table.read_text().replace('dwell = "s"', 'dwell = "ms"'))
        assert rabbetry("build", job(), "--out", Path("out"), "--post", str(mine)).exit_code == 0
        programs = _programs(tmp_path / "out")
        assert all("\nG4 P5000\n" in text for text in programs.values())
        seconds = rabbetry("build", job(), "--out", Path("seconds"), "--post", "metric-plain")
        assert seconds.exit_code == 0
        times = [[row["time_s"] for row in _manifest(tmp_path / out)["programs"]] for out in ("out", "seconds")]
        assert times[0] == times[1]

    def test_a_copy_that_would_overwrite_one_file_writes_neither(self, rabbetry: Run, tmp_path: Path) -> None:
        (tmp_path / "mine").mkdir()
        (tmp_path / "mine" / "program.nc.j2").write_text("mine")
        result = rabbetry("post", "copy", "metric-plain", Path("mine"))
        assert result.exit_code == 2
        assert [path.name for path in (tmp_path / "mine").iterdir()] == ["program.nc.j2"]
