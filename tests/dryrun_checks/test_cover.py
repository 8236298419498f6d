"""What is left out of a sweep covers nothing that the rest does not cover."""

import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from rabbetry.dryrun.cover import Cover, Key
from rabbetry.dryrun.sweep import Sweeps

_RADIUS = st.sampled_from([1.5, 3.175])
_PLACE = st.sampled_from([-6.0, -2.5, 0.0, 1.25, 3.0, 4.0, 7.5, 20.0])
_POINT = st.tuples(_PLACE, _PLACE)


def _capsule(radius: float, a: tuple[float, float], b: tuple[float, float]) -> Key:
    return (radius, *min(a, b), *max(a, b)) if a != b else (radius, *a)


KEYS = st.lists(
    st.builds(_capsule, _RADIUS, _POINT, _POINT)
    | st.builds(lambda radius, x, y, x1: _capsule(radius, (x, y), (x1, y)), _RADIUS, _PLACE, _PLACE, _PLACE)
    | st.builds(lambda radius, a: (radius, *a), _RADIUS, _POINT)
    | st.builds(
        lambda radius, a, path, begin, sweep: (radius, *a, path, begin, sweep),
        _RADIUS,
        _POINT,
        st.sampled_from([0.5, 3.175, 9.0]),
        st.floats(0, 6.2),
        st.floats(0.1, 6.2),
    ),
    max_size=12,
)


def _region(sweeps: Sweeps, keys: list[Key]) -> shapely.geometry.base.BaseGeometry:
    return sweeps.union(keys, shapely.Polygon())


@settings(max_examples=100, deadline=None)
@given(KEYS, KEYS)
def test_the_fresh_pieces_cover_what_all_pieces_cover(first: list[Key], second: list[Key]) -> None:
    sweeps, cover = Sweeps([], 0.0), Cover()
    level = _region(sweeps, cover.add(first))
    both = sweeps.union(cover.add(second), level)
    for ours, plain in ((level, _region(sweeps, first)), (both, _region(sweeps, first + second))):
        # A disc left out may be turned against the capsule that holds it: twice the chord error.
        assert plain.difference(ours.buffer(0.008)).is_empty
        assert ours.difference(plain.buffer(0.008)).is_empty


def test_passes_along_one_line_become_one_piece() -> None:
    passes: list[Key] = [
        (3.0, 0.0, 0.0, 10.0, 0.0),
        (3.0, 10.0, 0.0, 25.0, 0.0),
        (3.0, 5.0, 0.0, 12.0, 0.0),
        (3.0, 7.0, 0.0),
    ]
    assert Cover().add(passes) == [(3.0, 0.0, 0.0, 25.0, 0.0)]


def test_what_lies_in_an_earlier_run_adds_nothing() -> None:
    cover = Cover()
    cover.add([(3.0, 0.0, 0.0, 0.0, 40.0)])
    assert cover.add([(3.0, 0.0, 10.0, 0.0, 20.0), (3.0, 0.0, 30.0)]) == []


def test_another_width_or_a_gap_is_not_joined() -> None:
    keys: list[Key] = [
        (3.0, 0.0, 0.0, 10.0, 0.0),
        (3.0, 10.5, 0.0, 25.0, 0.0),
        (1.5, 5.0, 0.0, 12.0, 0.0),
        (1.5, 20.0, 0.0),
    ]
    assert sorted(Cover().add(keys)) == sorted(keys)
