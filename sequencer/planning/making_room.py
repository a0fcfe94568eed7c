"""Cuts that make room for another part where the pieces lie: copes, cut-backs, bevels, notches that no joint names. mm.

A face that a cut has made meets another part only where the wood that it took off would stand in that part.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sequencer.design.placing import place
from sequencer.model.job import Job
from sequencer.model.shapes import Bounds
from sequencer.planning.groups import Group
from sequencer.solid.parts import feature_solid, standing_solids
from sequencer.solid.solids import joined
from sequencer.solid.sweeping import LEAST_THICKNESS, beyond_a_touch


@dataclass(frozen=True)
class Room:
    """What a cut of a part takes away, and the part that stands there when a group of joints is closed: one of the group, or of
    those that were put together before."""

    group: str
    part: str
    feature: str
    other: str


def rooms(job: Job, groups: tuple[Group, ...]) -> Iterator[Room]:
    """Every cut that no joint of a group names, without which a piece of the group would stand in another that is there: of the
    group, or of what it is put on to. Told once, with the group in which the two first meet."""
    placement = place(job)
    standing = standing_solids(placement)
    told: set[Room] = set()
    for group in groups:
        earlier = _before(group, groups)
        named, before = _named(group), {seat for each in earlier for seat in _named(each)}
        there = [name for name in _pieces(group, *earlier) if name in standing]
        for name in there:
            body = placement.bodies[name]
            for feature in body.part.features_of(body.piece.hand):
                if feature.when != "loose" or (name, feature.name) in named:
                    continue
                taken = joined(feature_solid(body, feature)).posed(placement.poses[name])
                for other in there:
                    inside = {name, other} <= set(group.pieces)
                    if not inside and ((name, feature.name) in before or not _first_meet(name, other, group, earlier)):
                        continue
                    room = Room(group.name, body.part.name, feature.name, job.part_of(other).name)
                    near = other != name and room not in told and _near(taken.bounds, standing[other].bounds)
                    if near and beyond_a_touch(taken & standing[other]) is not None:
                        told.add(room)
                        yield room


def _named(group: Group) -> set[tuple[str, str]]:
    """The seats of the joints of a group: piece and feature."""
    return {(seat.piece, seat.feature) for joint in group.joints for seat in (joint.its, joint.seat)}


def _first_meet(one: str, other: str, group: Group, earlier: tuple[Group, ...]) -> bool:
    """Whether two pieces come together as a group is put on to what was put together earlier."""
    pair = {one, other}
    return not pair.isdisjoint(group.pieces) and not any(pair <= set(each.pieces) for each in earlier)


def _pieces(*groups: Group) -> tuple[str, ...]:
    """The pieces of some groups, each once."""
    return tuple(dict.fromkeys(piece for group in groups for piece in group.pieces))


def _before(group: Group, groups: tuple[Group, ...]) -> tuple[Group, ...]:
    """All groups that come before one."""
    late, found = {group.name}, list[Group]()
    for each in reversed(groups):
        if each.name in late:
            late |= {name for name, _, _ in each.after}
            found.append(each)
    return tuple(found[1:])


def _near(one: Bounds, other: Bounds) -> bool:
    """Whether two boxes share more than a touch."""
    return all(min(one.high[i], other.high[i]) - max(one.low[i], other.low[i]) > LEAST_THICKNESS for i in range(3))
