"""How far a face is kept off a flat board by what is joined to its part. mm."""

from __future__ import annotations

from sequencer.design.placing import place
from sequencer.model.frame import FaceName, axis_of, is_high
from sequencer.model.job import Job
from sequencer.planning.groups import Group
from sequencer.solid.going_in import blocking_of

STACK = 60.0
"""No higher a stack of boards is put under wood that is drilled, mm: common practice, no source."""


def stands_off(job: Job, group: Group, part: str, face: FaceName) -> float:
    """How far the furthest piece of a group of joints stands out beyond a face of a part, mm; 0 where none does."""
    placement, standing = place(job), blocking_of(job).standing
    found = 0.0
    for name in group.pieces:
        if name in standing and job.part_of(name).name == part:
            level = placement.bodies[name].block.level(face)
            for other in group.pieces:
                if other in standing and other != name:
                    low, high = standing[other].posed(placement.poses[name].inverse).bounds.span(axis_of(face))
                    found = max(found, high - level if is_high(face) else level - low)
    return found
