"""Motions and a template turned into program text. The only place that rounds."""
