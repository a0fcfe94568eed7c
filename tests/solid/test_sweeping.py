"""What stands in the way of a straight move: found exactly, also where it is thin, curved or hidden behind an overhang."""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from sequencer.design.poses import Direction
from sequencer.model.frame import Point
from sequencer.model.shapes import Cone
from sequencer.solid.parts import part_solid
from sequencer.solid.solids import Solid, box, hull, joined, shadow_area, shape_solid, swept_sheet
from sequencer.solid.sweeping import beyond_a_touch, blocked
from tests.features.samples import make
from tests.solid.bodies import cylinder, piece

UP, DOWN, RIGHT, LEFT = Direction("z", 1), Direction("z", -1), Direction("x", 1), Direction("x", -1)
BLOCK = box((0, 0, 0), (10, 10, 10))


def volume(found: Solid | None) -> float:
    return found.volume if found is not None else 0.0


def test_a_free_way_is_free() -> None:
    assert blocked(BLOCK, [], UP, 100) is None
    assert blocked(BLOCK, [BLOCK.moved(x=10), BLOCK.moved(x=-10), BLOCK.moved(z=-10)], UP, 100) is None
    assert blocked(BLOCK, [BLOCK.moved(z=30)], UP, 20) is None


def test_what_is_in_the_way_is_what_the_block_would_fill() -> None:
    assert volume(blocked(BLOCK, [BLOCK.moved(z=30)], UP, 25)) == pytest.approx(10 * 10 * 5, abs=0.1)
    assert volume(blocked(BLOCK, [BLOCK.moved(z=30), BLOCK.moved(x=4, z=60)], UP, 200)) == pytest.approx(1000 + 600, abs=0.1)


def test_a_thin_plate_far_from_both_ends_is_met() -> None:
    plate = box((0, 0, 500), (10, 10, 500.2))
    assert volume(blocked(BLOCK, [plate], UP, 1000)) == pytest.approx(20, abs=0.1)


def test_a_vector_of_any_length_is_a_direction() -> None:
    other = BLOCK.moved(x=20, y=20)
    assert blocked(BLOCK, [other], Point(3, 3, 0), 10 * sqrt(2)) is None
    assert volume(blocked(BLOCK, [other], Point(3, 3, 0), 15 * sqrt(2))) == pytest.approx(5 * 5 * 10, abs=0.1)
    assert blocked(BLOCK, [other], Point(3, -3, 0), 100) is None


def test_a_lid_slides_out_of_its_grooves_and_not_up() -> None:
    sides = joined([box((0, 0, 0), (100, 10, 40)), box((0, 50, 0), (100, 60, 40))]) - box((0, 5, 25), (100, 55, 31))
    lid = box((0, 5, 25), (100, 55, 31))
    for way in (RIGHT, LEFT):
        assert blocked(lid, [sides], way, 200) is None
    # Both walls over the grooves: 5 wide, 9 high.
    assert volume(blocked(lid, [sides], UP, 50)) == pytest.approx(2 * 100 * 5 * 9, abs=0.1)


def test_a_dowel_goes_out_along_its_hole_only() -> None:
    board = box((0, 0, 0), (40, 40, 20)) - shape_solid(Cone("z", (20, 20), 5, 20, 6, 6))
    dowel = shape_solid(Cone("z", (20, 20), 5, 60, 6, 6))
    assert blocked(dowel, [board], UP, 100) is None
    assert volume(blocked(dowel, [board], DOWN, 100)) == pytest.approx(cylinder(12, 5), abs=0.1)
    assert blocked(dowel, [board], RIGHT, 100) is not None


def test_a_hook_is_caught_behind_what_its_tip_overhangs() -> None:
    hook = box((0, 0, 0), (30, 10, 30)) - box((5, 0, 5), (30, 10, 25))
    bar = box((12, -20, 10), (18, 30, 20))
    assert blocked(hook, [bar], LEFT, 100) is None
    # Upwards the lower arm meets the whole bar from below.
    assert volume(blocked(hook, [bar], UP, 100)) == pytest.approx(6 * 10 * 10, abs=0.1)
    # To the right its back meets the bar, 7 mm away.
    assert blocked(hook, [bar], RIGHT, 6.9) is None
    assert volume(blocked(hook, [bar], RIGHT, 10)) == pytest.approx(3 * 10 * 10, abs=0.1)


def test_a_groove_whose_wall_meets_a_bevel_hides_nothing() -> None:
    """The bevel joins the top of the board and the lower wall of a groove under it in one sheet that hides itself."""
    board = part_solid(
        piece(
            make("groove", face="bottom", from_="outside", distance=6, width=6, depth=20),
            make("bevel", edge="left", low="inside", angle=30),
        )
    )
    bar = box((100, -50, 7), (110, 10, 11))
    assert volume(blocked(board, [bar], UP, 100)) == pytest.approx(10 * 10 * 4, abs=0.1)
    assert blocked(board, [bar], Direction("y", 1), 200) is None


def test_a_touch_is_not_in_the_way() -> None:
    assert blocked(BLOCK, [BLOCK.moved(x=10 - 1e-7)], UP, 100) is None
    assert beyond_a_touch(box((0, 0, 0), (100, 100, 0.04))) is None
    assert beyond_a_touch(box((0, 0, 0), (100, 100, 0.06))) is not None
    assert beyond_a_touch(box((0, 0, 0), (0.9, 1, 1))) is None


def test_a_skin_left_where_faces_lay_in_one_plane_is_cleared() -> None:
    """A board stands in a stopped trench and rests on its floor beyond: they share the stopped part only."""
    trench = box((0, 0, 0), (100, 90, 15)) - box((40, 30, 10), (55, 90, 15))
    board = box((40, 14, 10), (55, 90, 180))
    assert trench.bounds.size("y") == 90
    shared = beyond_a_touch(trench & board)
    assert shared is not None
    assert shared.bounds.span("y") == pytest.approx((14, 30), abs=0.02)
    assert shared.volume == pytest.approx(16 * 15 * 5, abs=0.05)


def test_a_swept_sheet_is_as_long_as_its_way() -> None:
    corners = np.array([(0, 0, 0), (10, 0, 2), (10, 10, 0), (0, 10, 0)], dtype=np.float64)
    triangles = np.array([(0, 1, 2), (0, 2, 3)], dtype=np.int64)
    assert swept_sheet(corners, triangles, np.array([0.0, 0.0, 7.0])).volume == pytest.approx(700)
    assert shadow_area(corners[triangles][:, :, :2]) == pytest.approx(100)
    twice = np.concatenate([corners[triangles][:, :, :2]] * 2)
    assert shadow_area(twice) == pytest.approx(100)


@settings(max_examples=40, deadline=None)
@given(
    some.lists(some.tuples(*[some.floats(-20, 20)] * 3), min_size=6, max_size=12),
    some.tuples(*[some.floats(-1, 1)] * 3).filter(lambda way: sum(value**2 for value in way) > 0.1),
    some.floats(1, 60),
)
def test_convex_bodies_sweep_the_hull_of_both_ends(
    points: list[tuple[float, float, float]], way: tuple[float, float, float], distance: float
) -> None:
    body = hull(points)
    if body.volume < 50 or body.thickness < 0.5:
        return  # a sliver is cleared away with the skins
    long = sqrt(sum(value**2 for value in way))
    step = [value / long * distance for value in way]
    there = body.moved(*step)
    both = hull([*body.mesh.corners.tolist(), *there.mesh.corners.tolist()])
    passed = both - body
    if passed.volume < 20 or passed.thickness < 0.1:
        return  # what slides along itself is hardly more than a touch
    space = box((-100, -100, -100), (100, 100, 100)) - body
    # Clearing skins takes at most a hair's breadth off the surface of what is in the way.
    assert volume(blocked(body, [space], Point(*way), distance)) == pytest.approx(passed.volume, abs=1.0 + 0.02 * passed.area)
