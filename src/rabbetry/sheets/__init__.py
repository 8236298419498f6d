"""Panels placed on blanks, and a proven bound beside the count. Knows rectangles, grain and clamps; no cutter paths."""
