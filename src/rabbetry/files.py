"""Reads inputs, which have a size limit, and writes new files; `out_folder` replaces output folders."""

from collections.abc import Mapping
from importlib import resources
from pathlib import Path

from rabbetry.errors import Fault, InputError, near_names

MAX_JOB_BYTES = 1_000_000
MAX_DRAWING_BYTES = 10_000_000
MAX_PROGRAM_BYTES = 50_000_000
MAX_SETUP_BYTES = 50_000_000
MAX_TEMPLATE_BYTES = 1_000_000


def load_text(path: Path, *, limit_bytes: int = MAX_JOB_BYTES) -> str:
    """Return a UTF-8 text file's content, line ends as they are.

    Raises InputError when it cannot be read, is too big or is not text.
    """
    try:
        return _load(path, limit_bytes).decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise InputError(
            _fault(path, f"byte {error.start} is not UTF-8 text", "save the file as UTF-8, or name the right file")
        ) from None


def load_drawing(path: Path) -> bytes:
    """Return a drawing file's bytes. Raises InputError when it cannot be read or is too big."""
    return _load(path, MAX_DRAWING_BYTES)


def _load(path: Path, limit_bytes: int) -> bytes:
    try:
        if path.is_dir():
            raise InputError(_fault(path, "is a folder", "name a file"))
        size = path.stat().st_size
        if size > limit_bytes:
            raise InputError(_fault(path, f"has {size} bytes, over the {limit_bytes} allowed", "is it the right file?"))
        return path.read_bytes()
    except FileNotFoundError:
        raise InputError(_fault(path, "there is no such file", "check the name and the folder")) from None
    except OSError as error:
        raise InputError(_fault(path, f"cannot be read: {error.strerror}", "")) from None


def load_program(path: Path) -> str:
    """Return a program's text. Bytes outside UTF-8 become replacement characters, which the reader refuses by line."""
    try:
        return load_text(path, limit_bytes=MAX_PROGRAM_BYTES)
    except InputError as error:
        if "is not UTF-8" not in str(error):
            raise
        return path.read_bytes().decode("utf-8", errors="replace")


def load_tables() -> dict[str, str]:
    """Return the package's shop tables: file name to TOML text, sorted by name."""
    folder = resources.files("rabbetry.shop").joinpath("tables")
    return {
        item.name: item.read_text(encoding="utf-8")
        for item in sorted(folder.iterdir(), key=lambda entry: entry.name)
        if item.name.endswith(".toml")
    }


def post_names() -> tuple[str, ...]:
    """Return the names of the posts that ship with the package, sorted."""
    folder = resources.files("rabbetry.posts")
    names = (item.name for item in folder.iterdir() if item.is_dir() and item.joinpath("post.toml").is_file())
    return tuple(sorted(names))


def load_post(name: str, *, beside: Path) -> tuple[str, str, str]:
    """Return name, post.toml text and template text of a shipped post, or of a folder of the user's.

    `beside` is where a relative path starts. Raises InputError with the known names when there is none.
    """
    if name in post_names():
        folder = resources.files("rabbetry.posts").joinpath(name)
        return (
            name,
            folder.joinpath("post.toml").read_text(encoding="utf-8"),
            folder.joinpath("program.nc.j2").read_text(encoding="utf-8"),
        )
    own = beside / name
    if own.is_dir():
        return (
            own.name,
            load_text(own / "post.toml", limit_bytes=MAX_TEMPLATE_BYTES),
            load_text(own / "program.nc.j2", limit_bytes=MAX_TEMPLATE_BYTES),
        )
    near = near_names(name, post_names())
    cure = f"did you mean {' or '.join(near)}?" if near else f"the posts are {', '.join(post_names())}"
    fault = Fault(
        file=name,
        place="",
        problem="there is no post of that name, nor a folder",
        cure=f"{cure} (`rabbetry post list` tells what each accepts)",
    )
    raise InputError(fault)


def _cannot_write(out: Path, error: OSError) -> InputError:
    return InputError(_fault(out, f"cannot be written: {error.strerror}", "is the disk full or the folder locked?"))


def check_new(*paths: Path) -> None:
    """Raise InputError, with all of them, when any of the files exists or cannot be looked for."""
    try:
        there = [path for path in paths if path.exists() or path.is_symlink()]
    except OSError as error:
        raise _cannot_write(paths[0], error) from None
    if there:
        raise InputError(*(_fault(path, "exists already", "nothing was touched; name another file") for path in there))


def save_new_files(folder: Path, content: Mapping[str, str]) -> None:
    """Write files (name in `folder` to text) none of which may exist yet.

    Raises InputError when one does, before anything is written, or when one cannot be written.
    """
    check_new(*(folder / name for name in content))
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, text in content.items():
            with (folder / name).open("x", encoding="utf-8", newline="\n") as file:
                file.write(text)
    except OSError as error:
        raise _cannot_write(folder, error) from None


def _fault(path: Path, problem: str, cure: str) -> Fault:
    return Fault(file=str(path), place="", problem=problem, cure=cure)
