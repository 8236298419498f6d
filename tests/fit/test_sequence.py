"""The order of assembly: proven by putting the box together again in small steps, which is not how it was found."""

from collections.abc import Iterator
from dataclasses import replace

import pytest

from box_kit import cabinet_of, order
from rabbetry.fit.assemble import Body, assemble, body_of, shared_space
from rabbetry.fit.model import Assembly
from rabbetry.fit.sequence import assembly_of
from rabbetry.fit.shape import shape_of
from rabbetry.job.model import CabinetKind, Nailer
from rabbetry.panels.compile import compile_cabinet
from rabbetry.panels.model import Box, Recess, Vec3

FULL = order(
    CabinetKind.BASE,
    doors=2,
    drawer_front_heights_mm=(150.0,),
    fixed_shelves=1,
    adjustable_shelves=1,
    nailer=Nailer.TOP,
    height_mm=1200.0,
)
PLAIN = order(CabinetKind.WALL, adjustable_shelves=1, height_mm=700.0)
AWAY = (1.0, 3.0, 5.0, 7.0, 9.0, 12.0, 18.0, 40.0, 90.0, 200.0, 420.0, 1500.0)
"""Distances from its seat at which a panel on its way in is compared with what is there, millimetres."""


@pytest.fixture(scope="module", params=[FULL, PLAIN], ids=["drawer over doors", "wall"])
def box(request: pytest.FixtureRequest) -> Box:
    return compile_cabinet(cabinet_of(request.param))


def shifted(body: Body, way: Vec3, by: float) -> Body:
    x, y, z = body.place.origin
    place = replace(body.place, origin=(x + way[0] * by, y + way[1] * by, z + way[2] * by))
    return body_of(body.panel, place)


def ways_in(found: Assembly) -> Iterator[tuple[tuple[str, ...], Vec3, tuple[str, ...]]]:
    """Yield what moves, from where, and what is there already; a whole is put together beside the box."""
    there: tuple[str, ...] = ()
    whole: tuple[str, ...] = ()
    for step in found.steps:
        if step.group:
            assert step.from_side is not None
            yield step.group, step.from_side, tuple(name for name in there if name not in step.group)
            continue
        if step.from_side is None:
            whole = ()
        elif step.joins:
            yield (step.panel,), step.from_side, whole
        else:
            yield (step.panel,), step.from_side, there
        whole += (step.panel,)
        there += (step.panel,)


def test_every_panel_comes_once_and_no_step_runs_into_anything(box: Box) -> None:
    bodies = assemble(box)
    found = assembly_of(box, bodies)
    assert sorted(step.panel for step in found.steps if step.panel) == sorted(bodies)
    assert not any(step.is_stuck for step in found.steps)
    compared = 0
    for movers, way, there in ways_in(found):
        for by in AWAY:
            for mover in movers:
                moved = shifted(bodies[mover], way, by)
                for other in there:
                    assert shared_space(moved, bodies[other]) is None, (mover, other, by)
                    compared += 1
    assert compared > 100


def test_a_carcass_is_built_as_people_build_it() -> None:
    box = compile_cabinet(cabinet_of(PLAIN))
    found = assembly_of(box, assemble(box))
    roles = [found.solids[k].role for k in range(len(found.solids))]
    assert roles[0] == "left side"
    assert roles.index("bottom") < roles.index("right side") < roles.index("back") < roles.index("shelf 1")
    (bottom,) = [step for step in found.steps if step.panel.endswith(" bottom")]
    assert bottom.from_side == (1.0, 0.0, 0.0), "out of the left side's face, not along its slot"
    assert [recess for _, recess, _ in bottom.joins] == ["bottom dado"]


def test_a_panel_that_nothing_lets_out_is_told() -> None:
    """Two panels each of which is said to sit in a slot of the other, square to it: neither has a way off."""
    box = compile_cabinet(cabinet_of(PLAIN))
    left = next(panel for panel in box.panels if panel.role == "left side")
    shelf = next(panel for panel in box.panels if panel.role == "shelf 1")
    assert left.place is not None
    assert shelf.place is not None
    x, y, z = shelf.place.origin
    through = replace(shelf, id="through", place=replace(shelf.place, origin=(x - 9.0, y, z)))
    joint = replace(box.joints[0], kind="dado", receiver=left.id, feature="bottom dado", entering=through.id)
    other = replace(joint, feature="none", receiver=through.id, entering=left.id)
    stuck = replace(box, panels=(left, through), joints=(joint, other))
    found = assembly_of(stuck, assemble(stuck))
    assert [step.is_stuck for step in found.steps] == [False, True]


def test_exploded_panels_stand_clear_of_each_other(box: Box) -> None:
    found = assembly_of(box, assemble(box))
    spans = [
        [(solid.low[k] + found.apart[solid.panel][k], solid.high[k] + found.apart[solid.panel][k]) for k in range(3)]
        for solid in found.solids
    ]
    for k, a in enumerate(spans):
        for b in spans[:k]:
            assert any(a[n][0] >= b[n][1] or b[n][0] >= a[n][1] for n in range(3)), (found.solids[k].panel, b)


def test_a_solid_is_the_fits_body_layer_by_layer() -> None:
    """A side of 700 x 300 mm: whole below its recesses, and above that less the two dados and the back rabbet."""
    box = compile_cabinet(cabinet_of(order(CabinetKind.WALL, height_mm=700.0, depth_mm=300.0, adjustable_shelves=0)))
    body = assemble(box)[next(panel.id for panel in box.panels if panel.role == "left side")]
    solid = shape_of(body)
    recesses = {item.name: item for item in body.panel.features if isinstance(item, Recess)}
    assert solid.layers[0].start_mm == 0.0
    assert solid.layers[-1].end_mm == body.panel.thickness_mm
    assert solid.layers[-1].start_mm == pytest.approx(max(item.depth_mm for item in recesses.values()))
    assert area(solid.layers[-1].rings) == pytest.approx(700.0 * 300.0)
    rabbet = recesses.pop("back rabbet").outline.bounds
    lost = (rabbet[2] - rabbet[0]) * (rabbet[3] - rabbet[1])
    for item in recesses.values():
        x0, y0, x1, y1 = item.outline.bounds
        crossing = max(0.0, min(y1, rabbet[3]) - max(y0, rabbet[1])) * (x1 - x0)
        lost += (x1 - x0) * (y1 - y0) - crossing
    assert len(recesses) == 2
    assert area(solid.layers[0].rings) == pytest.approx(700.0 * 300.0 - lost)


def area(rings: tuple[tuple[tuple[float, float], ...], ...]) -> float:
    """Area of rings of which none lies in another."""
    return sum(
        abs(sum(ax * by - bx * ay for (ax, ay), (bx, by) in zip(ring, (*ring[1:], ring[0]), strict=True))) / 2
        for ring in rings
    )
