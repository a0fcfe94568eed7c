"""What a drawing asks for that planning cannot do, or does in part: each is said, nothing is dropped in silence."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.findings import Finding
from sequencer.model.frame import AXIS_WORDS, axis_of
from sequencer.model.job import Job, Joint, Part
from sequencer.model.work import WORK_KINDS
from sequencer.planning.groups import Group, is_key
from sequencer.planning.loose import LoosePieces
from sequencer.planning.reasons.cuts import face_called
from sequencer.planning.shapes_left import shaped_ends
from sequencer.reading.words import listed

_UNDRAWN = {
    "wedge": (
        "the drawing has no tenon in a mortise with a flare for them: sawing and driving them is not planned.",
        "Draw the joint as a tenon into a through mortise with `flare`, and `wedge-kerfs` in the tenon if it is split.",
    ),
    "key": (
        "the drawing has no key: making and driving it is not planned.",
        "Draw each key as a part of its own, in a joint with `fixed: key, fit: driven`.",
    ),
    "dowels": (
        "the drawing has no dowel holes that meet there: boring and dowels are not planned.",
        "Draw `dowel-holes` in both faces that meet.",
    ),
    "biscuits": (
        "the drawing has no biscuit slots that meet there: slots and biscuits are not planned.",
        "Draw `biscuit-slots` in both faces that meet.",
    ),
    "splines": (
        "the drawing has no mitres with spline slots that meet there: slots and splines are not planned.",
        "Join two mitres, and draw a `spline-slot` at the corner of both parts.",
    ),
}
"""Fixings that need more of the drawing than their word: what is missing, and what to draw."""


def _is_drawn(job: Job, joint: Joint, fixing: str, loose: LoosePieces) -> bool:
    """Whether the drawing has what a fixing needs to be planned."""
    if fixing != "key":
        return not loose.none_for(joint.name, fixing)
    held = {joint.enters_piece, joint.seat.piece}
    return is_key(joint) or any(is_key(other) and other.seat.piece in held for other in job.joints.values())


def job_findings(job: Job, most_left_on: float) -> tuple[Finding, ...]:
    """Findings about parts and joints, before any way is looked for. `most_left_on`: mm that parts keep until joined."""
    found: list[Finding] = []
    loose = LoosePieces(job)
    if all(job.stock[part.stock].form == "bought" for part in job.parts.values()) and not job.joints:
        found.append(
            Finding(
                "warning",
                "nothing-to-make",
                job.name,
                "Every part is bought ready and nothing is joined: there is nothing to make.",
                remedy="Give the parts a stock they are made from.",
            )
        )
    for part in job.parts.values():
        found += _part_findings(job, part, most_left_on)
    for joint in job.joints.values():
        if "dry" in joint.fixed and len(joint.fixed) > 1:
            found.append(
                Finding(
                    "error",
                    "fixed-and-dry",
                    joint.name,
                    f"{joint.name} is to be fixed by {' and '.join(joint.fixed)}: a joint is either dry or fixed.",
                    remedy="Take `dry` out, or the other fixings.",
                    place=joint.place,
                )
            )
        for fixing in joint.fixed:
            if fixing in _UNDRAWN and not _is_drawn(job, joint, fixing, loose):
                lacks, remedy = _UNDRAWN[fixing]
                what = f"{joint.name} is to be held by {fixing}, and {lacks}"
                found.append(Finding("warning", "not-planned", joint.name, what, remedy=remedy, place=joint.place))
    found += _planed_off(job)
    found += _fixed_by_joints(job)
    if not job.glue and any("glue" in joint.fixed for joint in job.joints.values()):
        found.append(
            Finding(
                "warning",
                "no-glue-named",
                "glue",
                "Joints are glued and the job names no glue: open time, cramp time and setting time are only usual ones.",
                remedy="Name the glue, such as `glue: pva`.",
            )
        )
    return tuple(found)


def _planed_off(job: Job) -> Iterator[Finding]:
    """A warning for each finish before gluing on parts that get none later: the outside is cleaned when all is joined."""
    later = [finish for finish in job.finish if not finish.before_glue]
    for finish in job.finish if job.joints else ():
        own = finish.parts or tuple(job.parts)
        bare = [name for name in own if not any(name in (each.parts or job.parts) for each in later)]
        if finish.before_glue and bare:
            first = job.parts[bare[0]]
            yield Finding(
                "warning",
                "coat-cleaned-off",
                f"{finish.what} on {first.name}",
                f"The {finish.what} goes on before gluing, and no finish goes on the {listed(bare)} later.",
                "The outside is cleaned when all is joined: plane and sandpaper take the coat off there.",
                "Add a finish without `before_glue`, or take `before_glue` out of this one.",
                first.place,
            )


def _fixed_by_joints(job: Job) -> Iterator[Finding]:
    """A warning for hardware that says what it is fixed to and holds joints: the joints say where it goes."""
    for thing in job.hardware.values():
        joints = [joint for joint in job.joints.values() if joint.hardware == thing.name]
        if thing.fixed_to and joints:
            yield Finding(
                "warning",
                "fixed-to-unused",
                thing.name,
                f"The {thing.name} name {' and '.join(thing.fixed_to)} under `fixed_to`, and joints are made with them.",
                "They go where the joints are: `fixed_to` is not looked at, and nothing else is planned for them.",
                "Take `fixed_to` out, or count what is fixed elsewhere as hardware of its own.",
                joints[0].place,
            )


def _part_findings(job: Job, part: Part, most_left_on: float) -> Iterator[Finding]:
    joined = {job.part_of(piece).name for joint in job.joints.values() for piece in (joint.enters_piece, joint.seat.piece)}
    seats = {(job.part_of(seat.piece).name, seat.feature) for joint in job.joints.values() for seat in (joint.its, joint.seat)}
    for feature in part.features.values():
        subject, place = f"{part.name}/{feature.name}", part.place_of(feature.name)
        if feature.name in WORK_KINDS:
            yield Finding(
                "error",
                "reserved-name",
                subject,
                f"A feature cannot be called {feature.name}: that is the name of work on the part itself.",
                remedy="Give it another name.",
                place=place,
            )
        if feature.when == "assembled" and part.name not in joined:
            yield Finding(
                "error",
                "never-assembled",
                subject,
                f"The {feature.name} is to be cut when the parts are assembled, and the {part.name} is in no joint.",
                remedy="Take `when: assembled` out, or join the part.",
                place=place,
            )
        for allowance in shaped_ends(feature, part) if feature.when == "loose" else ():
            late = (part.name, feature.name) not in seats and not feature.ends_part()
            yield Finding(
                "error",
                "shape-on-waste",
                subject,
                f"The {feature.name} takes away the {face_called(allowance.face)} of the {part.name}, on which "
                f"{allowance.amount:g} mm are left until {allowance.until}.",
                "Cut before the part is joined, it takes the waste with it, and what is trimmed afterwards is the part itself.",
                ("Cut it when the parts are joined (`when: assembled`), or leave" if late else "Leave")
                + " nothing on there (`allowance`).",
                place,
            )
    for allowance in part.allowances:
        axis = axis_of(allowance.face)
        if allowance.amount > min(most_left_on, part.block.size(axis)):
            yield Finding(
                "error",
                "allowance-too-large",
                part.name,
                f"The {part.name} is to be left {allowance.amount:g} mm over at the {allowance.face}, and its {AXIS_WORDS[axis]} "
                f"is {part.block.size(axis):g} mm.",
                remedy=f"Leave at most {min(most_left_on, part.block.size(axis)):g} mm.",
                place=part.place,
            )


def allowance_findings(job: Job, groups: tuple[Group, ...]) -> tuple[Finding, ...]:
    """Allowances that are left on until something that never happens."""
    moments = {group.name for group in groups} | set(job.joints) | set(job.assemblies)
    return tuple(
        Finding(
            "error",
            "allowance-until",
            part.name,
            f"The {part.name} is left over at the {allowance.face} until {allowance.until}, which is no joint or sub-assembly.",
            remedy=f"Name one of: {', '.join(sorted(moments)) or 'none there are'}.",
            place=part.place,
        )
        for part in job.parts.values()
        for allowance in part.allowances
        if allowance.until not in moments
    )
