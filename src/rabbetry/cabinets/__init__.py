"""Cabinets with their sizes settled: openings, fronts, hinges, drawer boxes. Knows sizes, cuts nothing."""
