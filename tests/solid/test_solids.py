"""Solids of every feature kind against closed forms: what is taken away is what a ruler and a formula say."""

from __future__ import annotations

from math import asin, pi, radians, sin, tan
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from sequencer.design.poses import TURNS, Pose
from sequencer.features import feature_kinds
from sequencer.model.frame import Block, Point
from sequencer.model.shapes import Cone, Turned, mirror
from sequencer.solid.parts import feature_solid, part_solid
from sequencer.solid.solids import Solid, block_solid, box, hull, joined, nothing, shape_solid
from tests.features.samples import BOARD, SAMPLES, block_of, make
from tests.solid.bodies import WHOLE, cylinder, fillet, frustum, piece, piece_with, quarter

LONG, WIDE, THICK = BOARD.length, BOARD.width, BOARD.thickness
TAPER_END = 80.0

TAKEN: list[tuple[str, dict[str, Any], float]] = [
    # straight trenches: width x depth x length
    ("groove", {"face": "inside", "from": "bottom", "distance": 8, "width": 6, "depth": 6}, 6 * 6 * LONG),
    (
        "groove",
        {"face": "top", "from": "inside", "distance": 6, "width": 6, "depth": 8, "stops": {"left": 20, "right": 30}},
        6 * 8 * (LONG - 50),
    ),
    ("rebate", {"edge": "inside/top", "width": 12, "depth": 9}, 12 * 9 * LONG),
    ("rebate", {"edge": "outside/left", "width": 18, "depth": 6, "stops": {"bottom": 10}}, 18 * 6 * (WIDE - 10)),
    ("housing", {"face": "inside", "from": "left", "distance": 12, "width": 15, "depth": 5}, 15 * 5 * WIDE),
    ("halving", {"face": "top", "from": "left", "distance": 141, "width": 18, "depth": 45}, 18 * 45 * THICK),
    # openings
    ("notch", {"edge": "top", "from": "left", "distance": 60, "length": 40, "depth": 20}, 40 * 20 * THICK),
    ("mortise", {"face": "top", "at": {"left": 40}, "length": 30, "width": 6, "depth": 25}, 30 * 6 * 25),
    ("mortise", {"face": "inside", "at": {"right": 50}, "length": 40, "width": 12, "along": "width"}, 40 * 12 * THICK),
    # A slot with round ends: the straight middle and two half discs.
    ("slot", {"face": "inside", "length": 80, "width": 12, "ends": "round"}, ((80 - 12) * 12 + 4 * quarter(6)) * THICK),
    ("cut-out", {"length": 100, "width": 40}, 100 * 40 * THICK),
    # Open at the bottom, so that only its two upper corners are rounded; in the middle of the board all four.
    ("cut-out", {"at": {"left": 30, "bottom": 0}, "length": 240, "width": 12, "radius": 6}, (240 * 12 - 2 * fillet(6)) * THICK),
    ("cut-out", {"at": {"left": 60, "top": 20}, "length": 60, "width": 40, "radius": 20}, (60 * 40 - 4 * fillet(20)) * THICK),
    # round holes, by the polygon's own area
    ("hole", {"face": "inside", "diameter": 10, "at": {"left": 40, "bottom": 20}}, cylinder(10, THICK)),
    ("hole", {"face": "outside", "diameter": 6, "at": [{"left": 30}, {"right": 30}], "depth": 12}, 2 * cylinder(6, 12)),
    ("hole", {"face": "left", "diameter": 8, "depth": 25}, cylinder(8, 25)),
    ("hole", {"face": "top", "diameter": 8, "depth": 25}, cylinder(8, 25)),
    # A countersink of 90 degrees from 10 down to 5 is 2.5 deep.
    (
        "hole",
        {"face": "inside", "diameter": 5, "countersink": 10, "at": {"left": 50}},
        cylinder(5, THICK - 2.5) + frustum(5, 10, 2.5),
    ),
    (
        "hole",
        {"face": "top", "diameter": 5, "countersink": 10, "at": {"left": 50}, "depth": 30},
        cylinder(5, 27.5) + frustum(5, 10, 2.5),
    ),
    (
        "hole",
        {"face": "outside", "diameter": 5, "counterbore": {"diameter": 12, "depth": 6}},
        cylinder(5, THICK - 6) + cylinder(12, 6),
    ),
    ("screw-holes", {"face": "inside", "gauge": 10, "countersunk": False, "diameter": 6}, cylinder(6, THICK)),
    # wedges: half of base x height
    ("mitre", {"end": "left", "long": "bottom"}, WIDE * WIDE / 2 * THICK),
    ("mitre", {"end": "right", "long": "outside", "angle": 22.5}, THICK * THICK * tan(radians(22.5)) / 2 * WIDE),
    ("bevel", {"edge": "top", "low": "inside", "angle": 30}, THICK * THICK * tan(radians(30)) / 2 * LONG),
    ("bevel", {"edge": "left", "low": "outside", "angle": 15, "leave": 6}, 12 * 12 * tan(radians(15)) / 2 * WIDE),
    ("taper", {"edge": "top", "from": "left", "start": TAPER_END, "amount": 20}, (LONG - TAPER_END) * 20 / 2 * THICK),
    ("taper", {"edge": "inside", "from": "right", "amount": 6}, LONG * 6 / 2 * WIDE),
    ("chamfer", {"edges": "left/top", "size": 5}, 5 * 5 / 2 * THICK),
    ("chamfer", {"edges": ["inside/top", "inside/bottom"], "size": 3}, 2 * 3 * 3 / 2 * LONG),
    # Where two chamfers of one face meet they share a pyramid of base 2 x 2 and height 2.
    ("chamfer", {"edges": "inside", "size": 2}, 2 * 2 / 2 * 2 * (LONG + WIDE) - 4 * 2 * 2 * 2 / 3),
    ("round-over", {"edges": ["inside/top", "top/outside"], "radius": 5}, 2 * fillet(5) * LONG),
    ("rounded-corner", {"corners": ["top/left", "top/right"], "radius": 20}, 2 * fillet(20) * THICK),
    # the board less the tenon over its length
    ("tenon", {"end": "left", "length": 30, "thickness": 6, "width": 50, "from_bottom": 10}, (WIDE * THICK - 50 * 6) * 30),
    ("tenon", {"end": "right", "length": 25, "thickness": 8, "width": 40, "from_outside": 0}, (WIDE * THICK - 40 * 8) * 25),
    # Four pins at the tips of three tails, and six flanks that run in by 15 / 6 = 2.5.
    ("dovetails", {"end": "left", "tails": 3, "pin": 6, "slope": 6, "length": 15}, (4 * 6 * 15 + 6 * 2.5 * 15 / 2) * THICK),
    # Three sockets, on average narrower than a tail at its tip by one flank of 13 / 8 = 1.625.
    (
        "dovetail-pins",
        {"end": "left", "tails": 3, "pin": 6, "half_pin": 5, "slope": 8, "length": 12, "depth": 13},
        3 * ((WIDE - 2 * 5 - 2 * 6) / 3 - 1.625) * 13 * 12,
    ),
    # Gaps at 0, 24, 48 and 72 of 90.
    ("finger-joint", {"end": "right", "length": 18, "finger": 12, "start": "gap"}, 4 * 12 * 18 * THICK),
    # 15 wide at the floor, and on both sides 1 less at the face.
    (
        "dovetail-housing",
        {"face": "inside", "from": "left", "distance": 40, "width": 15, "depth": 6, "slope": 6},
        (13 + 15) / 2 * 6 * WIDE,
    ),
    ("dovetail-end", {"end": "left", "length": 6, "slope": 6}, 2 * 6 * 1 / 2 * WIDE),
    # a haunch leaves its own block; a sloping one half of it
    (
        "tenon",
        {"end": "left", "length": 30, "thickness": 6, "width": 60, "from_bottom": 0, "haunch": {"side": "top", "length": 8}},
        (WIDE * THICK - 60 * 6) * 30 - 30 * 6 * 8,
    ),
    (
        "tenon",
        {"end": "right", "length": 30, "thickness": 6, "width": 60, "from_bottom": 30,
         "haunch": {"side": "bottom", "length": 8, "form": "sloping"}},
        (WIDE * THICK - 60 * 6) * 30 - 30 * 6 * 8 / 2,
    ),
    # the recess of a haunch, and the two slopes for wedges over three quarters of the width
    (
        "mortise",
        {"face": "top", "at": {"left": 20}, "length": 40, "width": 6, "depth": 25, "haunch": {"side": "left", "depth": 8}},
        40 * 6 * 25 + 20 * 6 * 8,
    ),
    ("mortise", {"face": "top", "length": 40, "width": 6, "flare": 3}, 40 * 6 * WIDE + 2 * 3 * 0.75 * WIDE / 2 * 6),
    ("tongue", {"edge": "top", "length": 6, "thickness": 6}, LONG * 6 * 12),
    ("tongue", {"edge": "left", "length": 8, "thickness": 9, "from_outside": 0}, WIDE * 8 * 9),
    ("bridle", {"end": "left", "length": 45, "thickness": 6, "from_outside": 6}, 45 * 6 * WIDE),
    ("bridle-tongue", {"from": "left", "distance": 105, "width": 90, "depth": 6}, 2 * 90 * 6 * WIDE),
    ("wedge-kerfs", {"end": "left", "length": 25, "from_bottom": 20, "count": 2, "apart": 49}, 2 * 25 * 1 * THICK),
    (
        "dowel-holes",
        {"face": "top", "diameter": 8, "dowel": 40, "row": {"from": "left", "first": 40, "last": 40, "count": 3}},
        3 * cylinder(8, 22),
    ),
    # a segment of a regular polygon: 32 triangles about the middle of the disc, less the triangle over the chord
    (
        "biscuit-slots",
        {"face": "left", "depth": 10, "at": {"bottom": 45}},
        4 * (32 * 50 * 50 / 2 * sin(2 * asin(30 / 50) / 32) - 30 * 40),
    ),
    ("recess", {"face": "inside", "length": 50, "width": 20, "depth": 2, "at": {"left": 40, "top": 0}}, 50 * 20 * 2),
    # a sloping border along one edge: the mean of 8 and 2 over 25
    ("fielded-edge", {"face": "inside", "width": 25, "depth": 8, "step": 2, "edges": "top"}, (8 + 2) / 2 * 25 * LONG),
    # a hollow takes a quarter disc; an ovolo the two steps and a fillet; an ogee half of its square
    ("moulding", {"edges": "inside/top", "profile": "cove", "size": 8}, quarter(8) * LONG),
    ("moulding", {"edges": "inside/top", "profile": "ovolo", "size": 6, "step": 2}, (8 * 8 - 6 * 6 + fillet(6)) * LONG),
    ("moulding", {"edges": "inside/top", "profile": "ogee", "size": 10}, (5 * 5 + quarter(5) + fillet(5)) * LONG),
    # what a moulding of the same profile leaves of its strip; a square one takes a box
    ("cope", {"end": "left", "edge": "inside/top", "profile": "cove", "size": 8, "depth": 12}, (8 * 12 - quarter(8)) * 8),
    (
        "cope",
        {"end": "right", "edge": "inside/top", "profile": "ovolo", "size": 6, "step": 2, "depth": 9, "from_end": 30},
        (8 * 9 - (8 * 8 - 6 * 6 + fillet(6))) * 8,
    ),
    ("cope", {"end": "left", "edge": "inside/top", "profile": "square", "size": 30, "width": 8, "depth": 9}, 30 * 8 * 9),
    # half of the slot across a mitred corner: a triangle of equal sides
    ("spline-slot", {"end": "left", "long": "top", "from": "inside", "distance": 6, "width": 3, "length": 20}, 20 * 20 / 2 * 3),
    # a stick of 40 x 40 less a cylinder, and less a cylinder and a frustum over 240 of its 300
    ("rounding", {}, 40 * 40 * LONG - cylinder(40, LONG)),
    (
        "turned-profile",
        {"stations": [{"left": 60, "diameter": 36}, {"left": 90, "diameter": 36}, {"left": 300, "diameter": 20}]},
        40 * 40 * 240 - cylinder(36, 30) - frustum(36, 20, 210),
    ),
    # outlines: a corner sawn off, and the board less what stays
    (
        "outline",
        {"edge": ["left", "top"], "points": [{"at": {"left": 0, "bottom": 20}}, {"at": {"left": 50, "top": 0}}]},
        50 * (WIDE - 20) / 2 * THICK,
    ),
]  # fmt: skip
"""Kind, fields, and the volume they take off a board of 300 x 90 x 18, or off a stick of 300 x 40 x 40."""


@pytest.mark.parametrize(("kind", "fields", "volume"), TAKEN, ids=[f"{kind}-{n}" for n, (kind, _, _) in enumerate(TAKEN)])
def test_what_a_feature_takes_away_is_what_the_formula_says(kind: str, fields: dict[str, Any], volume: float) -> None:
    body = piece_with(kind, **fields)
    assert block_solid(body.block).volume - part_solid(body).volume == pytest.approx(volume, abs=1e-3)


def test_every_kind_is_held_against_a_formula() -> None:
    assert {kind for kind, _, _ in TAKEN} == set(feature_kinds())


@pytest.mark.parametrize("sides", [3, 4, 5, 6, 8, 12])
def test_a_regular_polygon_keeps_its_own_area(sides: int) -> None:
    """n/4 s2 cot(pi/n), the side taken from the surface that is left round it."""
    left = part_solid(piece(make("outline", shape="polygon", sides=sides), block=Block(160, 100, 18)))
    assert left.bounds.size("y") == pytest.approx(100)
    perimeter = left.area - 2 * left.volume / 18
    side = perimeter / 18 / sides
    assert left.volume / 18 == pytest.approx(sides / 4 * side**2 / tan(pi / sides), rel=1e-9)


def test_an_ellipse_keeps_its_area_by_chords() -> None:
    """n/2 a b sin(2 pi/n) for 16 chords to a quarter."""
    left = part_solid(piece_with("outline", shape="ellipse"))
    assert left.volume == pytest.approx(64 / 2 * (LONG / 2) * (WIDE / 2) * sin(2 * pi / 64) * THICK)


def test_two_cuts_that_share_wood_take_it_once() -> None:
    groove = make("groove", face="inside", from_="bottom", distance=8, width=6, depth=6)
    housing = make("housing", face="inside", from_="left", distance=12, width=15, depth=5)
    assert WHOLE - part_solid(piece(groove, housing)).volume == pytest.approx(6 * 6 * LONG + 15 * 5 * WIDE - 6 * 15 * 5)


def test_a_rod_is_its_polygon_along_its_length() -> None:
    rod = piece(block=Block(80, 20, 20), section="round")
    assert part_solid(rod).volume == pytest.approx(cylinder(20, 80))


@pytest.mark.parametrize("kind", SAMPLES)
def test_no_cut_reaches_beyond_its_board_and_each_takes_something(kind: str) -> None:
    for fields in SAMPLES[kind]:
        body = piece_with(kind, **fields)
        for cut in feature_solid(body, next(iter(body.part.features.values()))):
            assert not (cut & block_solid(block_of(kind))).empty
            assert (cut - block_solid(block_of(kind))).volume == pytest.approx(0, abs=1e-3)


def test_a_hole_and_its_head_are_one_turned_body_alike_to_both() -> None:
    body = piece_with("screw-holes", face="outside", gauge=8, at=[{"left": 40, "bottom": 20}, {"right": 40}])
    holes = next(iter(body.part.features.values()))
    apart = [shape_solid(shape) for shape in body.shapes(holes)]
    together = feature_solid(body, holes)
    assert (len(apart), len(together)) == (4, 2)
    both = joined(apart)
    assert (joined(together) - both).volume == pytest.approx(0, abs=1e-6)
    assert (both - joined(together)).volume == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize("kind", SAMPLES)
def test_the_other_hand_is_the_mirror_image(kind: str) -> None:
    for fields in SAMPLES[kind]:
        feature = make(kind, **fields)
        left, right = (part_solid(piece(feature, hand=hand, handed=True)) for hand in ("left", "right"))
        assert right.volume == pytest.approx(left.volume)
        assert difference(left.mirrored(LONG), right) == pytest.approx(0, abs=1e-3)
        assert difference(left.mirrored(LONG).mirrored(LONG), left) == pytest.approx(0, abs=1e-3)


@pytest.mark.parametrize("axis", ["x", "y", "z"])
def test_shapes_mirror_as_solids_do(axis: Any) -> None:
    turned = Turned(axis, (10, 12), ((0, 4), (5, 4), (9, 7), (20, 7)))
    cone = Cone(axis, (11, 9), 2, 30, 3, 8)
    for shape in (turned, cone):
        assert difference(shape_solid(mirror(shape, 60)), shape_solid(shape).mirrored(60)) == pytest.approx(0, abs=1e-6)


def test_a_turned_shape_is_a_stack_of_frusta() -> None:
    turned = Turned("y", (10, 12), ((0, 4), (5, 4), (9, 7), (20, 7)))
    assert shape_solid(turned).volume == pytest.approx(cylinder(8, 5) + frustum(8, 14, 4) + cylinder(14, 11))


@pytest.mark.parametrize("axis", ["x", "y", "z"])
def test_a_prism_along_any_axis_lies_where_its_outline_says(axis: Any) -> None:
    cone = Cone(axis, (10, 30), 5, 25, 4, 4)
    bounds = shape_solid(cone).bounds
    first, second = (each for each in "xyz" if each != axis)
    assert bounds.span(axis) == pytest.approx((5, 25))
    assert bounds.span(first) == pytest.approx((6, 14))  # type: ignore[arg-type]
    assert bounds.span(second) == pytest.approx((26, 34))  # type: ignore[arg-type]


def test_every_turn_keeps_volume_and_puts_points_where_the_pose_says() -> None:
    corner = box((0, 0, 0), (30, 20, 10)) - box((20, 0, 0), (30, 5, 10))
    for turn in TURNS:
        pose = Pose(turn, Point(5, -7, 11))
        lying = corner.posed(pose)
        assert lying.volume == pytest.approx(corner.volume)
        ends = [pose.to_world(Point(*point)) for point in ((0, 0, 0), (30, 20, 10))]
        assert lying.bounds.low == pytest.approx([min(pair) for pair in zip(*ends, strict=True)])
        assert lying.bounds.high == pytest.approx([max(pair) for pair in zip(*ends, strict=True)])
        tip = Pose(turn, Point(5, -7, 11)).to_world(Point(29, 2, 5))
        probe = box([value - 0.5 for value in tip], [value + 0.5 for value in tip])
        assert (lying & probe).empty


def test_nothing_is_nothing() -> None:
    assert nothing().empty
    assert joined([]).empty
    assert box((0, 0, 0), (5, 0, 5)).empty
    assert (box((0, 0, 0), (5, 5, 5)) & box((5, 0, 0), (9, 5, 5))).empty
    with pytest.raises(ValueError, match="no bounds"):
        _ = nothing().bounds


def test_pieces_come_largest_first() -> None:
    three = joined([box((0, 0, 0), (1, 1, 1)), box((5, 0, 0), (8, 3, 3)), box((10, 0, 0), (12, 2, 2))])
    assert [round(each.volume) for each in three.pieces()] == [27, 8, 1]


def test_a_slab_is_about_as_thick_as_it_is() -> None:
    assert box((0, 0, 0), (100, 50, 0.2)).thickness == pytest.approx(0.2, rel=0.01)
    assert nothing().thickness == 0


def test_the_gap_between_two_bodies() -> None:
    first = box((0, 0, 0), (10, 10, 10))
    assert first.gap(first.moved(x=12.5), 5) == pytest.approx(2.5)
    assert first.gap(first.moved(x=30), 5) == 5
    assert first.gap(first.moved(x=10), 5) == 0


def test_a_hull_of_a_block_is_the_block() -> None:
    corners = [(x, y, z) for x in (0, 3) for y in (0, 4) for z in (0, 5)]
    assert hull(corners).volume == pytest.approx(60)


@settings(max_examples=60, deadline=None)
@given(
    some.floats(1, 50), some.floats(1, 50), some.floats(1, 60), some.integers(0, 2)
)  # fmt: skip
def test_any_cone_has_the_frustum_s_volume(first: float, second: float, deep: float, axis: int) -> None:
    solid = shape_solid(Cone("xyz"[axis], (0.0, 0.0), 0.0, deep, first, second))  # type: ignore[arg-type]
    assert solid.volume == pytest.approx(frustum(2 * first, 2 * second, deep), rel=1e-6)


def difference(one: Solid, two: Solid) -> float:
    """Everything in which two bodies differ, mm3."""
    return (one - two).volume + (two - one).volume
