"""The reference of the shop's rows says what the model says."""

from pathlib import Path

import pytest

from rabbetry.files import load_tables
from rabbetry.shop.read import read_tables
from rabbetry.shop.reference import MEANINGS, keys, shop_reference_md

SHIPPED = read_tables(load_tables()).hardware
PATH = Path(__file__).parent.parent.parent / "docs" / "shop-tables.md"


def test_the_reference_is_up_to_date(request: pytest.FixtureRequest) -> None:
    if request.config.getoption("--rewrite-golden"):
        PATH.write_text(shop_reference_md(SHIPPED), encoding="utf-8")
    assert PATH.read_text(encoding="utf-8") == shop_reference_md(SHIPPED)


def test_every_key_has_one_meaning_and_no_meaning_lacks_its_key() -> None:
    assert sorted(MEANINGS) == sorted(keys())


def test_a_default_is_shown_as_people_write_it() -> None:
    text = shop_reference_md(SHIPPED)
    assert "| `clearance` | 10 mm |" in text
    assert "| `centre_cutting` | true |" in text
    assert "| `flute_length` | required |" in text
    assert "| `dial` |  |" in text
