"""Faults of the setup: what lies on the machine is not what the program was made for. Each function yields the sheets
where its fault matters."""

from collections.abc import Callable, Iterator

from fault_matrix_kit import Fault, Setup, Sheet, Step, fault_of

Faults = Callable[[Sheet], Iterator[Fault]]


def everywhere(change: Callable[[Setup], None]) -> Faults:
    """Return the kind that changes every setup of a sheet."""

    def faults(sheet: Sheet) -> Iterator[Fault]:
        fault = fault_of(sheet)
        for setup in fault.setups.values():
            change(setup)
        if any(fault.setups[text.name] != text.setup for text in sheet.texts):
            yield fault

    return faults


def cutter(number: int, **values: object) -> Faults:
    """Return the kind that changes a cutter the sheet uses."""
    change = everywhere(lambda setup: _cutter(setup, number).update(values))
    return lambda sheet: change(sheet) if number in _used(sheet) else iter(())


def worn(number: int, by_mm: float) -> Faults:
    """Return the kind whose cutter is narrower (or wider, if negative) than the plan knew."""

    def change(setup: Setup) -> None:
        _cutter(setup, number)["diameter_mm"] -= by_mm

    return lambda sheet: everywhere(change)(sheet) if number in _used(sheet) else iter(())


def _cutter(setup: Setup, number: int) -> Setup:
    return next(cutter for cutter in setup["cutters"] if cutter["number"] == number)


def _used(sheet: Sheet) -> set[int]:
    return {number for text in sheet.texts for number in text.setup["loaded"]}


def thickness(by_mm: float) -> Callable[[Setup], None]:
    def change(setup: Setup) -> None:
        setup["blank"]["thickness_mm"] += by_mm
        setup["spoilboard_z_mm"] -= by_mm

    return change


def turned(sheet: Sheet) -> Iterator[Fault]:
    """The blank lies the other way round. Matters where it is long: one of 1220 x 1218 carries its parts either way."""
    blank = sheet.texts[0].setup["blank"]
    if abs(blank["x_mm"] - blank["y_mm"]) > 100:
        yield from everywhere(lambda setup: setup["blank"].update(x_mm=blank["y_mm"], y_mm=blank["x_mm"]))(sheet)


def clamp_on(*, tall: bool) -> Faults:
    """Return the kind with a clamp on each program's longest motion: a low one in a cut, a tall one in a traverse."""

    def faults(sheet: Sheet) -> Iterator[Fault]:
        for text in sheet.texts:
            wanted = [step for step in text.steps if step.operation > 0 and _meets(step, tall=tall)]
            for step in sorted(wanted, key=_way)[-1:]:
                fault = fault_of(sheet)
                x, y = (step.start[0] + step.to[0]) / 2, (step.start[1] + step.to[1]) / 2
                box = {"x_mm": x - 10, "y_mm": y - 10, "length_x_mm": 20, "length_y_mm": 20}
                for setup in fault.setups.values():
                    setup["clamps"] = [{"name": "stray", "top_z_mm": 40.0 if tall else 5.0, **box}]
                fault.file, fault.lines = text.name, range(step.index + 1, step.index + 2)
                yield fault

    return faults


def _meets(step: Step, *, tall: bool) -> bool:
    return step.motion == "G0" and step.to[2] > 0 if tall else step.is_level and step.to[2] < -1


def _way(step: Step) -> float:
    return abs(step.to[0] - step.start[0]) + abs(step.to[1] - step.start[1])


def offset_moved(axis: int, by_mm: float) -> Callable[[Setup], None]:
    def change(setup: Setup) -> None:
        setup["work_offset"]["machine_mm"][axis] += by_mm

    return change


def offset_unknown_with(line: str) -> Faults:
    """Return the kind with a motion in machine coordinates while the work offset is not declared."""

    def faults(sheet: Sheet) -> Iterator[Fault]:
        for text in sheet.texts:
            fault = fault_of(sheet)
            for setup in fault.setups.values():
                setup["work_offset"]["machine_mm"] = None
            index = text.operations[0].begin
            lines = [*text.lines[:index], line, *text.lines[index:]]
            fault.texts[text.name] = "\n".join(lines) + "\n"
            fault.file, fault.lines = text.name, range(index + 1, index + 2)
            yield fault

    return faults


def texts_exchanged(sheet: Sheet) -> Iterator[Fault]:
    """Two programs of a sheet carry each other's names."""
    for one, other in zip(sheet.texts, sheet.texts[1:], strict=False):
        fault = fault_of(sheet)
        texts = fault.texts
        texts[one.name], texts[other.name] = texts[other.name], texts[one.name]
        yield fault


def run_backwards(sheet: Sheet) -> Iterator[Fault]:
    """The outlines' program runs before the holes' and dados'. Matters where two or more programs cut."""
    if len(sheet.cutting) > 1:
        fault = fault_of(sheet)
        fault.order.reverse()
        for text in sheet.cutting:
            fault.setups[text.name]["programs"] = [name for name in fault.order if name in text.setup["programs"]]
        yield fault


def program_missing(sheet: Sheet) -> Iterator[Fault]:
    for text in sheet.cutting if len(sheet.cutting) > 1 else ():
        fault = fault_of(sheet)
        fault.order.remove(text.name)
        yield fault


def hole_not_planned(sheet: Sheet) -> Iterator[Fault]:
    """The job asks for a hole more than was cut."""
    for place, panel in enumerate(sheet.cutting[0].setup["target"]["panels"]):
        fault = fault_of(sheet)
        (x, y), segments = panel["outline"]["start"], panel["outline"]["segments"]
        far = max(segments, key=lambda segment: abs(segment["to"][0] - x) + abs(segment["to"][1] - y))["to"]
        bore = {"name": "forgotten", "x_mm": (x + far[0]) / 2, "y_mm": (y + far[1]) / 2}
        for text in sheet.cutting:
            bores = fault.setups[text.name]["target"]["panels"][place]["bores"]
            bores.append({**bore, "diameter_mm": 5.0, "depth_mm": 4.0, "through": False})
        yield fault
