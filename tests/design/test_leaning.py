"""What lies on a slope leans as it does; points, and the way back, follow."""

from __future__ import annotations

from math import atan2, cos, degrees, hypot, radians, sin

import pytest

from sequencer.design.checking import check_design
from sequencer.design.placing import place
from sequencer.design.poses import TURNS, Direction, Lean, Pose
from sequencer.features.base import Feature
from sequencer.model.frame import Point
from sequencer.model.job import Job
from sequencer.solid.dry_fit import dry_fit
from sequencer.solid.parts import standing_solids
from tests.design.jobs import feature, joint, part
from tests.design.jobs import job as put_together
from tests.made import job, knowledge


def test_the_roof_of_the_nest_box_lies_on_the_slopes_of_its_sides() -> None:
    nest_box = job("nest-box")
    placement = place(nest_box)
    lean = placement.poses["roof"].lean
    assert lean is not None
    assert abs(lean.angle) == pytest.approx(11.31)
    standing = standing_solids(placement)
    for piece in ("side.left", "side.right", "back", "front"):
        assert standing["roof"].gap(standing[piece], 1.0) == pytest.approx(0, abs=1e-6)
        # The front is drawn 24 lower in whole millimetres, a few hundredths more than the slope asks.
        assert (standing["roof"] & standing[piece]).volume < 1
    # Its bevelled edge stands against the back: 20 from the outside of the back, all along.
    assert standing["roof"].bounds.low.z == pytest.approx(20)
    assert dry_fit(nest_box, knowledge()) == ()
    assert "not-square-there" not in {each.code for each in check_design(nest_box, knowledge())}


def desk(angle: float, *bevel: Feature, at: float = 0.0, long: str = "bottom") -> Job:
    """A lid on two cheeks whose upper ends slope, as on a writing desk."""
    cheek = part("cheek", "board", 150, 200, 15, feature("slope", "mitre", end="right", long=long, angle=angle), count=2)
    floor, lid = part("floor", "board", 300, 200, 15), part("lid", "board", 320, 220, 15, *bevel)
    joints = [
        joint("cheek-1", "cheek.1/left", "floor/inside", flush={"bottom": "bottom", "inside": "left"}),
        joint("cheek-2", "cheek.2/left", "floor/inside", flush={"bottom": "bottom", "outside": "right"}),
        joint("lid-1", "lid/outside", "cheek.1/right", align={"bottom": "bottom"}, at={"bottom": at, "inside": -10}),
        joint("lid-2", "lid/outside", "cheek.2/right"),
    ]
    return put_together([floor, cheek, lid], joints)


@pytest.mark.parametrize("long", ["bottom", "top"])
@pytest.mark.parametrize("angle", [5.0, 20.0, 40.0])
def test_a_lid_lies_on_a_slope_either_way(angle: float, long: str) -> None:
    placement = place(desk(angle, long=long))
    assert placement.findings == ()
    standing = standing_solids(placement)
    for cheek in ("cheek.1", "cheek.2"):
        assert standing["lid"].gap(standing[cheek], 1.0) == pytest.approx(0, abs=1e-6)
        assert (standing["lid"] & standing[cheek]).volume == pytest.approx(0, abs=0.01)
        pressed = standing["lid"].moved(z=-0.05) & standing[cheek]
        assert pressed.volume / 0.05 > 1000
    pose = placement.poses["lid"]
    low, high = pose.to_world(Point(0, 0, 0)), pose.to_world(Point(0, 220, 0))
    steep = abs(degrees(atan2(high.z - low.z, hypot(high.x - low.x, high.y - low.y))))
    assert steep == pytest.approx(angle)


def test_at_is_measured_to_the_corner_that_is_nearest_when_it_leans() -> None:
    """The lid falls to the back, so that its upper corner stands out at the front: 15 sin 20 beyond the lower one."""
    placement = place(desk(20.0, at=-30.0))
    lid = standing_solids(placement)["lid"]
    assert lid.bounds.low.y == pytest.approx(-30)
    pose = placement.poses["lid"]
    assert pose.to_world(Point(0, 0, 0)).y == pytest.approx(-30)
    assert pose.to_world(Point(0, 0, 15)).y == pytest.approx(-30 + 15 * sin(radians(20)))


def test_a_bevelled_edge_stands_upright_where_it_is_put() -> None:
    bevel = feature("edge", "bevel", edge="bottom", low="outside", angle=20.0)
    lid = standing_solids(place(desk(20.0, bevel)))["lid"]
    assert lid.bounds.low.y == pytest.approx(0)
    face = lid.moved(y=-0.05)
    assert (lid.volume - (lid & face).volume) > 0
    foot = [corner for corner in lid.mesh.corners.tolist() if abs(corner[1]) < 1e-6]
    assert len({round(corner[2], 3) for corner in foot}) == 2
    assert max(corner[2] for corner in foot) - min(corner[2] for corner in foot) == pytest.approx(15 / cos(radians(20)))


def test_pieces_on_square_seats_do_not_lean() -> None:
    for name in ("herb-caddy", "step-stool", "picture-frame", "starter"):
        assert all(pose.lean is None for pose in place(job(name)).poses.values())


def test_a_piece_that_another_joint_holds_level_does_not_lean() -> None:
    drawn = desk(20.0)
    post = part("post", "board", 150, 40, 15)
    held = put_together(
        [*drawn.parts.values(), post],
        [
            *drawn.joints.values(),
            joint("held", "post/right", "lid/outside", align={"bottom": "bottom"}, at={"left": 30, "top": 10}),
        ],
    )
    assert place(held).poses["lid"].lean is None
    assert {each.code for each in dry_fit(held, knowledge())} >= {"bears-on-little"}


@pytest.mark.parametrize("turn", TURNS[::5])
def test_the_way_back_brings_every_point_back(turn: tuple[Direction, Direction, Direction]) -> None:
    for lean in (None, Lean("y", 30, Point(3, 4, 5)), Lean("z", -11.31, Point(-3, 40, 5))):
        pose = Pose(turn, Point(7, -8, 9), lean)
        for point in (Point(0, 0, 0), Point(1, 2, 3), Point(-40, 20, 6)):
            assert pose.inverse.to_world(pose.to_world(point)) == pytest.approx(point)


def test_a_lean_is_seen_alike_from_a_turned_frame() -> None:
    first = Pose(TURNS[7], Point(1, 2, 3), Lean("x", 25, Point(0, 10, 20)))
    frame = Pose(TURNS[13], Point(-5, 6, 70))
    for point in (Point(0, 0, 0), Point(10, 20, 30)):
        assert frame.after(first).to_world(point) == pytest.approx(frame.to_world(first.to_world(point)))


def test_a_lean_is_right_handed() -> None:
    assert Lean("x", 90, Point(0, 0, 0)).turned(Point(1, 1, 0)) == pytest.approx((1, 0, 1))
    assert Lean("y", 90, Point(0, 0, 0)).turned(Point(0, 1, 1)) == pytest.approx((1, 1, 0))
    assert Lean("z", 45, Point(1, 1, 0)).turned(Point(2, 1, 0)) == pytest.approx((1 + cos(radians(45)), 1 + sin(radians(45)), 0))
