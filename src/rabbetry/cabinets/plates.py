"""Where the plates of hinges sit on a side. Millimetres behind the side's front edge."""

from rabbetry.job.model import Construction
from rabbetry.shop.hardware import PlateFrom


def plate_y_mm(construction: Construction, *, door_back_y_mm: float, frame_mm: float, is_inset: bool) -> float | None:
    """Return how far the holes of hinge plates lie behind the side's front edge; None when the side gets none.

    A plate's line lies `hinge_plate_front` behind the door's back: behind the side's front edge for an overlay door,
    the door's thickness more for an inset one (check values 4.1.3, 4.1.4), less the thickness of a face frame before
    the case. `door_back_y_mm` is the door's back behind the side's front edge. A frame that stands between the sides
    adds its thickness instead. Doors over a face frame hang on the frame unless a row of plates says otherwise.
    """
    measured = construction.fittings.plate_from
    if measured is None and frame_mm > 0 and not is_inset:
        measured = PlateFrom.ON_FRAME
    if measured is PlateFrom.ON_FRAME:
        return None
    if measured is PlateFrom.EDGE:
        return construction.plate_front_mm
    if measured is PlateFrom.FRAME:
        return construction.plate_front_mm + frame_mm
    return construction.plate_front_mm + door_back_y_mm
