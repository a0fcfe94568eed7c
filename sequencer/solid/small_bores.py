"""Wood between two small round holes in the middle of a board: short along the grain, and still held by the wood at both sides of
it. mm."""

from __future__ import annotations

from collections.abc import Sequence

from sequencer.design.bodies import Body
from sequencer.features.base import NEAR, Feature
from sequencer.knowledge.working import Working
from sequencer.model.frame import Axis, axis_of, others
from sequencer.model.job import Job, Part
from sequencer.model.shapes import Bounds


def joined_features(job: Job, part: Part) -> frozenset[str]:
    """The features of a part that a joint uses: what is driven into one may split short wood off."""
    pieces = {piece.name for piece in part.pieces}
    seats = (seat for joint in job.joints.values() for seat in (joint.its, joint.seat))
    return frozenset(seat.feature for seat in seats if seat.piece in pieces and seat.feature)


def stands_between_bores(
    body: Body, made_by: Sequence[Feature], beside: Sequence[Bounds], grain: Axis, joined: frozenset[str], working: Working
) -> bool:
    """Whether a place that is short along the grain lies between plain holes across it that no joint uses, each `small-bore` wide
    at the most, with as much wood as it is wide, and `least-end-wall` at the least, to every face and every other cut. `beside`:
    the boxes of the cuts that have made the place."""
    plain = {
        box
        for each in body.part.features_of(body.piece.hand)
        if each.kind == "hole" and each.name not in joined and axis_of(each.opens()[0]) != grain
        for box in body.boxes(each)
        if all(box.size(axis) <= working.small_bore + NEAR for axis in others(axis_of(each.opens()[0])))
    }
    rest = [box for each in body.part.features_of(body.piece.hand) for box in body.boxes(each) if box not in plain]
    across = {axis for each in made_by for axis in others(axis_of(each.opens()[0]))}
    return (
        len(beside) > 1
        and all(box in plain for box in beside)
        and len(across) == len(others(grain))
        and all(_stands_clear(body, box, sorted(across), rest, working.least_end_wall) for box in beside)
    )


def _stands_clear(body: Body, hole: Bounds, across: Sequence[Axis], rest: Sequence[Bounds], least: float) -> bool:
    """Whether a hole has enough wood round it, across its run, to the faces and to the rest of what is cut."""
    grown = {
        axis: (hole.span(axis)[0] - room, hole.span(axis)[1] + room)
        for axis in across
        for room in (max(hole.size(axis), least) - NEAR,)
    }
    inside = all(low > 0 and high < body.part.block.size(axis) for axis, (low, high) in grown.items())
    return inside and not any(
        all(box.span(axis)[0] < high and low < box.span(axis)[1] for axis, (low, high) in grown.items()) for box in rest
    )
