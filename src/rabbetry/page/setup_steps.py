"""What to do with the hands before and between the programs of a sheet, in order."""

from collections.abc import Iterator, Sequence

from rabbetry.page.flip import keep_zero, turn_over
from rabbetry.page.model import PageView, ProgramView, SheetView
from rabbetry.page.text import plain
from rabbetry.page.wording import fine_length, short_length, short_size
from rabbetry.sheets.model import Flip, Sheet
from rabbetry.shop.model import Clamp, Machine, ZZero
from rabbetry.units import show_length


def setup_steps(item: SheetView, view: PageView) -> tuple[str, ...]:
    """Return the steps for one sheet, a sentence or two each."""
    machine, units = view.machine, view.units
    if item.sheet.flip is not None:
        return tuple(_flipped_steps(item, view, item.sheet.flip))
    return (
        lay_down(item.sheet, units),
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
        yield f"{_hold(clamps, units)} {keep_zero()} Touch off z anew on {zero_place(view.machine)}."
        if item.screws:
            yield f"Through the holes of side 1: {_screw_down(item.screws, units)}"
        yield from _run(item, view)
        yield _FREE
        return
    yield lay_down(item.sheet, units)
    yield _hold(clamps, units)
    yield _zero(view.machine)
    yield from _run(item, view)
    yield "Nothing is cut free yet. Leave x and y zero as they are, and go on with side 2, where the blank is flipped."


def lay_down(sheet: Sheet, units: str) -> str:
    """Return what blank to lay down, how its grain runs, and how thick it is taken to be."""
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
        clamp_place(clamp, units) for clamp in clamps
    ) + "."  # fmt: skip


def clamp_place(clamp: Clamp, units: str) -> str:
    """Return where a clamp stands, from the blank's lower left corner, and how high it may be."""
    return (
        f"{plain(clamp.name)} from x {short_length(clamp.x_mm, units)}, y {short_length(clamp.y_mm, units)}, "
        f"{short_size(clamp.length_x_mm, clamp.length_y_mm, units)}, at most {short_length(clamp.height_mm, units)} "
        f"{units} high"
    )


def _zero(machine: Machine) -> str:
    return f"Set x and y zero at the blank's lower left corner, and z zero on {zero_place(machine)}."


def zero_place(machine: Machine) -> str:
    """Return what z zero is set on."""
    return "the blank's top" if machine.z_zero is ZZero.STOCK_TOP else "the spoilboard, beside the blank"


def _run(item: SheetView, view: PageView) -> Iterator[str]:
    fitted: int | None = None
    has_air_run = any(program.kind == "air run" for program in item.programs)
    for program in item.programs:
        if program.kind == "air run":
            number = fitted = program.cutters[0]
            yield (
                f"Load {cutter_in_words(number, view)}. Run {_file(program)}, hand on the stop: with the spindle off "
                "it goes slowly round the blank, each clamp and all cuts, above the clamps. Does it go where they are?"
            )
            continue
        loads = "; then ".join(_load(number, item.sheet.stock, view) for number in program.cutters)
        again = " Touch off z again with this cutter; x and y stay." if fitted not in (None, program.cutters[0]) else ""
        stay = "Stay at the machine."
        if program.kind == "hold-down":
            yield f"Load {loads}.{again} Run {_file(program)}: it drills for the screws. {stay}"
            yield _screw_down(item.screws, view.units)
            fitted = program.cutters[-1]
            continue
        if has_air_run:
            yield f"Load {loads}.{again} Run {_file(program)}. {stay}"
        else:
            yield f"Load {loads}.{again} Run {_file(program)} in the air first, well above the work; then cut. {stay}"
        fitted = program.cutters[-1]


def _file(program: ProgramView) -> str:
    return plain(program.file.rpartition("/")[2])


def _screw_down(screws: Sequence[Clamp], units: str) -> str:
    places = "; ".join(
        f"x {short_length(head.x_mm + head.length_x_mm / 2, units)}, "
        f"y {short_length(head.y_mm + head.length_y_mm / 2, units)}"
        for head in screws
    )
    head = screws[0]
    return (
        f"Screw the blank down through these {len(screws)} holes: {places}. No head wider than "
        f"{short_length(head.length_x_mm, units)} {units} or higher than {short_length(head.height_mm, units)} "
        f"{units}, and no screw through the spoilboard into the bed."
    )


def _load(number: int, stock: str, view: PageView) -> str:
    speed = speed_in_words(number, stock, view)
    return cutter_in_words(number, view) + (f", {speed}" if speed else "")


def speed_in_words(number: int, stock: str, view: PageView) -> str:
    """Return how fast a cutter is to turn in a stock, and who sees to it; nothing where no speed is known."""
    choice = next((item for item in view.feeds if item.cutter == number and item.stock == stock), None)
    if choice is None:
        return ""
    if view.machine.spindle_by_hand:
        dial = f"the dial at {plain(choice.dial)}, about" if choice.dial else "the spindle by hand to"
        return f"{dial} {choice.rpm:.0f} rpm, switched on by hand"
    return f"{choice.rpm:.0f} rpm set by the program"


def cutter_in_words(number: int, view: PageView) -> str:
    """Return a cutter's number, name, diameter, kind and how far it sticks out."""
    cutter = next((item for item in view.cutters if item.number == number), None)
    if cutter is None:
        return f"cutter {number}"
    return (
        f"cutter {number} ({plain(cutter.name)}, {fine_length(cutter.cut_diameter_mm, view.units)} "
        f"{cutter.kind.value}, sticking out {show_length(cutter.stick_out_mm, view.units)})"
    )
