"""A panel cut from a sheet of another thickness than it was made for."""

from dataclasses import replace

from rabbetry.panels.model import Bore, Feature, Panel


def with_thickness(panel: Panel, thickness_mm: float) -> Panel:
    """Return the panel in that thickness: holes right through go through all of it; everything else stays."""
    return replace(
        panel,
        thickness_mm=thickness_mm,
        features=tuple(_through(item, thickness_mm) for item in panel.features),
        rear_features=tuple(_through(item, thickness_mm) for item in panel.rear_features),
    )


def _through(feature: Feature, thickness_mm: float) -> Feature:
    return replace(feature, depth_mm=thickness_mm) if isinstance(feature, Bore) and feature.through else feature
