"""A post is proven on awkward programs, and every way of editing its template wrongly is found, with its line."""

import pytest
from post_cases import NAMES, changed, shipped

from rabbetry.errors import InputError
from rabbetry.findings import has_error
from rabbetry.post.sample import sample_plan
from rabbetry.post.trials import trial_plans
from rabbetry.post_check import check_post

LIFT_LINE = "G0 Z{{ safe_z }}\n"
OVER = "{{ over }} X"
FEED_LINE = '{{ move | words("G1 X Y Z F") }}'
QUICK_LINE = '{{ move | words("G0 X Y Z") }}'


@pytest.mark.parametrize("name", NAMES)
def test_a_shipped_post_is_proven(name: str) -> None:
    check = check_post(shipped(name))
    assert check.findings == ()
    assert check.programs >= len(check.trials) == len(trial_plans())


@pytest.mark.parametrize(
    ("old", "new", "code", "at"),
    [
        pytest.param(LIFT_LINE + OVER, OVER, "first-motion", "{{ over }} X{{ run", id="no lift in the head"),
        pytest.param(FEED_LINE, '{{ move | words("G1 X=y Y=x Z F") }}', "post-cut-differs", "G1 X=y", id="swapped"),
        pytest.param(QUICK_LINE, '{{ move | words("G0 X=y Y=x Z") }}', "post-cut-differs", "", id="traverses swapped"),
        pytest.param("M3 S{{ run.rpm }}\n", "", "spindle-off", "G1 X", id="spindle not started"),
        pytest.param("M3 S{{ run.rpm }}", "M3 S9000", "post-cutter-differs", "G1 X", id="a speed of its own"),
        pytest.param("M5\n", "", "spindle-left-on", "{{ program_end }}", id="spindle not stopped"),
        pytest.param("G4 P{{ wait }}\n", "", "spindle-not-waited", "G1 X", id="no wait"),
        pytest.param("G4 P{{ wait }}", "G4 P9", "post-wait", "G4 P9", id="another wait"),
        pytest.param("G90\n", "", "distance-not-stated", "G0 Z", id="no distance mode"),
        pytest.param("G21\n", "", "units-not-stated", "G0 Z", id="no unit"),
        pytest.param("{{ program_end }}", "M5", "post-text", "M5", id="no end word"),
        pytest.param("Z F", "Z F=z", "program-word", "G1 X", id="feed from a height"),
        pytest.param("G2 X Y Z I J F", "G3 X Y Z I J F", "post-cut-differs", "G3 X", id="arcs the wrong way round"),
        pytest.param("I J F", "I=j J=i F", "program-arc", "G3 X", id="centres swapped"),
        pytest.param("G17\n", "G17\n(100% of the feed)\n", "post-text", "(100%", id="a forbidden sign in a comment"),
        pytest.param("G17\n", "G17\n; mine\n", "post-text", "; mine", id="a comment of another form"),
        pytest.param(LIFT_LINE + OVER, "G0 Z12.123456\n" + OVER, "post-text", "G0 Z12", id="too many decimals"),
        pytest.param('{{ comment("fingerprint", fingerprint) }}\n', "", "post-fingerprint", "", id="no fingerprint"),
        pytest.param('comment("op "', 'comment("step "', "post-operations-unnamed", "", id="operations not named"),
        pytest.param("in step.moves %}", "in step.moves[1:] %}", "post-cut-differs", "", id="cut left out"),
    ],
)  # fmt: skip
def test_a_template_edited_wrongly_is_found_at_its_line(old: str, new: str, code: str, at: str) -> None:
    post = changed("metric-plain", template=((old, new),))
    found = [item for item in check_post(post).findings if item.code == code]
    assert found, [item.code for item in check_post(post).findings]
    assert found[0].where.file == "metric-plain/program.nc.j2"
    lines = post.template.splitlines()
    assert not at or any(at in lines[(item.where.line or 0) - 1] for item in found), found


def test_z_taken_from_the_wrong_end_of_a_tool_change_is_found() -> None:
    post = changed("full-metric", template=(("T{{ run.number }} M6", "T{{ runs[0].number }} M6"),))
    assert "post-cutter-differs" in {item.code for item in check_post(post).findings}


def test_two_decimals_in_inches_are_too_coarse() -> None:
    found = check_post(changed("inch-plain", toml=(("length_decimals = 5", "length_decimals = 2"),))).findings
    coarse = next(item for item in found if item.code == "post-coarse")
    assert "0.127 mm" in coarse.message, "half of 0.01 in"
    assert coarse.where.file == "inch-plain/post.toml"
    assert has_error(found)


def test_two_decimals_in_millimetres_will_do() -> None:
    found = check_post(changed("metric-plain", toml=(("length_decimals = 4", "length_decimals = 2"),))).findings
    assert not has_error(found), found


def test_milliseconds_must_be_asked_for() -> None:
    said = (('dwell = "s"', 'dwell = "ms"'),)
    assert check_post(changed("metric-plain", toml=said)).findings == ()
    wrong = changed("metric-plain", toml=said, template=(("G4 P{{ wait }}", "G4 P4"),))
    assert "post-wait" in {item.code for item in check_post(wrong).findings}


@pytest.mark.parametrize("arcs", ["radius", "none"])
def test_every_form_of_arc_is_proven(arcs: str) -> None:
    post = changed(
        "metric-plain",
        toml=(('arcs = "centre"', f'arcs = "{arcs}"'), ("F I J P", "F I J P R")),
        template=(("I J F", "I J R F"),),
    )
    assert check_post(post).findings == ()


def test_t56_a_word_the_list_lacks_is_refused_with_its_line() -> None:
    with pytest.raises(InputError, match=r"program\.nc\.j2: line \d+: .*G64"):
        check_post(changed("metric-plain", template=(("G17\n", "G17\nG64 P0.02\n"),)))


def test_t58_a_long_literal_line_is_refused_with_its_line() -> None:
    long = "(" + "take care " * 9 + ")"
    with pytest.raises(InputError, match=r"program\.nc\.j2: line \d+: .*characters long, 69 are allowed"):
        check_post(changed("metric-plain", template=(("G17\n", f"{long}\nG17\n"),)))


def test_the_trials_hold_what_they_promise() -> None:
    plans = {trial.title: trial.plan for trial in trial_plans()}
    assert plans["every kind of motion"] == sample_plan()
    assert len(plans["names of 300 letters"].sheet) == 300
    kinds = {type(m).__name__ for run in sample_plan().runs for step in run.steps for m in step.motions}
    assert kinds == {"Traverse", "Feed", "ArcFeed", "DrillHole"}


@pytest.mark.parametrize(
    ("post", "old", "new", "code"),
    [
        pytest.param("metric-reversed-spindle", "{{ spindle_word }} S", "M3 S", None, id="M3 where it is not listed"),
        pytest.param("inch-pause-percent", "T{{ run.number }} M0", "M0", "post-cutter-differs", id="pause, no cutter"),
        pytest.param("inch-pause-percent", "\nM5\n{% endfor %}", "\n{% endfor %}\nM5", "program-tool",
                     id="changed with the spindle on"),
        pytest.param("inch-pause-percent", "T{{ run.number }} M0\nG53 G0 Z{{ machine_safe_z }}", "T{{ run.number }} M0",
                     "first-motion", id="no lift after the touch-off"),
        pytest.param("metric-lines-only", "G1 X Y Z F", "G1 X Y Z", "post-cut-differs", id="fast feed kept for cuts"),
        pytest.param("metric-lines-only", 'move.kind == "traverse" or ', "", "post-cut-differs", id="no traverses"),
        pytest.param("metric-lines-only", "G1 Z{{ safe_z }} F{{ rapid_feed }}\n{{ over }} X{{ run.start.x }}",
                     "G1 F{{ rapid_feed }} X{{ run.start.x }}", "first-motion", id="no lift at a fast feed"),
        pytest.param("metric-numbered-radius", "G2 X Y Z R F", "G3 X Y Z R F", "post-cut-differs", id="radius arcs"),
        pytest.param("metric-numbered-radius", "{{ work_offset }}\n", "", "offset-not-stated", id="no work offset"),
    ],
)  # fmt: skip
def test_mistakes_in_other_posts_are_found(post: str, old: str, new: str, code: str | None) -> None:
    if code is None and "M3" in new:
        with pytest.raises(InputError, match="M3"):
            changed(post, template=((old, new),))
        return
    found = {item.code for item in check_post(changed(post, template=((old, new),))).findings}
    assert (code in found) if code else found == set(), found


def test_the_wrong_way_round_is_told_for_either_spindle() -> None:
    listed = (('"M4", "M5"', '"M3", "M4", "M5"'),)
    backwards = changed("metric-reversed-spindle", toml=listed, template=(("{{ spindle_word }} S", "M3 S"),))
    told = [item for item in check_post(backwards).findings if item.code == "spindle-backwards"]
    assert "M3 turns the cutter backwards" in told[0].message
    listed = (('"M3", "M5"', '"M3", "M4", "M5"'),)
    backwards = changed("metric-plain", toml=listed, template=(("M3 S", "M4 S"),))
    told = [item for item in check_post(backwards).findings if item.code == "spindle-backwards"]
    assert "M4 turns the cutter backwards" in told[0].message
