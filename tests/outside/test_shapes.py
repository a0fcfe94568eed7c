"""What a cut takes away, in cubic millimetres, against the formulas of school geometry.

The area of an outline by its corners is the surveyor's (shoelace) formula, from memory; a cone's frustum
pi h (R R + R r + r r) / 3 likewise. The tool draws a curve as 16 chords a quarter circle, which is under 0.2 % less area
than the sector; the tolerance of curved cuts follows from that.
"""

from __future__ import annotations

from math import atan, cos, degrees, hypot, pi, radians, sin, sqrt, tan
from typing import Any

import pytest

from sequencer.model.frame import Block
from sequencer.model.shapes import Cone, Prism, Shape
from tests.design.jobs import feature
from tests.made import job

BLOCK = Block(600.0, 90.0, 15.0)
MID: dict[str, Any] = {"face": "inside", "at": ({"left": 50, "bottom": 40},)}


def area(outline: tuple[tuple[float, float], ...]) -> float:
    """Area of a polygon by its corners: half the sum of x1 y2 - x2 y1 around it."""
    following = (*outline[1:], outline[0])
    return abs(sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in zip(outline, following, strict=True))) / 2


def volume(shape: Shape) -> float:
    if isinstance(shape, Prism):
        return area(shape.outline) * (shape.stop - shape.start)
    assert isinstance(shape, Cone)
    wide, narrow = shape.radius_start, shape.radius_stop
    return pi * (shape.stop - shape.start) * (wide**2 + wide * narrow + narrow**2) / 3


def removed(kind: str, **fields: Any) -> list[Shape]:
    return list(feature("it", kind, **fields).removes(BLOCK))


def total(kind: str, **fields: Any) -> float:
    return sum(volume(shape) for shape in removed(kind, **fields))


def test_the_formula_itself() -> None:
    assert area(((0, 0), (4, 0), (4, 3))) == 6
    assert area(((0, 0), (4, 0), (4, 3), (0, 3))[::-1]) == 12


SQUARE: list[tuple[str, dict[str, Any], float]] = [
    ("groove", {"face": "inside", "from_": "bottom", "distance": 8, "width": 6, "depth": 5}, 6 * 5 * 600),
    ("groove", {"face": "inside", "from_": "bottom", "distance": 8, "width": 6, "depth": 5, "stops": {"left": 20}}, 6 * 5 * 580),
    ("housing", {"face": "inside", "from_": "left", "distance": 100, "width": 15, "depth": 5}, 15 * 5 * 90),
    ("rebate", {"edge": ("inside", "left"), "width": 15, "depth": 5}, 15 * 5 * 90),
    ("halving", {"face": "top", "from_": "left", "distance": 100, "width": 22, "depth": 45}, 22 * 45 * 15),
    ("tenon", {"end": "left", "length": 26, "thickness": 5, "width": 45, "from_bottom": 5}, 26 * (90 * 15 - 45 * 5)),
    ("mortise", {"face": "inside", "at": {"left": 100, "bottom": 40}, "length": 45, "width": 8, "depth": 9}, 45 * 8 * 9),
]


@pytest.mark.parametrize(("kind", "fields", "cubic"), SQUARE)
def test_square_cuts_are_length_by_width_by_depth(kind: str, fields: dict[str, Any], cubic: float) -> None:
    assert total(kind, **fields) == pytest.approx(cubic)


SLOPING: list[tuple[str, dict[str, Any], float]] = [
    ("mitre", {"end": "left", "long": "bottom"}, 90 * 90 / 2 * 15),
    ("mitre", {"end": "left", "long": "bottom", "angle": 30}, 90 * 90 * tan(radians(30)) / 2 * 15),
    ("taper", {"edge": "top", "from_": "left", "start": 100, "amount": 14}, 500 * 14 / 2 * 15),
    ("bevel", {"edge": "bottom", "low": "inside", "angle": 20}, 15 * 15 * tan(radians(20)) / 2 * 600),
    ("chamfer", {"edges": (("inside", "top"),), "size": 4}, 4 * 4 / 2 * 600),
]


@pytest.mark.parametrize(("kind", "fields", "cubic"), SLOPING)
def test_sloping_cuts_are_half_of_a_rectangle(kind: str, fields: dict[str, Any], cubic: float) -> None:
    assert total(kind, **fields) == pytest.approx(cubic)


@pytest.mark.parametrize(
    ("kind", "fields", "along"),
    [("round-over", {"edges": (("inside", "top"),)}, 600), ("rounded-corner", {"corners": (("left", "top"),)}, 15)],
)
@pytest.mark.parametrize("radius", [3, 7])
def test_a_rounded_edge_leaves_a_quarter_circle(kind: str, fields: dict[str, Any], along: float, radius: float) -> None:
    """Taken away: the square less the quarter circle, r r (1 - pi / 4)."""
    quarter = pi * radius**2 / 4
    chords = 16 * radius**2 / 2 * sin(pi / 32)
    assert 0.998 < chords / quarter < 1
    cut = total(kind, **fields, radius=radius) / along
    assert cut == pytest.approx(radius**2 - chords)
    assert cut == pytest.approx(radius**2 - quarter, abs=0.002 * quarter)


def test_round_holes() -> None:
    """A cylinder, pi r r h; a blind one is as deep as drawn."""
    assert total("hole", **MID, diameter=8) == pytest.approx(pi * 4**2 * 15)
    assert total("hole", **MID, diameter=8, depth=10) == pytest.approx(pi * 4**2 * 10)


def test_a_countersink_is_a_cone_of_ninety_degrees() -> None:
    """Countersinks for wood screws have 90 degrees: common practice, no source. So the depth is the difference of radii."""
    hole, sink = removed("screw-holes", **MID, gauge=8)
    assert isinstance(sink, Cone)
    wide, narrow = max(sink.radius_start, sink.radius_stop), min(sink.radius_start, sink.radius_stop)
    assert degrees(atan((wide - narrow) / (sink.stop - sink.start))) * 2 == pytest.approx(90)
    assert volume(hole) == pytest.approx(pi * (4.5 / 2) ** 2 * 15)
    # The gauge of a screw is twice its head in sixteenths of an inch, less two: 5/16 in for gauge 8.
    assert 2 * wide == pytest.approx(5 / 16 * 25.4, abs=0.05)


def test_a_slot_with_round_ends_is_a_rectangle_and_a_circle() -> None:
    straight, round_ends = total("slot", face="inside", at={"left": 100, "bottom": 40}, length=60, width=10, ends="round"), 15
    exact = ((60 - 10) * 10 + pi * 5**2) * round_ends
    assert straight == pytest.approx(exact, rel=0.002)


# A slope of 1 in 5 is atan(1 / 5) = 11.31 degrees, and rises 29 mm over 145: plain trigonometry.
def test_the_slope_of_the_nest_box() -> None:
    side = job("nest-box").parts["side"]
    figures = side.features["roof-slope"].figures(side.block)
    assert figures["feature.angle"] == pytest.approx(degrees(atan(1 / 5)), abs=0.01)
    assert figures["feature.depth"] == pytest.approx(145 / 5, abs=0.01)
    assert figures["feature.length"] == pytest.approx(hypot(145, 29), abs=0.01)


# Pythagoras; W. Noyes, Handwork in Wood, 1910, steel square: a square of 54 has the diagonal 76.37. Read in a copy.
def test_the_cut_of_a_mitre_is_the_diagonal_of_its_square() -> None:
    assert sqrt(2) * 54 == pytest.approx(76.37, abs=0.005)
    block = Block(300.0, 54.0, 20.0)
    cut = feature("it", "mitre", end="left", long="bottom").figures(block)["feature.length"]
    assert cut == pytest.approx(76.37, abs=0.005)
    assert cut == pytest.approx(54 / cos(radians(45)))
