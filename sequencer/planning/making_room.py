"""Cuts that make room for another part where the pieces lie: copes, cut-backs, notches that no joint names. mm."""

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
    """What a cut of a part takes away, and the part that stands there when a group of joints is closed."""

    group: str
    part: str
    feature: str
    other: str


def rooms(job: Job, groups: tuple[Group, ...]) -> Iterator[Room]:
    """Every cut that no joint of a group names, without which two pieces of the group would stand in each other."""
    placement = place(job)
    standing = standing_solids(placement)
    told: set[Room] = set()
    for group in groups:
        named = {(seat.piece, seat.feature) for joint in group.joints for seat in (joint.its, joint.seat)}
        there = [name for name in group.pieces if name in standing]
        for name in there:
            body = placement.bodies[name]
            for feature in body.part.features_of(body.piece.hand):
                if feature.when != "loose" or (name, feature.name) in named:
                    continue
                taken = joined(feature_solid(body, feature)).posed(placement.poses[name])
                for other in there:
                    room = Room(group.name, body.part.name, feature.name, job.part_of(other).name)
                    near = other != name and room not in told and _near(taken.bounds, standing[other].bounds)
                    if near and beyond_a_touch(taken & standing[other]) is not None:
                        told.add(room)
                        yield room


def _near(one: Bounds, other: Bounds) -> bool:
    """Whether two boxes share more than a touch."""
    return all(min(one.high[i], other.high[i]) - max(one.low[i], other.low[i]) > LEAST_THICKNESS for i in range(3))
