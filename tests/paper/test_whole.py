"""Scenes of the whole: upright as in use, apart so that every piece can be told, and put together again the way it goes."""

from __future__ import annotations

from functools import cache
from itertools import combinations

import numpy as np
import pytest

from sequencer.design.placing import place
from sequencer.model.frame import AXES, Point
from sequencer.paper.outlines import eye
from sequencer.paper.overview import parts_overview
from sequencer.paper.scene import FROM_THE_LEFT, Scene
from sequencer.paper.whole import Whole
from sequencer.paper.whole_scenes import assembled_scene, exploded_scene, joining_scene
from sequencer.solid.solids import box
from sequencer.solid.taking_apart import Obstacles, ways_apart
from tests.made import EXAMPLES, job

JOBS = (*EXAMPLES, "starter")


@cache
def whole(name: str) -> Whole:
    return Whole(job(name), place(job(name)))


def shifts(name: str, scene: Scene) -> dict[str, Point]:
    """How far each piece stands from its place, by piece; things are in the order of the pieces."""
    standing = whole(name).standing
    return {
        piece: Point(*(round(a - b, 6) for a, b in zip(thing.solid.bounds.low, standing[piece].bounds.low, strict=True)))
        for piece, thing in zip(job(name).pieces(), scene.things, strict=True)
    }


# As it stands


@pytest.mark.parametrize("name", JOBS)
def test_every_piece_stands_on_the_ground_once_with_its_letter(name: str) -> None:
    scene = assembled_scene(whole(name))
    assert [thing.letter for thing in scene.things] == [job(name).part_of(piece).letter for piece in job(name).pieces()]
    assert min(thing.solid.bounds.low.z for thing in scene.things) == pytest.approx(0.0, abs=1e-6)
    assert set(shifts(name, scene).values()) == {Point(0.0, 0.0, 0.0)}


def test_some_pieces_only() -> None:
    scene = assembled_scene(whole("herb-caddy"), ("floor", "handle"))
    assert [thing.letter for thing in scene.things] == ["D", "E"]


@pytest.mark.parametrize(
    ("name", "highest"), [("herb-caddy", "end.1"), ("nest-box", "back"), ("step-stool", "seat.1"), ("starter", "rail")]
)
def test_it_stands_as_it_is_used(name: str, highest: str) -> None:
    standing = whole(name).standing
    assert max(standing, key=lambda piece: round(standing[piece].bounds.high.z, 3)) == highest


@pytest.mark.parametrize(
    ("name", "before", "behind"),
    [("nest-box", "front", "back"), ("picture-frame", "clear-sheet", "backing"), ("starter", "peg.1", "rail")],
)
def test_its_front_looks_at_the_viewer(name: str, before: str, behind: str) -> None:
    standing = whole(name).standing
    assert standing[before].bounds.low.y < standing[behind].bounds.low.y


def test_a_stool_is_as_high_as_the_drawing_says() -> None:
    assert max(each.bounds.high.z for each in whole("step-stool").standing.values()) == pytest.approx(250.0)


# Apart


def overlap(one: Scene, first: int, second: int) -> bool:
    """Whether the boxes around two things cover each other in the picture: no side of either outline parts them."""
    viewer = eye(FROM_THE_LEFT)

    def corners(number: int) -> np.ndarray:
        around = one.things[number].solid.bounds
        points = [
            viewer.direction(Point(x, y, z))
            for x in (around.low.x, around.high.x)
            for y in (around.low.y, around.high.y)
            for z in (around.low.z, around.high.z)
        ]
        return np.array([(point.x, point.y) for point in points])

    for axis in AXES:
        way = viewer.direction(Point(*(float(axis == each) for each in AXES)))
        across = np.array((-way.y, way.x))
        mine, theirs = corners(first) @ across, corners(second) @ across
        if mine.max() < theirs.min() or theirs.max() < mine.min():
            return False
    return True


@pytest.mark.parametrize("name", ["nest-box", "starter"])
def test_nothing_covers_anything_in_the_picture(name: str) -> None:
    scene = exploded_scene(whole(name))
    assert [pair for pair in combinations(range(len(scene.things)), 2) if overlap(scene, *pair)] == []


@pytest.mark.parametrize("name", JOBS)
def test_joined_pieces_are_told_apart(name: str) -> None:
    scene = exploded_scene(whole(name))
    order = list(job(name).pieces())
    for joint in job(name).joints.values():
        assert not overlap(scene, order.index(joint.enters_piece), order.index(joint.seat.piece)), joint.name


@pytest.mark.parametrize("name", JOBS)
def test_every_joined_piece_has_an_arrow_along_an_axis(name: str) -> None:
    scene = exploded_scene(whole(name))
    for arrow in scene.arrows:
        assert sum(abs(a - b) > 1e-6 for a, b in zip(arrow.start, arrow.stop, strict=True)) == 1
    assert len(scene.arrows) >= (len(scene.things) - 1) // 2


def test_pegs_come_out_square_to_the_rail_and_their_arrows_end_at_its_holes() -> None:
    scene = exploded_scene(whole("starter"))
    rail, *pegs = scene.things
    moved = shifts("starter", scene)
    for peg in ("peg.1", "peg.2", "peg.3"):
        gone = Point(*(a - b for a, b in zip(moved[peg], moved["rail"], strict=True)))
        assert (gone.x, gone.z) == (0.0, 0.0)
        assert gone.y < -60
    mouths = sorted((round(arrow.stop.x, 3), round(arrow.stop.z, 3)) for arrow in scene.arrows)
    assert mouths == [(60.0, 50.0), (180.0, 50.0), (300.0, 50.0)]
    for arrow in scene.arrows:
        assert arrow.stop.y == pytest.approx(rail.solid.bounds.low.y)
        assert arrow.start.y == pytest.approx(pegs[0].solid.bounds.high.y)


def test_what_is_joined_last_comes_off_first() -> None:
    # The glass and the backing go in once the frame is closed: they come out behind it, not through an open corner.
    moved = shifts("picture-frame", exploded_scene(whole("picture-frame")))
    assert moved["clear-sheet"].y > 0
    assert moved["backing"].y > moved["clear-sheet"].y
    assert {moved[piece].y for piece in moved if "piece" in piece} == {0.0}


# Put together


def test_what_is_joined_already_moves_as_one() -> None:
    caddy = job("herb-caddy")
    joints = list(caddy.joints.values())
    box_joints = [joint for joint in joints if joint.assembly == "box"]
    scene = joining_scene(whole("herb-caddy"), [caddy.joints["divider-1"], caddy.joints["divider-2"]], box_joints)
    assert sorted(thing.letter for thing in scene.things) == ["A", "A", "B 1", "B 2", "C", "D"]
    loose = whole("herb-caddy").loose
    moved = {
        tuple(round(a - b, 6) for a, b in zip(thing.solid.bounds.low, loose[piece].bounds.low, strict=True))
        for piece, thing in zip(["side.left", "side.right", "end.1", "end.2", "floor"], scene.things, strict=False)
        if thing.letter != "C"
    }
    assert len(moved) == 1
    assert len(scene.arrows) == 1
    (arrow,) = scene.arrows
    assert arrow.heavy
    assert arrow.stop.z < arrow.start.z


def test_what_is_joined_by_then_is_shown_closed() -> None:
    caddy = job("herb-caddy")
    joints = list(caddy.joints.values())
    scene = joining_scene(whole("herb-caddy"), joints, joints)
    assert scene.arrows == ()
    assert set(shifts("herb-caddy", scene).values()) == {Point(0.0, 0.0, 0.0)}


# What stands in the way of what


def test_a_lid_comes_off_upwards_and_a_drawer_forwards() -> None:
    case = box((0, 0, 0), (100, 100, 100)) - box((10, -1, 10), (90, 90, 60)) - box((10, 10, 70), (90, 90, 101))
    drawer = box((10, 0, 10), (90, 90, 60))
    lid = box((0, 0, 100), (100, 100, 110))
    obstacles = Obstacles({"case": case, "drawer": drawer, "lid": lid})
    assert not obstacles.meets("lid", "case", "z")
    assert obstacles.meets("case", "lid", "z")
    assert obstacles.meets("drawer", "case", "z")
    assert obstacles.meets("drawer", "case", "y")
    assert not obstacles.meets("case", "lid", "x")
    found = {way.axis: way.layers for way in ways_apart(obstacles, {name: (name,) for name in ("case", "drawer", "lid")})}
    assert found["z"] == (("case", "drawer"), ("lid",))
    assert found["y"] == (("drawer",), ("case", "lid"))
    assert "x" not in found


def test_what_is_captured_stays_together() -> None:
    cage = box((0, 0, 0), (50, 50, 50)) - box((5, 5, 5), (45, 45, 45))
    ball = box((10, 10, 10), (40, 40, 40))
    assert ways_apart(Obstacles({"cage": cage, "ball": ball}), {"cage": ("cage",), "ball": ("ball",)}) == ()


# The parts


@pytest.mark.parametrize("name", JOBS)
def test_the_overview_names_counts_and_measures_every_part(name: str) -> None:
    shown = parts_overview(job(name), 186.0, 120.0)
    assert shown.readable
    for part in job(name).parts.values():
        assert f">{part.letter}</text>" in shown.svg
        pair = ", a pair" if part.handed and part.count == 2 else ""
        assert f">{part.name.replace('-', ' ')} × {part.count}{pair}</text>" in shown.svg
        sizes = f"{part.length:g}, diameter {part.thickness:g}" if part.section == "round" else f"{part.length:g} × "
        assert sizes in shown.svg
        assert (">left</text>" in shown.svg) is any(each.handed for each in job(name).parts.values())
    assert all(each.left >= 0 and each.right <= 186.0 and each.bottom <= 120.0 for each in shown.texts)


def test_the_overview_says_where_the_room_is_too_small() -> None:
    assert not parts_overview(job("nest-box"), 40.0, 20.0).readable


def test_the_same_thing_gives_the_same_bytes() -> None:
    assert parts_overview(job("herb-caddy"), 120.0, 80.0) == parts_overview(job("herb-caddy"), 120.0, 80.0)
