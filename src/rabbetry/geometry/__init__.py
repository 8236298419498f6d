"""Plane geometry in millimetres that knows no wood.

Conventions of this package and of everything built on it: x to the right, y up the page, angles in radians,
counter-clockwise and left are positive, outer rings run counter-clockwise and holes clockwise unless a function says
otherwise. Depth is positive downward from the machined face; z is positive upward.
"""
