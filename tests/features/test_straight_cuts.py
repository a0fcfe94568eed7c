"""Groove, housing, halving, rebate, notch: sizes worked by hand, and each check once for and once against."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from sequencer.model.frame import Block
from sequencer.model.shapes import bounds_of

from .samples import BOARD, findings, make, removed, the_finding

HOUSING = {"face": "inside", "from": "left", "distance": 12, "width": 15, "depth": 5}


def test_a_groove_removes_its_width_times_depth_over_the_length() -> None:
    groove = make("groove", face="inside", from_="bottom", distance=8, width=6, depth=6)
    assert removed(groove) == pytest.approx(6 * 6 * 300)
    around = bounds_of(groove.removes(BOARD))
    assert (around.span("x"), around.span("y"), around.span("z")) == ((0, 300), (8, 14), (12, 18))
    assert groove.lengthwise(BOARD)
    assert groove.opens() == ("inside",)
    assert groove.measured_from() == ("bottom", "inside")


def test_stops_hold_a_groove_back() -> None:
    groove = make("groove", face="inside", from_="bottom", distance=8, width=6, depth=6, stops={"left": 20, "right": 30})
    assert bounds_of(groove.removes(BOARD)).span("x") == (20, 270)
    assert groove.figures(BOARD)["feature.stopped"] == 2
    assert not groove.lengthwise(BOARD)
    assert [each.label for each in groove.dimensions(BOARD)] == ["8", "6", "6", "20", "30"]


def test_a_housing_measured_from_the_right_counts_from_there() -> None:
    housing = make("housing", face="outside", from_="right", distance=10, width=18, depth=6)
    around = bounds_of(housing.removes(BOARD))
    assert (around.span("x"), around.span("y"), around.span("z")) == ((272, 290), (0, 90), (0, 6))
    assert housing.figures(BOARD)["feature.length"] == 90
    assert housing.figures(BOARD)["feature.remaining"] == 12


def test_a_halving_in_an_edge_goes_through_the_thickness() -> None:
    halving = make("halving", face="top", from_="left", distance=141, width=18, depth=45)
    around = bounds_of(halving.removes(BOARD))
    assert (around.span("x"), around.span("y"), around.span("z")) == ((141, 159), (45, 90), (0, 18))


def test_an_end_halving_opens_the_end() -> None:
    halving = make("halving", face="inside", from_="left", distance=0, width=90, depth=9)
    assert halving.opens() == ("inside", "left")
    assert findings(halving) == []


def test_a_rebate_lies_along_its_edge() -> None:
    rebate = make("rebate", edge="inside/top", width=12, depth=9)
    around = bounds_of(rebate.removes(BOARD))
    assert (around.span("x"), around.span("y"), around.span("z")) == ((0, 300), (78, 90), (9, 18))
    assert rebate.opens() == ("inside", "top")


def test_a_notch_goes_right_through() -> None:
    notch = make("notch", edge="top", from_="left", distance=60, length=40, depth=20)
    assert removed(notch) == pytest.approx(40 * 20 * 18)
    figures = notch.figures(BOARD)
    assert (figures["feature.length"], figures["feature.depth"], figures["feature.width"]) == (40, 20, 18)
    assert notch.opens() == ("top", "inside", "outside")


def test_a_notch_at_a_corner_opens_the_end_too() -> None:
    assert make("notch", edge="bottom", from_="right", length=25, depth=15).opens() == ("bottom", "inside", "outside", "right")


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        (HOUSING | {"from": "outside"}, "is in the inside face and measured from the outside face; those do not meet"),
        (HOUSING | {"stops": {"left": 5}}, "the housing runs from bottom to top; it cannot stop at the left face"),
        (HOUSING | {"depth": 0}, "Input should be greater than 0"),
        (HOUSING | {"distance": -1}, "Input should be greater than or equal to 0"),
        (HOUSING | {"depht": 5}, "Unexpected keyword argument"),
    ],
)
def test_what_no_board_could_make_right_is_refused(fields: dict[str, object], says: str) -> None:
    with pytest.raises(ValidationError, match=says):
        make("housing", **fields)


def test_beside_the_part() -> None:
    found = the_finding(make("housing", **HOUSING | {"distance": 300}))
    assert (found.level, found.code) == ("error", "outside-part")
    assert found.what == "The housing lies outside the part: it runs from 300 to 315 along the length, and the part has 0 to 300."


def test_beyond_an_edge() -> None:
    found = the_finding(make("groove", face="inside", from_="bottom", distance=85, width=10, depth=5))
    assert (found.level, found.code) == ("error", "outside-part")
    assert found.what == "The groove reaches 5 mm beyond the top face of the part."


@pytest.mark.parametrize(
    ("depth", "level", "code", "says"),
    [
        (18, "error", "nothing-left", "nothing is left under it"),
        (16.5, "error", "thin-under-cut", "only 1.5 mm is left under it"),
        (15.5, "warning", "thin-under-cut", "only 2.5 mm is left under it"),
        (10, "warning", "deep-cut", "that is over 9 mm"),
    ],
)
def test_wood_left_under_a_groove(depth: float, level: str, code: str, says: str) -> None:
    found = the_finding(make("groove", face="inside", from_="bottom", distance=8, width=6, depth=depth))
    assert (found.level, found.code) == (level, code)
    assert found.what == f"The groove is {depth} mm deep and the thickness is 18 mm there: {says}."
    assert found.remedy.startswith("Make it shallower; 6 mm is usual here.")


def test_half_the_thickness_is_not_too_deep() -> None:
    assert findings(make("groove", face="inside", from_="bottom", distance=8, width=6, depth=9)) == []


def test_a_halving_may_take_half_and_is_asked_about_over_two_thirds() -> None:
    assert findings(make("halving", face="inside", from_="left", distance=100, width=40, depth=9)) == []
    assert findings(make("halving", face="inside", from_="left", distance=100, width=40, depth=12)) == []
    found = the_finding(make("halving", face="inside", from_="left", distance=100, width=40, depth=13))
    assert (found.code, found.remedy) == ("deep-cut", "Make it shallower; 9 mm is usual here.")


def test_a_thin_strip_beside_a_groove() -> None:
    found = the_finding(make("groove", face="inside", from_="bottom", distance=2, width=6, depth=6))
    assert (found.level, found.code) == ("warning", "thin-beside-cut")
    assert found.what == "Between the groove and the bottom face only 2 mm of wood stands."
    assert findings(make("groove", face="inside", from_="bottom", distance=3, width=6, depth=6)) == []
    assert findings(make("groove", face="inside", from_="bottom", distance=0, width=6, depth=6)) == []


def test_short_grain_before_the_end() -> None:
    found = the_finding(make("housing", **HOUSING | {"distance": 6}))
    assert (found.level, found.code) == ("warning", "short-grain")
    assert found.what == "Between the housing and the left face the wood is only 6 mm long along the grain."
    assert "at least 10 mm" in found.remedy
    assert findings(make("housing", **HOUSING | {"distance": 10})) == []
    assert findings(make("housing", **HOUSING | {"distance": 0})) == []


def test_a_deep_notch_needs_more_than_ten_millimetres_before_the_end() -> None:
    near = make("notch", edge="top", from_="left", distance=15, length=40, depth=30)
    assert "at least 18 mm" in the_finding(near).remedy
    assert findings(make("notch", edge="top", from_="left", distance=18, length=40, depth=30)) == []


def test_stops_that_meet() -> None:
    found = the_finding(make("housing", **HOUSING | {"stops": {"top": 50, "bottom": 45}}))
    assert (found.level, found.code) == ("error", "stops-meet")
    assert found.what == "The stops of the housing leave nothing to cut: the width is 90 mm and the stops take 95."


def test_groove_and_housing_are_told_apart_by_the_grain() -> None:
    assert the_finding(make("groove", **HOUSING)).code == "across-the-grain"
    assert the_finding(make("housing", **HOUSING), Block(300, 90, 18), "y").code == "along-the-grain"
