"""The hole that a blade is threaded through before it can saw an opening inside a part. mm."""

from __future__ import annotations

from math import floor

from sequencer.features.base import Feature
from sequencer.features.hole import Hole
from sequencer.features.opening import Opening
from sequencer.knowledge.working import Working
from sequencer.model.frame import Block, FaceName, axis_of, others

NEEDED = "start-hole"
"""What an operation `needs` whose blade is threaded through a hole."""


def start_hole(feature: Feature, block: Block, working: Working) -> Hole | None:
    """The hole in the middle of the waste of an opening that goes right through inside its part; None for any other cut, and for
    one too narrow for a hole. Straight lines around the middle are the same wherever the opening is measured from."""
    if not isinstance(feature, Opening) or feature.blind() is not None or feature.breaks(block):
        return None
    room = min(feature.length, feature.width) - 2 * working.start_hole_beside
    diameter = min(working.start_hole, float(floor(room)))
    if diameter < working.least_start_hole:
        return None
    sides = (feature.lines_along(block, axis) for axis in others(axis_of(feature.face)))
    spot: dict[FaceName, float] = {lines.face: (lines.near + lines.far) / 2 for lines in sides}
    return Hole(
        name=f"{feature.name}-{NEEDED}",
        when=feature.when,
        only=feature.only,
        note="Mark its cross in the middle of the waste first.",
        face=feature.face,
        diameter=diameter,
        at=(spot,),
    )
