"""Program text: what every program must hold, whatever the post (T14, T47, T55 to T58, T61 to T65)."""

import re
from collections.abc import Callable
from dataclasses import replace

import pytest
from post_cases import NAMES, changed, code_lines, plan_of, shipped

from rabbetry.errors import InputError
from rabbetry.motions.model import Feed, Plan, Step, Traverse
from rabbetry.post.capabilities import Post
from rabbetry.post.render import render_programs
from rabbetry.post.sample import sample_plan


@pytest.fixture(params=NAMES)
def post(request: pytest.FixtureRequest) -> Post:
    return shipped(request.param)


def test_the_sample_programs_are_as_reviewed(post: Post, check_golden: Callable[[str, str, bytes], None]) -> None:
    for program in render_programs(sample_plan(), post):
        check_golden(f"sample/{post.name}", program.name, program.text.encode("ascii"))


def test_the_head_states_everything_on_separate_lines_before_the_first_motion(post: Post) -> None:
    for program in render_programs(sample_plan(), post):
        lines = code_lines(program.text)
        first = next(k for k, line in enumerate(lines) if line.startswith("G0"))
        head = [word for line in lines[:first] for word in line.split()]
        assert {"G17", "G90", "G94", "G54", "G20" if post.units == "in" else "G21"} <= set(head)
        assert all(len(re.findall("G", line)) <= 1 for line in lines[:first])


def test_the_cutter_first_goes_up_alone_then_over_then_turns_then_down(post: Post) -> None:
    for program in render_programs(sample_plan(), post):
        lines = code_lines(program.text)
        first = next(k for k, line in enumerate(lines) if line.startswith("G0"))
        assert re.fullmatch(r"G0 Z[\d.]+", lines[first])
        assert re.fullmatch(r"G0 X[\d.]+ Y[\d.]+", lines[first + 1])
        assert re.fullmatch(r"M3 S\d+" if post.spindle == "word" else "M0", lines[first + 2])
        assert re.fullmatch(r"G4 P[\d.]+", lines[first + 3])


def test_the_end_goes_up_stops_parks_and_says_so_last(post: Post) -> None:
    for program in render_programs(sample_plan(), post):
        lines = code_lines(program.text)
        assert lines[-1] == post.program_end
        assert re.fullmatch(r"G0 X0 Y[\d.]+", lines[-2])
        assert lines[-3] == ("M5" if post.spindle == "word" else "M0")
        assert re.fullmatch(r"G0 Z[\d.]+", lines[-4])
        assert program.text.endswith(post.program_end + post.line_end_text)


def test_without_a_parking_place_the_machine_stays(post: Post) -> None:
    for program in render_programs(replace(sample_plan(), park=None), post):
        assert code_lines(program.text)[-2] == ("M5" if post.spindle == "word" else "M0")


def test_the_head_names_job_sheet_blank_cutter_and_datum(post: Post) -> None:
    plan = replace(sample_plan(), z_zero="spoilboard")
    for program in render_programs(plan, post):
        for said in ("job Sample all motions", "sample-18-01", "z0 at the spoilboard", "measured", "cutter"):
            assert said in program.text
    measured = "0.7008 in thick, measured" if post.units == "in" else "17.8 mm thick, measured"
    assert measured in render_programs(plan, post)[0].text


def test_a_thickness_nobody_measured_is_said_in_the_head(post: Post) -> None:
    for program in render_programs(replace(sample_plan(), thickness_is_measured=False), post):
        assert "thickness not measured" in program.text


def test_each_file_of_a_cutter_stands_alone_and_asks_for_touch_off() -> None:
    post = shipped("metric-plain")
    programs = render_programs(sample_plan(), post)
    assert [(program.name, program.cutters) for program in programs] == [
        ("sample-18-01-T2.nc", (2,)),
        ("sample-18-01-T1.nc", (1,)),
    ]
    for program in programs:
        assert f"before start: fit cutter {program.cutters[0]} and touch off Z on the stock top" in program.text
        assert "G21" in code_lines(program.text)


def test_a_cutter_used_twice_gets_two_files() -> None:
    plan = sample_plan()
    programs = render_programs(replace(plan, runs=(*plan.runs, plan.runs[0])), shipped("metric-plain"))
    names = [program.name for program in programs]
    assert names == ["sample-18-01-T2.nc", "sample-18-01-T1.nc", "sample-18-01-T2-2.nc"]


def test_operations_are_numbered_through_the_sheet() -> None:
    text = "".join(program.text for program in render_programs(sample_plan(), shipped("metric-plain")))
    assert re.findall(r"\(op (\d+):", text) == ["1", "2", "3", "4", "5"]


def test_a_pause_post_changes_cutters_in_one_program() -> None:
    post = changed(
        "full-metric",
        toml=(('tool_change = "word"', 'tool_change = "pause"'),),
        template=(("T{{ run.number }} M6\nG43 H{{ run.number }}", "{{ comment('fit cutter', run.number) }}\nM0"),),
    )
    (program,) = render_programs(sample_plan(), post)
    assert program.name == "sample-18-01.ngc"
    assert program.text.count("\nM0\n") == 2


def test_brackets_in_names_never_stand_in_a_comment(post: Post) -> None:
    plan = replace(sample_plan(), job="Sink base (left) [x]")
    for program in render_programs(plan, post):
        assert "(job Sink base left x)" in program.text
        assert all(line.count("(") == line.count(")") <= 1 for line in program.text.splitlines())


def test_characters_a_controller_acts_on_are_not_sent_in_comments(post: Post) -> None:
    plan = replace(sample_plan(), job="50 % off! ~?$;")
    for program in render_programs(plan, post):
        assert "(job 50 _ off_ ____)" in program.text


def test_long_names_are_cut_to_the_line_limit(post: Post) -> None:
    plan = sample_plan()
    step = replace(plan.runs[0].steps[0], name="N" * 300)
    plan = replace(plan, job="J" * 300, runs=(replace(plan.runs[0], steps=(step,)),))
    for program in render_programs(plan, post):
        assert post.line_limit is not None
        assert max(len(line) for line in program.text.splitlines(keepends=True)) <= post.line_limit
        assert "N" * 40 in program.text


def test_a_program_is_ascii_with_the_posts_line_ends() -> None:
    post = changed("metric-plain", toml=(('line_end = "lf"', 'line_end = "crlf"'),))
    plan = replace(sample_plan(), job="Küche-Ost №2 ß 木", sheet="Küche Ost/№2")
    program = render_programs(plan, post)[0]
    assert program.name == "Kuche-Ost-No2-T2.nc"
    assert "(job Kuche-Ost No2 ss _)\r\n" in program.text
    assert program.text.isascii()
    assert program.text.count("\n") == program.text.count("\r\n")
    assert program.text[0] == "("


def test_no_per_cent_sign_is_sent(post: Post) -> None:
    assert all("%" not in program.text for program in render_programs(sample_plan(), post))


def test_a_controller_without_comments_gets_none() -> None:
    post = changed("metric-plain", toml=(('comments = "brackets"', 'comments = "none"'),))
    assert "(" not in render_programs(sample_plan(), post)[0].text


def test_comments_may_follow_a_semicolon() -> None:
    post = changed("metric-plain", toml=(('comments = "brackets"', 'comments = "semicolon"'),))
    assert render_programs(sample_plan(), post)[0].text.startswith("; job Sample all motions\n")


def test_lines_are_numbered_on_request() -> None:
    post = changed("metric-plain", toml=(("line_numbers = 0", "line_numbers = 10"),))
    lines = code_lines(render_programs(sample_plan(), post)[0].text)
    assert lines[:2] == ["N10 G17", "N20 G21"]


def test_a_wait_is_written_in_the_posts_unit() -> None:
    post = changed("metric-plain", toml=(('dwell = "s"', 'dwell = "ms"'),))
    assert "\nG4 P4000\n" in render_programs(sample_plan(), post)[0].text


def test_a_line_over_the_limit_names_template_and_line() -> None:
    post = changed("metric-plain", template=(("M5\n", "M5 {{ 'X0 ' * 30 }}\n"),))
    line = post.template.split("\n").index("M5 {{ 'X0 ' * 30 }}") + 1
    with pytest.raises(InputError) as caught:
        render_programs(sample_plan(), post)
    told = [str(fault) for fault in caught.value.faults]
    assert told[0].startswith(f"metric-plain/program.nc.j2: line {line}: emits 'M5 X0 X0")
    assert "the line is 92 characters long, 69 are allowed" in told[0]


def test_a_word_made_by_an_expression_is_checked_too() -> None:
    post = changed("metric-plain", template=(("M5\n", "M5\nG{{ 60 + 4 }}\n"),))
    line = post.template.split("\n").index("G{{ 60 + 4 }}") + 1
    with pytest.raises(InputError) as caught:
        render_programs(sample_plan(), post)
    assert str(caught.value) == (
        f"metric-plain/program.nc.j2: line {line}: emits 'G64': the word \"G64\" is not in the post's list of words"
    )


def test_a_number_worked_out_in_a_template_is_written_like_any_other() -> None:
    post = changed("metric-plain", template=(("M5\n", "M5\nG0 Z{{ number(safe_z | float + 0.1 + 0.2) }}\n"),))
    assert "\nM5\nG0 Z15.3\n" in render_programs(sample_plan(), post)[0].text


def test_a_number_that_a_template_writes_with_an_exponent_is_refused() -> None:
    post = changed("metric-plain", template=(("M5\n", "M5\nG0 Z{{ 0.0000002 }}\n"),))
    with pytest.raises(InputError, match="emits 'G0 Z2e-07'"):
        render_programs(sample_plan(), post)


def test_no_wait_is_written_when_the_machine_asks_for_none(post: Post) -> None:
    for program in render_programs(replace(sample_plan(), spindle_wait_s=0.0), post):
        assert "G4 " not in program.text


def test_a_name_found_missing_while_rendering_names_the_line() -> None:
    post = changed("metric-plain", template=(("M5\n", "M5\n{{ blank['tickness'] }}\n"),))
    line = post.template.split("\n").index("{{ blank['tickness'] }}") + 1
    with pytest.raises(InputError) as caught:
        render_programs(sample_plan(), post)
    assert str(caught.value) == (
        f'metric-plain/program.nc.j2: line {line}: "tickness" is not known to templates; did you mean "thickness"?'
    )


def test_a_template_cannot_reach_outside_its_sandbox() -> None:
    with pytest.raises(InputError, match="is not known to templates"):
        changed("metric-plain", template=(("M5\n", "{{ job.__class__ }}\n"),))
    post = changed("metric-plain", template=(("M5\n", "{{ job['__class__']['mro']() }}\n"),))
    with pytest.raises(InputError, match=r"metric-plain/program.nc.j2: line \d+"):
        render_programs(sample_plan(), post)


def test_a_plan_without_cuts_gives_no_program(post: Post) -> None:
    assert render_programs(replace(sample_plan(), runs=()), post) == ()


def test_a_traverse_goes_up_before_over_and_over_before_down() -> None:
    plan = plan_of(Traverse(10, 10, 15), Feed(10, 10, -1, 500), Traverse(50, 60, 15), Traverse(70, 80, 2))
    text = render_programs(plan, shipped("metric-plain"))[0].text
    assert "G1 Z-1 F500\nG0 Z15\nG0 X50 Y60\nG0 X70 Y80\nG0 Z2\n" in text


def test_a_move_that_rounds_to_nothing_is_left_out() -> None:
    plan = plan_of(
        Traverse(10, 10, 15), Feed(10, 10, -1, 500), Feed(10.00004, 10, -1, 500), Feed(10.00006, 10, -1, 500)
    )
    text = render_programs(plan, shipped("metric-plain"))[0].text
    assert "G1 Z-1 F500\nG1 X10.0001\n" in text


def test_a_long_program_keeps_every_move() -> None:
    motions = tuple(Feed(k % 400 + 0.123, k % 300 + 0.456, -(k % 10) / 10, 1000.0 + k % 2) for k in range(20000))
    plan = plan_of(Traverse(0, 0, 15), *motions)
    lines = render_programs(plan, shipped("metric-plain"))[0].text.splitlines()
    assert sum(line.startswith("G1 ") for line in lines) == len(motions)


def test_the_run_must_begin_at_the_safe_height() -> None:
    plan = sample_plan()
    step = Step(name="bad", panel="P1", kind="pocket", motions=(Feed(0, 0, -1, 500),))
    with pytest.raises(ValueError, match="begins with a cut"):
        render_programs(replace(plan, runs=(replace(plan.runs[0], steps=(step,)),)), shipped("metric-plain"))


def test_the_same_plan_gives_the_same_text(post: Post) -> None:
    plan: Plan = sample_plan()
    assert render_programs(plan, post) == render_programs(plan, shipped(post.name))


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("{% for a in range(99999) %}{% for b in range(99999) %}{% endfor %}{% endfor %}", "loops turn more than"),
        (
            "{% macro m(n) %}{% if n %}{{ m(n - 1) }}{{ m(n - 1) }}{% endif %}{% endmacro %}{{ m(40) }}",
            "loops turn more",
        ),
        (
            "{% set n = namespace(x=2) %}{% for a in range(5000) %}{% set n.x = n.x * n.x %}{% endfor %}",
            "no number up to",
        ),
        ("{{ 'x' * 10**9 }}", "a text repeated a few times"),
        ("{{ 2 ** 10000 }}", "the power 10000"),
        ("{{ 'x'['ljust'](10**9) }}", "ljust"),
        ("{{ comment['__globals__'] }}", "__globals__"),
    ],
)
def test_a_template_without_end_or_out_of_bounds_fails_with_its_line(text: str, told: str) -> None:
    post = changed("metric-plain", template=(("G17\n", f"G17\n{text}\n"),))
    line = post.template.split("\n").index("G17") + 2
    with pytest.raises(InputError) as caught:
        render_programs(sample_plan(), post)
    assert told in str(caught.value)
    assert f"line {line}:" in str(caught.value)


def test_a_template_that_emits_text_without_measure_is_stopped() -> None:
    text = "{% for a in range(9999) %}({{ 'x' * 999 }}){% endfor %}"
    post = changed("metric-plain", template=(("G17\n", f"G17\n{text}\n"),))
    with pytest.raises(InputError, match="emits more than"):
        render_programs(sample_plan(), post)
