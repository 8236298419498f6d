"""Panels placed on blanks, a proven lower bound beside the count. Knows rectangles, grain and clamps; no cutter paths."""
