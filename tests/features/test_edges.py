"""Chamfer, round-over, rounded corner: sizes worked by hand, and each check once for and once against."""

from __future__ import annotations

from math import pi, sin
from typing import Any

import pytest
from pydantic import ValidationError

from sequencer.model.shapes import bounds, bounds_of

from .samples import BOARD, findings, make, removed, the_finding

SPANDREL_16 = 1 - 16 / 2 * sin(pi / 2 / 16)
"""Area between a square corner and a quarter circle of radius 1 drawn with 16 chords."""


def test_a_chamfer_takes_half_a_square() -> None:
    chamfer = make("chamfer", edges=["inside/top", "inside/bottom"], size=3)
    assert removed(chamfer) == pytest.approx(2 * 3 * 3 / 2 * 300)
    assert chamfer.opens() == ("inside", "top", "bottom")
    assert chamfer.lengthwise(BOARD)
    assert [each.label for each in chamfer.dimensions(BOARD)] == ["3 x 45 degrees"]


def test_a_face_stands_for_the_four_edges_round_it() -> None:
    chamfer = make("chamfer", edges="inside", size=2)
    assert chamfer.figures(BOARD)["feature.count"] == 4
    assert removed(chamfer) == pytest.approx(2 * 2 / 2 * (2 * 300 + 2 * 90))
    assert bounds_of(chamfer.removes(BOARD)).span("z") == (16, 18)
    assert not chamfer.lengthwise(BOARD)


def test_an_edge_named_twice_is_cut_once() -> None:
    assert make("chamfer", edges=["inside/top", "top/inside", "inside"], size=2).figures(BOARD)["feature.count"] == 4


def test_a_round_over_takes_what_lies_outside_a_quarter_circle() -> None:
    rounded = make("round-over", edges="inside/top", radius=5)
    assert removed(rounded) == pytest.approx(SPANDREL_16 * 25 * 300)
    assert abs(SPANDREL_16 - (1 - pi / 4)) < 0.002
    around = bounds_of(rounded.removes(BOARD))
    assert (around.span("y"), around.span("z")) == ((85, 90), (13, 18))
    assert rounded.figures(BOARD)["feature.radius"] == 5


@pytest.mark.parametrize("corner", ["top/left", "left/bottom", "bottom/right", "right/top"])
def test_a_rounded_corner_lies_in_its_corner(corner: str) -> None:
    (shape,) = make("rounded-corner", corners=[corner], radius=20).removes(BOARD)
    around = bounds(shape)
    assert around.span("x") == ((0, 20) if "left" in corner else (280, 300))
    assert around.span("y") == ((0, 20) if "bottom" in corner else (70, 90))
    assert around.span("z") == (0, 18)


def test_rounded_corners_go_through_the_thickness() -> None:
    corners = make("rounded-corner", corners=["top/left", "top/right"], radius=20)
    assert removed(corners) == pytest.approx(2 * SPANDREL_16 * 400 * 18)
    assert corners.opens() == ("inside", "outside", "top", "left", "right")
    assert corners.figures(BOARD)["feature.depth"] == 18
    assert [each.label for each in corners.dimensions(BOARD)] == ["radius 20"]


def test_a_round_over_up_to_half_the_thickness() -> None:
    assert findings(make("round-over", edges=["inside/top", "outside/top"], radius=9)) == []
    found = the_finding(make("round-over", edges="inside/top", radius=10))
    assert (found.level, found.code) == ("warning", "over-half")
    assert found.what == "The round-over reaches 10 mm into the faces, over half of the thickness of 18 mm."
    found = the_finding(make("round-over", edges=["inside/top", "outside/top"], radius=10))
    assert (found.level, found.code) == ("error", "cuts-meet")
    assert found.what == (
        "The round-over reaches 10 mm into the faces; along the thickness the part has 18 mm, too little for all the edges named."
    )


def test_rounded_corners_that_meet() -> None:
    assert findings(make("rounded-corner", corners=["top/left", "bottom/left"], radius=45)) == []
    assert the_finding(make("rounded-corner", corners=["top/left", "bottom/left"], radius=46)).code == "cuts-meet"


def test_wood_left_of_the_narrowest_face() -> None:
    assert make("chamfer", edges=["inside/top"], size=4).figures(BOARD)["feature.remaining"] == 14
    assert make("chamfer", edges=["inside/top", "outside/top"], size=4).figures(BOARD)["feature.remaining"] == 10


@pytest.mark.parametrize(
    ("kind", "fields", "says"),
    [
        ("chamfer", {"edges": ["inside/outside"], "size": 3}, "inside and outside never meet in an edge"),
        ("chamfer", {"edges": [["inside", "outside"]], "size": 3}, "inside and outside never meet in an edge"),
        ("chamfer", {"edges": ["inside/top/left"], "size": 3}, "an edge is written as the two faces that meet in it"),
        ("chamfer", {"edges": "front", "size": 3}, "an edge is written as the two faces that meet in it"),
        ("chamfer", {"edges": [], "size": 3}, "at least 1 item"),
        ("rounded-corner", {"corners": ["inside/top"], "radius": 5}, "inside/top is no corner of the broad face"),
    ],
)
def test_edges_that_are_none_are_refused(kind: str, fields: dict[str, Any], says: str) -> None:
    with pytest.raises(ValidationError, match=says):
        make(kind, **fields)
