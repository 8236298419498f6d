"""What to remove from a sheet, with which cutter, in which order. Knows features and cutters; draws no path."""
