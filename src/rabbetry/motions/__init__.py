"""Operations turned into motions of the cutter's tip: offsets, ramps, tabs, passes. Knows no program text."""
