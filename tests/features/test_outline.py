"""Outlines: areas worked by hand for paths and regular forms, and each check once for and once against."""

from __future__ import annotations

from math import cos, pi, sin, sqrt, tan
from typing import Any

import pytest
from pydantic import ValidationError

from sequencer.features.paths import arc_between, arc_centre, crosses_itself, waste
from sequencer.model.frame import Block
from sequencer.model.shapes import bounds_of

from .samples import BOARD, area, findings, make, removed, the_finding

SQUARE = Block(400.0, 400.0, 18.0)
SLOPE = [{"at": {"left": 0, "bottom": 40}}, {"at": {"left": 100, "top": 0}}]


def test_a_straight_path_cuts_a_corner_off() -> None:
    outline = make("outline", edge="top", points=SLOPE)
    assert removed(outline) == pytest.approx(100 * 50 / 2 * 18)
    assert outline.spoils() == ("top",)
    assert outline.opens() == ("inside", "outside", "top")
    assert outline.figures(BOARD)["feature.length"] == pytest.approx(sqrt(100**2 + 50**2))
    assert [each.label for each in outline.dimensions(BOARD)] == ["40", "100"]


def test_where_the_path_touches_the_edge_the_waste_falls_into_pieces() -> None:
    points = [
        {"at": {"left": 0, "bottom": 40}},
        {"at": {"left": 100, "top": 0}},
        {"at": {"right": 100, "top": 0}},
        {"at": {"right": 0, "bottom": 70}},
    ]
    pieces = make("outline", edge="top", points=points).removes(BOARD)
    assert [bounds_of([each]).span("x") for each in pieces] == [(0, 100), (200, 300)]
    # The stretch along the edge itself is not sawn.
    assert make("outline", edge="top", points=points).figures(BOARD)["feature.length"] == pytest.approx(
        sqrt(100**2 + 50**2) + sqrt(100**2 + 20**2)
    )


def test_a_path_may_stay_inside_one_edge() -> None:
    dip = [{"at": {"left": 100, "top": 0}}, {"at": {"top": 30}}, {"at": {"right": 100, "top": 0}}]
    assert removed(make("outline", edge="top", points=dip)) == pytest.approx(100 * 30 / 2 * 18)


def test_an_arch_over_three_edges_leaves_two_spandrels() -> None:
    board = Block(100, 200, 12)
    points = [{"at": {"left": 0, "bottom": 150}}, {"arc_to": {"right": 0, "bottom": 150}, "radius": 50, "turn": "right"}]
    arch = make("outline", edge=["left", "top", "right"], points=points)
    pieces = arch.removes(board)
    assert len(pieces) == 2
    half_circle = 16 / 2 * 50**2 * sin(pi / 16)
    assert removed(arch, board) == pytest.approx((100 * 50 - half_circle) * 12)
    assert arch.spoils() == ("left", "top", "right")
    assert arch.figures(board)["feature.radius"] == 50
    assert [each.label for each in arch.dimensions(board)] == ["150", "radius 50"]


def test_an_arc_turns_to_the_side_it_says() -> None:
    def deepest(turn: str) -> float:
        points = [{"at": {"left": 50, "bottom": 30}}, {"arc_to": {"right": 50, "bottom": 30}, "radius": 200, "turn": turn}]
        return bounds_of(make("outline", edge="top", points=points).removes(BOARD)).low.y

    sagitta = 200 - sqrt(200**2 - 100**2)
    assert deepest("left") == pytest.approx(30 - sagitta)
    assert deepest("right") == pytest.approx(30)


def test_an_octagon_on_a_square() -> None:
    octagon = make("outline", shape="polygon", sides=8)
    side = 400 * tan(pi / 8)
    assert removed(octagon, SQUARE) == pytest.approx((400**2 - 2 * (1 + sqrt(2)) * side**2) * 18)
    assert len(octagon.removes(SQUARE)) == 4
    assert octagon.figures(SQUARE)["feature.length"] == pytest.approx(4 * side)
    assert [each.label for each in octagon.dimensions(SQUARE)] == ["117.2", "165.7"]
    assert octagon.spoils() == ("left", "right", "bottom", "top")


@pytest.mark.parametrize("sides", [3, 5, 6, 7, 12])
def test_a_polygon_has_the_area_of_a_regular_one(sides: int) -> None:
    board = Block(500, 400, 10)
    radius = 400 / (2 * cos(pi / sides)) if sides % 2 == 0 else 400 / (1 + cos(pi / sides))
    polygon = make("outline", shape="polygon", sides=sides)
    assert removed(polygon, board) == pytest.approx((500 * 400 - sides / 2 * radius**2 * sin(2 * pi / sides)) * 10)
    assert findings(polygon, board) == []


def test_circle_and_ellipse() -> None:
    circle = make("outline", shape="circle")
    assert removed(circle, SQUARE) == pytest.approx((400**2 - 64 / 2 * 200**2 * sin(2 * pi / 64)) * 18)
    assert circle.figures(SQUARE)["feature.radius"] == 200
    ellipse = make("outline", shape="ellipse")
    assert removed(ellipse) == pytest.approx((300 * 90 - 64 / 2 * 150 * 45 * sin(2 * pi / 64)) * 18)
    # The tightest curve of an ellipse is at its ends: b*b/a.
    assert ellipse.figures(BOARD)["feature.radius"] == pytest.approx(45**2 / 150)
    assert [each.label for each in circle.dimensions(SQUARE)] == ["diameter 400"]


def test_a_circle_needs_a_square() -> None:
    found = the_finding(make("outline", shape="circle"))
    assert (found.level, found.code) == ("error", "not-square")
    assert found.what == "A circle needs a square part; this one is 300 by 90 mm."
    assert findings(make("outline", shape="circle"), SQUARE) == []


def test_a_hexagon_longer_than_its_part() -> None:
    found = the_finding(make("outline", shape="polygon", sides=6), SQUARE)
    assert found.what == "A polygon of 6 sides, 400 mm high, is 461.9 mm long; the part is only 400 mm long."
    assert found.remedy == "Make the part at least 461.9 mm long."


def test_an_arc_that_cannot_reach() -> None:
    points = [{"at": {"left": 0, "bottom": 60}}, {"arc_to": {"right": 0, "bottom": 60}, "radius": 100, "turn": "right"}]
    found = next(each for each in findings(make("outline", edge="top", points=points)) if each.code == "arc-too-small")
    assert found.what == "An arc of radius 100 mm cannot reach over 300 mm."
    assert found.remedy == "Make its radius at least 150 mm."


def test_an_arc_that_leaves_the_part() -> None:
    points = [{"at": {"left": 0, "bottom": 80}}, {"arc_to": {"right": 0, "bottom": 80}, "radius": 300, "turn": "right"}]
    found = the_finding(make("outline", edge="top", points=points))
    assert (found.level, found.code) == ("error", "outside-part")


def test_a_path_that_crosses_itself() -> None:
    points = [
        {"at": at}
        for at in (
            {"left": 0, "bottom": 40},
            {"left": 200, "bottom": 40},
            {"left": 100, "bottom": 80},
            {"left": 100, "bottom": 20},
            {"right": 0, "bottom": 20},
        )
    ]
    assert [each.code for each in findings(make("outline", edge="top", points=points))] == ["path-crosses-itself"]


def test_a_path_along_the_edge_removes_nothing() -> None:
    found = the_finding(make("outline", edge="top", points=[{"at": {"left": 0, "top": 0}}, {"at": {"right": 0, "top": 0}}]))
    assert (found.level, found.code) == ("error", "nothing-to-cut")


def test_a_narrow_neck() -> None:
    def dip(left: float) -> Any:
        points = [{"at": {"left": 50, "top": 0}}, {"at": {"bottom": left}}, {"at": {"right": 50, "top": 0}}]
        return make("outline", edge="top", points=points)

    found = the_finding(dip(8))
    assert (found.level, found.code) == ("warning", "narrow-neck")
    assert found.what == "At its narrowest the outline leaves 8 mm of the width."
    assert the_finding(dip(0)).level == "error"
    assert findings(dip(10)) == []


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({}, "either an `edge` with `points`, or a `shape`"),
        ({"edge": "top", "shape": "circle", "points": SLOPE}, "either an `edge` with `points`, or a `shape`"),
        ({"edge": "top"}, "needs `points`"),
        ({"shape": "polygon"}, "a polygon needs its number of `sides`"),
        ({"shape": "circle", "sides": 6}, "only a polygon has it"),
        ({"shape": "polygon", "sides": 2}, "greater than or equal to 3"),
        ({"edge": "inside", "points": SLOPE}, "inside is not an edge it can shape"),
        ({"edge": ["left", "right"], "points": SLOPE}, "which do not meet"),
        ({"edge": "top", "points": SLOPE[:1]}, "at least two points"),
        ({"edge": "top", "points": [SLOPE[0], {"at": {"inside": 5}}]}, "the point is in the inside face"),
        ({"edge": "top", "points": [SLOPE[0], {"arc_to": {"right": 5}}]}, "`arc_to` needs `radius` and `turn`"),
        ({"edge": "top", "points": [SLOPE[0], {"at": {"right": 5}, "radius": 5}]}, "only `arc_to` has them"),
        ({"edge": "top", "points": [SLOPE[0], {"radius": 5, "turn": "left"}]}, "either `at` or `arc_to`"),
    ],
)
def test_what_no_board_could_make_right_is_refused(fields: dict[str, Any], says: str) -> None:
    with pytest.raises(ValidationError, match=says):
        make("outline", **fields)


def test_the_centre_of_an_arc_lies_on_the_side_it_turns_to() -> None:
    assert arc_centre((0, 0), (6, 0), 5, True) == pytest.approx((3, 4))
    assert arc_centre((0, 0), (6, 0), 5, False) == pytest.approx((3, -4))
    assert arc_between((0, 0), (6, 0), 5, True)[8] == pytest.approx((3, -1))
    assert arc_between((0, 0), (6, 0), 5, False)[8] == pytest.approx((3, 1))


def test_waste_between_a_path_and_its_border() -> None:
    (piece,) = waste([(0, 5), (10, 5)], [(0, 10), (10, 10)])
    assert area(tuple(piece)) == 50
    assert waste([(0, 10), (10, 10)], [(0, 10), (10, 10)]) == []


def test_crossing_is_told_from_touching() -> None:
    assert crosses_itself([(0, 0), (10, 0), (5, 5), (5, -5)])
    assert not crosses_itself([(0, 0), (10, 0), (5, 5), (5, 0)])
