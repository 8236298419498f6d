"""A JSON value with the key that leads to it, asked for what it should be; every fault is noted with its key."""

import json
import math
from collections.abc import Callable
from typing import TypeVar

from rabbetry.dryrun.model import Point3
from rabbetry.dryrun.setup import Point2
from rabbetry.dryrun.tolerances import LARGEST_SETUP_MM
from rabbetry.errors import Fault

Record = TypeVar("Record")


class Node:
    """One value: a fault is noted and a harmless value given instead."""

    def __init__(self, data: object, key: str, file: str, faults: list[Fault]) -> None:
        self.data = data
        self.key = key
        self.file = file
        self.faults = faults

    def is_object(self) -> bool:
        return isinstance(self.data, dict)

    def value(self, name: str) -> object:
        return self.data.get(name) if isinstance(self.data, dict) else None

    def child(self, name: str) -> "Node":
        return Node(self.value(name), f"{self.key}.{name}" if self.key else name, self.file, self.faults)

    def fault(self, expected: str) -> None:
        shown = json.dumps(self.data, default=str)
        read = "missing" if self.data is None else shown if len(shown) <= 40 else shown[:37] + "..."
        self.faults.append(Fault(file=self.file, place=self.key, problem=f"{read}: {expected} was expected"))

    def items(self, name: str, read: Callable[["Node"], Record], *, optional: bool = False) -> tuple[Record, ...]:
        node = self.child(name)
        if node.data is None and optional:
            return ()
        if not isinstance(node.data, list):
            node.fault("a list")
            return ()
        return tuple(
            read(Node(item, f"{node.key}[{index}]", self.file, self.faults)) for index, item in enumerate(node.data)
        )

    def real(self, *, least: float = -LARGEST_SETUP_MM) -> float:
        data = self.data
        if isinstance(data, int | float) and not isinstance(data, bool):
            number = float(data) if abs(data) <= LARGEST_SETUP_MM else math.inf
            if least <= number <= LARGEST_SETUP_MM:
                return number
        self.fault(f"a number from {least:g} to {LARGEST_SETUP_MM:g}")
        return 1.0

    def number(self, name: str, *, least: float = -LARGEST_SETUP_MM) -> float:
        return self.child(name).real(least=least)

    def size(self, name: str) -> float:
        return self.number(name, least=0.0)

    def whole(self) -> int:
        if isinstance(self.data, int) and not isinstance(self.data, bool) and 0 <= self.data <= LARGEST_SETUP_MM:
            return self.data
        self.fault("a whole number, 0 or more")
        return 0

    def text(self, name: str = "") -> str:
        node = self.child(name) if name else self
        if isinstance(node.data, str):
            return node.data
        node.fault("a text")
        return ""

    def truth(self, name: str) -> bool:
        node = self.child(name)
        if isinstance(node.data, bool):
            return node.data
        node.fault("true or false")
        return False

    def reals(self, count: int) -> list[float]:
        if isinstance(self.data, list) and len(self.data) == count:
            return [
                Node(item, f"{self.key}[{index}]", self.file, self.faults).real()
                for index, item in enumerate(self.data)
            ]
        self.fault(f"a list of {count} numbers")
        return [1.0] * count

    def point2(self) -> Point2:
        x, y = self.reals(2)
        return (x, y)

    def point3(self, name: str) -> Point3:
        x, y, z = self.child(name).reals(3)
        return (x, y, z)

    def rates(self, name: str) -> Point3:
        rates = self.point3(name)
        if min(rates) <= 0:
            self.child(name).fault("a rate of more than 0 on every axis")
            return (1.0, 1.0, 1.0)
        return rates
