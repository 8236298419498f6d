"""A long program for the playback: rings about the middle of a blank, level by level, as a pocket is cleared."""

import math

from page.page_samples import CUTTERS, machine, sheet
from rabbetry.dryrun.dialects import STRICT
from rabbetry.dryrun.interpret import read_program
from rabbetry.dryrun.model import Context, ProgramText
from rabbetry.findings import finding
from rabbetry.page.playback import PlayedProgram, playback_html


def long_text(lines: int) -> str:
    """Return a program of so many lines: short straight moves on ever wider rings, 2 mm deeper every 4000."""
    rows = ["G21 G90 G17", "M3 S18000", "G0 Z10", "G0 X600 Y600", "F2400"]
    for k in range(lines - len(rows) - 3):
        angle, radius = k * 0.05, 20 + (k % 4000) * 0.13
        depth = -2.0 - 2.0 * (k // 4000)
        rows.append(f"G1 X{600 + radius * math.cos(angle):.3f} Y{600 + radius * math.sin(angle):.3f} Z{depth:.3f}")
    return "\n".join([*rows, "G0 Z10", "M5", "M30"]) + "\n"


def long_playback(lines: int) -> str:
    """Return its playback, read from the text as the dry run reads it, with a finding halfway."""
    text = long_text(lines)
    read = read_program(ProgramText(name="long.nc", text=text), STRICT, Context())
    assert not read.refused
    told = finding("axis-limit", "halfway", file="long.nc", line=lines // 2, x=600.0, y=600.0)
    played = PlayedProgram(name="long.nc", cutters=(1,), events=read.events, text=text, findings=(told,))
    return playback_html(sheet(), [played], machine=machine(), cutters=CUTTERS, job_name="Canteen", units="mm")
