"""Parts that are cut from both faces: whether the job allows them."""

from collections.abc import Iterator, Sequence

from rabbetry.findings import Finding, finding
from rabbetry.panels.model import Panel


def check_faces(panels: Sequence[Panel]) -> Iterator[Finding]:
    """Yield an error for each panel that has cuts in both faces."""
    for panel in panels:
        if panel.rear_features:
            message = f"{panel.id} needs cuts in both faces ({len(panel.rear_features)} in the rear one)"
            yield finding("two-faces-off", message, panel=panel.id)
