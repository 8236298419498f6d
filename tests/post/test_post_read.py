"""Reading a post: every fault of both files at once, each with file, place and cure (T56, T63)."""

import pytest
from post_cases import NAMES, shipped, texts

from rabbetry.errors import InputError
from rabbetry.post.capabilities import POST_KEYS, read_post

TOML, TEMPLATE = texts("metric-plain")


def faults(toml: str = TOML, template: str = TEMPLATE) -> list[str]:
    with pytest.raises(InputError) as caught:
        read_post("mine", toml, template)
    return [str(fault) for fault in caught.value.faults]


def with_line(text: str) -> tuple[str, int]:
    """Return the template with one more line after G17, and that line's number."""
    lines = TEMPLATE.split("\n")
    at = lines.index("G17") + 1
    return "\n".join([*lines[:at], text, *lines[at:]]), at + 1


@pytest.mark.parametrize("name", NAMES)
def test_a_shipped_post_reads(name: str) -> None:
    assert shipped(name).name == name


def test_the_shipped_posts_cover_the_kinds_of_controller() -> None:
    posts = [shipped(name) for name in NAMES]
    assert {post.units for post in posts} == {"mm", "in"}
    assert {post.spindle for post in posts} == {"word", "hand", "reversed"}
    assert {post.tool_change for post in posts} == {"word", "file", "pause"}
    assert {post.arcs for post in posts} == {"centre", "radius", "none"}
    assert {post.comments for post in posts} == {"brackets", "semicolon", "none"}
    assert {post.dialect for post in posts} >= {"strict", "small-firmware"}
    assert {bool(post.cycles) for post in posts} == {True, False}


def test_all_faults_of_the_settings_are_told_at_once() -> None:
    toml = TOML.replace("repeat_words", "repeat_wrods").replace('units = "mm"', 'units = "cm"').replace("arcs = ", "#")
    told = faults(toml)
    assert told[0] == (
        "mine/post.toml: units: 'cm': input should be 'mm' or 'in'; "
        "meaning: unit of all lengths and feeds in the program"
    )
    assert told[1] == (
        "mine/post.toml: arcs: is missing; "
        "give it: centre: I and J from the start; radius: R; none: arcs become short lines"
    )
    assert told[2] == 'mine/post.toml: repeat_wrods: there is no such setting; did you mean "repeat_words"?'


def test_a_broken_settings_file_is_refused_with_its_line() -> None:
    assert "is not TOML" in faults("units = \n")[0]


def test_a_setting_that_needs_a_word_must_list_it() -> None:
    told = faults(TOML.replace('"M30"]', "]"))
    assert told[0] == (
        "mine/post.toml: program_end: needs M30, which allowed_words does not list; add it or change the setting"
    )


@pytest.mark.parametrize(
    ("line", "problem"),
    [
        pytest.param("G64 P0.1", 'the word "G64" is not in the post\'s list of words', id="smoothing word, T56"),
        pytest.param("G0 G80", 'the word "G80" is not in the post\'s list of words', id="old one-line preamble"),
        pytest.param("G90 G21 G90", "G90 stands twice in one line", id="word twice"),
        pytest.param("G0 G1 X0", "G0 and G1 in one line exclude each other", id="two motion words"),
        pytest.param(
            "{{ runs[0].steps[0].moves[0] | words('G38.2 X') }}",
            '"G38.2" is not in the post',
            id="word in an expression",
        ),
        pytest.param("(résumé)", "the character 'é' cannot be sent", id="not ASCII"),
        pytest.param(
            "{{ sheet_nmae }}", '"sheet_nmae" is not known to templates; did you mean "sheet"?', id="unknown name, T63"
        ),
        pytest.param(
            "{{ runs[0].cuter }}", '"cuter" is not known to templates; did you mean "cutter"?', id="unknown part"
        ),
        pytest.param(
            "{{ blank.tickness }}",
            '"blank.tickness" is not known to templates; did you mean "thickness"?',
            id="part of blank",
        ),
        pytest.param("{{ job | word('X') }}", "No filter named 'word'; did you mean \"words\"?", id="unknown filter"),
        pytest.param("{% if job %}", "Unexpected end of template", id="block left open"),
        pytest.param("{{ job", "expected token 'end of print statement'", id="brace left open"),
    ],
)
def test_a_template_fault_names_template_and_line(line: str, problem: str) -> None:
    template, number = with_line(line)
    told = faults(template=template)
    assert problem in " ".join(told)
    if "nexpected end" not in problem and "expected token" not in problem:
        assert told[0].startswith(f"mine/program.nc.j2: line {number}: ")


def test_a_word_with_a_number_from_an_expression_is_left_to_the_rendering() -> None:
    template, _ = with_line("G{{ 17 }}")
    assert read_post("mine", TOML, template).template == template


def test_a_comment_written_out_in_the_template_is_not_read_as_words() -> None:
    template, _ = with_line("(cut {{ comment('x') }} with care)")
    with_text, _ = with_line("(cut all with care)")
    assert read_post("mine", TOML, with_text)
    assert read_post("mine", TOML, template)


def test_a_template_may_count_and_define_its_own_pieces() -> None:
    template, _ = with_line(
        "{% set seen = namespace(moves=0) %}{% for m in runs[0].steps[0].moves %}{% set seen.moves = seen.moves + 1 %}"
        "{% endfor %}{% macro say(what) %}{{ comment(what) }}{% endmacro %}{{ comment(seen.moves) }}"
    )
    assert read_post("mine", TOML, template)


def test_every_setting_is_explained() -> None:
    assert all(meaning for _, meaning in POST_KEYS)


@pytest.mark.parametrize(
    "deep", ["{{ " + "(" * 500 + "1" + ")" * 500 + " }}", "{% if " + "not " * 3000 + "1 %}{% endif %}"]
)
def test_a_template_nested_too_deeply_for_the_engine_is_a_fault_of_the_post(deep: str) -> None:
    text, _ = with_line(deep)
    assert "cannot be compiled" in faults(template=text)[0]


def test_the_power_of_a_power_of_ten_is_not_worked_out_while_reading() -> None:
    text, _ = with_line("{# no word #}{% set far = 10**10**10 %}")
    assert read_post("mine", TOML, text).title
