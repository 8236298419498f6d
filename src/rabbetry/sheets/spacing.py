"""The gap kept between two parts, so that the cut round one never enters the other."""

from rabbetry.findings import Finding, finding
from rabbetry.job.model import Cutting
from rabbetry.tolerances import POINT_MM
from rabbetry.units import write_length


def settle_spacing(cutting: Cutting, profile_cutter_diameter_mm: float) -> tuple[float, tuple[Finding, ...]]:
    """Return the gap in millimetres: the job's, or the profile cutter's width plus the web.

    A gap less than the cutter is wide is raised to the cutter plus the web, and a warning says so.
    """
    least = profile_cutter_diameter_mm + cutting.web_mm
    asked = cutting.spacing_mm
    if asked is None:
        return least, ()
    if asked >= profile_cutter_diameter_mm - POINT_MM:
        return max(asked, profile_cutter_diameter_mm), ()
    message = (
        f"spacing {_both(asked)} is less than the {_both(profile_cutter_diameter_mm)} that the profile cutter cuts: "
        f"raised to {_both(least)}, the cutter and a web of {_both(cutting.web_mm)}"
    )
    return least, (finding("spacing-raised", message),)


def _both(mm: float) -> str:
    return f"{write_length(mm, 'mm')} ({write_length(mm, 'in')})"
