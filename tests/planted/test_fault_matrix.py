"""Faults of every kind, each planted at several places of a real job's programs: all are found, with a fitting code
and, where the fault has a line, at that line.

Run as a script it prints the table, as `pytest -s` does.
"""

import random
from dataclasses import dataclass

import fault_matrix_setups as setups
import fault_matrix_shapes as shapes
import fault_matrix_words as words
import pytest
from fault_matrix_kit import POSTS, Fault, Setup, Sheet, clean_sheets, fault_of, spoilt

from rabbetry.findings import Finding

PLACES = 3
"""Faults of one kind that are tried, spread over the posts."""


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of fault: what may be told of it, and where it can be planted."""

    name: str
    codes: str
    text: words.Places | None = None
    setup: setups.Faults | None = None
    all_words: bool = False
    """The controller takes every word, so that it is not the word that is refused."""

    def chosen(self, post: str) -> list[Fault]:
        """Return some of the post's faults of this kind, chosen by a seed."""
        chance = random.Random(f"{self.name}, {post}")
        sheets = [sheet for sheet in clean_sheets() if sheet.post == post]
        faults: list[Fault] = []
        if self.setup is not None:
            faults = [fault for sheet in sheets for fault in self.setup(sheet)]
        elif self.text is not None:
            places = [(sheet, text, change) for sheet in sheets for text in sheet.texts for change in self.text(text)]
            faults = [spoilt(*place) for place in chance.sample(places, min(PLACES, len(places)))]
        return [fault.accepting_all_words() if self.all_words else fault for fault in faults]


def _needs(setup: Setup) -> None:
    for panel in setup["target"]["panels"][:1]:  # An air run's setup names none.
        panel["hold"].update(at_least=14, at_most=20)


WRONG_PLACE = (
    "bore-missing bore-too-wide bore-too-deep bore-too-shallow recess-cut-too-deep gouge axis-limit not-cut-free "
    "leftover pass-too-deep program-arc program-cycle"
)
WILD = "program-arc relative-at-cut axis-limit gouge spoilboard-bite traverse-in-stock first-motion pass-too-deep"

KINDS = [
    Kind("unit word wrong", "axis-limit first-motion", words.unit_word, all_words=True),
    Kind("unit word missing", "units-not-stated", words.removed("G2[01]$")),
    Kind("distance mode missing", "distance-not-stated", words.removed("G90$")),
    Kind("plane missing", "plane-not-stated", words.removed("G17$")),
    Kind("work offset missing", "offset-not-stated", words.removed("G54$")),
    Kind("feed mode missing", "feed-mode-not-stated", words.removed("G94$")),
    Kind("inverse-time feed", "program-feed program-cycle", words.replaced("G94$", "G93", shows=False), all_words=True),
    Kind("wrong work offset", "wrong-work-offset", words.replaced("G54$", "G55"), all_words=True),
    Kind("wrong plane", "program-arc program-cycle axis-limit", words.other_plane, all_words=True),
    Kind("relative mode at the head", WILD, words.replaced("G90$", "G91", shows=False), all_words=True),
    Kind("relative mode left on", WILD, words.inserted("G91", span=30), all_words=True),
    Kind(
        "plunge doubled in relative mode", "bore-too-deep spoilboard-bite", words.doubled_while_relative, all_words=True
    ),
    Kind("sign lost", WRONG_PLACE, words.sign_lost),
    Kind("sign added", "axis-limit program-arc", words.sign_added),
    Kind("digit changed", WRONG_PLACE, words.digit_changed),
    Kind("decimal point lost", "axis-limit program-size program-word program-arc program-syntax", words.point_lost),
    Kind("decimal point moved", WRONG_PLACE, words.point_moved),
    Kind("decimal comma", "program-syntax program-word", words.comma),
    Kind("letter O for a nought", "program-syntax program-word", words.letter_for_digit),
    Kind("word given twice", "program-word program-syntax", words.word_twice),
    Kind("unknown word", "program-word", words.inserted("G37.9")),
    Kind("two motion words in a line", "program-group", words.inserted("G1 G2 X1")),
    Kind("comment not closed", "program-syntax", words.bracket_lost),
    Kind("text after the end", "text-after-end", words.replaced("M30$", "M30\\nG1 X1", span=2)),
    Kind("X and Y swapped", WRONG_PLACE, words.axes_swapped),
    Kind("first lift missing", "first-motion", words.removed("G0 Z", which=slice(1), span=1)),
    Kind("lift before a traverse missing", "traverse-in-stock", words.no_lift),
    Kind("traverse through stock", "traverse-in-stock", words.inserted("G0 Z-2", "G0 X300 Y300", span=2)),
    Kind("cut at the traverse rate", "traverse-in-stock", words.cut_at_traverse_rate),
    Kind("spindle start missing", "spindle-off", words.switched(words.removed("M3 S"))),
    Kind("both pauses missing, spindle by hand", "spindle-off", words.no_pauses),
    Kind("spindle stopped too early", "spindle-off", words.switched(words.inserted("M5", at=1, span=8))),
    Kind("spindle backwards", "spindle-backwards", words.replaced("M3 S", "M4 S"), all_words=True),
    Kind("spindle speed missing", "spindle-no-speed", words.first_speed_missing),
    Kind("speed of the cutter before", "spindle-kept-speed", words.later_speed_missing),
    Kind("spindle too fast", "spindle-range", words.replaced(r"M3 S(\d+)", r"M3 S\g<1>0")),
    Kind("spindle too slow", "spindle-range", words.replaced(r"M3 S(\d+)0$", r"M3 S\1")),
    Kind("wait missing", "spindle-not-waited", words.switched(words.removed("G4 P5", span=6))),
    Kind("wait of milliseconds", "spindle-not-waited", words.switched(words.replaced("G4 P5", "G4 P0.005", span=8))),
    Kind("wait of thousands of seconds", "long-wait", words.replaced(r"G4 P(\d)", r"G4 P\g<1>000")),
    Kind("spindle left on", "spindle-left-on", words.switched(words.removed("M5", which=slice(-1, None), span=3))),
    Kind("feeds missing", "program-feed", words.no_feeds),
    Kind("plunge at the cutting feed", "feed-over-limit", words.plunge_feed_lost),
    Kind("feed ten times too high", "feed-over-limit", words.feed_tenfold),
    Kind("plunge missing", "bore-missing bore-too-shallow tab-too-big not-cut-free", words.plunge_missing),
    Kind("arc turned the other way", "gouge recess-cut-too-deep", words.arc_turned),
    Kind("arc centre wrong", "program-arc", words.arc_centre),
    Kind("last lifts missing", "ends-low traverse-in-stock", words.last_lifts_missing),
    Kind("end missing", "program-end", words.removed("M30$")),
    Kind("program truncated", "program-end", words.truncated),
    Kind(
        "an operation's lines lost",
        "bore-missing feature-missing outline-not-cut leftover not-cut-free",
        words.middle_lost,
    ),
    Kind("cutter changed low", "tool-change-low", words.with_changes(words.lifts_before_change_missing)),
    Kind("length of another cutter", "wrong-length-offset", words.length_of_other_cutter),
    Kind("length of a cutter not called", "wrong-length-offset", words.removed("G43", which=slice(1, None), span=9)),
    Kind("cutter not there", "cutter-unknown", words.replaced(r"T\d+ M6", "T99 M6")),
    Kind("cutter not set up", "wrong-cutter", words.cutter_not_set_up),
    Kind(
        "another cutter called",
        WRONG_PLACE + " bore-too-narrow feature-missing wrong-cutter",
        words.other_cutter_called,
    ),
    Kind(
        "origin moved",
        "gouge leftover axis-limit outline-not-cut",
        words.cutting(words.inserted("G92 X3", span=0)),
        all_words=True,
    ),
    Kind("hole dropped", "bore-missing bore-too-shallow", shapes.hole_dropped),
    Kind("hole added", "gouge bore-too-wide bore-too-deep recess-cut-too-deep", shapes.hole_added),
    Kind("hole moved by 0.5", "bore-too-wide", shapes.hole_moved(0.5)),
    Kind("hole moved by 0.15", "bore-too-wide", shapes.hole_moved(0.15)),
    Kind("hole too deep by 0.2", "bore-too-deep", shapes.hole_depth(0.2)),
    Kind("hole too shallow by 0.2", "bore-too-shallow", shapes.hole_depth(-0.2)),
    Kind("pass skipped", "pass-too-deep", shapes.pass_skipped),
    Kind("last pass skipped", "not-cut-free", shapes.last_pass_skipped),
    Kind("outline not quite through", "not-cut-free", shapes.outline_depth(-0.4)),
    Kind("outline too deep", "spoilboard-bite", shapes.outline_depth(0.5)),
    Kind("outline shifted by 0.1", "gouge recess-cut-too-deep", shapes.outline_shifted(0.1)),
    Kind("outline shifted by 3", "gouge recess-cut-too-deep", shapes.outline_shifted(3.0)),
    Kind("tabs dropped", "tabs-missing", shapes.tabs_dropped),
    Kind("all tabs gone", "tabs-missing", shapes.no_tabs),
    Kind("tab too long", "tab-too-big", shapes.tab_length(2.0)),
    Kind("tab too short", "tab-too-small", shapes.tab_length(-2.0)),
    Kind("tab too high", "tab-too-big", shapes.tab_height(1.0)),
    Kind("tab too low", "tab-too-small", shapes.tab_height(-1.0)),
    Kind("recess deeper by 0.2", "recess-cut-too-deep bore-too-deep", shapes.recess_depth(0.2)),
    Kind("recess shallower by 0.2", "recess-too-shallow bore-too-shallow leftover", shapes.recess_depth(-0.2)),
    Kind("recess shifted by 0.1", "gouge recess-cut-too-deep bore-too-wide program-arc", shapes.recess_shifted(0.1)),
    Kind("recess shifted by 1", "gouge recess-cut-too-deep bore-too-wide program-arc", shapes.recess_shifted(1.0)),
    Kind("recess missing", "feature-missing leftover bore-missing", shapes.recess_missing),
    Kind("groove shorter", "leftover", shapes.groove_shorter),
    Kind("relief missing", "corner-too-tight", shapes.relief_missing),
    Kind("outline before its inner work", "cut-after-outline", shapes.outline_first),
    Kind("programs in the wrong order", "cut-after-outline", setup=setups.run_backwards),
    Kind(
        "programs exchanged",
        WRONG_PLACE + " bore-too-narrow outline-not-cut air-run-low",
        setup=setups.texts_exchanged,
    ),
    Kind("program missing", "sheet-incomplete", setup=setups.program_missing),
    Kind("hole never planned", "bore-missing bore-too-shallow", setup=setups.hole_not_planned),
    Kind("cutter worn by 0.1, groove narrow", "leftover", setup=setups.worn(4, 0.1)),
    Kind("cutter worn by 0.05, groove narrow", "leftover", setup=setups.worn(4, 0.05)),
    Kind("profile cutter worn by 0.1", "leftover", setup=setups.worn(1, 0.1)),
    Kind("profile cutter thicker by 0.1", "gouge", setup=setups.worn(1, -0.1)),
    Kind("drill thinner by 0.2", "bore-too-narrow", setup=setups.worn(5, 0.2)),
    Kind("drill thicker by 0.2", "bore-too-wide", setup=setups.worn(6, -0.2)),
    Kind("cutter that cannot plunge", "plunge-in-stock", setup=setups.cutter(1, centre_cutting=False)),
    Kind("flutes too short", "deeper-than-flutes", setup=setups.cutter(1, flute_length_mm=5.0)),
    Kind("cutter too short", "holder-hits-stock", setup=setups.cutter(1, stick_out_mm=5.5)),
    Kind(
        "compression cutter, shallow first pass",
        "compression-shallow-pass",
        setup=setups.cutter(1, kind="compression", up_cut_length_mm=6.2),
    ),
    Kind("clamp moved into a cut", "cut-into-clamp traverse-through-clamp", setup=setups.clamp_on(tall=False)),
    Kind("clamp taller than the lift", "traverse-through-clamp", setup=setups.clamp_on(tall=True)),
    Kind("blank thinner", "spoilboard-bite", setup=setups.everywhere(setups.thickness(-1.0))),
    Kind("blank thicker", "not-cut-free", setup=setups.everywhere(setups.thickness(1.0))),
    Kind("blank turned", "part-off-blank", setup=setups.turned),
    Kind("blank off the bed", "axis-limit", setup=setups.everywhere(setups.offset_moved(0, -60.0))),
    Kind("blank too high", "axis-limit", setup=setups.everywhere(setups.offset_moved(2, 110.0))),
    Kind("G53 with an unknown offset", "cannot-verify", setup=setups.offset_unknown_with("G53 G0 Z0"), all_words=True),
    Kind("G28 with home unknown", "cannot-verify", setup=setups.offset_unknown_with("G28"), all_words=True),
    Kind("fewer tabs than asked", "tabs-missing", setup=setups.everywhere(_needs)),
]


def planted(kind: Kind) -> list[Fault]:
    """Return the faults of a kind that are tried: chosen by a seed, the posts in turn."""
    pools = [kind.chosen(post) for post in POSTS]
    for pool in pools:
        random.Random(kind.name).shuffle(pool)
    turns = [pool[turn] for turn in range(PLACES) for pool in pools if turn < len(pool)]
    return turns[:PLACES]


def missed(kind: Kind, fault: Fault) -> str:
    """Return what is wrong with the findings of a fault; empty when it was found."""
    fits = [item for item in fault.found() if item.code in kind.codes.split() and item.severity != "note"]
    if not fits:
        return f"{fault.sheet.post} {fault.sheet.name} {fault.file} {fault.lines}: {_codes(fault)}"
    if fault.lines and not any(item.where.file == fault.file and item.where.line in fault.lines for item in fits):
        told = [(item.where.file, item.where.line, item.code) for item in fits]
        return f"{fault.sheet.post} {fault.sheet.name} {fault.file} {fault.lines}: told at {told}"
    return ""


def _codes(fault: Fault) -> list[str]:
    return sorted({item.code for item in fault.found()})


def row(kind: Kind) -> tuple[int, list[str]]:
    """Return how many faults of a kind were tried, and those missed."""
    faults = planted(kind)
    return len(faults), [message for fault in faults if (message := missed(kind, fault))]


def _errors(found: tuple[Finding, ...]) -> list[str]:
    return [f"{item.where.file}:{item.where.line} {item.code}: {item.message}" for item in found]


@pytest.mark.parametrize("sheet", clean_sheets(), ids=lambda sheet: f"{sheet.post} {sheet.name}")
def test_a_clean_program_raises_nothing(sheet: Sheet) -> None:
    assert _errors(fault_of(sheet).found()) == []


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_every_planted_fault_is_found(kind: Kind) -> None:
    tried, not_found = row(kind)
    print(f"\n{kind.name:<44} {tried - len(not_found)} of {tried}", end="")
    assert tried > 0, "the fault could be planted nowhere"
    assert not_found == []


def print_table() -> None:
    """Print kind, faults found and faults tried."""
    for kind in KINDS:
        tried, not_found = row(kind)
        print(f"{kind.name:<44} {tried - len(not_found)} of {tried}", *not_found, sep="\n    ")


if __name__ == "__main__":
    print_table()
