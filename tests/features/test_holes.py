"""Hole and screw holes: sizes worked by hand, published screw sizes, and each check once for and once against."""

from __future__ import annotations

from math import pi
from typing import Any

import pytest
from pydantic import ValidationError

from sequencer.features.screw_holes import clearance, head_width, shank
from sequencer.model.shapes import Cone, bounds_of

from .samples import BOARD, findings, make, removed, the_finding


def test_a_through_hole_is_a_cylinder() -> None:
    hole = make("hole", face="inside", diameter=10, at={"left": 40, "bottom": 20})
    assert hole.removes(BOARD) == (Cone("z", (40, 20), 0, 18, 5, 5),)
    assert removed(hole) == pytest.approx(pi * 25 * 18)
    assert hole.opens() == ("inside", "outside")
    assert [each.label for each in hole.dimensions(BOARD)] == ["40", "20", "diameter 10"]
    assert not hole.lengthwise(BOARD)


def test_a_blind_hole_stops_at_its_depth() -> None:
    hole = make("hole", face="outside", diameter=6, at=[{"left": 30}, {"right": 30}], depth=12)
    assert hole.removes(BOARD) == (Cone("z", (30, 45), 0, 12, 3, 3), Cone("z", (270, 45), 0, 12, 3, 3))
    figures = hole.figures(BOARD)
    assert (figures["feature.count"], figures["feature.remaining"], figures["feature.through"]) == (2, 6, 0)
    # The line they share is dimensioned once.
    assert [each.label for each in hole.dimensions(BOARD)] == ["30", "45", "30", "diameter 6", "12"]


def test_a_hole_without_a_spot_is_in_the_middle_of_its_face() -> None:
    hole = make("hole", face="left", diameter=8, depth=25)
    assert hole.removes(BOARD) == (Cone("x", (45, 9), 0, 25, 4, 4),)
    assert hole.figures(BOARD)["feature.edge-distance"] == 9
    assert hole.measured_from() == ("bottom", "top", "outside", "inside", "left")


def test_a_countersink_is_a_cone_of_ninety_degrees() -> None:
    hole = make("hole", face="inside", diameter=5, countersink=10, at={"left": 50})
    assert hole.removes(BOARD)[1] == Cone("z", (50, 45), 15.5, 18, 2.5, 5)
    assert hole.figures(BOARD)["feature.head-depth"] == 2.5
    other = make("hole", face="outside", diameter=5, countersink=10, at={"left": 50})
    assert other.removes(BOARD)[1] == Cone("z", (50, 45), 0, 2.5, 5, 2.5)


def test_a_counterbore_is_a_wider_cylinder() -> None:
    hole = make("hole", face="outside", diameter=5, counterbore={"diameter": 12, "depth": 6})
    assert hole.removes(BOARD)[1] == Cone("z", (150, 45), 0, 6, 6, 6)
    figures = hole.figures(BOARD)
    assert (figures["feature.counterbored"], figures["feature.countersunk"], figures["feature.head-depth"]) == (1, 0, 6)
    assert [each.label for each in hole.dimensions(BOARD)] == ["150", "45", "diameter 5", "counterbore 12", "6"]


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"at": {"inside": 5}}, "it cannot be placed there by a distance from the inside face"),
        ({"at": {"left": 5, "right": 5}}, "the hole is placed twice along the length"),
        ({"countersink": 6}, "the countersink is 6 mm wide; it must be wider than the hole, 8 mm"),
        ({"countersink": 12, "counterbore": {"diameter": 12, "depth": 3}}, "countersunk or counterbored, not both"),
        ({"at": []}, "at least 1 item"),
    ],
)
def test_what_no_board_could_make_right_is_refused(fields: dict[str, Any], says: str) -> None:
    with pytest.raises(ValidationError, match=says):
        make("hole", face="inside", diameter=8, **fields)


def test_a_hole_that_breaks_out_of_an_edge() -> None:
    found = findings(make("hole", face="inside", diameter=20, at={"bottom": 6}))[0]
    assert (found.level, found.code) == ("error", "outside-part")
    assert found.what == "The hole reaches 4 mm beyond the bottom face of the part."


def test_a_blind_hole_that_comes_through() -> None:
    found = the_finding(make("hole", face="inside", diameter=8, depth=20))
    assert found.what == "The hole is 20 mm deep and the thickness is 18 mm there: nothing is left under it."
    assert the_finding(make("hole", face="inside", diameter=8, depth=15.5)).code == "thin-under-cut"
    assert findings(make("hole", face="inside", diameter=8, depth=15)) == []


def test_little_wood_between_a_hole_and_an_edge() -> None:
    found = the_finding(make("hole", face="inside", diameter=16, at={"bottom": 14}))
    assert (found.level, found.code) == ("warning", "near-edge")
    assert found.what == "Between the hole and the bottom face only 6 mm of wood is left."
    assert found.remedy == "Leave at least 8 mm: move the hole or make it smaller."
    assert findings(make("hole", face="inside", diameter=16, at={"bottom": 16})) == []


def test_little_wood_between_a_hole_and_the_end_of_the_grain() -> None:
    found = the_finding(make("hole", face="inside", diameter=12, at={"left": 15}))
    assert (found.level, found.code) == ("warning", "short-grain")
    assert found.what == "Between the hole and the left face only 9 mm of wood is left along the grain."
    assert findings(make("hole", face="inside", diameter=12, at={"left": 18})) == []


def test_holes_that_run_into_each_other() -> None:
    def pair(apart: float) -> Any:
        return make("hole", face="inside", diameter=10, at=[{"left": 100}, {"left": 100 + apart}])

    assert the_finding(pair(8)).what == "The holes are 10 mm wide, and two of them run into each other."
    assert the_finding(pair(12)).what == "The holes are 10 mm wide, and only 2 mm of wood stands between two of them."
    assert findings(pair(13)) == []


def test_a_head_as_deep_as_the_wood() -> None:
    found = findings(make("hole", face="inside", diameter=5, counterbore={"diameter": 12, "depth": 18}))[0]
    assert (found.level, found.code) == ("error", "head-too-deep")
    assert found.what == "The counterbore of the hole is 18 mm deep; the hole itself is 18 mm deep."


@pytest.mark.parametrize(("gauge", "published"), [(4, 2.84), (6, 3.51), (8, 4.17), (10, 4.83), (12, 5.49), (14, 6.15)])
def test_the_shank_follows_the_published_gauge_formula(gauge: int, published: float) -> None:
    # Published wood-screw tables: 0.060 in + 0.013 in a gauge number.
    assert shank(gauge) == pytest.approx(published, abs=0.005)


@pytest.mark.parametrize("gauge", range(2, 25))
def test_a_screw_slips_through_its_hole_and_its_head_does_not(gauge: int) -> None:
    assert shank(gauge) + 0.1 <= clearance(gauge) < shank(gauge) + 0.6
    assert clearance(gauge) < head_width(gauge)
    # Rule as printed: gauge = twice the head's width in sixteenths of an inch, less 2; the width is given to a tenth of a mm.
    assert head_width(gauge) / 25.4 * 16 * 2 - 2 == pytest.approx(gauge, abs=0.07)


def test_a_row_of_screw_holes_is_evenly_spaced() -> None:
    row = {"from": "left", "first": 30, "last": 50, "count": 3}
    holes = make("screw-holes", face="inside", gauge=8, row=row, at={"top": 15}, countersunk=False)
    assert [shape.centre for shape in holes.removes(BOARD) if isinstance(shape, Cone)] == [(30, 75), (140, 75), (250, 75)]
    assert holes.figures(BOARD)["feature.diameter"] == 4.5
    assert holes.measured_from() == ("left", "top", "inside", "right")
    assert [each.label for each in holes.dimensions(BOARD)] == ["30", "15", "140", "250", "diameter 4.5"]


def test_countersunk_screw_holes_have_the_width_of_the_head() -> None:
    figures = make("screw-holes", face="outside", gauge=8, at={"left": 40}).figures(BOARD)
    assert figures["feature.head-diameter"] == pytest.approx(7.9)
    assert figures["feature.gauge"] == 8


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"row": {"from": "inside", "first": 1, "last": 1, "count": 2}}, "the row is in the inside face; it cannot start from"),
        ({"row": {"from": "left", "first": 1, "last": 1, "count": 2}, "at": {"right": 5}}, "`at` takes one distance"),
        ({"row": {"from": "left", "first": 1, "last": 1, "count": 1}}, "greater than or equal to 2"),
        ({"diameter": 9}, "the head of a gauge 8 screw, about 7.9 mm, would fall through"),
    ],
)
def test_screw_holes_that_contradict_themselves_are_refused(fields: dict[str, Any], says: str) -> None:
    with pytest.raises(ValidationError, match=says):
        make("screw-holes", face="inside", gauge=8, **fields)


def test_a_screw_too_near_to_an_edge_or_end() -> None:
    # Gauge 8: 4.17 mm, so 12.5 mm to an edge and 29.2 mm to an end (Eurocode 5 pattern, predrilled, unloaded).
    found = the_finding(make("screw-holes", face="inside", gauge=8, at={"bottom": 12, "left": 40}))
    assert (found.level, found.code) == ("warning", "near-edge")
    assert found.what == "A screw of gauge 8 stands 12 mm from the bottom edge; 3 times its 4.2 mm is 12.5 mm."
    found = the_finding(make("screw-holes", face="inside", gauge=8, at={"bottom": 20, "left": 29}))
    assert found.what == "A screw of gauge 8 stands 29 mm from the left end; 7 times its 4.2 mm is 29.2 mm."
    assert findings(make("screw-holes", face="inside", gauge=8, at={"bottom": 13, "left": 30})) == []


def test_a_row_longer_than_the_part() -> None:
    row = {"from": "left", "first": 200, "last": 120, "count": 2}
    found = findings(make("screw-holes", face="inside", gauge=8, row=row))[-1]
    assert (found.level, found.code) == ("error", "row-too-long")
    assert "starts 200 mm from one end and stops 120 mm from the other; the part measures 300 mm there" in found.what


def test_holes_lie_where_they_are_named() -> None:
    hole = make("hole", face="top", diameter=6, at={"right": 50, "inside": 9}, depth=20)
    assert bounds_of(hole.removes(BOARD)).low == (247, 70, 6)
