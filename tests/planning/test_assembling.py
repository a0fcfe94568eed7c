"""The groups of joints against the shapes: every example and published project goes together in the order of its groups."""

from __future__ import annotations

from functools import cache

import pytest

from sequencer.design.placing import place
from sequencer.model.frame import Point
from sequencer.planning.closing import Closing, closings
from sequencer.planning.grouping import joint_groups
from sequencer.solid.going_in import blocking_of
from tests.made import EXAMPLES, job

CASES = tuple(
    f"tests/cases/{name}.yaml"
    for name in (
        "s01-bench-hook",
        "s02-flower-pot-cross",
        "s04-bird-house",
        "s05-knife-box",
        "s06-table-drawer",
        "s07-glass-door-frame",
        "s08-keyed-tabouret",
        "s09-towel-roller",
    )
)
DOWN = Point(0, 0, -1)


@cache
def closed(name: str) -> tuple[Closing, ...]:
    drawn = job(name)
    placement = place(drawn)
    return tuple(closings(drawn, joint_groups(drawn), placement, blocking_of(drawn)))


def last_before(name: str, group: str) -> list[list[str]]:
    """The bodies of a group in the order they go in, the first of each closing the one that stands."""
    found = []
    for each in closed(name):
        if each.group.name == group:
            moved = [body for move in each.moves for body in move.bodies]
            found.append([*(body for body in each.bodies if body not in moved), *moved])
    return found


@pytest.mark.parametrize("name", [*EXAMPLES, *CASES])
def test_every_group_can_be_put_together_in_its_turn(name: str) -> None:
    found = closed(name)
    assert found
    for each in found:
        assert each.locked is None, each.group.name
        brought = {body for move in each.moves for body in move.bodies}
        assert len(each.moves) == len(each.bodies) - 1
        assert len(brought) == len(each.bodies) - 1
        assert each.carried_wet == ()


@pytest.mark.parametrize("name", [*EXAMPLES, *CASES])
def test_what_goes_in_meets_what_stands_there(name: str) -> None:
    """Each piece is held by a joint from the moment it is in."""
    for each in closed(name):
        joined = [{joint.enters_piece, joint.seat.piece} for joint in each.group.joints]
        for move in each.moves:
            moved = {piece for body in move.bodies for piece in each.bodies[body]}
            there = {piece for body in move.onto for piece in each.bodies[body]}
            assert any(ends & moved and ends & there for ends in joined), move


def test_the_floor_of_the_caddy_is_in_before_the_box_closes() -> None:
    (order,) = last_before("herb-caddy", "box")
    assert order.index("floor") < 4
    assert order[-1] in ("end.1", "end.2", "side.left", "side.right")


def test_the_handle_of_the_caddy_goes_in_from_an_end_and_the_divider_from_above() -> None:
    ways = {move.bodies: move.way for each in closed("herb-caddy") for move in each.moves}
    assert abs(ways["handle",].x) == 1
    assert ways["divider",] == Point(0, -1, 0)


def test_the_end_frames_of_the_stool_stand_before_the_spine_joins_them() -> None:
    names = [each.group.name for each in closed("step-stool")]
    assert names == ["end-frame", "end-frame", "spine-in-place", "seat-in-place"]
    spine = next(each for each in closed("step-stool") if each.group.name == "spine-in-place")
    assert sorted(spine.bodies) == ["leg.1", "leg.3", "spine"]
    assert spine.bodies["leg.3"] == ("leg.3", "leg.4", "end-rail.2")


def test_the_bottom_of_the_drawer_slides_in_from_the_back() -> None:
    body = next(each for each in closed("tests/cases/s06-table-drawer.yaml") if each.group.name == "body")
    (bottom,) = (move for move in body.moves if move.bodies == ("bottom",))
    assert body.moves[-1] == bottom
    assert bottom.way == DOWN  # along its length, towards the front that lies undermost here


def test_the_upper_cross_drops_into_the_legs_and_the_keys_go_in_thin_end_first() -> None:
    ways = {move.bodies: move.way for each in closed("tests/cases/s08-keyed-tabouret.yaml") for move in each.moves}
    assert ways["upper-under",] == DOWN
    assert {ways[f"key.{number}",] for number in (1, 2, 3, 4)} == {DOWN}


def test_the_roller_is_tilted_into_the_closed_bracket_and_laid_into_the_open_one() -> None:
    last = closed("tests/cases/s09-towel-roller.yaml")[-1]
    assert last.group.name == "pivot-1"
    assert [move.bodies for move in last.moves] == [("roller",)]
