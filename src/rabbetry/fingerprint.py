"""A short hash of plain values, alike on every machine: tells at a glance whether two things came from the same."""

import hashlib
import json
from dataclasses import fields, is_dataclass
from enum import Enum

_DIGITS = 10
"""Forty bits: two of a shop's programs share a fingerprint by chance once in a million years of building every day."""


def fingerprint(*values: object) -> str:
    """Return ten digits of base 16 for `values`: records, mappings, sequences, sets, texts, numbers, None.

    Records count by the names of their fields, mappings and sets without regard to order. Raises TypeError for any
    other value: what cannot be told apart must not be taken for the same.
    """
    text = json.dumps([_plain(value) for value in values], ensure_ascii=True, separators=(",", ":"))
    return hashlib.sha256(text.encode("ascii")).hexdigest()[:_DIGITS]


def _plain(value: object) -> object:
    if isinstance(value, Enum):
        return ["enum", str(value.value)]
    if value is None or isinstance(value, str | bool | int):
        return value
    if isinstance(value, float):
        return ["float", value.hex()]
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: _plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, dict):
        return ["map", sorted((json.dumps(_plain(key)), _plain(item)) for key, item in value.items())]
    if isinstance(value, list | tuple):
        return [_plain(item) for item in value]
    if isinstance(value, set | frozenset):
        return ["set", sorted(json.dumps(_plain(item)) for item in value)]
    raise TypeError(f"no fingerprint of {type(value).__name__}")
