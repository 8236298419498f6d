"""Replaces an output folder whole: a kill, a full disk or a second run at any moment leaves the old or the new set.

The new set is written beside the folder and changes places with it in one call of the system. The manifest lists every
file with its hash, so that a file which is not ours, or is ours no longer, is never taken away.
"""

import ctypes
import hashlib
import os
import shutil
import sys
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from pydantic import BaseModel, ValidationError

from rabbetry.errors import Fault, InputError

try:
    import fcntl
except ImportError:  # a system without it: two runs into one folder are then not kept apart
    fcntl = None  # type: ignore[assignment]

MANIFEST = "manifest.json"
UNHASHED = frozenset(("timings.json", MANIFEST))
"""Files of ours that the manifest does not vouch for: what the clock says, and itself."""
_DROPPINGS = frozenset((".DS_Store", "Thumbs.db", "desktop.ini"))
"""What file browsers leave behind: nobody's work."""
_SHOWN = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Changes:
    """How the programs of a set differ from those of the set before it; file names relative to the folder, sorted."""

    new: tuple[str, ...]
    changed: tuple[str, ...]
    removed: tuple[str, ...]
    same: tuple[str, ...]


class _Program(BaseModel):
    file: str
    sha256: str


class _Listed(BaseModel):
    """What is read of a manifest here."""

    files: dict[str, str]
    programs: tuple[_Program, ...]


def save_folder(out: Path, content: Mapping[str, bytes]) -> Changes | None:
    """Replace the folder `out` by `content` (relative name to bytes) in one step, or leave it untouched.

    Returns how its programs differ from those that were there; None when there was no set. Raises InputError when the
    folder holds anything but an unaltered set of ours, or cannot be written.
    """
    _check_place(out)
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        with _only_one(out):
            _mend(out)
            _check_place(out)
            if out.is_dir():
                _check_own(out, out)
            return _replace(out, content)
    except OSError as error:
        raise _cannot_write(out, error) from None


def check_replaceable(out: Path) -> None:
    """Raise InputError unless `out` is new, empty, or an output folder of an earlier run that nobody has altered."""
    _check_place(out)
    try:
        if out.is_dir():
            with _only_one(out):  # Or a run that is just ending could show half of each set.
                _check_own(out, out)
    except OSError as error:
        raise _cannot_write(out, error) from None


def _check_place(out: Path) -> None:
    if out.name in ("", ".."):
        raise InputError(_fault(out, "is not a folder name", "name a new folder"))
    try:
        in_the_way = (out.exists() or out.is_symlink()) and (not out.is_dir() or out.is_symlink())
    except OSError as error:
        raise _cannot_write(out, error) from None
    if in_the_way:
        raise InputError(_fault(out, "is in the way and is not a folder", "name a new folder"))


def _check_own(folder: Path, out: Path) -> None:
    """Raise InputError, which speaks of `out`, when `folder` holds a file that is not, or no longer, as we wrote it."""
    there = sorted(item.relative_to(folder).as_posix() for item in _files(folder))
    if not there:
        return
    listed = _listed(folder)
    if listed is None:
        cure = "name a new or empty folder; nothing was touched"
        raise InputError(_fault(out, "holds files that this program did not write", cure))
    folders = {str(parent) for name in listed.files for parent in PurePosixPath(name).parents}
    ours = listed.files.keys() | UNHASHED | folders  # A folder of ours is told here only when it is empty.
    strange = [name for name in there if name not in ours]
    if strange:
        problem = f"holds files that this program did not write: {_shown(strange)}"
        raise InputError(_fault(out, problem, "move them elsewhere, or name another folder; nothing was touched"))
    altered = [name for name in there if name in listed.files and _hash(folder / name) != listed.files[name]]
    if altered:
        problem = f"holds files that were altered by hand: {_shown(altered)}"
        raise InputError(_fault(out, problem, "move or delete them, or name another folder; nothing was touched"))


def _files(folder: Path) -> Iterator[Path]:
    """Yield all that is no folder, and folders that are empty: somebody may be about to use them."""
    for item in folder.iterdir():
        if item.is_dir() and not item.is_symlink():
            inside = list(_files(item))
            yield from inside or (item,)
        elif item.name not in _DROPPINGS:
            yield item


def _listed(folder: Path) -> _Listed | None:
    try:
        return _Listed.model_validate_json((folder / MANIFEST).read_bytes())
    except (FileNotFoundError, ValidationError):
        return None


def _replace(out: Path, content: Mapping[str, bytes]) -> Changes | None:
    before = _listed(out) if out.is_dir() else None
    fresh = Path(tempfile.mkdtemp(prefix=_litter(out, "new"), dir=out.parent))
    try:
        # The manifest last: a set without one is never taken for whole.
        for name in sorted(content, key=lambda name: name == MANIFEST):
            target = fresh / name
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(content[name])
        fresh.chmod(out.stat().st_mode & 0o7777 if out.is_dir() else 0o755)
        _change_places(fresh, out)
    finally:
        shutil.rmtree(fresh, ignore_errors=True)
    return None if before is None else _changes(before, content)


def _change_places(fresh: Path, out: Path) -> None:
    """Put `fresh` in the place of `out`; afterwards nothing of worth is at `fresh`."""
    if not out.exists():
        fresh.rename(out)
        return
    if _exchange(fresh, out):
        try:
            _check_own(fresh, out)  # Once more: something may have come while the new set was written.
        except InputError:
            _exchange(fresh, out)
            raise
        return
    # Two steps where the system has no single one: `_mend` sets right what a kill between them leaves.
    old = Path(tempfile.mkdtemp(prefix=_litter(out, "old"), dir=out.parent))
    out.rename(old / "old")
    try:
        _check_own(old / "old", out)
        fresh.rename(out)
    except (InputError, OSError):
        (old / "old").rename(out)
        raise
    finally:
        shutil.rmtree(old, ignore_errors=True)


def _exchange(one: Path, other: Path) -> bool:
    """Let two folders change names in one step. False, with nothing done, where the system or its disk cannot."""
    if not sys.platform.startswith("linux"):
        return False
    try:
        call = ctypes.CDLL(None, use_errno=True).renameat2
    except AttributeError:
        return False
    here, exchange = -100, 2  # AT_FDCWD and RENAME_EXCHANGE of renameat2(2)
    return bool(call(here, os.fsencode(one), here, os.fsencode(other), exchange) == 0)


def _mend(out: Path) -> None:
    """Clear away what runs that were killed left beside `out`; bring back the old set if one took it away."""
    for old in sorted(out.parent.glob(_pattern(out, "old"))):
        if not out.exists() and (old / "old").is_dir():
            (old / "old").rename(out)
        _discard(old / "old", out)
        shutil.rmtree(old, ignore_errors=True)
    for fresh in sorted(out.parent.glob(_pattern(out, "new"))):
        _discard(fresh, out)


def _discard(folder: Path, out: Path) -> None:
    """Delete a half-written set, or one that has been replaced; one that holds somebody's file goes beside `out`."""
    if _listed(folder) is not None:
        try:
            _check_own(folder, out)
        except InputError:
            folder.rename(Path(tempfile.mkdtemp(prefix=f"{out.name}-kept-", dir=out.parent)))
            return
    shutil.rmtree(folder, ignore_errors=True)


def _litter(out: Path, what: str) -> str:
    return f".{out.name}.{what}-"


def _pattern(out: Path, what: str) -> str:
    plain = "".join(f"[{letter}]" if letter in "*?[" else letter for letter in _litter(out, what))
    return plain + "*"


@contextmanager
def _only_one(out: Path) -> Iterator[None]:
    """Let a second run into the same folder wait for the first. A lock goes with its run, killed or not."""
    if fcntl is None:
        yield
        return
    path = out.parent / f".{out.name}.lock"
    while True:
        with path.open("a") as lock:
            try:
                fcntl.flock(lock, fcntl.LOCK_EX)
            except OSError:  # a disk over the network that knows no locks
                path.unlink(missing_ok=True)
                yield
                return
            if not _is_at(path, lock.fileno()):
                continue  # The run before removed the lock while this one waited for it.
            try:
                yield
            finally:
                path.unlink(missing_ok=True)
            return


def _is_at(path: Path, descriptor: int) -> bool:
    try:
        return os.path.samestat(path.stat(), os.fstat(descriptor))
    except FileNotFoundError:
        return False


def _changes(before: _Listed, content: Mapping[str, bytes]) -> Changes:
    now = _Listed.model_validate_json(content[MANIFEST])
    old = {program.file: program.sha256 for program in before.programs}
    new = {program.file: program.sha256 for program in now.programs}
    both = sorted(old.keys() & new.keys())
    return Changes(
        new=tuple(sorted(new.keys() - old.keys())),
        changed=tuple(name for name in both if old[name] != new[name]),
        removed=tuple(sorted(old.keys() - new.keys())),
        same=tuple(name for name in both if old[name] == new[name]),
    )


def _hash(path: Path) -> str:
    if path.is_symlink() or not path.is_file():
        return ""
    return hashlib.sha256(path.read_bytes()).hexdigest()


def _shown(names: list[str]) -> str:
    more = len(names) - _SHOWN
    return ", ".join(names[:_SHOWN]) + (f" and {more} more" if more > 0 else "")


def _cannot_write(out: Path, error: OSError) -> InputError:
    return InputError(_fault(out, f"cannot be written: {error.strerror}", "is the disk full or the folder locked?"))


def _fault(path: Path, problem: str, cure: str) -> Fault:
    return Fault(file=str(path), place="", problem=problem, cure=cure)
