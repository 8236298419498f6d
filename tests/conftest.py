"""Options and fixtures shared by all tests."""

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import settings

# The gate must say the same thing twice: examples are derived from the test, and a slow machine is no fault.
# `pytest --hypothesis-profile=search` looks for new ones.
settings.register_profile("gate", deadline=None, derandomize=True)
settings.register_profile("search", deadline=None, max_examples=1000)
settings.load_profile("gate")

GOLDEN = Path(__file__).parent / "golden"


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--rewrite-golden",
        action="store_true",
        help="write the golden programs anew; read the difference before committing it",
    )


@pytest.fixture
def check_golden(request: pytest.FixtureRequest) -> Callable[[str, str, bytes], None]:
    """Return a function (folder, name, bytes) that compares with tests/golden/<folder>/<name>, byte by byte."""

    def compare(folder: str, name: str, content: bytes) -> None:
        path = GOLDEN / folder / name
        if request.config.getoption("--rewrite-golden"):
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content)
        assert path.is_file(), f"{path} is missing: run pytest --rewrite-golden, read the file, commit it"
        assert content == path.read_bytes(), f"{path} differs"

    return compare
