"""Which groups of joints are tried dry by a task of their own, and before which glue."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sequencer.model.job import Job, Joint
from sequencer.planning.groups import DRY, Group, after_finish

MOVING = ("sliding", "loose-pivot")
"""Fits that stay loose."""


def has_trial(job: Job, group: Group, groups: Sequence[Group]) -> bool:
    """Whether a group is tried before it is closed: all that is glued, screwed or nailed; and what is only put together, where a
    piece of it is glued to something before. Keys are fitted as they are driven, what moves can be eased at any time, and what
    goes in when the finish is dry is tried as it goes in."""
    if group.fixing not in DRY:
        return True
    if group.fixing == "key" or all(joint.fit in MOVING for joint in group.joints) or after_finish(job, group):
        return False
    return any(glued_before(group, groups))


def glued_before(group: Group, groups: Sequence[Group]) -> Iterator[Group]:
    """The groups that are glued before another is closed, of those that share a piece with one of its joints that are cut: what
    only lies against a face has nothing to be eased."""
    earlier = {name for name, _, _ in group.after}
    cut = {piece for joint in group.joints if _is_cut(joint) for piece in (joint.enters_piece, joint.seat.piece)}
    return (other for other in groups if other.name in earlier and other.fixing == "glue" and cut & set(other.pieces))


def _is_cut(joint: Joint) -> bool:
    return bool(joint.its.feature or joint.seat.feature or joint.crossing)
