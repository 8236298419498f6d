"""One fault planted in a sound box, one after the other: each must be found, by the finding that names it."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from box_kit import bores, cabinet_of, order, panel, recess
from rabbetry.cabinets.model import Cabinet
from rabbetry.fit.assemble import assemble, is_wood
from rabbetry.fit.checks import check_fit
from rabbetry.geometry.curves import circle, rectangle
from rabbetry.geometry.points import Point, Transform
from rabbetry.job.model import CabinetKind, Nailer
from rabbetry.panels.compile import compile_cabinet
from rabbetry.panels.model import Bore, Box, CutOut, Feature, Panel, Recess
from rabbetry.panels.shapes import moved


@pytest.fixture(scope="module")
def cabinet() -> Cabinet:
    """A box with everything: drawer over two doors, one fixed and two adjustable shelves, nailer."""
    return cabinet_of(
        order(
            CabinetKind.BASE,
            doors=2,
            drawer_front_heights_mm=(150.0,),
            fixed_shelves=1,
            adjustable_shelves=1,
            nailer=Nailer.TOP,
            height_mm=1200.0,
        )
    )


def with_panel(box: Box, role: str, change: Callable[[Panel], Panel]) -> Box:
    return replace(box, panels=tuple(change(each) if each.role == role else each for each in box.panels))


def with_feature(box: Box, role: str, name: str, change: Callable[[Feature], Feature | None]) -> Box:
    """The box with one feature of one panel changed, or taken out when `change` returns None."""

    def changed(each: Panel) -> Panel:
        features = [change(item) if item.name == name else item for item in each.features]
        assert any(item.name == name for item in each.features), name
        return replace(each, features=tuple(item for item in features if item is not None))

    return with_panel(box, role, changed)


def shifted(dx: float, dy: float = 0.0) -> Callable[[Feature], Feature]:
    return lambda feature: moved(feature, Transform.shift(dx, dy))


def deeper(by: float) -> Callable[[Feature], Feature]:
    def change(feature: Feature) -> Feature:
        assert isinstance(feature, Bore | Recess)
        return replace(feature, depth_mm=feature.depth_mm + by)

    return change


def row_shifted(role: str, purpose: str, dx: float, which: slice = slice(None)) -> Callable[[Box], Box]:
    """Shift a run of the panel's holes of one purpose along its length."""

    def plant(box: Box) -> Box:
        names = {bore.name for bore in bores(panel(box, role), purpose)[which]}
        assert names
        return with_panel(
            box,
            role,
            lambda each: replace(
                each,
                features=tuple(shifted(dx)(item) if item.name in names else item for item in each.features),
            ),
        )

    return plant


def right_side_of_the_wrong_hand(box: Box) -> Box:
    """The right side cut as a second left one: features and outline of the left, in the right's place."""
    left = panel(box, "left side")
    return with_panel(box, "right side", lambda each: replace(each, outline=left.outline, features=left.features))


def thicker(role: str, by: float) -> Callable[[Box], Box]:
    return lambda box: with_panel(box, role, lambda each: replace(each, thickness_mm=each.thickness_mm + by))


def longer(role: str, by: float) -> Callable[[Box], Box]:
    def change(each: Panel) -> Panel:
        outline = rectangle(0.0, 0.0, each.length_mm + by, each.width_mm)
        return replace(each, length_mm=each.length_mm + by, outline=outline)

    return lambda box: with_panel(box, role, change)


def displaced(role: str, dx: float, dy: float, dz: float) -> Callable[[Box], Box]:
    def change(each: Panel) -> Panel:
        assert each.place is not None
        x, y, z = each.place.origin
        return replace(each, place=replace(each.place, origin=(x + dx, y + dy, z + dz)))

    return lambda box: with_panel(box, role, change)


def without_notch(box: Box) -> Box:
    return with_panel(
        box, "right side", lambda each: replace(each, outline=rectangle(0.0, 0.0, each.length_mm, each.width_mm))
    )


def narrower(role: str, name: str, by: float) -> Callable[[Box], Box]:
    """A recess closed in on its upper side by `by`."""

    def change(feature: Feature) -> Feature:
        assert isinstance(feature, Recess)
        x0, y0, x1, y1 = feature.outline.bounds
        return replace(feature, outline=rectangle(x0, y0, x1 - x0 - by, y1 - y0))

    return lambda box: with_feature(box, role, name, change)


def added(feature: Feature) -> Callable[[Panel], Panel]:
    return lambda each: replace(each, features=(*each.features, feature))


def orphan_dado() -> Recess:
    return Recess(name="divider dado", kind="dado", outline=rectangle(900.0, 0.0, 18.0, 300.0), depth_mm=6.0)


def hole_in_bottom() -> Bore:
    """Right in the way of the bottom's first pilot screw: 40 mm from the front, 20 mm from the end."""
    return Bore(name="leg", purpose="leg", centre=Point(20.0, 40.0), diameter_mm=10.0, depth_mm=12.0)


def dado_in_bottom() -> Recess:
    return Recess(name="divider dado", kind="dado", outline=rectangle(10.0, 0.0, 18.0, 500.0), depth_mm=8.0)


def to_nailer(feature: Feature) -> Feature:
    """To the nailer's face: 60 mm below the stretcher, 9 mm before the back."""
    assert isinstance(feature, Bore)
    return replace(feature, centre=Point(1120.0, 15.0))


def with_holes_moved(role: str, purpose: str, dy: float) -> Callable[[Box], Box]:
    def change(each: Panel) -> Panel:
        names = {bore.name for bore in bores(each, purpose)}
        return replace(
            each, features=tuple(shifted(0.0, dy)(item) if item.name in names else item for item in each.features)
        )

    return lambda box: with_panel(box, role, change)


def pin_between_plates(each: Panel) -> Panel:
    low, high = (bore.centre for bore in bores(each, "hinge plate")[:2])
    pin = bores(each, "shelf pin")[0]
    middle = replace(pin, name="extra pin", centre=Point((low.x + high.x) / 2, low.y))
    return replace(each, features=(*each.features, middle))


def wider_drawer(box: Box) -> Box:
    """Every part of the drawer made for an opening 3 mm wider; the right side stands 3 mm farther out."""
    for role in ("drawer 1 box front", "drawer 1 back", "drawer 1 bottom"):
        box = longer(role, 3.0)(box)
    return displaced("drawer 1 right side", 3, 0, 0)(box)


FAULTS: list[tuple[str, Callable[[Box], Box], set[str]]] = [
    (
        "a dado 1 mm too high on one side",
        lambda box: with_feature(box, "left side", "bottom dado", shifted(1.0)),
        {"fit-joint", "fit-interference"},
    ),
    (
        "a fixed shelf's dado 0.15 mm off",
        lambda box: with_feature(box, "left side", "fixed shelf 1 dado", shifted(0.15)),
        {"fit-joint", "fit-interference"},
    ),
    ("a right side of the wrong hand", right_side_of_the_wrong_hand, {"fit-interference", "fit-hinge", "fit-slide"}),
    ("a bottom 0.5 mm thicker than measured", thicker("bottom", 0.5), {"fit-joint", "fit-interference"}),
    ("a back 0.5 mm thicker than measured", thicker("back", 0.5), {"fit-joint", "fit-outside"}),
    ("a drawer bottom 0.5 mm thicker", thicker("drawer 1 bottom", 0.5), {"fit-joint", "fit-interference"}),
    ("a drawer back 1 mm thinner", thicker("drawer 1 back", -1.0), {"fit-joint"}),
    (
        "a dado half a millimetre too shallow",
        lambda box: with_feature(box, "right side", "bottom dado", deeper(-0.5)),
        {"fit-seat", "fit-interference"},
    ),
    (
        "a dado half a millimetre too deep",
        lambda box: with_feature(box, "right side", "bottom dado", deeper(0.5)),
        {"fit-seat"},
    ),
    ("a dado narrower than the bottom", narrower("left side", "bottom dado", 1.0), {"fit-joint", "fit-interference"}),
    (
        "a dado forgotten",
        lambda box: with_feature(box, "left side", "bottom dado", lambda _: None),
        {"fit-joint", "fit-interference"},
    ),
    (
        "a stretcher's rabbet forgotten",
        lambda box: with_feature(box, "left side", "rear stretcher rabbet", lambda _: None),
        {"fit-joint", "fit-interference"},
    ),
    (
        "a back rabbet 1 mm too shallow",
        lambda box: with_feature(box, "left side", "back rabbet", deeper(-1.0)),
        {"fit-seat", "fit-interference"},
    ),
    ("a bottom 1 mm too long", longer("bottom", 1.0), {"fit-seat", "fit-interference"}),
    ("a nailer 1 mm too short", longer("nailer", -1.0), {"fit-seat"}),
    ("a stretcher 3 mm too low", displaced("front stretcher", 0, 0, -3), {"fit-joint", "fit-interference"}),
    ("a right side 2 mm too far out", displaced("right side", 2, 0, 0), {"fit-outside", "fit-seat"}),
    ("a back that stands out 1 mm", displaced("back", 0, 1, 0), {"fit-outside", "fit-joint"}),
    ("one pin row one pitch off", row_shifted("left side", "shelf pin", 32.0), {"fit-pins"}),
    ("the front pin row alone 1 mm off", row_shifted("right side", "shelf pin", 1.0, slice(0, 5)), {"fit-pins"}),
    (
        "one pin hole missing",
        lambda box: with_feature(box, "right side", "rear pin 2", lambda _: None),
        {"fit-pins"},
    ),
    ("plate holes 2 mm too low", row_shifted("left side", "hinge plate", -2.0), {"fit-hinge"}),
    ("hinge cups 5 mm too high", row_shifted("right door", "hinge cup", 5.0), {"fit-hinge"}),
    (
        "cups bored at the wrong edge of the door",
        lambda box: with_panel(
            box,
            "left door",
            lambda each: replace(
                each,
                features=tuple(moved(item, Transform.mirror_y(each.width_mm)) for item in each.features),
            ),
        ),
        {"fit-hinge"},
    ),
    ("slide holes 32 mm up on one side", row_shifted("left side", "slide", 32.0), {"fit-slide"}),
    ("a drawer box 40 mm too high up", displaced("drawer 1 left side", 0, 0, 40), {"fit-drawer", "fit-interference"}),
    ("a drawer side 3 mm inward", displaced("drawer 1 left side", 3, 0, 0), {"fit-drawer"}),
    ("an adjustable shelf as long as the bottom", longer("shelf 1", 14.0), {"fit-shelf", "fit-interference"}),
    ("an adjustable shelf between two pin levels", displaced("shelf 1", 0, 0, 10), {"fit-shelf"}),
    (
        "an adjustable shelf that misses the rear pins",
        lambda box: with_panel(
            box,
            "shelf 1",
            lambda each: replace(each, width_mm=400.0, outline=rectangle(0.0, 0.0, each.length_mm, 400.0)),
        ),
        {"fit-shelf"},
    ),
    ("a pin hole right through", lambda box: with_feature(box, "left side", "front pin 1", deeper(6.0)), {"fit-bore"}),
    (
        "a pin hole in the back rabbet",
        lambda box: with_feature(box, "right side", "rear pin 1", shifted(0.0, 32.0)),
        {"fit-bore", "fit-pins"},
    ),
    (
        "a plate hole half over the panel's edge",
        lambda box: with_feature(box, "right side", "plate 1", shifted(0.0, -36.0)),
        {"fit-bore", "fit-hinge"},
    ),
    (
        "a slide hole upon another",
        lambda box: with_feature(box, "right side", "drawer 1 slide 1", shifted(0.0, 221.0)),
        {"fit-bore", "fit-slide"},
    ),
    (
        "a dado that nothing enters",
        lambda box: with_panel(box, "left side", added(orphan_dado())),
        {"fit-joint"},
    ),
    (
        "a pilot hole beside the panel it is for",
        lambda box: with_feature(box, "left side", "bottom pilot 1", shifted(12.0)),
        {"fit-bore"},
    ),
    (
        "a pilot hole that breaks out of the shelf's face",
        lambda box: with_feature(box, "left side", "fixed shelf 1 pilot 1", shifted(7.9)),
        {"fit-bore"},
    ),
    (
        "a screw that runs into a hole of the bottom",
        lambda box: with_panel(box, "bottom", added(hole_in_bottom())),
        {"fit-bore"},
    ),
    (
        "a screw that runs into a dado of the bottom",
        lambda box: with_panel(box, "bottom", added(dado_in_bottom())),
        {"fit-bore", "fit-joint"},
    ),
    (
        "a slide hole where the nailer stands",
        lambda box: with_feature(box, "left side", "drawer 1 slide 2", to_nailer),
        {"fit-bore", "fit-slide"},
    ),
    ("the pins of one side 1 mm nearer the front", with_holes_moved("right side", "shelf pin", -1.0), {"fit-pins"}),
    ("one pin level off its pitch", row_shifted("left side", "shelf pin", 5.0, slice(0, 1)), {"fit-pins"}),
    (
        "a pin row as high as a hinge plate's holes",
        lambda box: with_panel(box, "left side", pin_between_plates),
        {"fit-hinge", "fit-pins"},
    ),
    (
        "a hole across a cut-out",
        lambda box: with_panel(
            box,
            "left side",
            added(CutOut(name="pipe", outline=circle(bores(panel(box, "left side"), "shelf pin")[0].centre, 20.0))),
        ),
        {"fit-bore"},
    ),
    ("a drawer 3 mm wider", wider_drawer, {"fit-drawer"}),
    ("sides cut from the 12 mm blank", thicker("left side", -5.8), {"fit-outside"}),
    (
        "a joint with a panel that is not there",
        lambda box: replace(box, panels=tuple(each for each in box.panels if each.role != "nailer")),
        {"fit-joint"},
    ),
]


@pytest.mark.parametrize(("plant", "codes"), [pytest.param(plant, codes, id=name) for name, plant, codes in FAULTS])
def test_a_planted_fault_is_found(cabinet: Cabinet, plant: Callable[[Box], Box], codes: set[str]) -> None:
    found = {item.code for item in check_fit(cabinet, plant(compile_cabinet(cabinet))).findings}
    assert found >= codes


def test_the_box_without_a_planted_fault_is_clean(cabinet: Cabinet) -> None:
    report = check_fit(cabinet, compile_cabinet(cabinet))
    assert report.findings == ()
    assert report.checks > 500


def test_a_thicker_mate_is_named_with_its_measure(cabinet: Cabinet) -> None:
    found = check_fit(cabinet, thicker("bottom", 0.5)(compile_cabinet(cabinet))).findings
    assert found[0].message == (
        "B1 left side: bottom dado leaves -0.300 mm beside B1 bottom (18.300 mm thick) where 0.200 mm is right; "
        "its sides are -0.400, 0.100 mm away"
    )


def test_interference_says_where_in_the_box(cabinet: Cabinet) -> None:
    box = with_feature(compile_cabinet(cabinet), "left side", "bottom dado", shifted(1.0))
    messages = [item.message for item in check_fit(cabinet, box).findings if item.code == "fit-interference"]
    assert messages == [
        "B1 left side and B1 bottom would both fill 6.00 x 574.00 x 1.00 mm at (11.80, 0.00, 100.00) of the box"
    ]


def test_wood_is_what_outline_and_recesses_leave(cabinet: Cabinet) -> None:
    """Points of the left side by hand: in the dado, below it, in the kick notch, before the rabbet, outside."""
    box = compile_cabinet(cabinet)
    side = assemble(box)["B1 left side"]
    assert recess(panel(box, "left side"), "bottom dado").depth_mm == 6.0
    assert is_wood(side, (10.0, 300.0, 110.0))
    assert not is_wood(side, (14.0, 300.0, 110.0))
    assert is_wood(side, (14.0, 300.0, 95.0))
    assert not is_wood(side, (5.0, 30.0, 50.0))
    assert is_wood(side, (5.0, 80.0, 50.0))
    assert not is_wood(side, (14.0, 577.0, 600.0))
    assert not is_wood(side, (18.0, 300.0, 600.0))
