"""What to do with the hands before and between the programs of a sheet, in order."""

from collections.abc import Iterator, Sequence

from rabbetry.feeds.model import FeedChoice
from rabbetry.page.flip import keep_zero, turn_over
from rabbetry.page.model import PageView, ProgramView, SheetView
from rabbetry.page.text import plain
from rabbetry.page.wording import fine_length, short_length, short_size
from rabbetry.sheets.model import Flip, Sheet
from rabbetry.shop.model import Clamp, Cutter, Machine, ZZero
from rabbetry.units import show_length


def setup_steps(item: SheetView, view: PageView) -> tuple[str, ...]:
    """Return the steps for one sheet, a sentence or two each."""
    machine, units = view.machine, view.units
    if item.sheet.flip is not None:
        return tuple(_flipped_steps(item, view, item.sheet.flip))
    return (
        _lay_down(item.sheet, units),
        _hold(machine.clamps, units),
        _zero(machine),
        *_run(item, view),
        _FREE,
    )


_FREE = (
    "Wait until the spindle stands still before you reach in. Free the parts, and stick each label on before the part "
    "leaves the table."
)


def _flipped_steps(item: SheetView, view: PageView, flip: Flip) -> Iterator[str]:
    """Yield the steps of one side of a blank that is flipped."""
    units, clamps = view.units, view.machine.clamps
    if item.sheet.side == 2:
        yield turn_over(flip, item.sheet.thickness_mm, units)
        yield f"{_hold(clamps, units)} {keep_zero()} Touch off z anew on {_z_place(view.machine)}."
        yield from _run(item, view)
        yield _FREE
        return
    yield _lay_down(item.sheet, units)
    yield _hold(clamps, units)
    yield _zero(view.machine)
    yield from _run(item, view)
    yield "Nothing is cut free yet. Leave x and y zero as they are, and go on with side 2, where the blank is flipped."


def _lay_down(sheet: Sheet, units: str) -> str:
    size = short_size(sheet.blank_x_mm, sheet.blank_y_mm, units)
    grain = ""
    if sheet.has_grain:
        grain = f", grain {'left to right' if sheet.grain_along_x else 'front to back'}"
    thickness = show_length(sheet.thickness_mm, units)
    known = (
        f"The programs are made for the measured {thickness}: check it with the caliper."
        if sheet.thickness_is_measured
        else f"Thickness not measured: the programs assume {thickness}. Measure this sheet before you cut it."
    )
    what = f'the offcut "{plain(sheet.offcut)}"' if sheet.offcut else "a blank"
    return f"Lay {what} of {plain(sheet.stock)}, {size}{grain}, on a clean spoilboard. {known}"


def _hold(clamps: Sequence[Clamp], units: str) -> str:
    if not clamps:
        return "No clamp is set for this machine: hold the blank where no cutter passes, so that it cannot lift."
    return "Clamp it exactly here, measured from the lower left corner: " + "; ".join(
        f"{plain(clamp.name)} from x {short_length(clamp.x_mm, units)}, y {short_length(clamp.y_mm, units)}, "
        f"{short_size(clamp.length_x_mm, clamp.length_y_mm, units)}, at most {short_length(clamp.height_mm, units)} "
        f"{units} high"
        for clamp in clamps
    ) + "."  # fmt: skip


def _zero(machine: Machine) -> str:
    return f"Set x and y zero at the blank's lower left corner, and z zero on {_z_place(machine)}."


def _z_place(machine: Machine) -> str:
    return "the blank's top" if machine.z_zero is ZZero.STOCK_TOP else "the spoilboard, beside the blank"


def _run(item: SheetView, view: PageView) -> Iterator[str]:
    cutters = {cutter.number: cutter for cutter in view.cutters}
    feeds = {choice.cutter: choice for choice in view.feeds if choice.stock == item.sheet.stock}
    fitted: int | None = None
    has_air_run = any(program.kind == "air run" for program in item.programs)
    for program in item.programs:
        if program.kind == "air run":
            number = fitted = program.cutters[0]
            yield (
                f"Load {_fitted(number, cutters, view)}. Run {_file(program)}, hand on the stop: with the spindle off "
                "it goes slowly round the blank, each clamp and all cuts, above the clamps. Does it go where they are?"
            )
            continue
        loads = "; then ".join(_load(number, cutters, feeds, view) for number in program.cutters)
        again = " Touch off z again with this cutter; x and y stay." if fitted not in (None, program.cutters[0]) else ""
        stay = "Stay at the machine."
        if has_air_run:
            yield f"Load {loads}.{again} Run {_file(program)}. {stay}"
        else:
            yield f"Load {loads}.{again} Run {_file(program)} in the air first, well above the work; then cut. {stay}"
        fitted = program.cutters[-1]


def _file(program: ProgramView) -> str:
    return plain(program.file.rpartition("/")[2])


def _load(number: int, cutters: dict[int, Cutter], feeds: dict[int, FeedChoice], view: PageView) -> str:
    choice = feeds.get(number)
    text = _fitted(number, cutters, view)
    if choice and view.machine.spindle_by_hand:
        dial = f"the dial at {plain(choice.dial)}, about" if choice.dial else "the spindle by hand to"
        text += f", {dial} {choice.rpm:.0f} rpm, switched on by hand"
    elif choice:
        text += f", {choice.rpm:.0f} rpm set by the program"
    return text


def _fitted(number: int, cutters: dict[int, Cutter], view: PageView) -> str:
    cutter = cutters.get(number)
    if cutter is None:
        return f"cutter {number}"
    return (
        f"cutter {number} ({plain(cutter.name)}, {fine_length(cutter.cut_diameter_mm, view.units)} "
        f"{cutter.kind.value}, sticking out {show_length(cutter.stick_out_mm, view.units)})"
    )
