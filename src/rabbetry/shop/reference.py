"""The reference of the shop's rows for people: every key with its value, default and meaning."""

from collections.abc import Iterator

from pydantic.fields import FieldInfo

from rabbetry.shop.hardware import Hardware
from rabbetry.shop.hardware_reference import HARDWARE_MEANINGS, HARDWARE_TITLES, shipped_rows
from rabbetry.shop.rows import ChipLoadRow, CutterRow, DialRow, MachineRow, MaterialRow, Row, SheetRow, TuningRow
from rabbetry.shop.tuning import CURES
from rabbetry.units import Length, show_length

_INTRODUCTION = """\
# The shop's tables

Machines, cutters, materials, chip loads, sheet goods and hardware are rows of TOML. The package ships some
(`src/rabbetry/shop/tables/`). A job changes single keys of a row, or adds rows; a file of your own, named by the job's
`tables` key, does the same for all your jobs. A *length* is a number in the file's `units` (millimetres unless said),
or text with its own unit, `"1/4 in"`. A key given again replaces the one before: package, then your file, then the job.
This reference is made from the model that reads the rows.
"""

_ROWS: tuple[tuple[str, type[Row], str], ...] = (
    ("[[machine]]", MachineRow, "One router, named by `name`. In a job: one `[machine]` table with `name`."),
    ("dial", DialRow, "One mark of a hand-set spindle's dial."),
    ("[[cutter]]", CutterRow, "One cutter, named by `number`."),
    ("[[sheet]]", SheetRow, "One kind of sheet as sold, named by `name`."),
    ("[[material]]", MaterialRow, "What sheets are made of, as far as cutting goes; named by `name`."),
    ("[[chip_load]]", ChipLoadRow, "Range of feed per tooth at a depth of one diameter; by `material` and `diameter`."),
    ("[[tuning]]", TuningRow, "What was heard and seen at the last cut, named by `name`; the signs stand below."),
    *HARDWARE_TITLES,
)

MEANINGS: dict[str, str] = {
    "machine.name": "what jobs call it",
    "machine.title": "one line for pages and setup sheets",
    "machine.travel_min": "least machine coordinates of the cutter's centre and tip, [x, y, z]",
    "machine.travel_max": "largest ones",
    "machine.blank_origin": "machine coordinates of the blank's lower left corner, [x, y]: the work offset",
    "machine.spoilboard_z": "machine z of the tip when it touches the spoilboard",
    "machine.bed": "largest blank that can lie on the bed, [x, y]",
    "machine.max_rate": "fastest each axis goes, per minute, [x, y, z]",
    "machine.acceleration": "acceleration of each axis, per second squared, [x, y, z]",
    "machine.spindle_min_rpm": "slowest speed of the spindle",
    "machine.spindle_max_rpm": "fastest speed of the spindle",
    "machine.spindle_power_kw": "power of the spindle in kW",
    "machine.spindle_rated_rpm": "speed at which the spindle gives that power; the fastest one unless given",
    "machine.spindle_by_hand": "true when the program cannot switch the spindle and the speed is a dial",
    "machine.dial": "marks of the dial, rising; needed when the speed is set by hand",
    "machine.collet_diameter": "widest part of the collet nut near the cutter",
    "machine.dust_shoe": "dust shoe about the cutter's axis, [x, y]",
    "machine.dust_shoe_height": "lower edge of the shoe above the cutter's tip",
    "machine.clearance": "height of traverses above the blank where no clamp is",
    "machine.clamp_margin": "kept around and above every clamp",
    "machine.spoilboard_allowance": "deepest bite into the spoilboard that is allowed",
    "machine.through": "how far a through cut goes past the blank; not above the allowance",
    "machine.z_zero": "where program zero lies: `stock top` or `spoilboard`",
    "machine.vacuum_holds_mm2": "least area (mm2) of a loose piece that the vacuum bed holds; 0: none",
    "machine.spindle_wait_s": "seconds the spindle needs to come up to speed",
    "machine.park": "where to go at the end, from the blank's corner, [x, y]",
    "machine.chip_load_factor": "share of the chart's chip load that this machine's stiffness bears",
    "machine.source": "where the figures come from",
    "dial.mark": "what stands on the dial",
    "dial.rpm": "speed at that mark",
    "cutter.number": "what programs call it",
    "cutter.name": "what setup sheets call it",
    "cutter.kind": "`end mill`, `compression`, `down-cut` or `drill`",
    "cutter.diameter": "nominal diameter",
    "cutter.flutes": "cutting edges",
    "cutter.flute_length": "length of the cutting edges: no cut goes deeper",
    "cutter.up_cut_length": "height of a compression cutter's up-cut tip; its first pass must be deeper",
    "cutter.centre_cutting": "whether it may go straight down; a drill always may",
    "cutter.measured_diameter": "what it cuts in truth, by caliper or coupon; wins over the nominal diameter",
    "cutter.shank_diameter": "diameter of the shank",
    "cutter.stick_out": "collet nose to tip",
    "cutter.max_pass": "deepest single pass; one diameter unless given",
    "cutter.life_m": "metres through wood after which its edge is taken as dull; not judged unless given",
    "cutter.source": "where the figures come from",
    "sheet.name": "what stocks call it",
    "sheet.title": "one line for lists and messages",
    "sheet.material": "row of the materials table",
    "sheet.nominal": "thickness it is sold as",
    "sheet.along": "size of the full sheet along the face grain",
    "sheet.across": "size across it",
    "sheet.grain": "whether it has a grain to keep",
    "sheet.thinnest": "least thickness its standard allows; a thinner measured one gets a warning",
    "sheet.thickest": "largest thickness its standard allows",
    "sheet.source": "where the figures come from",
    "material.name": "what sheets and chip loads call it",
    "material.cutting_force_n_per_mm2": "specific cutting force in N/mm2",
    "material.density_kg_per_m3": "density in kg/m3",
    "material.elasticity_n_per_mm2": "modulus of elasticity in bending in N/mm2; without it no shelf of it is judged",
    "material.source": "where the figures come from",
    "chip_load.material": "row of the materials table",
    "chip_load.diameter": "diameter of the cutter",
    "chip_load.low": "least feed per tooth",
    "chip_load.high": "largest feed per tooth",
    "chip_load.source": "whose figures they are",
    "tuning.name": "what you call the remark",
    "tuning.sign": "what was heard or seen: a word of the list below",
    "tuning.cutter": "number of the cutter; every cutter unless given",
    "tuning.material": "row of the materials table; every material unless given",
    "tuning.times": "how often: the sign's shares apply as often",
    **HARDWARE_MEANINGS,
}


def shop_reference_md(hardware: Hardware) -> str:
    """Return the reference of the shop's rows in Markdown; `hardware` are the rows that the package ships."""
    return "\n".join([_INTRODUCTION, *_tables(), *_signs(), *shipped_rows(hardware)])


def keys() -> tuple[str, ...]:
    """Return every key of every row as `kind.key`, in the order of the reference."""
    return tuple(f"{_kind(title)}.{key}" for title, row, _ in _ROWS for key in row.model_fields)


def _tables() -> Iterator[str]:
    for title, row, meaning in _ROWS:
        yield f"## {title}\n\n{meaning}\n"
        yield "| key | default | meaning |"
        yield "| --- | --- | --- |"
        for key, info in row.model_fields.items():
            yield f"| `{key}` | {_default(info)} | {MEANINGS[f'{_kind(title)}.{key}']} |"
        yield ""


def _signs() -> Iterator[str]:
    yield "## Signs of a [[tuning]]\n"
    yield (
        "Each sight of a sign multiplies spindle speed, chip load and depth of a pass with its shares (common "
        "practice, no source). `rabbetry feeds JOB --why` shows what came of it. Change one thing at a time and cut a "
        "test piece; a dull cutter burns at any feed.\n"
    )
    yield "| sign | meaning | speed | chip load | pass |"
    yield "| --- | --- | --- | --- | --- |"
    for sign, cure in CURES.items():
        shares = cure.shares
        yield f"| `{sign}` | {cure.meaning} | {shares.speed:g} | {shares.chip:g} | {shares.depth:g} |"
    yield ""


def _kind(title: str) -> str:
    return title.strip("[]")


def _default(info: FieldInfo) -> str:
    if info.is_required():
        return "required"
    if info.default_factory is not None:
        return ""
    value = info.get_default()
    if isinstance(value, Length):
        return show_length(value.mm, "mm")
    if isinstance(value, bool):
        return str(value).lower()
    return "" if value is None else str(value)
