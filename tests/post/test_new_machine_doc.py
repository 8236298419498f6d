"""The walk through a new post works as it is written."""

import re
from pathlib import Path

import pytest

from rabbetry.errors import InputError
from rabbetry.post.capabilities import read_post
from rabbetry.post.render import render_programs
from rabbetry.post.sample import sample_plan
from rabbetry.post_check import check_post

DOC = (Path(__file__).parents[2] / "docs" / "new-machine.md").read_text(encoding="utf-8")


def block(kind: str) -> str:
    found = re.findall(rf"```{kind}\n(.*?)```", DOC, re.S)
    assert len(found) == 1
    return str(found[0])


def test_the_post_of_the_walk_is_proven() -> None:
    assert check_post(read_post("my-router", block("toml"), block("jinja"))).findings == ()


def test_its_programs_are_what_the_made_up_manual_asks_for() -> None:
    for program in render_programs(sample_plan(), read_post("my-router", block("toml"), block("jinja"))):
        lines = program.text.split("\r\n")
        assert program.name.endswith(".txt")
        assert lines.pop() == ""
        assert max(map(len, lines)) + 2 <= 64
        coded = [line for line in lines if not line.startswith(";")]
        assert [line.split()[0] for line in coded] == [f"N{10 * k}" for k in range(1, len(coded) + 1)]
        assert any(line.endswith("G4 P4000") for line in coded)
        assert coded[-1].endswith(" M2")
        assert not re.search(r"[IJ(%]", "\n".join(coded))


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("{{ comment(\"sheet\", sheet,", "{{ comment(\"sheet\", sheet_nmae,", 'did you mean "sheet"'),
        ("G17\n", "G17\nG64\n", 'the word "G64" is not in the post\'s list of words'),
    ],
)  # fmt: skip
def test_what_the_walk_says_of_a_post_that_cannot_be_used(old: str, new: str, said: str) -> None:
    assert old in block("jinja")
    with pytest.raises(InputError, match=re.escape(said)):
        read_post("my-router", block("toml"), block("jinja").replace(old, new))


@pytest.mark.parametrize(
    ("toml", "old", "new", "code"),
    [
        (False, "G0 Z{{ safe_z }}\n{{ over }} X", "{{ over }} X", "first-motion"),
        (False, 'words("G1 X Y Z F")', 'words("G1 X=y Y=x Z F")', "post-cut-differs"),
        (True, "length_decimals = 4", "length_decimals = 2", "post-coarse"),
        (False, "M3 S{{ run.rpm }}\n", "", "spindle-off"),
    ],
)
def test_what_the_walk_says_of_a_post_that_cuts_wrongly(toml: bool, old: str, new: str, code: str) -> None:
    texts = [block("toml"), block("jinja")]
    where = 0 if toml else 1
    assert old in texts[where]
    texts[where] = texts[where].replace(old, new)
    assert code in {item.code for item in check_post(read_post("my-router", *texts)).findings}
