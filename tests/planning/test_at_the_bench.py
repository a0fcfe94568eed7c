"""The moves of glue-ups as they are told: down where they can be, and only along ways that are free."""

from __future__ import annotations

from functools import cache

import pytest

from sequencer.design.placing import place
from sequencer.design.standing import up_of
from sequencer.planning.at_the_bench import along, told_moves
from sequencer.planning.bringing import order_lines
from sequencer.planning.closing import Closing, closings
from sequencer.planning.grouping import joint_groups
from sequencer.solid.blocking import Blocking, reversed_way
from sequencer.solid.disassembly import Move
from sequencer.solid.going_in import blocking_of
from tests.made import EXAMPLES, job

THINGS = (
    *EXAMPLES,
    "tests/cases/s05-knife-box.yaml",
    "tests/cases/s06-table-drawer.yaml",
    "tests/cases/s08-keyed-tabouret.yaml",
    "tests/assemblies/drawer.yaml",
    "tests/assemblies/halved-grid.yaml",
    "tests/assemblies/splined-frame.yaml",
    "tests/assemblies/stopped-shelf.yaml",
    "tests/assemblies/wedged-stool.yaml",
)


@cache
def closed(name: str) -> tuple[tuple[Closing, ...], Blocking]:
    drawn = job(name)
    placement = place(drawn)
    blocking = blocking_of(drawn)
    return tuple(closings(drawn, joint_groups(drawn), placement, blocking)), blocking


def lines(name: str, group: str) -> list[str]:
    (closing, *_) = (each for each in closed(name)[0] if each.group.name == group)
    return [each.line for each in order_lines(job(name), closing, place(job(name)))]


@pytest.mark.parametrize("name", THINGS)
def test_what_is_told_can_be_done(name: str) -> None:
    """Every body is told once, and has its way free among what is there when its turn comes."""
    found, blocking = closed(name)
    for closing in found:
        assert sorted(move.bodies for move in closing.told) == sorted(move.bodies for move in closing.moves) or (
            {body for move in closing.told for body in (*move.bodies, *move.onto)} == set(closing.bodies)
        )
        there = list(closing.told[0].onto)
        joined = [{joint.enters_piece, joint.seat.piece} for joint in closing.group.joints]
        for move in closing.told:
            assert list(move.onto) == there
            moved = {piece for body in move.bodies for piece in closing.bodies[body]}
            standing = {piece for body in there for piece in closing.bodies[body]}
            if any(ends & moved and ends & standing for ends in joined) and move.first is None:
                assert not blocking.stopping(sorted(moved), sorted(standing), reversed_way(move.way)), move
            there += move.bodies
        assert sorted(there) == sorted(closing.bodies)


def test_the_spine_of_the_stool_is_let_down_into_both_frames() -> None:
    assert lines("step-stool", "spine-in-place") == [
        "Stand the end frame with A 1 on the bench.",
        "Stand the end frame with A 3 beside it.",
        "Push C down into the laps of B 1 and B 2.",
    ]


def test_what_comes_from_below_waits_until_the_work_is_turned_over_once() -> None:
    assert lines("tests/assemblies/splined-frame.yaml", "spline-in-place") == [
        "Start with the frame with A 1.",
        "Push C 3 down into the left slot of A 2.",
        "Push C 4 down into the right slot of A 2.",
        "Turn the work over, its joints held shut.",
        "Push C 1 down into the left slot of A 1.",
        "Push C 2 down into the right slot of A 1.",
    ]
    assert lines("tests/assemblies/stopped-shelf.yaml", "whole")[-3:] == [
        "Slide C down between A 1 and A 2.",
        "Turn the work over, its joints held shut.",
        "Slide B down between A 1 and A 2.",
    ]


@pytest.mark.parametrize("name", THINGS)
def test_nothing_is_told_to_be_pushed_up(name: str) -> None:
    for closing in closed(name)[0]:
        said = [each.line for each in order_lines(job(name), closing, place(job(name)))]
        assert not [line for line in said if " up " in line]


def test_the_lighter_body_comes_down_whichever_the_shapes_move() -> None:
    """The spine standing first and the frames lifted up to it: told the other way. A frame lifted up to a body that is heavier
    stays the one that moves."""
    found, blocking = closed("step-stool")
    spine = next(each for each in found if each.group.name == "spine-in-place")
    placement = place(job("step-stool"))
    up = up_of(placement, placement.groups[0])
    first, second = (body for body in spine.bodies if body != "spine")
    meet = {frozenset((first, "spine")), frozenset((second, "spine"))}
    lifted = (Move((first,), ("spine",), along(up)), Move((second,), ("spine", first), along(up)))
    told = told_moves(lifted, spine.bodies, meet, blocking, up)
    assert [(move.bodies, move.onto) for move in told] == [((second,), (first,)), (("spine",), (first, second))]
    assert told[-1].way == reversed_way(along(up))
    one = (Move(("spine",), (first,), along(up)),)
    assert told_moves(one, {each: spine.bodies[each] for each in (first, "spine")}, meet, blocking, up) == one
