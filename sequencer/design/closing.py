"""Does it close? Joints measured where the pieces lie, outside measures, pieces in no joint, parts that need a pair. mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sequencer.design.fitting import panel_pairs
from sequencer.design.joining import PANEL_FITS, fit_of
from sequencer.design.placing import Bearing, Closure, Placement, place
from sequencer.design.sums import COMMON, piece_between
from sequencer.features.base import mm
from sequencer.findings import Finding
from sequencer.model.frame import AXIS_WORDS
from sequencer.model.job import Job, Joint, Overall, Part, Seat

TOLERANCE = 0.1
"""Gaps up to this are rounding of the drawing, mm."""


def gaps(closure: Closure) -> float:
    """The largest gap of a joint that a drawing must not have, in size; infinite if the faces are turned away."""
    if closure.turned:
        return float("inf")
    amounts = [abs(gap.amount) for gap in closure.gaps if gap.kind != "wall" or gap.amount < 0]
    return max(amounts, default=0.0)


def joints_that_do_not_close(job: Job, placement: Placement) -> Iterator[Finding]:
    """An error for each joint that is open or too tight where the pieces lie, a pair being asked for where that is why."""
    failing = [name for name in placement.closures if _fails(job, placement, name)]
    for part in _needing_a_pair(job, placement, failing):
        pieces = [piece.name for piece in part.pieces]
        mended = [name for name in failing if {job.joints[name].enters_piece, job.joints[name].seat.piece} & set(pieces)]
        failing = [name for name in failing if name not in mended]
        yield Finding(
            "error", "needs-a-pair", part.name,
            f"{' and '.join(pieces)} are drawn alike, and {_listed(mended)} close only if one is the mirror image of the other.",
            "Two alike pieces would be two of one hand.",
            "Write `handed: true` for the part, and use its left and right piece in the joints.", part.place,
        )
    for name in failing:
        yield from _open_joint(job, placement, name)


def _fails(job: Job, placement: Placement, name: str) -> bool:
    if name in _panel_joints(job, placement):
        closure = placement.closures[name]
        return closure.turned or abs(closure.gap("flush", "at", "held")) > TOLERANCE
    return gaps(placement.closures[name]) > TOLERANCE


def _panel_joints(job: Job, placement: Placement) -> set[str]:
    """Joints of panels held by opposite edges: how they meet is judged by the room for the panel."""
    pairs = panel_pairs(job, placement)
    return {
        each.meeting.joint.name for pair in pairs for each in pair if fit_of(job, each.meeting.joint) in PANEL_FITS
    }


def _open_joint(job: Job, placement: Placement, name: str) -> Iterator[Finding]:
    joint, closure = job.joints[name], placement.closures[name]
    if closure.turned:
        yield _says(
            joint, "joint-turned", f"Where the other joints put them, {joint.its} and {joint.seat} do not look at each other.",
            "The thing cannot be put together as drawn.", "Check which faces and hands the joint names.",
        )
        return
    panel = name in _panel_joints(job, placement)
    for gap in closure.gaps:
        size = mm(abs(gap.amount))
        if abs(gap.amount) <= TOLERANCE or (gap.kind == "wall" and gap.amount > 0) or (panel and gap.kind in ("contact", "wall")):
            continue
        if gap.kind in ("contact", "mitre", "wall"):
            state = "open" if gap.amount > 0 else "too tight"
            longer = "short" if gap.amount > 0 else "long"
            yield _says(
                joint, "joint-open" if gap.amount > 0 else "joint-too-tight",
                f"{joint.its} against {joint.seat} is {size} mm {state}.",
                "The other joints already say where both pieces lie.",
                f"A piece on the way round is {size} mm too {longer}: check the lengths and depths that add up here.",
            )
        else:
            words = {
                "flush": f"{joint.enters_piece} and {joint.seat.piece} are {size} mm out of line at the {gap.looks} face",
                "at": f"{joint.enters_piece} lies {size} mm from where the joint says",
                "held": f"{joint.its} misses the middle of {joint.seat} by {size} mm",
            }
            yield _says(
                joint, "joint-off", f"{words[gap.kind]}.", "The other joints already say where both pieces lie.",
                "Check the distances of the two features from their faces.",
            )
            return


def _says(joint: Joint, code: str, what: str, why: str, remedy: str) -> Finding:
    return Finding("error", code, joint.name, what, why, remedy, joint.place, COMMON)


def _listed(names: list[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _needing_a_pair(job: Job, placement: Placement, failing: list[str]) -> Iterator[Part]:
    """Parts whose failing joints all close once half of the pieces are mirrored."""
    for part in job.parts.values():
        names = {piece.name for piece in part.pieces}
        mine = [name for name in failing if {job.joints[name].enters_piece, job.joints[name].seat.piece} & names]
        if part.handed or part.count != 2 or not mine:
            continue
        other = _as_pair(job, part)
        again = place(other)
        if not again.unplaced and not any(_fails(other, again, name) for name in other.joints if name in again.closures):
            yield part


def _as_pair(job: Job, part: Part) -> Job:
    """The same job with the part's two pieces made a pair."""
    paired = replace(part, handed=True)
    names = {old.name: new.name for old, new in zip(part.pieces, paired.pieces, strict=True)}

    def renamed(seat: Seat) -> Seat:
        return replace(seat, piece=names.get(seat.piece, seat.piece))

    joints = {
        name: replace(
            joint, enters_piece=names.get(joint.enters_piece, joint.enters_piece), its=renamed(joint.its),
            seat=renamed(joint.seat),
        )
        for name, joint in job.joints.items()
    }
    return replace(job, parts={**job.parts, part.name: paired}, joints=joints)


def outside_measures(job: Job, placement: Placement) -> Iterator[Finding]:
    """An error for each outside measure that the parts do not add up to, naming the piece between if one is."""
    for overall in job.overall:
        start, stop = overall.start, overall.stop
        if start.face is None or stop.face is None or not placement.together(start.piece, stop.piece):
            continue
        (first, low), (second, high) = (placement.face_plane(each.piece, each.face) for each in (start, stop) if each.face)
        if first.axis != second.axis:
            yield Finding(
                "error", "overall-unclear", overall.name, f"{start} and {stop} are not parallel where the joints put them.",
                "", "Name two faces that look away from each other.", overall.place,
            )
            continue
        measured = abs(high - low)
        off = measured - overall.measures
        if abs(off) <= TOLERANCE:
            continue
        between = _piece_between(job, placement, overall)
        if between is not None:
            yield _wrong_length(job, overall, *between, off)
            continue
        yield Finding(
            "error", "overall-wrong", overall.name,
            f"From {start} to {stop} the parts add up to {mm(measured)} mm; drawn is {mm(overall.measures)} mm: "
            f"{mm(abs(off))} mm too {'large' if off > 0 else 'small'}.",
            "The finished thing does not have the size on the drawing.",
            "Correct a part, a depth, or the outside measure.", overall.place, COMMON,
        )


def _piece_between(job: Job, placement: Placement, overall: Overall) -> tuple[Bearing, Bearing] | None:
    """The joints of one piece that reaches from the first to the last piece of an outside measure."""
    start, stop = overall.start, overall.stop
    for joint in job.joints.values():
        for more in job.joints.values():
            if joint.enters_piece != more.enters_piece or joint.seat.piece != start.piece or more.seat.piece != stop.piece:
                continue
            first, second = placement.bearing(joint.name), placement.bearing(more.name)
            if first is None or second is None or first.looks != second.looks.reversed or None in (first.floor, second.floor):
                continue
            outward = placement.face_plane(start.piece, start.face)[0] if start.face else None
            if outward is not None and first.looks == outward.reversed:
                return first, second
    return None


def _wrong_length(job: Job, overall: Overall, first: Bearing, second: Bearing, off: float) -> Finding:
    joint = first.meeting.joint
    part = job.part_of(joint.enters_piece)
    axis = first.its.normal.axis
    thickness = (first.meeting.other.block.size(first.seat.normal.axis), second.meeting.other.block.size(second.seat.normal.axis))
    right = piece_between(overall.measures, thickness, (first.depth, second.depth))
    size, word = part.block.size(axis), AXIS_WORDS[axis]
    return Finding(
        "error", "piece-between-wrong", part.name,
        f"Between {joint.seat.piece} and {second.meeting.joint.seat.piece}, {mm(overall.measures)} mm over all, its {word} is "
        f"{right} mm; drawn is {mm(size)} mm, {mm(abs(off))} mm too {'long' if off > 0 else 'short'}.",
        "The outside measure does not come out.",
        f"Make its {word} {mm(right.value)} mm, or correct `overall`.", part.place or overall.place, COMMON,
    )


def pieces_in_no_joint(job: Job) -> Iterator[Finding]:
    """A note for each part with pieces in no joint, if the job has more than one piece."""
    joined = {piece for joint in job.joints.values() for piece in (joint.enters_piece, joint.seat.piece)}
    if len(job.pieces()) < 2:
        return
    for part in job.parts.values():
        alone = [piece.name for piece in part.pieces if piece.name not in joined]
        if alone:
            yield Finding(
                "note", "in-no-joint", part.name, f"{_listed(alone)} {'is' if len(alone) == 1 else 'are'} in no joint.",
                "Where it goes and whether it fits is not checked.", "Add a joint if it is fixed to another piece.", part.place,
            )
