"""The four ways a panel stands in a box. Cabinet frame, millimetres; each function takes the corner of the panel's body
with the least x, y and z, its sizes as it stands, and says which way the machined face looks."""

from rabbetry.panels.model import Place, Vec3

_X: Vec3 = (1.0, 0.0, 0.0)
_MINUS_X: Vec3 = (-1.0, 0.0, 0.0)
_Y: Vec3 = (0.0, 1.0, 0.0)
_MINUS_Y: Vec3 = (0.0, -1.0, 0.0)
_Z: Vec3 = (0.0, 0.0, 1.0)


def lying(x: float, y: float, z: float, thickness: float) -> Place:
    """Machined face up; panel x to the right, panel y to the back."""
    return Place(origin=(x, y, z + thickness), x_axis=_X, y_axis=_Y)


def facing_front(x: float, y: float, z: float) -> Place:
    """Machined face to the front; panel x to the right, panel y up."""
    return Place(origin=(x, y, z), x_axis=_X, y_axis=_Z)


def facing_back(x: float, y: float, z: float, width: float, thickness: float) -> Place:
    """Machined face to the back; panel x to the left, panel y up."""
    return Place(origin=(x + width, y + thickness, z), x_axis=_MINUS_X, y_axis=_Z)


def door(x: float, y: float, z: float) -> Place:
    """A front with its machined back at `y`; panel x up, panel y to the right."""
    return Place(origin=(x, y, z), x_axis=_Z, y_axis=_X)


def left_side(thickness: float, depth: float) -> Place:
    """Inside face machined, looking right; panel x up, panel y to the front."""
    return Place(origin=(thickness, depth, 0.0), x_axis=_Z, y_axis=_MINUS_Y)


def right_side(width: float, thickness: float) -> Place:
    """Inside face machined, looking left; panel x up, panel y to the back."""
    return Place(origin=(width - thickness, 0.0, 0.0), x_axis=_Z, y_axis=_Y)


def drawer_left(x: float, y: float, z: float, thickness: float) -> Place:
    """Inside face machined, looking right; panel x to the back, panel y up."""
    return Place(origin=(x + thickness, y, z), x_axis=_Y, y_axis=_Z)


def drawer_right(x: float, y: float, z: float, length: float) -> Place:
    """Inside face machined, looking left; panel x to the front, panel y up."""
    return Place(origin=(x, y + length, z), x_axis=_MINUS_Y, y_axis=_Z)
