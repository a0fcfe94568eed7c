"""What a step calls the parts it joins: the whole, a sub-assembly, or what is joined to what."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sequencer.model.job import Job, Joint
from sequencer.planning.groups import Group
from sequencer.reading.words import listed

WHOLE = "whole"
"""The name of the finished thing in task names."""


def names_of_groups(job: Job, groups: Sequence[Group]) -> Mapping[str, str]:
    """What each group is called, by its name. `the whole` only where nothing is missing any more."""
    every = {piece for group in groups for piece in group.pieces}
    there: set[str] = set()
    found = {}
    for group in groups:
        there |= {*group.pieces, *group.captured}
        found[group.name] = _name(job, group, everything=there >= every)
    return found


def _name(job: Job, group: Group, *, everything: bool) -> str:
    own = group.name.replace("-", " ").replace("_", " ")
    if group.name == WHOLE:
        return "the whole" if everything else what_is_joined(job, group.joints)
    assemblies = {*job.assemblies, *(joint.assembly for joint in group.joints)}
    if group.name in assemblies | {name.rstrip("0123456789").rstrip("-") for name in assemblies}:
        return own if len(group.joints) > group.times else what_is_joined(job, group.joints)
    if group.name in job.joints:
        # A name with a number tells a reader nothing.
        return what_is_joined(job, group.joints) if group.name[-1].isdigit() else own
    in_place = {f"{job.part_of(joint.enters_piece).name}-in-place" for joint in group.joints}
    return own if group.name in in_place else what_is_joined(job, group.joints)


def what_is_joined(job: Job, joints: Sequence[Joint]) -> str:
    """`rail into leg`; of parts that both enter and take one another, their names in a row."""
    entering = list(dict.fromkeys(job.part_of(joint.enters_piece).name for joint in joints))
    taking = list(dict.fromkeys(job.part_of(joint.seat.piece).name for joint in joints))
    if set(entering) & set(taking):
        either = {*entering, *taking}
        return _listed([name for name in job.parts if name in either])
    into = "into" if all(joint.seat.feature for joint in joints) else "to"
    how = "across" if all(joint.crossing for joint in joints) else into
    return f"{_listed(entering)} {how} {_listed(taking)}"


def _listed(names: Sequence[str]) -> str:
    return listed([name.replace("-", " ").replace("_", " ") for name in names])
