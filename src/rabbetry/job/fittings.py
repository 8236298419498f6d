"""What the rows of the hardware tables that a job chose say besides lengths. Millimetres."""

from dataclasses import dataclass

from rabbetry.shop.hardware import BoxScrews, PlateFrom, SlideMount


@dataclass(frozen=True, slots=True, kw_only=True)
class Fittings:
    """The rows chosen, by name (empty: none, and the settings alone hold), and their rules."""

    shelf_pins: str = ""
    pins_from_half_bottom: bool = False
    """The pin rows' grid begins at half the bottom's thickness."""
    hinge_cups: str = ""
    cup_edge_least_mm: float = 0.0
    cup_edge_most_mm: float = 0.0
    """Range of B that the hinge's maker allows; both 0: not known."""
    hinge_plates: str = ""
    plate_from: PlateFrom | None = None
    """None: as the fronts stand, overlay or inset."""
    hinge_overlay_mm: float | None = None
    """The hinge's own overlay at B = 0 on a plate of no height."""
    slides: str = ""
    slide_mount: SlideMount = SlideMount.UNDER
    slide_lengths_mm: tuple[float, ...] = ()
    """Lengths the series is sold in; empty: the usual ones of the job's unit."""
    drawer_side_most_mm: float | None = None
    """Thickest drawer side that the series takes."""
    box_screws: BoxScrews | None = None
    joined_sides: tuple[str, ...] = ()
    """Which sides get holes for screws into a neighbour: 'left', 'right'."""


NO_FITTINGS = Fittings()
