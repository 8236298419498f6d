"""Paper that labels are printed on: plain paper to cut, sheets of self-adhesive labels, and labels one by one.

Millimetres. The sizes of self-adhesive sheets are those sold everywhere by their measure alone (common practice, no
source): hold a print on plain paper against a sheet before you use one.
"""

from dataclasses import dataclass

_INCH = 25.4


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelSheet:
    """How labels lie on a page: `wide` by `high` each, the first at `left` and `top`, then every `step_x`, `step_y`."""

    file: str
    title: str
    """For the reader: how many of which size on what."""
    page_mm: tuple[float, float]
    columns: int
    rows: int
    wide: float
    high: float
    left: float
    top: float
    step_x: float
    step_y: float
    is_cut: bool = False
    """The labels are cut out of plain paper, along lines."""

    @property
    def per_page(self) -> int:
        return self.columns * self.rows


_A4, _LETTER = (210.0, 297.0), (8.5 * _INCH, 11 * _INCH)


def _cut(page_mm: tuple[float, float], paper: str) -> LabelSheet:
    return LabelSheet(
        file="labels.html",
        title=f"twelve to a page ({paper})",
        page_mm=page_mm,
        columns=2,
        rows=6,
        wide=95.0,
        high=43.0,
        left=10.0,
        top=10.0,
        step_x=95.0,
        step_y=43.0,
        is_cut=True,
    )


CUT = {"A4": _cut(_A4, "A4"), "letter": _cut(_LETTER, "Letter")}
"""Plain paper by its name."""

_A4_14 = LabelSheet(
    file="labels-14.html",
    title="fourteen self-adhesive labels of 99.1 x 38.1 mm on A4",
    page_mm=_A4,
    columns=2,
    rows=7,
    wide=99.1,
    high=38.1,
    left=4.65,
    top=15.15,
    step_x=101.6,
    step_y=38.1,
)
_LETTER_10 = LabelSheet(
    file="labels-10.html",
    title="ten self-adhesive labels of 4 x 2 in on Letter",
    page_mm=_LETTER,
    columns=2,
    rows=5,
    wide=4 * _INCH,
    high=2 * _INCH,
    left=5 / 32 * _INCH,
    top=0.5 * _INCH,
    step_x=(4 + 3 / 16) * _INCH,
    step_y=2 * _INCH,
)


def _single(wide: float, high: float, title: str) -> LabelSheet:
    return LabelSheet(
        file="labels-single.html",
        title=title,
        page_mm=(wide, high),
        columns=1,
        rows=1,
        wide=wide,
        high=high,
        left=0.0,
        top=0.0,
        step_x=wide,
        step_y=high,
    )


STICKY = {
    "mm": (_A4_14, _single(100.0, 50.0, "one label of 100 x 50 mm a page, for a label printer")),
    "in": (_LETTER_10, _single(4 * _INCH, 2 * _INCH, "one label of 4 x 2 in a page, for a label printer")),
}
"""Self-adhesive labels that a job in these units gets besides plain paper."""
