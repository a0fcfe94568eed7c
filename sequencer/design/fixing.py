"""Screws that come through or hold too little, and solid wood fixed so that it cannot move. mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sequencer.design.fitting import coefficient_of
from sequencer.design.joining import RIGID, stock_is_solid
from sequencer.design.placing import Bearing, Placement
from sequencer.design.poses import Direction
from sequencer.design.sums import COMMON, screw_hold
from sequencer.features.base import NEAR, Feature, mm
from sequencer.findings import Finding
from sequencer.knowledge.formats import Knowledge
from sequencer.knowledge.settings.moisture import MOVEMENT_SOURCE, movement
from sequencer.model.frame import AXIS_WORDS, Axis, axis_of, others
from sequencer.model.job import Hardware, Job, Joint, Part

POINT_ROOM = 3.0
"""Wood to leave before a screw's point, mm: common practice."""
LEAST_SHARE = 0.5
"""Least share of a screw in the second piece where that is thick enough; two thirds to three quarters is usual: common
practice."""
NEXT_LENGTH = 4.0
"""Screws come in lengths some 4 to 6 mm apart: no longer one is asked for if it would not fit. Common practice."""
WIDE = 100.0
"""Solid wood fixed across the grain over more than this is worth a note, mm: common practice."""
MOVES_MUCH = 2.0
"""From this movement on it needs room, mm: common practice."""


@dataclass(frozen=True)
class _Screwed:
    """A screwed joint: wood under the head along the screw, wood behind it, the part behind and its axis along the screw."""

    head: Part
    under: float
    behind: Part
    beyond: float
    axis: Axis
    holes: Feature | None


def screws(job: Job, placement: Placement) -> Iterator[Finding]:
    """Length and gauge of the screws of each joint against its two pieces. Unknown sizes are not checked."""
    for joint in job.joints.values():
        hardware, bearing = job.hardware.get(joint.hardware), placement.bearing(joint.name)
        if hardware is None or bearing is None or "screws" not in joint.fixed:
            continue
        screwed = _screwed(job, bearing)
        yield from _gauge(joint, hardware, screwed)
        if hardware.length is not None:
            yield from _length(joint, hardware.length, screwed)


def _screwed(job: Job, bearing: Bearing) -> _Screwed:
    """Which piece the heads sit on: the one with screw holes through the contact, else the one that is thinner there."""
    entering, other = bearing.meeting.entering, bearing.meeting.other
    mine, theirs = bearing.its.normal.axis, bearing.seat.normal.axis
    its_wood, seat_wood = entering.block.size(mine), other.block.size(theirs) - bearing.depth
    its_holes, seat_holes = _holes(entering.part, mine), _holes(other.part, theirs)
    on_entering = bool(its_holes) if bool(its_holes) != bool(seat_holes) else its_wood <= seat_wood
    if on_entering:
        return _Screwed(entering.part, its_wood, other.part, seat_wood, theirs, its_holes)
    return _Screwed(other.part, seat_wood, entering.part, its_wood, mine, seat_holes)


def _holes(part: Part, axis: Axis) -> Feature | None:
    return next(
        (each for each in part.features.values() if each.kind == "screw-holes" and axis_of(each.opens()[0]) == axis), None
    )


def _length(joint: Joint, length: float, screwed: _Screwed) -> Iterator[Finding]:
    hold = screw_hold(length, screwed.under)
    sizes = (
        f"The screws of {joint.name} are {mm(length)} mm long; {screwed.head.name} is {mm(screwed.under)} mm thick under the "
        f"head and {screwed.behind.name} {mm(screwed.beyond)} mm behind it"
    )
    most = screwed.under + screwed.beyond - POINT_ROOM
    if hold > screwed.beyond - POINT_ROOM + NEAR:
        out = hold - screwed.beyond
        through = out > -NEAR
        ends = f"the points come {mm(out)} mm through" if through else f"only {mm(-out)} mm is left before the points"
        yield Finding(
            "error" if through else "warning",
            "screw-comes-through",
            joint.name,
            f"{sizes}: {ends}.",
            "A point that shows tears skin and cloth.",
            f"Take screws of at most {mm(most)} mm.",
            joint.place,
            COMMON,
        )
    elif hold < min(length * LEAST_SHARE, screwed.beyond - POINT_ROOM - NEXT_LENGTH) - NEAR:
        yield Finding(
            "error" if hold <= NEAR else "warning",
            "screw-holds-little",
            joint.name,
            f"{sizes}: only {mm(max(hold, 0.0))} mm holds.",
            "Two thirds to three quarters of a screw should be in the second piece.",
            f"Take screws of about {mm(min(screwed.under * 2.5, most))} mm, or counterbore the heads.",
            joint.place,
            COMMON,
        )
    elif screwed.axis == screwed.behind.grain:
        yield Finding(
            "note",
            "screw-in-end-grain",
            joint.name,
            f"The screws go into the end grain of {screwed.behind.name}.",
            "End grain holds about 60 % of side grain.",
            "Use screws half as long again, or a joint that carries the load.",
            joint.place,
            "Audel's carpenters' mathematics, table note; common practice for the length",
        )


def _gauge(joint: Joint, hardware: Hardware, screwed: _Screwed) -> Iterator[Finding]:
    drilled = getattr(screwed.holes, "gauge", None)
    if screwed.holes is not None and drilled is not None and hardware.gauge is not None and drilled != hardware.gauge:
        yield Finding(
            "error",
            "screw-gauge",
            joint.name,
            f"The holes {screwed.head.name}/{screwed.holes.name} are for gauge {drilled}; {hardware.name} are gauge "
            f"{hardware.gauge}.",
            "The screws do not go through or their heads pull in.",
            "Write the same gauge in both.",
            joint.place,
            COMMON,
        )


def wood_that_cannot_move(job: Job, placement: Placement, knowledge: Knowledge) -> Iterator[Finding]:
    """A warning where wide solid wood is glued or screwed over its width to wood that does not move that way; a note where
    it is nailed, or moves little."""
    said: set[tuple[str, Axis]] = set()
    for joint in job.joints.values():
        bearing = placement.bearing(joint.name)
        rigid = [way for way in joint.fixed if way in RIGID]
        if bearing is None or not rigid:
            continue
        first, second = joint.enters_piece, joint.seat.piece
        for axis in others(bearing.looks.axis):
            over = bearing.overlap(axis)
            if over <= WIDE + NEAR:
                continue
            for mover, holder in ((first, second), (second, first)):
                part, own = job.part_of(mover), _own(placement, mover, axis)
                if (part.name, own) in said or not _moves(job, placement, mover, axis) or _moves(job, placement, holder, axis):
                    continue
                said.add((part.name, own))
                yield _held(job, joint, part, own, over, holder, rigid[0], knowledge)


def _own(placement: Placement, piece: str, axis: Axis) -> Axis:
    return placement.poses[piece].own(Direction(axis, 1)).axis


def _moves(job: Job, placement: Placement, piece: str, axis: Axis) -> bool:
    """Whether a piece swells and shrinks along an axis of the group: it is solid, and that is not along its grain."""
    part = job.part_of(piece)
    return stock_is_solid(job, part) and _own(placement, piece, axis) != part.grain


def _held(job: Job, joint: Joint, part: Part, axis: Axis, over: float, holder: str, rigid: str, knowledge: Knowledge) -> Finding:
    coefficient, words = coefficient_of(job, part, axis, knowledge)
    change = abs(movement(over, coefficient, job.moisture_change))
    much = change >= MOVES_MUCH
    expects = f"{mm(change)} mm is expected ({mm(over)} x {coefficient} x {mm(job.moisture_change)}, {words})"
    way = {"glue": "glued", "screws": "screwed", "nails": "nailed"}[rigid]
    return Finding(
        # Nails give a little, so many old boxes have their bottoms nailed on: worth knowing, no more.
        "warning" if much and rigid != "nails" else "note",
        "cannot-move",
        part.name,
        f"Its {AXIS_WORDS[axis]} is {way} to {holder} over {mm(over)} mm in {joint.name}. It moves across the grain and {holder} "
        f"does not: {expects}.",
        "Wood that cannot move splits or pulls the joint apart.",
        "Fix it at one side or in the middle only and let the rest slide: slotted screw holes, buttons, or a dry groove.",
        joint.place or part.place,
        MOVEMENT_SOURCE,
    )
