"""Neutral parts: outline, features from one face, and the place in the assembled box. Knows no sheet and no cutter."""
