"""A job names rows of the hardware tables; single settings lie over them, and a cabinet's over the job's."""

import pytest
from job_text import CABINET_MM, cabinet_text, faults, job_text, read

from rabbetry.shop.hardware import SlideMount


def test_a_row_sets_what_belongs_to_it_and_leaves_the_rest() -> None:
    text = job_text('[construction]\nshelf_pins = "1/4 in on 1 in"', CABINET_MM)
    c = read(text).cabinets[0].construction
    assert (c.pin_diameter_mm, c.pin_pitch_mm, c.pin_front_mm, c.pin_rear_mm) == pytest.approx((6.35, 25.4, 50.8, 50.8))
    assert c.pin_end_margin_mm == 100.0
    assert c.hinge_cup_diameter_mm == 35.0


def test_single_settings_beside_the_row_lie_over_it_whatever_their_order() -> None:
    text = job_text('[construction]\nshelf_pin_front = 60\nshelf_pins = "1/4 in on 1 in"\n', CABINET_MM)
    c = read(text).cabinets[0].construction
    assert (c.pin_front_mm, c.pin_rear_mm) == pytest.approx((60.0, 50.8))


def test_a_cabinet_s_row_lies_over_the_job_s_settings() -> None:
    job = read(
        job_text(
            '[construction]\nshelf_pin_front = 60\nshelf_pins = "5 mm on 2 in"',
            cabinet_text("width = 600", 'shelf_pins = "5 mm on 32"'),
            cabinet_text("width = 600", "shelf_pin_pitch = 64", name="B2"),
        )
    )
    first, second = (cabinet.construction for cabinet in job.cabinets)
    assert (first.pin_front_mm, first.pin_pitch_mm) == (37.0, 32.0)
    assert (second.pin_front_mm, second.pin_pitch_mm) == (60.0, 64.0)


def test_slides_beside_the_box_keep_the_undermount_allowance_out_of_the_sum() -> None:
    c = read(job_text('[construction]\nslides = "side-mount, 1 1/16 in"', CABINET_MM)).cabinets[0].construction
    assert c.fittings.slide_mount is SlideMount.SIDE
    assert c.drawer_side_allowance_mm == pytest.approx(26.9875)
    assert c.drawer_width_allowance_mm == 42.0


def test_a_first_hole_of_ones_own_replaces_the_row_s_rule() -> None:
    row = 'shelf_pins = "5 mm on 32, from half the bottom"'
    assert read(job_text(f"[construction]\n{row}", CABINET_MM)).cabinets[0].construction.fittings.pins_from_half_bottom
    own = read(job_text(f"[construction]\n{row}\nshelf_pin_first = 40", CABINET_MM)).cabinets[0].construction
    assert (own.pin_first_mm, own.fittings.pins_from_half_bottom) == (40.0, False)


def test_joining_boxes_takes_the_usual_screws_unless_others_are_named() -> None:
    job = read(
        job_text(
            cabinet_text("width = 600", 'join_boxes = "right"'),
            cabinet_text("width = 600", 'join_boxes = "both"', 'box_screws = "front line only, 5 mm"', name="B2"),
            cabinet_text("width = 600", name="B3"),
        )
    )
    right, both, none = (cabinet.construction.fittings for cabinet in job.cabinets)
    assert right.joined_sides == ("right",)
    assert right.box_screws is not None
    assert right.box_screws.name == "pairs, 5 mm"
    assert both.joined_sides == ("left", "right")
    assert both.box_screws is not None
    assert both.box_screws.rear_mm == 0.0
    assert (none.joined_sides, none.box_screws) == ((), None)


def test_a_row_of_the_job_s_own_can_be_named() -> None:
    row = '[[hinge_plate]]\nname = "loft"\ndiameter = 3\ndepth = 10\nfront = 28\nspacing = 52'
    c = read(job_text(row, cabinet_text("width = 600", 'hinge_plates = "loft"'))).cabinets[0].construction
    assert (c.plate_front_mm, c.plate_spacing_mm, c.plate_diameter_mm) == (28.0, 52.0, 3.0)


def test_a_row_that_is_not_there_is_told_with_the_nearest_name() -> None:
    text = job_text(
        '[construction]\nshelf_pins = "1/4 on 1 in"',
        cabinet_text("width = 600", 'slides = "side-mount, 1 inch"', 'join_boxes = "all"'),
    )
    assert faults(text) == [
        'cabinet "B1", join_boxes: "all" is not one of the choices; known: none, left, right, both',
        '[construction], shelf_pins: "1/4 on 1 in" is not in the tables; did you mean 1/4 in on 1 in?',
        'cabinet "B1", slides: "side-mount, 1 inch" is not in the tables; did you mean side-mount, 1 in?',
    ]
