"""Mortise, slot, cut-out: sizes worked by hand, and each check once for and once against."""

from __future__ import annotations

from math import pi, sin
from typing import Any

import pytest
from pydantic import ValidationError

from sequencer.model.shapes import bounds_of

from .samples import BOARD, findings, make, removed, the_finding

ROUND_16 = 16 / 2 * sin(pi / 2 / 16)
"""Area of a quarter circle of radius 1 drawn with 16 chords: 16 triangles of half the sine of their angle."""


def spans(kind: str, **fields: Any) -> tuple[tuple[float, float], ...]:
    around = bounds_of(make(kind, **fields).removes(BOARD))
    return around.span("x"), around.span("y"), around.span("z")


def test_a_mortise_is_placed_by_its_near_side_and_centred_otherwise() -> None:
    fields = {"face": "top", "length": 30, "width": 6, "depth": 25}
    assert spans("mortise", at={"left": 40}, **fields) == ((40, 70), (65, 90), (6, 12))
    assert spans("mortise", at={"right": 40, "outside": 4}, **fields) == ((230, 260), (65, 90), (4, 10))
    assert spans("mortise", **fields) == ((135, 165), (65, 90), (6, 12))


def test_a_mortise_without_depth_goes_through() -> None:
    mortise = make("mortise", face="inside", at={"right": 50}, length=40, width=12, along="width")
    assert bounds_of(mortise.removes(BOARD)).span("z") == (0, 18)
    assert bounds_of(mortise.removes(BOARD)).span("y") == (25, 65)
    assert mortise.opens() == ("inside", "outside")
    assert mortise.figures(BOARD)["feature.through"] == 1
    assert removed(mortise) == pytest.approx(40 * 12 * 18)


def test_a_mortise_is_dimensioned_from_its_edges() -> None:
    mortise = make("mortise", face="top", at={"left": 40}, length=30, width=6, depth=25)
    assert [each.label for each in mortise.dimensions(BOARD)] == ["40", "6", "30", "6", "25"]
    assert mortise.measured_from() == ("left", "outside", "inside", "top")


def test_round_ends_have_the_radius_of_half_the_width() -> None:
    slot = make("slot", face="inside", length=80, width=12, ends="round")
    assert removed(slot) == pytest.approx((68 * 12 + 4 * ROUND_16 * 6**2) * 18)
    assert slot.figures(BOARD)["feature.radius"] == 6
    assert bounds_of(slot.removes(BOARD)).span("x") == (110, 190)


def test_an_open_slot_counts_from_its_open_face_and_is_round_at_the_other_end_only() -> None:
    slot = make("slot", face="inside", at={"left": 100}, length=40, width=10, open="top", ends="round")
    around = bounds_of(slot.removes(BOARD))
    assert (around.span("x"), around.span("y")) == ((100, 110), (50, 90))
    assert removed(slot) == pytest.approx((35 * 10 + 2 * ROUND_16 * 5**2) * 18)
    assert slot.figures(BOARD)["feature.open"] == 1
    assert slot.opens() == ("inside", "outside", "top")


def test_a_cut_out_is_open_where_its_distance_is_nothing() -> None:
    opening = make("cut-out", at={"left": 30, "bottom": 0}, length=240, width=12, radius=8)
    assert opening.opens() == ("inside", "outside", "bottom")
    assert opening.figures(BOARD)["feature.open"] == 1
    # Two corners inside the part are rounded, the two at the open edge are not.
    assert removed(opening) == pytest.approx((240 * 12 - 2 * (1 - ROUND_16) * 8**2) * 18)


def test_a_closed_cut_out_has_four_rounded_corners() -> None:
    opening = make("cut-out", length=60, width=40, radius=20)
    assert removed(opening) == pytest.approx((20 * 40 + 4 * ROUND_16 * 20**2) * 18)
    assert opening.figures(BOARD)["feature.open"] == 0
    assert [each.label for each in opening.dimensions(BOARD)] == ["120", "25", "60", "40", "radius 20"]


@pytest.mark.parametrize(
    ("kind", "fields", "says"),
    [
        (
            "mortise",
            {"face": "top", "at": {"top": 5}, "length": 30, "width": 6},
            "the mortise is in the top face; it cannot be placed there by a distance from the top face",
        ),
        (
            "mortise",
            {"face": "top", "at": {"left": 5, "right": 5}, "length": 30, "width": 6},
            "the mortise is placed twice along the length, from left and from right",
        ),
        (
            "mortise",
            {"face": "top", "length": 30, "width": 6, "along": "width"},
            "the mortise is in the top face, which does not run along the width",
        ),
        ("slot", {"face": "inside", "length": 8, "width": 12, "ends": "round"}, "its length must be at least its width"),
        ("slot", {"face": "inside", "length": 30, "width": 12, "open": "outside"}, "it cannot run out at the outside face"),
        ("slot", {"face": "inside", "length": 30, "width": 12, "open": "top", "at": {"bottom": 5}}, "is not given again in `at`"),
        (
            "slot",
            {"face": "inside", "length": 30, "width": 12, "open": "top", "along": "length"},
            "the slot runs along the length; it cannot run out at the top face",
        ),
    ],
)
def test_what_no_board_could_make_right_is_refused(kind: str, fields: dict[str, Any], says: str) -> None:
    with pytest.raises(ValidationError, match=says):
        make(kind, **fields)


def test_a_blind_mortise_too_deep_may_go_through_instead() -> None:
    found = the_finding(make("mortise", face="inside", length=24, width=6, depth=18))
    assert (found.level, found.code) == ("error", "nothing-left")
    assert found.remedy == "Make it shallower; 12 mm is usual here. Leave out `depth` to go right through."


def test_a_mortise_beyond_the_end() -> None:
    found = the_finding(make("mortise", face="top", at={"left": 280}, length=30, width=6, depth=25))
    assert found.what == "The mortise reaches 10 mm beyond the right face of the part."


def test_thin_cheeks() -> None:
    found = the_finding(make("mortise", face="top", at={"left": 40, "inside": 2}, length=30, width=6, depth=25))
    assert (found.level, found.code) == ("warning", "thin-beside-cut")
    assert found.what == "Between the mortise and the inside face only 2 mm of wood stands."


def test_short_grain_beside_a_mortise() -> None:
    found = the_finding(make("mortise", face="inside", at={"left": 8}, length=24, width=12))
    assert found.code == "short-grain"
    assert "at least 12 mm" in found.remedy
    assert findings(make("mortise", face="inside", at={"left": 12}, length=24, width=12)) == []


def test_a_mortise_wider_than_half_the_thickness() -> None:
    found = the_finding(make("mortise", face="top", length=30, width=10, depth=40))
    assert (found.level, found.code) == ("warning", "mortise-width")
    assert found.what == "The mortise is 10 mm wide in 18 mm of wood, more than half."
    assert findings(make("mortise", face="top", length=30, width=9, depth=40)) == []
    # Across the width of a board a mortise is as wide as its key, whatever the thickness.
    assert findings(make("mortise", face="inside", length=40, width=12)) == []


def test_a_shallow_mortise_is_noted() -> None:
    found = the_finding(make("mortise", face="top", length=30, width=6, depth=12))
    assert (found.level, found.code) == ("note", "mortise-depth")
    assert found.what == "The mortise is 12 mm deep; three to five times its width is 18 to 30 mm."
    assert findings(make("mortise", face="top", length=30, width=6, depth=18)) == []


def test_corners_rounder_than_there_is_room() -> None:
    found = the_finding(make("cut-out", length=60, width=40, radius=25))
    assert (found.level, found.code) == ("error", "radius-too-large")
    assert found.what == (
        "The cut-out has its bottom/left, bottom/right, top/right, top/left corners rounded to 25 mm; it is 40 mm from bottom to "
        "top, with room for 20 mm."
    )
    # Open at the bottom, each upright side has one rounded corner only.
    assert findings(make("cut-out", at={"left": 30, "bottom": 0}, length=60, width=25, radius=25)) == []
