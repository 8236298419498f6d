"""The output folder survives: kills, full disks, refusals, a second run, and the user's own files in it."""

import errno
import hashlib
import json
import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from click.testing import Result

from rabbetry import out_folder
from rabbetry.errors import InputError
from rabbetry.out_folder import save_folder

FORKS = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")


BOARDS = """
name = "Two boards"
units = "mm"
machine = "bench-4x4"
post = "metric-plain"
cutters = [1]

[stock.thick]
sheet = "birch-18"
thickness = 17.8
blank = [610, 610]

[stock.thin]
sheet = "birch-6"
thickness = 5.8
blank = [610, 610]

[[part]]
name = "board"
stock = "thick"
length = 300
width = 200

[[part]]
name = "panel"
stock = "thin"
length = 300
width = 200
"""


def _set(word: str, *names: str) -> dict[str, bytes]:
    """Return a set of programs and lists that all say `word`, with its manifest."""
    files = {name: f"{word} in {name}\n".encode() * 50 for name in (*names, "index.html", "sheets/a.svg")}
    hashes = {name: hashlib.sha256(data).hexdigest() for name, data in files.items()}
    manifest = {
        "programs": [{"file": name, "sha256": hashes[name]} for name in names],
        "files": hashes,
    }
    return {**files, "timings.json": b"{}", "manifest.json": json.dumps(manifest).encode()}


OLD = _set("old", "programs/a.nc", "programs/b.nc", "programs/gone.nc")
NEW = _set("new", "programs/a.nc", "programs/added.nc")


def _read(folder: Path) -> dict[str, bytes] | None:
    if not folder.exists():
        return None
    return {item.relative_to(folder).as_posix(): item.read_bytes() for item in folder.rglob("*") if item.is_file()}


def _beside(out: Path) -> list[str]:
    return sorted(item.name for item in out.parent.iterdir() if item != out)


@pytest.fixture(params=["one step", "two steps"])
def swap(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """Both ways of changing places: the system's single call, and the two renames of a system without it."""
    if request.param == "two steps":
        monkeypatch.setattr(out_folder, "_exchange", lambda one, other: False)
    return str(request.param)


def test_a_set_is_replaced_whole_and_nothing_is_left_beside_it(tmp_path: Path, swap: str) -> None:
    out = tmp_path / "deep" / "out"
    assert save_folder(out, OLD) is None
    assert _read(out) == OLD
    save_folder(out, NEW)
    assert _read(out) == NEW
    assert _beside(out) == []


def test_the_system_can_change_places_in_one_step_where_the_tests_run(tmp_path: Path) -> None:
    if not sys.platform.startswith("linux"):
        pytest.skip("only Linux has the call")
    for name in ("one", "other"):
        (tmp_path / name).mkdir()
        (tmp_path / name / name).touch()
    assert out_folder._exchange(tmp_path / "one", tmp_path / "other")
    assert (tmp_path / "one" / "other").exists()
    assert (tmp_path / "other" / "one").exists()


def test_what_differs_is_told_by_name(tmp_path: Path) -> None:
    out = tmp_path / "out"
    save_folder(out, OLD)
    changed = _set("new", "programs/a.nc", "programs/b.nc", "programs/added.nc")
    same = hashlib.sha256(OLD["programs/b.nc"]).hexdigest()
    manifest = json.loads(changed["manifest.json"])
    manifest["files"]["programs/b.nc"] = same
    manifest["programs"][1]["sha256"] = same
    changed |= {"programs/b.nc": OLD["programs/b.nc"], "manifest.json": json.dumps(manifest).encode()}
    changes = save_folder(out, changed)
    assert changes is not None
    assert changes.new == ("programs/added.nc",)
    assert changes.changed == ("programs/a.nc",)
    assert changes.removed == ("programs/gone.nc",)
    assert changes.same == ("programs/b.nc",)


@FORKS
def test_killed_at_any_call_of_the_system_it_leaves_the_old_set_or_the_new(tmp_path: Path, swap: str) -> None:
    """Every opening, renaming, making and removing is a moment to die at; one after the other."""
    left = []
    for moment in range(1000):
        out = tmp_path / str(moment) / "out"
        save_folder(out, OLD)
        status = _die_at(moment, lambda out=out: save_folder(out, NEW))  # type: ignore[misc]
        found = _read(out)
        if swap == "one step":
            assert found in (OLD, NEW), f"moment {moment}"
        else:
            assert found in (OLD, NEW, None), f"moment {moment}"
        left.append(found is NEW or found == NEW)
        # The next run sets all right, and clears away what the dead one left.
        save_folder(out, NEW)
        assert _read(out) == NEW
        assert _beside(out) == []
        shutil.rmtree(out.parent)
        if status == 0:
            break
    assert status == 0
    assert left[0] is False
    assert left[-1] is True
    assert len(left) > 20


@FORKS
def test_the_old_set_that_a_kill_took_away_is_back_before_the_next_one_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(out_folder, "_exchange", lambda one, other: False)
    lost = 0
    for moment in range(1000):
        out = tmp_path / str(moment) / "out"
        save_folder(out, OLD)
        status = _die_at(moment, lambda out=out: save_folder(out, NEW))  # type: ignore[misc]
        if _read(out) is None:
            lost += 1
            with monkeypatch.context() as patch:
                patch.setattr(Path, "write_bytes", _full)
                with pytest.raises(InputError, match="No space left"):
                    save_folder(out, NEW)
            assert _read(out) == OLD
        if status == 0:
            break
    assert lost > 0


def _full(*_: object) -> int:
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


def _die_at(moment: int, work: Callable[[], object]) -> int:
    """Do the work in a process that dies at its `moment`-th call about files; return 0 if it lived to the end."""
    child = os.fork()
    if child == 0:
        left = moment

        def count(event: str, _arguments: object) -> None:
            nonlocal left
            if event == "open" or event.startswith(("os.", "shutil.", "tempfile.")):
                left -= 1
                if left == -1:
                    os.kill(os.getpid(), signal.SIGKILL)

        status = 1
        try:
            sys.addaudithook(count)
            work()
            status = 0
        finally:
            os._exit(status)
    return os.waitpid(child, 0)[1]


@pytest.mark.parametrize("fails_at", range(7))
@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EACCES, errno.EDQUOT, errno.EIO])
def test_a_write_that_fails_leaves_the_old_set(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, fails_at: int, number: int
) -> None:
    out = tmp_path / "out"
    save_folder(out, OLD)
    left = fails_at
    write = Path.write_bytes

    def fail(path: Path, data: bytes) -> int:
        nonlocal left
        left -= 1
        if left < 0:
            write(path, data[:7])
            raise OSError(number, os.strerror(number))
        return write(path, data)

    with monkeypatch.context() as patch:
        patch.setattr(Path, "write_bytes", fail)
        if fails_at == len(NEW):
            save_folder(out, NEW)
            return
        with pytest.raises(InputError) as caught:
            save_folder(out, NEW)
    assert os.strerror(number) in str(caught.value)
    assert _read(out) == OLD
    assert _beside(out) == []


@FORKS
def test_a_disk_that_takes_no_more_bytes_leaves_the_old_set(tmp_path: Path) -> None:
    """A limit that the system itself enforces in the middle of a file."""
    out = tmp_path / "out"
    save_folder(out, OLD)
    child = os.fork()
    if child == 0:
        status = 1
        try:
            resource.setrlimit(resource.RLIMIT_FSIZE, (700, 700))
            save_folder(out, NEW)
        except InputError as error:
            status = 0 if "cannot be written" in str(error) else 2
        finally:
            os._exit(status)
    assert os.waitpid(child, 0)[1] == 0
    assert _read(out) == OLD
    assert _beside(out) == []


@pytest.mark.skipif(os.name != "posix" or os.geteuid() == 0, reason="the super-user may write everywhere")
def test_a_folder_that_may_not_be_written_is_told_plainly(tmp_path: Path) -> None:
    out = tmp_path / "shut" / "out"
    save_folder(out, OLD)
    out.parent.chmod(0o555)
    try:
        with pytest.raises(InputError, match="Permission denied"):
            save_folder(out, NEW)
        assert _read(out) == OLD
    finally:
        out.parent.chmod(0o755)


STRANGE = [
    pytest.param("notes.txt", id="a note beside the page"),
    pytest.param("programs/mine.nc", id="a program of one's own"),
    pytest.param("programs/old/a.nc", id="a folder of one's own"),
    pytest.param("photos/", id="a folder that is still empty"),
]


@pytest.mark.parametrize("name", STRANGE)
def test_the_users_own_files_are_named_and_kept(tmp_path: Path, name: str) -> None:
    out = tmp_path / "out"
    save_folder(out, OLD)
    mine = out / name
    if name.endswith("/"):
        mine.mkdir()
    else:
        mine.parent.mkdir(exist_ok=True)
        mine.write_text("mine")
    before = _read(out)
    with pytest.raises(InputError) as caught:
        save_folder(out, NEW)
    assert str(caught.value) == (
        f"{out}: holds files that this program did not write: {name.rstrip('/')}; "
        "move them elsewhere, or name another folder; nothing was touched"
    )
    assert mine.exists()
    assert _read(out) == before
    assert _beside(out) == []


def test_a_program_altered_by_hand_is_named_and_kept(tmp_path: Path) -> None:
    out = tmp_path / "out"
    save_folder(out, OLD)
    (out / "programs/a.nc").write_text("G0 Z40 (mended at the machine)\n")
    with pytest.raises(InputError, match=r"altered by hand: programs/a\.nc; move or delete them"):
        save_folder(out, NEW)
    assert (out / "programs/a.nc").read_text().startswith("G0 Z40")
    (out / "programs/a.nc").unlink()
    save_folder(out, NEW)
    assert _read(out) == NEW


def test_what_a_file_browser_leaves_is_no_reason_to_refuse(tmp_path: Path) -> None:
    out = tmp_path / "out"
    save_folder(out, OLD)
    (out / ".DS_Store").touch()
    (out / "programs/Thumbs.db").touch()
    save_folder(out, NEW)
    assert _read(out) == NEW


@pytest.mark.parametrize("manifest", ['{"programs": [], "job": {}}', "not JSON", ""])
def test_a_folder_whose_manifest_is_not_ours_is_not_replaced(tmp_path: Path, manifest: str) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / "manifest.json").write_text(manifest)
    with pytest.raises(InputError, match="did not write"):
        save_folder(out, NEW)
    assert (out / "manifest.json").read_text() == manifest


def test_a_file_that_comes_while_the_new_set_is_written_is_kept(
    tmp_path: Path, swap: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "out"
    save_folder(out, OLD)
    chmod = Path.chmod

    def come(path: Path, mode: int) -> None:
        chmod(path, mode)
        (out / "notes.txt").write_text("mine")

    monkeypatch.setattr(Path, "chmod", come)
    with pytest.raises(InputError, match=r"did not write: notes\.txt"):
        save_folder(out, NEW)
    assert _read(out) == OLD | {"notes.txt": b"mine"}
    assert _beside(out) == []


def test_what_a_killed_run_left_with_somebodys_file_in_it_is_put_beside(tmp_path: Path) -> None:
    out = tmp_path / "out"
    save_folder(out, NEW)
    save_folder(tmp_path / ".out.new-dead", OLD)
    (tmp_path / ".out.new-dead" / "notes.txt").write_text("mine")
    save_folder(out, OLD)
    (kept,) = tmp_path.glob("out-kept-*")
    assert (kept / "notes.txt").read_text() == "mine"


@FORKS
def test_two_runs_into_one_folder_leave_one_whole_set(tmp_path: Path) -> None:
    out = tmp_path / "out"
    sets = [_set(f"set {k}", *(f"programs/{k}-{n}.nc" for n in range(20))) for k in range(3)]
    children = []
    for own in sets:
        child = os.fork()
        if child == 0:
            status = 1
            try:
                for _ in range(15):
                    save_folder(out, own)
                status = 0
            finally:
                os._exit(status)
        children.append(child)
    assert [os.waitpid(child, 0)[1] for child in children] == [0, 0, 0]
    assert _read(out) in sets
    assert _beside(out) == []


def test_a_build_killed_at_random_moments_leaves_the_last_whole_set(tmp_path: Path) -> None:
    path, out = tmp_path / "job.toml", tmp_path / "out"
    command = [sys.executable, "-m", "rabbetry", "build", str(path), "--out", str(out), "--workers", "2"]
    path.write_text(BOARDS, encoding="utf-8")
    subprocess.run(command, check=True, capture_output=True)
    for number, wait_s in enumerate(_moments()):
        path.write_text(BOARDS.replace("length = 300", f"length = {301 + number}"), encoding="utf-8")
        process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        time.sleep(wait_s)
        process.kill()
        process.wait()
        _check_whole(out)
    subprocess.run(command, check=True, capture_output=True)
    _check_whole(out)
    assert _beside(out) == [path.name]


def _moments() -> Iterator[float]:
    chance = random.Random(7)
    return (chance.uniform(0.1, 3.0) for _ in range(4))


def _check_whole(out: Path) -> None:
    manifest = json.loads((out / "manifest.json").read_text())
    found = _read(out)
    assert found is not None
    del found["manifest.json"], found["timings.json"]
    assert {name: hashlib.sha256(data).hexdigest() for name, data in found.items()} == manifest["files"]


def _told(result: Result) -> list[str]:
    """Return the lines in which a build tells what differs from the last one."""
    lines = result.stdout.splitlines()
    at = next((k for k, line in enumerate(lines) if "against the last build" in line), len(lines))
    return [line.strip() for line in lines[at:-1]]


def test_a_build_says_what_differs_from_the_last_one(rabbetry: Callable[..., Result], tmp_path: Path) -> None:
    path = tmp_path / "job.toml"

    def build(text: str) -> list[str]:
        path.write_text(text, encoding="utf-8")
        result = rabbetry("build", path, "--out", Path("out"), "--workers", "1")
        assert result.exit_code == 0, result.stderr
        return _told(result)

    assert build(BOARDS) == []
    assert build(BOARDS + "# a comment\n") == ["against the last build: all 4 programs the same"]
    before = _read(tmp_path / "out")
    # One sheet measured again: what it does not concern stays as it is, byte for byte.
    assert build(BOARDS.replace("thickness = 5.8", "thickness = 5.6")) == [
        "against the last build: 0 new, 2 changed, 0 removed, 2 the same",
        "changed: thin-01-T1.nc, thin-01-air.nc",
    ]
    after = _read(tmp_path / "out")
    assert before is not None
    assert after is not None
    for name in ("thick-01-T1.nc", "thick-01-T1.setup.json"):
        assert before[f"programs/{name}"] == after[f"programs/{name}"]
    assert build(BOARDS[: BOARDS.rindex("[[part]]")]) == [
        "against the last build: 0 new, 0 changed, 2 removed, 2 the same",
        "removed: thin-01-T1.nc, thin-01-air.nc",
    ]
    assert not (tmp_path / "out/programs/thin-01-T1.nc").exists()


def test_head_page_and_manifest_tell_one_fingerprint(rabbetry: Callable[..., Result], tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text(BOARDS, encoding="utf-8")
    rabbetry("build", path, "--out", Path("out"), "--workers", "1")
    manifest = json.loads((tmp_path / "out/manifest.json").read_text())
    page = (tmp_path / "out/index.html").read_text()
    marks = [program["fingerprint"] for program in manifest["programs"]]
    assert len(set(marks)) == len(marks) == 4, "two sheets, each with its air run"
    for program in manifest["programs"]:
        assert f"(fingerprint {program['fingerprint']})" in (tmp_path / "out" / program["file"]).read_text()
        assert program["fingerprint"] in page
    assert manifest["job"]["fingerprint"] in page
    # The job's own follows from every value, not from how the file is written or called.
    other = tmp_path / "other.toml"
    other.write_text("# the same\n" + BOARDS, encoding="utf-8")
    rabbetry("build", other, "--out", Path("other"), "--workers", "1")
    assert (
        json.loads((tmp_path / "other/manifest.json").read_text())["job"]["fingerprint"]
        == (manifest["job"]["fingerprint"])
    )
    other.write_text(BOARDS.replace("width = 200", "width = 201", 1), encoding="utf-8")
    rabbetry("build", other, "--out", Path("other"), "--workers", "1")
    assert (
        json.loads((tmp_path / "other/manifest.json").read_text())["job"]["fingerprint"]
        != (manifest["job"]["fingerprint"])
    )
