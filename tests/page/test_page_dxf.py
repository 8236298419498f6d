"""Drawings, read back with ezdxf and measured."""

import io
import math
import time

import ezdxf
import pytest
from ezdxf import units
from ezdxf.document import Drawing
from ezdxf.entities import LWPolyline
from page_samples import HOSTILE, bracket, disc, door, drawer_back, panel, sheet, side

from rabbetry.page.dxf import panel_dxf, sheet_dxf
from rabbetry.panels.model import Panel
from rabbetry.sheets.model import Placement

AREA_MM2_PER_MM = 0.01


def read(text: str) -> Drawing:
    return ezdxf.read(io.StringIO(text))


def area(polyline: LWPolyline) -> float:
    """Area by the shoelace formula plus the circular segment of each bulge b: r2 (a - sin a) / 2 with a = 4 atan b."""
    points = list(polyline.get_points("xyb"))
    total = 0.0
    for (x0, y0, bulge), (x1, y1, _) in zip(points, [*points[1:], points[0]], strict=True):
        total += (x0 * y1 - x1 * y0) / 2
        if bulge:
            angle = 4 * math.atan(bulge)
            radius = math.hypot(x1 - x0, y1 - y0) / 2 / math.sin(angle / 2)
            total += radius**2 * (angle - math.sin(angle)) / 2
    return total


@pytest.mark.parametrize("text", [sheet_dxf(sheet()), *(panel_dxf(p) for p in (side(), door(), disc()))])
def test_a_drawing_is_millimetres_and_sound(text: str) -> None:
    document = read(text)
    assert "$INSUNITS" in text.split("ENDSEC", maxsplit=1)[0]
    assert document.header["$INSUNITS"] == units.MM == 4
    assert document.header["$MEASUREMENT"] == 1
    assert document.dxfversion == "AC1024"
    audit = document.audit()
    assert not audit.errors
    assert not audit.fixes


@pytest.mark.parametrize("part", [side(), door(), disc(), bracket(), drawer_back()], ids=lambda part: part.id)
def test_outline_and_area_survive(part: Panel) -> None:
    (outline,) = read(panel_dxf(part)).modelspace().query('LWPOLYLINE[layer=="outline"]')
    assert isinstance(outline, LWPolyline)
    assert outline.closed
    assert area(outline) == pytest.approx(part.outline.area, abs=AREA_MM2_PER_MM * part.outline.length)
    xs, ys = zip(*((p.x, p.y) for p in outline.vertices_in_wcs()), strict=True)
    assert (min(xs), min(ys)) == pytest.approx((0, 0) if part.id != "Turntable" else (0, 100), abs=0.0005)
    assert max(xs) == pytest.approx(part.length_mm, abs=0.0005)


def test_a_disc_is_made_of_true_arcs() -> None:
    (outline,) = read(panel_dxf(disc())).modelspace().query('LWPOLYLINE[layer=="outline"]')
    assert [point[2] for point in outline.get_points("xyb")] == pytest.approx([1.0, 1.0])  # type: ignore[attr-defined]


def test_layers_say_what_they_hold() -> None:
    names = {entity.dxf.layer for entity in read(sheet_dxf(sheet())).modelspace()}
    assert names == {
        "blank edge",
        "offcut",
        "outline",
        "names",
        "cut through",
        "dado 6.00 deep",
        "rabbet 6.00 deep",
        "groove 6.00 deep",
        "pocket 13.50 deep",
        "bore 5.00 x 12.00 deep",
        "bore 35.00 x 12.50 deep",
        "bore 6.00 through",
        "relieved corners",
    }


def test_bores_are_circles_where_they_belong() -> None:
    found = read(panel_dxf(door())).modelspace().query("CIRCLE")
    placed = [(round(c.dxf.center.x, 4), round(c.dxf.center.y, 4), c.dxf.radius) for c in found]
    assert placed == [(100, 22.5, 17.5), (600, 22.5, 17.5)]


def test_a_turned_panel_is_drawn_turned() -> None:
    """The hook bore at (39, 24) of a panel 160 wide, turned a quarter on (900, 12): x = 900 + 160 - 24, y = 12 + 39."""
    (bore,) = read(sheet_dxf(sheet())).modelspace().query('CIRCLE[layer=="bore 6.00 through"]')
    assert (bore.dxf.center.x, bore.dxf.center.y) == pytest.approx((1036, 51))


def test_the_same_sheet_gives_the_same_bytes_whatever_the_clock_says(monkeypatch: pytest.MonkeyPatch) -> None:
    first = sheet_dxf(sheet())
    monkeypatch.setattr(time, "time", lambda: 2e9)
    time.sleep(0.01)
    assert sheet_dxf(sheet()) == first
    assert "2000-01-01" in first


def test_writing_a_drawing_leaves_the_library_as_it_was() -> None:
    sheet_dxf(sheet())
    assert ezdxf.options.write_fixed_meta_data_for_testing is False  # type: ignore[attr-defined]


@pytest.mark.parametrize("name", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_names_stay_one_text(name: str) -> None:
    place = Placement(panel=panel(name, 100, 80), x_mm=1000, y_mm=700, rotation_deg=0)
    document = read(sheet_dxf(sheet((place,))))
    assert not document.audit().errors
    texts = [item.dxf.text for item in document.modelspace().query("TEXT")]
    assert len(texts) == len(sheet().placements) + 1
    assert all("\n" not in text and "%%" not in text for text in texts)


def test_a_name_with_umlauts_reads_back() -> None:
    (text,) = read(panel_dxf(panel("Küche-Ost №2", 100, 80))).modelspace().query("TEXT")
    assert text.dxf.text == "Küche-Ost №2"  # type: ignore[attr-defined]
