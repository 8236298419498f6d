"""Some panels cut once more: no wall to draw and no solid wood to make again."""

from test_trim import TWO, compiled

from rabbetry.recut import only
from rabbetry.runs.model import Faced


def test_a_recut_has_no_runs_and_no_solid_parts() -> None:
    whole = compiled(TWO)
    assert whole.faced.runs
    assert whole.faced.frame_parts
    assert only(whole, whole.panels[:1]).faced == Faced()
