"""Runs: what stands along a wall, its faces, and the solid parts made elsewhere."""
