"""The box put together from its panels' places, and everything about it that could be wrong compared with what is
right.

Knows only the panels and the cabinet's settled sizes; nothing of how the panels were made. Cabinet frame, millimetres.
"""

from itertools import combinations

from rabbetry.cabinets.model import Cabinet, DrawerBox
from rabbetry.findings import finding
from rabbetry.fit.assemble import Body, assemble, bounds, shared_space
from rabbetry.fit.columns import check_columns
from rabbetry.fit.holes import check_holes
from rabbetry.fit.joints import check_joints
from rabbetry.fit.model import FitReport
from rabbetry.fit.tally import Tally
from rabbetry.panels.model import Box, Vec3
from rabbetry.tolerances import FIT_MM


def check_fit(cabinet: Cabinet, box: Box) -> FitReport:
    """Return every fault of the assembled box, and how many comparisons were made.

    Compared: each joint's width and seat; each pair of panels for space both would fill; outside sizes; each carcass
    panel within them; shelf-pin, hinge and slide holes; drawer boxes in their openings; adjustable shelves. Raises
    KeyError when `box` lacks a side.
    """
    tally = Tally(checks=0, findings=[])
    bodies = assemble(box)
    check_joints(cabinet, box, bodies, tally)
    _check_interference(bodies, tally)
    _check_outside(cabinet, bodies, tally)
    check_holes(cabinet, bodies, tally)
    for drawer in cabinet.drawers:
        _check_drawer(cabinet, drawer, bodies, tally)
    check_columns(cabinet, bodies, tally)
    return FitReport(checks=tally.checks, findings=tuple(tally.findings))


def _check_interference(bodies: dict[str, Body], tally: Tally) -> None:
    for a, b in combinations(bodies.values(), 2):
        shared = shared_space(a, b)
        if shared is None:
            tally.checks += 1
            continue
        low, high = shared
        sizes = " x ".join(f"{top - bottom:.2f}" for bottom, top in zip(low, high, strict=True))
        at = ", ".join(f"{value:.2f}" for value in low)
        message = f"{a.panel.id} and {b.panel.id} would both fill {sizes} mm at ({at}) of the box"
        tally.check(False, finding("fit-interference", message, panel=b.panel.id))


def _check_outside(cabinet: Cabinet, bodies: dict[str, Body], tally: Tally) -> None:
    fronts = {f"{cabinet.name} {front.name}" for front in cabinet.fronts}
    inner = [body for name, body in bodies.items() if name not in fronts]
    low, high = bounds([corner for body in inner for corner in (body.low, body.high)])
    for axis, name, wanted in (
        (0, "wide", cabinet.width_mm),
        (1, "deep", cabinet.depth_mm),
        (2, "high", cabinet.height_mm),
    ):
        size = high[axis] - low[axis]
        message = f"{cabinet.name} would be {size:.3f} mm {name} outside; {wanted:.3f} mm is ordered"
        tally.check(abs(size - wanted) <= FIT_MM, finding("fit-outside", message))
    limit = (cabinet.width_mm, cabinet.depth_mm, cabinet.height_mm)
    for body in inner:
        message = f"{body.panel.id} stands out of the box"
        tally.check(_within(body, (0.0, 0.0, 0.0), limit), finding("fit-outside", message, panel=body.panel.id))


def _check_drawer(cabinet: Cabinet, drawer: DrawerBox, bodies: dict[str, Body], tally: Tally) -> None:
    own = f"{cabinet.name} {drawer.name}"
    parts = {name: body for name, body in bodies.items() if name.startswith(f"{own} ")}
    low, high = bounds([corner for body in parts.values() for corner in (body.low, body.high)])
    opening = next(item for item in cabinet.openings if item.fill == "drawer" and item.floor_z_mm == drawer.floor_z_mm)
    left, right = bodies[f"{cabinet.name} left side"].high[0], bodies[f"{cabinet.name} right side"].low[0]
    rear = cabinet.inside_depth_mm - cabinet.construction.drawer_rear_clearance_mm
    room = (left, 0.0, opening.floor_z_mm), (right, rear, opening.top_z_mm)
    is_in = all(room[0][k] - FIT_MM <= low[k] and high[k] <= room[1][k] + FIT_MM for k in range(3))
    sizes = " x ".join(f"{high[k] - low[k]:.2f}" for k in range(3))
    rooms = " x ".join(f"{room[1][k] - room[0][k]:.2f}" for k in range(3))
    message = f"{own} ({sizes} mm) does not stand within its opening ({rooms} mm)"
    tally.check(is_in, finding("fit-drawer", message))
    inside = parts[f"{own} right side"].low[0] - parts[f"{own} left side"].high[0]
    wanted = right - left - cabinet.construction.drawer_width_allowance_mm
    message = (
        f"{own} is {inside:.3f} mm wide inside; its slides want {wanted:.3f} mm in an opening of {right - left:.3f}"
    )
    tally.check(abs(inside - wanted) <= FIT_MM, finding("fit-drawer", message))


def _within(body: Body, low: Vec3, high: Vec3) -> bool:
    return all(low[k] - FIT_MM <= body.low[k] and body.high[k] <= high[k] + FIT_MM for k in range(3))
