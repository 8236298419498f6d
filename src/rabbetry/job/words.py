"""The words a construction setting may hold where it is a choice and no length.

"by kind" stands for what the cabinet's kind asks for; it is a word of its own so that a cabinet may go back to it.
"""

from enum import StrEnum


class LevelJoint(StrEnum):
    """How a panel that lies level joins the two sides."""

    DADO = "dado"
    """Right through from the front edge to the rear; at a side's very end it is a rabbet."""
    STOPPED_DADO = "stopped dado"
    """Ends behind the front edge; the panel is notched at its front corners."""
    TONGUE = "tongue"
    """A stopped dado narrower than the panel, whose rabbeted ends seat on their shoulders."""
    RABBET = "rabbet"
    """At a side's very end only."""
    BUTT = "butt"
    """Nothing cut but pilot holes."""


class BackPlace(StrEnum):
    """Where the back stands."""

    RABBET = "rabbet"
    """In a rabbet along the sides' rear edges."""
    GROOVE = "groove"
    """In a groove set in from the sides' rear edges."""
    APPLIED = "applied"
    """On the rear of the box, screwed to its edges."""
    NONE = "none"
    """No back; a nailer under the top and one on the bottom unless `nailer` says otherwise."""


class TopWord(StrEnum):
    """What closes the box at its top."""

    BY_KIND = "by kind"
    STRETCHERS = "stretchers"
    """Two strips lying flat, front and rear."""
    ON_EDGE = "on edge"
    """Two strips standing on edge, so that the box is open to its top."""
    FULL = "full"
    """One panel."""


class BottomWord(StrEnum):
    """Where the bottom lies over the sides' lower ends, or over the toe kick."""

    BY_KIND = "by kind"
    FLUSH = "flush"
    """Its under side level with the sides' lower ends, or with the toe kick's upper edge."""
    RAISED = "raised"
    """`bottom_lift` above that."""


class FinishedEnd(StrEnum):
    """Which ends of the cabinet show."""

    NONE = "none"
    LEFT = "left"
    RIGHT = "right"
    BOTH = "both"

    def has(self, hand: str) -> bool:
        """Tell whether the end of that hand, 'left' or 'right', shows."""
        return self in (FinishedEnd.BOTH, FinishedEnd(hand))
