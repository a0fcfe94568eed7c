"""Cuts that make room for another part where the pieces lie: copes, cut-backs, bevels, notches that no joint names. mm.

A face that a cut has made meets another part only where the wood that it alone took off would stand in that part.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from sequencer.design.bodies import Body
from sequencer.design.placing import place
from sequencer.features.base import Feature
from sequencer.model.job import Job
from sequencer.model.once import once_for_a_drawing
from sequencer.planning.groups import Group
from sequencer.solid.parts import feature_solid, standing_solids
from sequencer.solid.solids import Solid, joined, without
from sequencer.solid.sweeping import LEAST_THICKNESS, beyond_a_touch


@dataclass(frozen=True)
class Room:
    """What a cut of a part takes away, and the part that stands there when a group of joints is closed: one of the group, or of
    those that were put together before."""

    group: str
    part: str
    feature: str
    other: str


def rooms(job: Job, groups: tuple[Group, ...]) -> tuple[Room, ...]:
    """Every cut that no joint of a group names, without which a piece of the group would stand in another that is there: of the
    group, or of what it is put on to. Told once, with the group in which the two first meet."""
    known = _known(job)
    if groups not in known:
        known[groups] = tuple(_rooms(job, groups))
    return known[groups]


@once_for_a_drawing
def _known(job: Job) -> dict[tuple[Group, ...], tuple[Room, ...]]:
    """What was found for a drawing."""
    return {}


def _rooms(job: Job, groups: tuple[Group, ...]) -> Iterator[Room]:
    placement = place(job)
    standing = standing_solids(placement)
    told: set[Room] = set()
    for group in groups:
        earlier = made_before(group, groups)
        named, before = _named(group), {seat for each in earlier for seat in _named(each)}
        there = [name for name in _pieces(group, *earlier) if name in standing]
        for name in there:
            body = placement.bodies[name]
            for feature in body.part.features_of(body.piece.hand):
                if (name, feature.name) in named:
                    continue
                seats = sorted({seat for piece, seat in named | before if piece == name} - {"", feature.name})
                taken = _alone(body, feature, seats).posed(placement.poses[name])
                for other in there:
                    inside = {name, other} <= set(group.pieces)
                    if not inside and ((name, feature.name) in before or not _first_meet(name, other, group, earlier)):
                        continue
                    room = Room(group.name, body.part.name, feature.name, job.part_of(other).name)
                    near = other != name and room not in told and _near(taken, standing[other])
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


def made_before(group: Group, groups: Sequence[Group]) -> tuple[Group, ...]:
    """All groups that come before one."""
    late, found = {group.name}, list[Group]()
    for each in reversed(groups):
        if each.name in late:
            late |= {name for name, _, _ in each.after}
            found.append(each)
    return tuple(found[1:])


def _alone(body: Body, feature: Feature, seats: Iterable[str]) -> Solid:
    """The wood that only this cut takes away. The seats of the joints are cut before the pieces meet, whatever else is: room
    that a groove has made is not made again by a housing that crosses it."""
    made = (each for each in map(body.part.features.__getitem__, seats) if each.when == "loose")
    return without(joined(feature_solid(body, feature)), (solid for each in made for solid in feature_solid(body, each)))


def _near(one: Solid, other: Solid) -> bool:
    """Whether the boxes round two bodies share more than a touch."""
    if one.empty:
        return False
    a, b = one.bounds, other.bounds
    return all(min(a.high[i], b.high[i]) - max(a.low[i], b.low[i]) > LEAST_THICKNESS for i in range(3))
