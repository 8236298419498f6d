"""Small setups and programs for the dry run's checks. Millimetres; the blank is 300 x 220 x 18, zero at the stock's
top."""

import json
from collections.abc import Iterable, Sequence
from typing import Any

from rabbetry.dryrun.dryrun import dry_run
from rabbetry.dryrun.model import ProgramText
from rabbetry.dryrun.report import DryRun

Json = dict[str, Any]

HEAD = "G21 G90 G94 G17 G54\nG0 Z40\nT1 M6\nS16000 M3\nG4 P5\n"
TAIL = "G0 Z40\nM5\nM30\n"


def rectangle(x0: float, y0: float, x1: float, y1: float) -> Json:
    """Return a rectangle as a contour."""
    return contour([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])


def contour(corners: Sequence[tuple[float, float]]) -> Json:
    return {"start": list(corners[0]), "segments": [{"to": list(corner)} for corner in (*corners[1:], corners[0])]}


def panel(
    name: str,
    outline: Json,
    *,
    recesses: Iterable[Json] = (),
    bores: Iterable[tuple[float, float, float, float]] = (),
    cutouts: Iterable[Json] = (),
    hold: Json | None = None,
) -> Json:
    """Return a panel; a bore is (x, y, diameter, depth)."""
    return {
        "id": name,
        "outline": outline,
        "hold": hold or {"kind": "tabs", "at_least": 0, "at_most": 6, "length_mm": 8, "height_mm": 3},
        "cutouts": list(cutouts),
        "recesses": list(recesses),
        "bores": [
            {"name": f"hole {k}", "x_mm": x, "y_mm": y, "diameter_mm": wide, "depth_mm": deep, "through": deep >= 18}
            for k, (x, y, wide, deep) in enumerate(bores, start=1)
        ],
    }


def recess(name: str, outline: Json, depth: float, **more: object) -> Json:
    return {"name": name, "outline": outline, "islands": [], "depth_mm": depth, "relieved_corners": [], **more}


def bench(*panels: Json, **more: object) -> Json:
    """Return a setup with cutter 1 (end mill of 6 mm), cutter 2 (drill of 5 mm) and these panels."""
    mill = {
        "number": 1,
        "name": "end mill",
        "kind": "end mill",
        "diameter_mm": 6,
        "flutes": 2,
        "flute_length_mm": 25,
        "up_cut_length_mm": 0,
        "centre_cutting": True,
        "pass_limit_mm": 20,
        "stick_out_mm": 60,
    }
    return {
        "format": "rabbetry setup 1",
        "program": "a.nc",
        "sheet": "a",
        "programs": ["a.nc"],
        "loaded": [],
        "machine": {
            "name": "bench",
            "travel_min_mm": [-10, -10, -90],
            "travel_max_mm": [610, 610, 0],
            "max_rate_mm_per_min": [6000, 6000, 3000],
            "acceleration_mm_per_s2": [400, 400, 200],
            "spindle_by_hand": False,
            "spindle_min_rpm": 6000,
            "spindle_max_rpm": 24000,
            "spindle_wait_s": 4,
            "collet_diameter_mm": 30,
            "dust_shoe_mm": [0, 0],
            "dust_shoe_height_mm": 0,
            "clamp_margin_mm": 5,
            "spoilboard_allowance_mm": 0.5,
        },
        "controller": {"post": "bench", "dialect": "lenient", "allowed_words": None, "line_limit": None},
        "work_offset": {"word": "G54", "machine_mm": [50, 60, -60]},
        "z_zero": "stock top",
        "stock_top_z_mm": 0,
        "spoilboard_z_mm": -18,
        "blank": {"stock": "ply", "x_mm": 300, "y_mm": 220, "thickness_mm": 18, "thickness_is_measured": True},
        "clamps": [],
        "cutters": [mill, {**mill, "number": 2, "name": "drill", "kind": "drill", "diameter_mm": 5}],
        "target": {"panels": list(panels)},
        **more,
    }


def run(text: str, setup: Json) -> DryRun:
    """Dry-run one program."""
    return dry_run([(ProgramText(name="a.nc", text=text), json.dumps(setup))])


def cut(body: str, setup: Json) -> DryRun:
    """Dry-run a program with the usual head and tail about `body`."""
    return run(HEAD + body + TAIL, setup)


def codes(result: DryRun) -> set[str]:
    return {item.code for item in result.findings}


def loop(x0: float, y0: float, x1: float, y1: float, z: float) -> str:
    """Return moves round a rectangle, from its lower left corner and back, straight down at the start."""
    return f"G0 X{x0:g} Y{y0:g}\nG0 Z1\nG1 Z{z:g} F1000\nG1 X{x1:g}\nG1 Y{y1:g}\nG1 X{x0:g}\nG1 Y{y0:g}\nG0 Z40\n"
