"""Cuts drawn for when the parts are joined (`when: assembled`) without which they cannot be joined: each is refused where it is
drawn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sequencer.design.loose_pieces import HOLES, mouths, wedges
from sequencer.design.placing import place
from sequencer.features.base import Feature
from sequencer.findings import Finding
from sequencer.model.job import Job, Joint, Part, Seat
from sequencer.planning.groups import Group
from sequencer.planning.making_room import made_before, rooms
from sequencer.planning.work import words

SQUARE_SLOTS = ("cut-out", "slot", "notch")
"""What may be meant as a slot for a spline where it is drawn at a mitred corner."""
WHY_NOT_SQUARE = "A slot for a spline can be sawn late; it is sawn straight across the corner, so it is no square one."
OF_SPLINES = (
    ", or draw a slot for a spline as a `spline-slot` in both parts, without a part for the spline, and write "
    "`fixed: [glue, splines]` in the joint of the mitres."
)
"""How what is sawn for a spline across a glued corner is drawn."""


def late_findings(job: Job, groups: Sequence[Group]) -> Iterator[Finding]:
    """An error for each cut that is to come when the parts are joined, and that joining them needs."""
    for part in job.parts.values():
        mitred = any(feature.kind == "mitre" for feature in part.features.values())
        for feature in part.features.values():
            needed = next(_needed_by(job, groups, part, feature), "") if feature.when == "assembled" else ""
            splined = mitred and feature.kind in SQUARE_SLOTS
            if needed:
                yield Finding(
                    "error",
                    "seat-cut-late",
                    f"{part.name}/{feature.name}",
                    f"The {feature.name} is to be cut when the parts are assembled, and {needed}.",
                    WHY_NOT_SQUARE if splined else "",
                    "Take `when: assembled` out" + (OF_SPLINES if splined else "."),
                    part.place_of(feature.name),
                )


def _needed_by(job: Job, groups: Sequence[Group], part: Part, feature: Feature) -> Iterator[str]:
    """What needs a cut before the parts are joined."""
    own = {piece.name for piece in part.pieces}
    for joint in job.joints.values():
        seats = [seat for seat in (joint.its, joint.seat) if seat.piece in own]
        if any(seat.feature == feature.name for seat in seats):
            yield f"the joint {joint.name} needs it for that"
        elif seats:
            yield from _for_the_fixing(job, joint, seats, feature)
    if feature.ends_part() and any(piece in own for group in groups for piece in group.pieces):
        yield f"until then the {words(part.name)} has no size to be joined with"
    joined = [group for group in groups if own & {*group.pieces}]
    closed = {each.name for group in joined for each in (group, *made_before(group, groups))}
    for room in rooms(job, tuple(groups)):
        if (room.part, room.feature) == (part.name, feature.name) and room.group in closed:
            yield f"the {words(room.other)} stands in it as soon as they are joined"


def _for_the_fixing(job: Job, joint: Joint, seats: Sequence[Seat], feature: Feature) -> Iterator[str]:
    """The screws, wedges, dowels or biscuits of a joint that a cut is for. `seats`: those on the part that it is cut in."""
    if "screws" in joint.fixed and "feature.gauge" in feature.gives:
        yield f"the screws of {joint.name} need their holes"
    wedged = wedges(job, joint)
    if wedged is not None and wedged.kerfs is not None and joint.its in seats and wedged.kerfs.name == feature.name:
        yield f"the wedges of {joint.name} are driven into it"
    for kind, (_, fixing) in HOLES.items():
        open_ = (mouth.feature.name for seat in seats for mouth in mouths(job, place(job), seat.piece, seat.face, kind))
        if fixing in joint.fixed and feature.name in open_:
            yield f"the {fixing} of {joint.name} go into it"
