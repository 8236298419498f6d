"""Sums of sizes: what is shown adds up to what is cut, and questions are understood."""

import json
import re
from fractions import Fraction
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from rabbetry.cli import main
from rabbetry.console import job_of
from rabbetry.errors import InputError
from rabbetry.explain.answer import sum_text
from rabbetry.explain.leaves import traced_job
from rabbetry.explain.sizes import sizes_of
from rabbetry.explain.traced import Leaf, Traced, sum_of
from rabbetry.explaining import explain
from rabbetry.pipeline import compile_job

JOBS = sorted((Path(__file__).parents[2] / "sample_jobs").glob("*.toml"))
ONE = next(path for path in JOBS if path.stem == "one-base-cabinet")
CANTEEN = next(path for path in JOBS if path.stem == "boatyard-canteen")

FACTOR = re.compile(r"(\d+(?:/\d+)?) x ")
NOTE = re.compile(r" \([^()]*\)")


def added_up(text: str) -> float:
    """Work out a printed sum with nothing but the text: terms by their signs, factor before, number last."""
    total = Fraction(0)
    signed = re.split(r"(?:^| )([+-]) ", f" + {NOTE.sub('', text)}")[1:]
    for sign, term in zip(signed[::2], signed[1::2], strict=True):
        factor = FACTOR.match(term)
        number = Fraction(term.removesuffix(" in").split()[-1])
        total += (1 if sign == "+" else -1) * (Fraction(factor[1]) if factor else 1) * number
    return float(total)


def test_the_reader_of_sums_adds_up() -> None:
    assert added_up("width 600 - 2 x thickness 17.8 (stock a, measured) + 1/2 x drawer front no. 1 10") == 569.4


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_every_printed_sum_gives_the_compiled_length_and_width(path: Path) -> None:
    job = job_of(path)
    cut = {panel.id: panel for panel in compile_job(job).panels}
    traced = {panel.id: panel for panel in compile_job(traced_job(job)).panels}
    assert cut.keys() == traced.keys()
    units = str(job.units)
    step = 1.0 if units == "mm" else 25.4
    for name, panel in cut.items():
        for word in ("length_mm", "width_mm", "thickness_mm"):
            wanted, found = getattr(panel, word), sum_of(getattr(traced[name], word))
            assert found.mm == pytest.approx(wanted, abs=1e-9), name
            if not found.terms:  # a slide's length comes from a table; a corner's post is as wide as it is
                is_drawer_side = name.endswith("side") and "drawer" in name
                assert is_drawer_side or (name.endswith("corner post") and word == "width_mm"), name
                continue
            shown = added_up(sum_text(found, units)) * step
            # Each number is printed to 0.0005 mm, or to 0.00005 in.
            rounding = sum(abs(float(term.factor)) for term in found.terms) + 1
            assert shown == pytest.approx(wanted, abs=0.0015 * rounding), (name, word)


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_tracing_changes_no_size_and_every_sum_gives_its_size(path: Path) -> None:
    job = job_of(path)
    plain, traced = compile_job(job), compile_job(traced_job(job))
    assert plain == traced
    before = {size.name: size.mm for size in sizes_of(plain.cabinets, plain.panels)}
    after = sizes_of(traced.cabinets, traced.panels)
    assert {size.name: size.mm for size in after} == before
    for size in after:
        assert sum_of(size.mm).mm == pytest.approx(before[size.name], abs=1e-6), size.name


@pytest.mark.parametrize(
    ("question", "text"),
    [
        # Design section 5, by hand: 600 - 2 x 17.8 + 2 x 6 = 576.4.
        (
            "B1 bottom length",
            "B1 bottom length = 576.4 mm = width 600 - 2 x thickness 17.8 (stock carcass, measured) + 2 x dado depth 6",
        ),
        ("B1 bottom width", "B1 bottom width = 574.2 mm = depth 580 - thickness 5.8 (stock thin, measured)"),
        # 600 - 35.6 + 12 - 0.2 = 576.2
        (
            "B1 back length",
            "B1 back length = 576.2 mm = width 600 - 2 x thickness 17.8 (stock carcass, measured) "
            "+ 2 x back rabbet depth 6 - fit clearance 0.2",
        ),
        (
            "B1 left side bottom dado width",
            "B1 left side bottom dado width = 18 mm = thickness 17.8 (stock carcass, measured) + fit clearance 0.2",
        ),
        (
            "B1 right side bottom dado height",
            "B1 right side bottom dado height = 99.9 mm = kick height 100 - 1/2 x fit clearance 0.2",
        ),
        # Mirrored: the left side's y counts from the rear edge. 580 - 37 = 543.
        (
            "b1 LEFT side  front pin 1 y",
            "B1 left side front pin 1 y = 543 mm = depth 580 - shelf pin front 37",
        ),
        # 600 - 35.6 - 42 + 12 = 534.4
        (
            "B1 drawer 1 back length",
            "B1 drawer 1 back length = 534.4 mm = width 600 - 2 x thickness 17.8 (stock carcass, measured) "
            "- drawer width allowance 42 + 2 x drawer rabbet depth 6",
        ),
        # 876 - 100 - 157 - 2 x 3 = 613
        (
            "B1 door length",
            "B1 door length = 613 mm = height 876 - 2 x front gap 3 - drawer front no. 1 157 - kick height 100",
        ),
        (
            "B1 drawer 1 left side length",
            "B1 drawer 1 left side length = 550 mm = a fixed value or a row of a table, no sum",
        ),
    ],
)
def test_a_size_is_told_with_its_sum(question: str, text: str) -> None:
    assert [item.text for item in explain(job_of(ONE), [question])] == [text]


def test_in_inches_numbers_are_shown_with_their_fractions() -> None:
    # 23.25 - 2 x 0.703 + 2 x 0.25 = 22.344
    assert explain(job_of(CANTEEN), ["C1 coffee bottom length"])[0].text == (
        "C1 coffee bottom length = 22.344 in (~22 11/32) = width 23.25 in (23 1/4) - 2 x thickness 0.703 in (~45/64) "
        "(stock ply34, measured) + 2 x dado depth 0.25 in (1/4)"
    )


def test_words_that_fit_sizes_of_one_and_the_same_sum_get_it() -> None:
    found = explain(job_of(ONE), ["B1 front shelf pin 3 height"])
    assert [item.name for item in found] == ["B1 left side front pin 3 height", "B1 right side front pin 3 height"]
    assert found[0].mm == found[1].mm


def test_a_cabinet_answers_with_all_its_panels_and_a_panel_with_its_features() -> None:
    job = job_of(ONE)
    names = {item.name for item in explain(job, ["B1"])}
    for panel in compile_job(job).panels:
        assert {f"{panel.id} {word}" for word in ("length", "width", "thickness")} <= names
    assert not any("pin 1 x" in name for name in names)
    own = {item.name for item in explain(job, ["B1 left side"])}
    assert {"B1 left side length", "B1 left side back rabbet depth", "B1 left side front pin 1 diameter"} <= own
    assert not any(name.startswith("B1 right") for name in own)


def test_all_questions_that_name_no_size_are_told_at_once() -> None:
    with pytest.raises(InputError) as told:
        explain(job_of(ONE), ["B1 bottom lenght", "B1 bottom length", "pizza", "B1 side length"])
    first, second, third = (str(fault) for fault in told.value.faults)
    assert first == (
        'one-base-cabinet.toml: --explain: no size is called "B1 bottom lenght"; nearest: B1 bottom length'
    )
    assert second == (
        'one-base-cabinet.toml: --explain: no size is called "pizza"; a size is called B1 left side length, for example'
    )
    assert third.startswith('one-base-cabinet.toml: --explain: "B1 side length" fits ')
    assert "say which: B1 left side length, B1 right side length, " in third


def test_the_command_prints_several_sums_and_refuses_unknown_ones() -> None:
    run = CliRunner().invoke(
        main, ["check", str(ONE), "--explain", "B1 bottom width", "--explain", "B1 inside width", "--json"]
    )
    assert run.exit_code == 0, run.output
    width, inside = json.loads(run.output)
    assert width["mm"] == 574.2
    assert [(term["factor"], term["key"], term["mm"]) for term in width["terms"]] == [
        ("1", "depth", 580.0),
        ("-1", "thickness", 5.8),
    ]
    assert inside["text"].startswith("B1 inside width = 564.4 mm = width 600 - 2 x thickness 17.8")
    assert CliRunner().invoke(main, ["check", str(ONE), "--explain", "nothing"]).exit_code == 2


LEAVES = [Leaf(name=name, mm=mm) for name, mm in (("a", 600.0), ("b", 17.8), ("c", 0.2))]
numbers = st.sampled_from([*LEAVES, 0.0, 1.0, 2.0, 0.5, 37.0])


@given(st.lists(st.tuples(st.sampled_from("+-*/n<>r"), numbers), max_size=12), numbers)
def test_a_traced_number_is_its_float_and_its_sum(steps: list[tuple[str, object]], start: object) -> None:
    def both(item: object) -> tuple[float, float]:
        return (Traced.leaf(item), item.mm) if isinstance(item, Leaf) else (item, item)  # type: ignore[return-value]

    traced, plain = both(start)
    for sign, item in steps:
        other, value = both(item)
        if sign == "+":
            traced, plain = other + traced, value + plain
        elif sign == "-":
            traced, plain = traced - other, plain - value
        elif sign == "*" and abs(plain) < 1e6:
            traced, plain = traced * other, plain * value
        elif sign == "/" and value:
            traced, plain = traced / other, plain / value
        elif sign == "n":
            traced, plain = -traced, -plain
        elif sign == "<":
            traced, plain = min(traced, other), min(plain, value)
        elif sign == ">":
            traced, plain = max(traced, abs(other)), max(plain, abs(value))
        elif sign == "r":
            traced, plain = round(traced, 6), round(plain, 6)
    assert traced == plain
    assert hash(traced) == hash(plain)
    # Rounding to six places is not part of the sum; each may be off by half of the last, then multiplied.
    assert sum_of(traced).mm == pytest.approx(plain, rel=1e-5, abs=1e-2)
