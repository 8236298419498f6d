"""Every length and word that may stand in a [[corner]] changes what is made, or is told to change nothing."""

import json
from dataclasses import replace

import pytest
from job_text import job_text, read

from rabbetry.cabinets.resolve import resolve_cabinets
from rabbetry.job.settings import SETTINGS, WORD_SETTINGS
from rabbetry.panels.compile import compile_corner
from rabbetry.runs.face import face_job

BASES = {
    "base": "fixed_shelves = 1\n",
    "slab": "slab_doors = true\n",
    "wall": "wall = true\nslab_doors = true\nmount = 'inset'\n",
    "frame": "faces = 'face frame'\ndoor_style = 'frame and panel'\ndoors = 'two'\n",
    "inset frame": "faces = 'face frame'\nmount = 'inset'\nbottom_joint = 'tongue'\ntop_joint = 'stopped dado'\n",
    "open": "doors = 'open'\nadjustable_shelves = 0\nfixed_shelves = 1\n",
    "stretchers": "top = 'stretchers'\nshelf_joint = 'tongue'\nfixed_shelves = 1\nkick_height = 0\n",
}


def _made(lines: str) -> tuple[object, list[str]]:
    """What is made of a corner with these lines, and what is told to change nothing; errors, when it is refused."""
    job = read(job_text(f"[[corner]]\nname = 'N1'\n{lines}"))
    resolved = resolve_cabinets(job)
    told = [item.message for item in resolved.findings if item.code == "corner-word-unused"]
    if not resolved.corners:
        return {item.code for item in resolved.findings if item.severity == "error"}, told
    faced = face_job(job, resolved)[0]
    box = compile_corner(resolved.corners[0])
    return (box, faced.frame_parts, faced.front_parts), told


@pytest.mark.parametrize("lines", BASES.values(), ids=BASES)
def test_a_length_changes_the_corner_or_is_told(lines: str) -> None:
    plain, told = _made(lines)
    assert told == []
    assert not isinstance(plain, set)
    construction = read(job_text(f"[[corner]]\nname = 'N1'\n{lines}")).corners[0].left.construction
    silent, false = [], []
    for setting in SETTINGS:
        if f"{setting.key} =" in lines:
            continue
        was = getattr(construction, setting.field)
        value = was + 0.5 if was + 0.5 <= setting.most_mm else was - 0.5
        if setting.key in _STEPS:
            value = _STEPS[setting.key]
        now, told = _made(f"{lines}{setting.key} = {json.dumps(value)}\n")
        changes, names = now != plain, any(f"{setting.key}: " in message for message in told)
        silent += [setting.key] * (not changes and not names)
        false += [setting.key] * (changes and names)
    assert (silent, false) == ([], [])


_STEPS = {"shelf_pin_rows_apart": 64, "shelf_pin_first": 160, "hinge_pitch": 100, "pilot_spacing": 90, "scribe": 5,
          "shelf_pin_end_margin": 150}  # fmt: skip
"""Values that must show where half a millimetre may not."""


def test_each_word_changes_the_corner_or_is_told() -> None:
    lines = "fixed_shelves = 1\n"
    plain, _ = _made(lines)
    for setting in WORD_SETTINGS:
        for word in setting.words:
            if (setting.key, str(word)) in _USUAL:
                continue
            now, told = _made(f"{lines}{setting.key} = {json.dumps(str(word))}\n")
            assert (now != plain) != any(f'{setting.key} = "{word}"' in message for message in told)


_USUAL = {("bottom_joint", "dado"), ("top_joint", "rabbet"), ("top_joint", "dado"), ("shelf_joint", "dado"),
          ("back", "rabbet"), ("top", "by kind"), ("top", "full"), ("bottom", "by kind"), ("bottom", "flush"),
          ("finished", "none")}  # fmt: skip
"""What a corner is made as anyway; a dado at the sides' very ends is a rabbet."""


def test_the_note_names_corner_and_word() -> None:
    _, told = _made("drawer_rear_clearance = 30\nback = 'groove'\n")
    assert told == [
        'corner "N1": back = "groove": its two backs stand in rabbets and meet in the corner; it changes nothing here',
        'corner "N1": drawer_rear_clearance: a corner has no drawers; it changes nothing here',
    ]


def test_a_corner_without_odd_words_is_silent() -> None:
    job = read(job_text("[[corner]]\nname = 'N1'\nwall = true\n"))
    assert replace(job, cabinets=()).corners[0].unused == ()
