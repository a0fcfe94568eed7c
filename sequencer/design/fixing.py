"""Screws and nails that come through or hold too little, and solid wood fixed so that it cannot move. mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sequencer.design.fitting import coefficient_of
from sequencer.design.joining import RIGID, seat_feature, stock_is_solid
from sequencer.design.placement import Bearing, Placement
from sequencer.design.poses import Direction
from sequencer.design.sums import COMMON
from sequencer.features.base import NEAR, Feature, mm
from sequencer.findings import Finding
from sequencer.knowledge.forms.fixings import FastenerRule
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.settings.fasteners import Length, in_second, length_for
from sequencer.knowledge.settings.moisture import MOVEMENT_SOURCE, movement
from sequencer.knowledge.working import Working
from sequencer.model.frame import AXIS_WORDS, Axis, axis_of, others
from sequencer.model.job import Hardware, Job, Joint, Part


@dataclass(frozen=True)
class Fastened:
    """How the nails or screws of a joint go, by their word among its fixings: how long they are to be, wood under the head, wood
    behind it, the part behind and its axis along them."""

    kind: str
    rule: FastenerRule
    head: Part
    under: float
    behind: Part
    beyond: float
    axis: Axis
    holes: Feature | None

    @property
    def length(self) -> Length:
        """The length worked out from the two thicknesses."""
        return length_for(self.rule, self.under, self.beyond)


def fasteners(job: Job, placement: Placement, knowledge: Knowledge) -> Iterator[Finding]:
    """Length and gauge of the screws and nails of each joint against its two pieces. Unknown sizes are not checked."""
    for joint in job.joints.values():
        bearing = placement.bearing(joint.name)
        through = None if bearing is None else fastened(job, bearing, knowledge.fasteners)
        if through is None:
            continue
        thing = job.hardware.get(joint.hardware)
        if through.kind == "screws":
            yield from _gauge(joint, thing, through)
        if thing is not None and thing.length is not None:
            yield from _length(knowledge.working, joint, thing.length, through)
        elif through.length.take == 0:
            yield _none_holds(joint, through)


def fastened(job: Job, bearing: Bearing, rules: Mapping[str, FastenerRule]) -> Fastened | None:
    """What the nails or screws of a joint go through and into. None if nothing of the kind holds the joint, or not straight
    through one piece into the other."""
    kind = next((each for each in bearing.meeting.joint.fixed if each in rules), "")
    into = driven_into(job, bearing) if kind else ""
    if not into:
        return None
    entering, other = bearing.meeting.entering.part, bearing.meeting.other.part
    mine, theirs = bearing.its.normal.axis, bearing.seat.normal.axis
    its_wood, seat_wood = _woods_of(bearing)
    if into == bearing.meeting.joint.seat.piece:
        return Fastened(kind, rules[kind], entering, its_wood, other, seat_wood, theirs, _holes(entering, mine))
    return Fastened(kind, rules[kind], other, seat_wood, entering, its_wood, mine, _holes(other, theirs))


def driven_into(job: Job, bearing: Bearing) -> str:
    """The piece of a joint that the points of its nails or screws are in. The heads sit on the other: on the one with screw holes
    through the contact, else on the one that is thinner there. Empty where they do not go straight through one piece into the
    other: in a mitre, in a tenon or tongue, in pins laid flat in a rebate."""
    joint = bearing.meeting.joint
    own = seat_feature(job, joint.its)
    its_wood, seat_wood = _woods_of(bearing)
    if (
        bearing.its.stands
        or (own is not None and own.ends_part())
        or pinned_in_rebate(job, joint)
        or min(its_wood, seat_wood) <= NEAR
    ):
        return ""
    mine, theirs = bearing.its.normal.axis, bearing.seat.normal.axis
    its_holes, seat_holes = _holes(bearing.meeting.entering.part, mine), _holes(bearing.meeting.other.part, theirs)
    on_entering = bool(its_holes) if bool(its_holes) != bool(seat_holes) else its_wood <= seat_wood
    return joint.seat.piece if on_entering else joint.enters_piece


def _woods_of(bearing: Bearing) -> tuple[float, float]:
    """How thick the piece that enters and the other are where they meet, square to the contact."""
    entering, other = bearing.meeting.entering, bearing.meeting.other
    mine, theirs = bearing.its.normal.axis, bearing.seat.normal.axis
    return entering.block.size(mine), other.block.size(theirs) - bearing.depth


def pinned_in_rebate(job: Job, joint: Joint) -> bool:
    """Whether pins hold a piece in a rebate in front of another piece, or hold a bought-in sheet there: a nail straight
    through it would go into what is behind, or crack it."""
    seat, part = joint.seat, job.part_of(joint.seat.piece)
    if "nails" not in joint.fixed or not seat.feature or part.features[seat.feature].kind != "rebate":
        return False
    behind = any(other.seat == seat and other.enters_piece != joint.enters_piece for other in job.joints.values())
    return behind or job.stock[job.part_of(joint.enters_piece).stock].form == "bought"


def _holes(part: Part, axis: Axis) -> Feature | None:
    return next(
        (each for each in part.features.values() if each.kind == "screw-holes" and axis_of(each.opens()[0]) == axis), None
    )


def _length(working: Working, joint: Joint, length: float, through: Fastened) -> Iterator[Finding]:
    rule, hold, screwed = through.rule, in_second(length, through.under), through.kind == "screws"
    things = through.kind
    sizes = f"The {things} of {joint.name} are {mm(length)} mm long; {_woods(through)}"
    if hold > through.beyond - rule.point_room + NEAR:
        out = hold - through.beyond
        comes = out > -NEAR
        ends = f"the points come {mm(out)} mm through" if comes else f"only {mm(-out)} mm is left before the points"
        yield Finding(
            "error" if comes else "warning",
            f"{things[:-1]}-comes-through",
            joint.name,
            f"{sizes}: {ends}.",
            "A point that shows tears skin and cloth.",
            f"Take {things} of at most {mm(through.length.most)} mm.",
            joint.place,
            rule.source,
        )
    elif hold < min(length * rule.usual_share, through.beyond - rule.point_room - working.fastener_step) - NEAR:
        little = hold < length * rule.least_share - NEAR
        yield Finding(
            "error" if hold <= NEAR else "warning" if little else "note",
            f"{things[:-1]}-holds-little",
            joint.name,
            f"{sizes}: only {mm(max(hold, 0.0))} mm holds.",
            f"Two thirds{' to three quarters' if screwed else ''} of a {things[:-1]} should be in the second piece.",
            f"Take {things} of about {mm(min(through.length.wanted, through.length.most))} mm"
            + (", or counterbore the heads." if screwed else ", or hold the joint another way."),
            joint.place,
            rule.source,
        )
    elif screwed and through.axis == through.behind.grain:
        yield Finding(
            "note",
            "screw-in-end-grain",
            joint.name,
            f"The screws go into the end grain of {through.behind.name}.",
            "End grain holds about 60 % of side grain.",
            "Use screws half as long again, or a joint that carries the load.",
            joint.place,
            "Audel's carpenters' mathematics, table note; common practice for the length",
        )


def _woods(through: Fastened) -> str:
    return (
        f"{through.head.name} is {mm(through.under)} mm thick under the head and {through.behind.name} "
        f"{mm(through.beyond)} mm behind it"
    )


def _none_holds(joint: Joint, through: Fastened) -> Finding:
    things, length = through.kind, through.length
    return Finding(
        "warning",
        f"{things[:-1]}-holds-little",
        joint.name,
        f"No {things} hold {joint.name}: {_woods(through)}. They would be {mm(length.wanted)} mm long, and at most "
        f"{mm(length.most)} mm stays in the wood.",
        f"Two thirds of a {things[:-1]} should be in the second piece.",
        "Hold the joint another way, or make the second piece thicker.",
        joint.place,
        through.rule.source,
    )


def _gauge(joint: Joint, hardware: Hardware | None, through: Fastened) -> Iterator[Finding]:
    drilled = getattr(through.holes, "gauge", None)
    if hardware is None or hardware.gauge is None:
        yield Finding(
            "warning",
            "screw-gauge-unsaid",
            joint.name,
            f"No gauge is written for the screws of {joint.name}, so no pilot hole is worked out for them.",
            "A screw driven without the right pilot hole splits the wood or breaks.",
            "Write `gauge` under the hardware of the joint.",
            joint.place,
            COMMON,
        )
        return
    if through.holes is not None and drilled is not None and drilled != hardware.gauge:
        yield Finding(
            "error",
            "screw-gauge",
            joint.name,
            f"The holes {through.head.name}/{through.holes.name} are for gauge {drilled}; {hardware.name} are gauge "
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
            if over <= knowledge.working.fixed_width + NEAR:
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
    much = change >= knowledge.working.moves_much
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
