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


def _talking(post: Post) -> Post:
    """Return the post; in the place of one without comments, one with."""
    return post if post.comments != "none" else shipped("metric-plain")


def _words_of(text: str) -> list[str]:
    """Return the lines of code without their numbers."""
    return [re.sub(r"^N\d+ ", "", line) for line in code_lines(text) if line != "%"]


def _over(post: Post) -> str:
    """What goes over the work begins with; where the controller has no traverse word, with its feed."""
    return "G1( F1200)?" if post.rapids == "feed" else "G0"


def _lift(post: Post) -> str:
    return r"G53 G0 Z-?[\d.]+" if post.safe_height == "machine" else rf"{_over(post)} Z[\d.]+( F\d+)?"


def _first_motion(lines: list[str]) -> int:
    return next(k for k, line in enumerate(lines) if re.match(r"(G53 )?G[01] ", line))


def test_the_head_states_everything_on_separate_lines_before_the_first_motion(post: Post) -> None:
    for program in render_programs(sample_plan(), post):
        lines = _words_of(program.text)
        first = _first_motion(lines)
        head = [word for line in lines[:first] for word in line.split()]
        offset = {post.work_offset} if post.work_offset else set()
        assert {"G17", "G90", "G94", "G20" if post.units == "in" else "G21"} | offset <= set(head)
        assert all(len(re.findall("G", line)) <= 1 for line in lines[:first])


def test_the_cutter_first_goes_up_alone_then_over_then_turns_then_down(post: Post) -> None:
    for program in render_programs(sample_plan(), post):
        lines = _words_of(program.text)
        first = _first_motion(lines)
        assert re.fullmatch(_lift(post), lines[first])
        if post.tool_change in ("pause", "word") and "M0" in lines[first + 1]:
            first += 2  # The cutter was changed at the top; up again, for the touch-off brought it down.
            assert re.fullmatch(_lift(post), lines[first])
        assert re.fullmatch(rf"{_over(post)} X[\d.]+ Y[\d.]+", lines[first + 1])
        if post.safe_height == "machine":
            first += 1
            assert re.fullmatch(r"G0 Z[\d.]+", lines[first + 1])
        assert re.fullmatch(rf"{post.spindle_word} S\d+" if post.spindle_word else "M0", lines[first + 2])
        assert re.fullmatch(r"G4 P[\d.]+", lines[first + 3])


def test_the_end_goes_up_stops_parks_and_says_so_last(post: Post) -> None:
    for program in render_programs(sample_plan(), post):
        lines = _words_of(program.text)
        assert lines[-1] == post.program_end
        assert re.fullmatch(rf"{_over(post)} X[0.]+ Y[\d.]+", lines[-2])
        assert lines[-3] == ("M5" if post.spindle_word else "M0")
        assert re.fullmatch(_lift(post), lines[-4])
        last = "%" if post.percent_lines else post.program_end
        assert program.text.endswith(last + post.line_end_text)


def test_without_a_parking_place_the_machine_stays(post: Post) -> None:
    for program in render_programs(replace(sample_plan(), park=None), post):
        assert _words_of(program.text)[-2] == ("M5" if post.spindle_word else "M0")


def test_the_head_names_job_sheet_blank_cutter_datum_and_fingerprint(post: Post) -> None:
    if post.comments == "none":
        assert not [line for line in render_programs(sample_plan(), post)[0].text.splitlines() if " " in line[:1]]
        return
    plan = replace(sample_plan(), z_zero="spoilboard")
    for program in render_programs(plan, post):
        said_in = ("job Sample all motions", "sample-18-01", "z0 at the spoilboard", "measured", "cutter")
        for said in (*said_in, f"fingerprint {program.fingerprint}"):
            assert said in program.text
    measured = "0.7008 in thick, measured" if post.units == "in" else "17.8 mm thick, measured"
    assert measured in render_programs(plan, post)[0].text


def test_a_thickness_nobody_measured_is_said_in_the_head(post: Post) -> None:
    for program in render_programs(replace(sample_plan(), thickness_is_measured=False), _talking(post)):
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
    for program in render_programs(plan, _talking(post)):
        assert "job Sink base left x" in program.text
        assert all(line.count("(") == line.count(")") <= 1 for line in program.text.splitlines())


def test_characters_a_controller_acts_on_are_not_sent_in_comments(post: Post) -> None:
    plan = replace(sample_plan(), job="50 % off! ~?$;")
    for program in render_programs(plan, _talking(post)):
        assert "job 50 _ off_ ____" in program.text


def test_long_names_are_cut_to_the_line_limit(post: Post) -> None:
    plan = sample_plan()
    step = replace(plan.runs[0].steps[0], name="N" * 300)
    plan = replace(plan, job="J" * 300, runs=(replace(plan.runs[0], steps=(step,)),))
    post = _talking(post)
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


def test_a_per_cent_sign_stands_about_the_program_or_nowhere(post: Post) -> None:
    plan = replace(sample_plan(), job="100 %")
    for program in render_programs(plan, post):
        lines = program.text.splitlines()
        assert not any("%" in line for line in lines if line != "%")
        assert lines.count("%") == (2 if post.percent_lines else 0)


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


def test_short_names_keep_their_beginning_their_cutter_and_stay_apart() -> None:
    post = shipped("metric-lines-only")
    names = set()
    for sheet in ("carcass-birch-01", "carcass-birch-02", "carcass-maple-01", "c-01", "küche-01"):
        for program in render_programs(replace(sample_plan(), sheet=sheet), post):
            stem, dot, ending = program.name.partition(".")
            assert len(stem) <= 8
            assert dot + ending == ".cnc"
            assert stem.endswith(f"T{program.cutters[0]}")
            assert stem[0] == sheet[0]
            names.add(program.name)
    assert len(names) == 10
    assert "c-01-T1.cnc" in names


def test_a_pause_names_the_cutter_and_what_to_do_during_it() -> None:
    (program,) = render_programs(sample_plan(), shipped("inch-pause-percent"))
    lines = program.text.splitlines()
    stops = [k for k, line in enumerate(lines) if "M0" in line.split()]
    assert [lines[k] for k in stops] == ["T2 M0", "T1 M0"]
    assert lines[stops[1] - 2] == "(stop: fit cutter 1: compression 1/4 in, diameter 0.25 in)"
    assert "touch off Z on the stock top with the plate" in lines[stops[1] - 1]
    assert lines[stops[1] + 1].startswith("G53 G0 Z")
    assert "M5" in lines[: stops[1]]


def test_traverses_without_a_word_for_them_are_fast_and_every_cut_states_its_feed_again() -> None:
    post = changed("metric-lines-only", toml=(("rapid_feed = 1200", "rapid_feed = 1234"),))
    for program in render_programs(sample_plan(), post):
        feed = 0.0
        for line in _words_of(program.text):
            found = re.search(r"F([\d.]+)", line)
            feed = float(found[1]) if found else feed
            z = re.search(r"Z(-?[\d.]+)", line)
            if z and float(z[1]) < 0:
                assert feed != 1234
        assert "G0" not in program.text


def test_a_change_outside_a_program_leaves_its_fingerprint() -> None:
    post = shipped("metric-plain")
    drilling, milling = render_programs(sample_plan(), post)
    plan = sample_plan()
    deeper = replace(plan, runs=(plan.runs[0], replace(plan.runs[1], rpm=17000.0)))
    other_drilling, other_milling = render_programs(deeper, post)
    assert other_drilling == drilling
    assert other_milling.fingerprint != milling.fingerprint
    described = replace(post, title="another title", description="another", name="mine")
    assert render_programs(plan, described)[0].fingerprint == drilling.fingerprint
    edited = changed("metric-plain", template=(("M5\n", "M5\nG4 P1\n"),))
    assert render_programs(plan, edited)[0].fingerprint != drilling.fingerprint


CONTRADICTIONS = [
    pytest.param('"M4", "M5"', '"M3", "M5"', "spindle: needs M4", id="reversed spindle without M4"),
    pytest.param('"G0", "G1"', '"G1"', "rapids: needs G0", id="traverses without G0"),
    pytest.param('touch_off = "paper"', 'touch_off = "paper"\nsafe_height = "machine"', "needs G53", id="no G53"),
    pytest.param('touch_off = "paper"', 'rapids = "feed"', "rapid_feed: is 0 with rapids = 'feed'", id="no fast feed"),
    pytest.param('touch_off = "paper"', "rapid_feed = 900", "rapid_feed: is 900", id="a fast feed for nothing"),
]


@pytest.mark.parametrize(("old", "new", "told"), CONTRADICTIONS)
def test_settings_that_need_a_word_the_list_lacks_are_refused(old: str, new: str, told: str) -> None:
    with pytest.raises(InputError) as caught:
        changed("metric-reversed-spindle", toml=((old, new),))
    assert told in str(caught.value)
