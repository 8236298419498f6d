"""Speed, feed and pass depth of a cutter in a material, with the limit that decided."""
