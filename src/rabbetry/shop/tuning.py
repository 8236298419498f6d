"""What was heard and seen at the last cut, and what each sign changes. Shares are common practice without a source."""

from dataclasses import dataclass
from enum import StrEnum


class Sign(StrEnum):
    """What a person notices at the machine or on the edge."""

    BURNED = "burned"
    DUST = "dust"
    CHATTER = "chatter"
    SLOWED = "slowed"
    TORN = "torn"
    WANDERED = "wandered"
    MOVED = "moved"
    BROKE = "broke"
    EASY = "easy"


@dataclass(frozen=True, slots=True)
class Shares:
    """What spindle speed, chip load and depth of a pass are multiplied with."""

    speed: float = 1.0
    chip: float = 1.0
    depth: float = 1.0


@dataclass(frozen=True, slots=True)
class Cure:
    """A sign's meaning in words, and what one sight of it changes."""

    meaning: str
    shares: Shares


CURES: dict[Sign, Cure] = {
    Sign.BURNED: Cure("dark edges or a burnt smell: slower spindle, larger chips", Shares(speed=0.85, chip=1.1)),
    Sign.DUST: Cure("dust where chips should be: larger chips", Shares(chip=1.2)),
    Sign.CHATTER: Cure("a rattle, waves on the edge: shallower passes", Shares(depth=0.75)),
    Sign.SLOWED: Cure("the spindle's note fell: shallower passes", Shares(depth=0.75)),
    Sign.TORN: Cure("torn or fuzzy edges: smaller chips", Shares(chip=0.85)),
    Sign.WANDERED: Cure(
        "the cutter gave way, slots too wide or out of square: smaller chips, shallower passes",
        Shares(chip=0.85, depth=0.85),
    ),
    Sign.MOVED: Cure("work or machine was pushed away: smaller chips, shallower passes", Shares(chip=0.8, depth=0.7)),
    Sign.BROKE: Cure("the cutter broke: much smaller chips, shallower passes", Shares(chip=0.7, depth=0.7)),
    Sign.EASY: Cure("clean and quiet, with force to spare: larger chips", Shares(chip=1.1)),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Tuning:
    """One remark about a cutter in a material; None stands for every cutter or every material."""

    name: str
    sign: Sign
    cutter: int | None = None
    material: str | None = None
    times: int = 1
    """How often it was seen: its shares apply as often."""

    def fits(self, cutter: int, material: str) -> bool:
        """Tell whether the remark is about that cutter in that material."""
        return self.cutter in (None, cutter) and self.material in (None, material)

    @property
    def shares(self) -> Shares:
        """Its shares, each to the power of `times`."""
        once = CURES[self.sign].shares
        return Shares(once.speed**self.times, once.chip**self.times, once.depth**self.times)


def together(remarks: tuple[Tuning, ...]) -> Shares:
    """Return the product of all shares."""
    total = Shares()
    for remark in remarks:
        own = remark.shares
        total = Shares(total.speed * own.speed, total.chip * own.chip, total.depth * own.depth)
    return total
