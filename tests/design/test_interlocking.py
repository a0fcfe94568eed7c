"""What is said about tails, pins, fingers and dovetail housings that are not drawn well, or not alike."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sequencer.design.checking import check_design
from sequencer.features import Feature
from sequencer.findings import Finding, has_errors
from sequencer.model.frame import Block
from tests.features.samples import findings, make
from tests.interlocking import corner, finger_corner, shelf, with_pins
from tests.made import knowledge

BOARD = Block(300.0, 90.0, 15.0)
TAILS = {"end": "left", "tails": 3, "pin": 6, "slope": 6, "length": 15}


def found(kind: str, block: Block = BOARD, **fields: Any) -> list[str]:
    return [each.code for each in findings(make(kind, **fields), block)]


@pytest.mark.parametrize(
    ("changed", "code"),
    [
        ({}, ""),
        ({"pin": 2.9}, "thin-pin"),
        ({"half_pin": 2.5}, "thin-pin"),
        ({"pin": 3}, ""),
        # (90 - 2 x 6) / 1 = 78 and (90 - 3 x 6) / 2 = 36 to a tail.
        ({"tails": 1}, "wide-tails"),
        ({"tails": 2}, ""),
        ({"slope": 5.9}, "dovetail-slope"),
        ({"slope": 8}, ""),
        ({"slope": 8.5}, "dovetail-slope"),
        # 12 tails and 13 pins of 6: 1 mm is left at the tip of each.
        ({"tails": 12}, "no-tails"),
    ],
)
def test_tails_are_held_to_the_rules_of_the_trade(changed: dict[str, Any], code: str) -> None:
    assert found("dovetails", **(TAILS | changed)) == ([code] if code else [])


def test_tails_as_long_as_the_part_leave_nothing() -> None:
    assert found("dovetails", Block(15, 90, 15), **TAILS) == ["nothing-left"]
    assert found("dovetail-pins", Block(15, 90, 15), **TAILS) == ["nothing-left"]


def test_wide_tails_say_how_many_would_do() -> None:
    (wide,) = findings(make("dovetails", **(TAILS | {"tails": 1})), BOARD)
    # 36 mm each with two: a textbook's most is 38.
    assert wide.remedy == "Draw 2 tails."
    assert "38 mm" in wide.source


@pytest.mark.parametrize(
    ("depth", "code"), [(None, ""), (12, ""), (12.5, "thin-under-cut"), (14, "thin-under-cut"), (15, "nothing-left")]
)
def test_a_lap_is_three_millimetres_at_least(depth: float | None, code: str) -> None:
    fields = TAILS | ({"depth": depth} if depth else {})
    assert found("dovetail-pins", **fields) == ([code] if code else [])


def test_a_half_pin_wider_than_a_pin_is_refused() -> None:
    with pytest.raises(ValueError, match="a half pin is at most as wide as a pin"):
        make("dovetails", **(TAILS | {"half_pin": 7}))


def test_sockets_open_in_a_broad_face() -> None:
    with pytest.raises(ValueError, match="the sockets between the pins open in a broad face"):
        make("dovetail-pins", **(TAILS | {"face": "top"}))


@pytest.mark.parametrize(
    ("finger", "code"),
    # 90 is 9 of 10 and 30 of 3; 8 of 11 leave 2; one of 50 and a rest.
    [(10, ""), (3, ""), (2.5, "thin-finger"), (11, "uneven-fingers"), (50, "nothing-left")],
)
def test_fingers_come_out_even(finger: float, code: str) -> None:
    assert found("finger-joint", end="left", length=15, finger=finger) == ([code] if code else [])


def test_a_dovetail_housing_keeps_its_mouth_open_and_its_neck_strong() -> None:
    housing: dict[str, Any] = {"face": "inside", "from": "left", "distance": 100, "slope": 6}
    assert found("dovetail-housing", **housing, width=15, depth=5) == []
    # 2 x 6 / 6 = 2 of 2 mm.
    assert found("dovetail-housing", **housing, width=2, depth=6) == ["nothing-left"]
    assert found("dovetail-end", Block(300, 90, 6), end="left", length=12, slope=7) == ["thin-neck"]


def errors(drawn: Any) -> list[Finding]:
    return [each for each in check_design(drawn, knowledge()) if each.level == "error"]


def test_sound_corners_and_shelves_have_nothing_to_say() -> None:
    for drawn in (corner(70, 12, 15, tails=3, pin=6, slope=6), finger_corner(), shelf(), shelf(stop=20)):
        assert not has_errors(check_design(drawn, knowledge()))


@pytest.mark.parametrize(
    ("changed", "says"),
    [
        ({"tails": 2}, "tails 3 and 2"),
        ({"pin": 7.0, "half_pin": 6.0}, "pins, mm, 6 and 7"),
        ({"slope": 8.0}, "a slope of 1 in 6 and 8"),
        ({"depth": 11.0}, "tails so long and sockets so deep, mm: 15 and 11"),
    ],
)
def test_tails_and_pins_not_drawn_alike_are_named_with_their_figures(changed: dict[str, Any], says: str) -> None:
    drawn = with_pins(corner(70, 12, 15, tails=3, pin=6, slope=6), **changed)
    (unlike,) = [each for each in errors(drawn) if each.code == "does-not-interlock"]
    assert unlike.subject == "corner"
    assert says in unlike.what


def test_fingers_that_start_alike_do_not_interlock() -> None:
    drawn = finger_corner()
    front = drawn.parts["front"]
    gaps: Feature = replace(front.features["gaps"], start="finger")  # type: ignore[call-arg]
    drawn = replace(drawn, parts={**drawn.parts, "front": replace(front, features={"gaps": gaps})})
    (unlike,) = [each for each in errors(drawn) if each.code == "does-not-interlock"]
    assert "starts with a finger and a finger" in unlike.what


def test_a_plain_end_does_not_hold_in_a_dovetail_housing() -> None:
    drawn = shelf()
    rail = drawn.parts["rail"]
    joints = {
        name: replace(each, its=replace(each.its, face="left" if name == "rail-1" else "right", feature=""))
        if name.startswith("rail")
        else each
        for name, each in drawn.joints.items()
    }
    drawn = replace(drawn, parts={**drawn.parts, "rail": replace(rail, features={})}, joints=joints)
    (unlike,) = [each for each in errors(drawn) if each.code == "does-not-interlock"]
    assert unlike.subject == "rail-1"


# W. Fairham, Woodwork Joints: 1 in 8, not beyond 1 in 6; common practice: 1 in 6 in softwood, 1 in 8 in hardwood.
@pytest.mark.parametrize(("slope", "hardness", "noted"), [(6, "softwood", 0), (6, "hardwood", 1), (8, "hardwood", 0)])
def test_the_slope_suits_the_wood(slope: float, hardness: str, noted: int) -> None:
    drawn = corner(70, 12, 15, tails=3, pin=6, slope=slope)
    stock = {name: replace(each, hardness=hardness) for name, each in drawn.stock.items()}
    found = [each for each in check_design(replace(drawn, stock=stock), knowledge()) if each.code == "slope-for-the-wood"]
    assert len(found) == noted
