"""Parts from drawings: a DXF file's lines, arcs and curves to the outline and the cuts of a plain part."""
