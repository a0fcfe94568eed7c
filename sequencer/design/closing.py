"""Does it close? Joints measured where the pieces lie, outside measures, pieces in no joint, parts that need a pair. mm."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import combinations

from sequencer.design.bodies import Body
from sequencer.design.fitting import panel_pairs
from sequencer.design.joining import MOVING_FITS, PANEL_FITS, fit_of
from sequencer.design.placement import Bearing, Closure, Placement
from sequencer.design.placing import place
from sequencer.design.sums import COMMON, piece_between
from sequencer.features.base import Feature, mm
from sequencer.findings import Finding
from sequencer.model.frame import AXIS_WORDS
from sequencer.model.job import Fit, Job, Joint, Overall, Part, Seat
from sequencer.reading.words import listed

TOLERANCE = 0.1
"""Gaps up to this are rounding of the drawing, mm."""
MOST_PAIRS = (2, 4)
"""Counts of alike pieces for which pairs are tried: two sides, four legs."""


def gaps(closure: Closure) -> float:
    """The largest gap of a joint that a drawing must not have, in size; infinite if the faces are turned away."""
    if closure.turned:
        return float("inf")
    amounts = [abs(gap.amount) for gap in closure.gaps if gap.kind != "wall" or gap.amount < 0]
    return max(amounts, default=0.0)


def joints_that_do_not_close(job: Job, placement: Placement) -> Iterator[Finding]:
    """An error for each joint that is open or too tight where the pieces lie, a pair being asked for where that is why."""
    failing, loose = _failing(job, placement), _loose_joints(job, placement)
    for part, mirror_images in _needing_a_pair(job, failing):
        pieces = [piece.name for piece in part.pieces]
        mended = [name for name in failing if _touches(job.joints[name], pieces)]
        failing = [name for name in failing if name not in mended]
        yield Finding(
            "error",
            "needs-a-pair",
            part.name,
            f"{listed(pieces)} are drawn alike, and {listed(mended)} {'closes' if len(mended) == 1 else 'close'} only if "
            f"{listed(mirror_images)} {'is' if len(mirror_images) == 1 else 'are'} made the other way round, left to right.",
            "Alike pieces would all be of one hand.",
            "Write `handed: true` for the part, and use its left and right pieces in the joints.",
            part.place,
            COMMON,
        )
    for name in failing:
        yield from _open_joint(job.joints[name], placement.closures[name], name in loose)


def _touches(joint: Joint, pieces: Iterable[str]) -> bool:
    return not {joint.enters_piece, joint.seat.piece}.isdisjoint(pieces)


def _failing(job: Job, placement: Placement) -> list[str]:
    loose = _loose_joints(job, placement)
    return [name for name, closure in placement.closures.items() if _fails(closure, name in loose)]


def _fails(closure: Closure, loose: bool) -> bool:
    if loose:
        return closure.turned or abs(closure.gap("flush", "at", "held")) > TOLERANCE
    return gaps(closure) > TOLERANCE


def _loose_joints(job: Job, placement: Placement) -> set[str]:
    """Joints that may stay open along the way in: panels held by opposite edges, whose room is judged by itself, and what
    moves in its seat and still reaches into it."""
    panels = {each.meeting.joint.name for pair in panel_pairs(job, placement) for each in pair if _fits(job, each, PANEL_FITS)}
    moving = set()
    for name in placement.closures:
        bearing = placement.bearing(name)
        if bearing is not None and _fits(job, bearing, MOVING_FITS):
            open_by = placement.closures[name].gap("contact")
            if -TOLERANCE <= open_by < max(bearing.depth, TOLERANCE):
                moving.add(name)
    return panels | moving


def _fits(job: Job, bearing: Bearing, fits: Iterable[Fit]) -> bool:
    return fit_of(job, bearing.meeting.joint) in fits


def _open_joint(joint: Joint, closure: Closure, loose: bool) -> Iterator[Finding]:
    if closure.turned:
        yield _says(
            joint,
            "joint-turned",
            f"Where the other joints put them, {joint.its} and {joint.seat} do not look at each other.",
            "The thing cannot be put together as drawn.",
            "Check which faces and hands the joint names.",
        )
        return
    for gap in closure.gaps:
        size = mm(abs(gap.amount))
        if abs(gap.amount) <= TOLERANCE or (gap.kind == "wall" and gap.amount > 0) or (loose and gap.kind in ("contact", "wall")):
            continue
        if gap.kind in ("contact", "mitre", "wall"):
            state = "open" if gap.amount > 0 else "too tight"
            longer = "short" if gap.amount > 0 else "long"
            yield _says(
                joint,
                "joint-open" if gap.amount > 0 else "joint-too-tight",
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
                joint,
                "joint-off",
                f"{words[gap.kind]}.",
                "The other joints already say where both pieces lie.",
                "Check the distances of the two features from their faces.",
            )
            return


def _says(joint: Joint, code: str, what: str, why: str, remedy: str) -> Finding:
    return Finding("error", code, joint.name, what, why, remedy, joint.place, COMMON)


def _needing_a_pair(job: Job, failing: list[str]) -> Iterator[tuple[Part, list[str]]]:
    """Parts whose failing joints all close once half of the pieces are mirrored, with those pieces."""
    for part in job.parts.values():
        pieces = [piece.name for piece in part.pieces]
        if part.handed or part.count not in MOST_PAIRS or not any(_touches(job.joints[name], pieces) for name in failing):
            continue
        for mirror_images in combinations(pieces, part.count // 2):
            other = _as_pairs(job, part, mirror_images)
            again = place(other)
            if not again.unplaced and not _failing(other, again):
                yield part, list(mirror_images)
                break


def _as_pairs(job: Job, part: Part, mirror_images: tuple[str, ...]) -> Job:
    """The same job with the part handed, these of its pieces being the right-hand ones."""
    paired = replace(part, handed=True)
    rights = iter(piece.name for piece in paired.pieces if piece.hand == "right")
    lefts = iter(piece.name for piece in paired.pieces if piece.hand == "left")
    names = {piece.name: next(rights if piece.name in mirror_images else lefts) for piece in part.pieces}

    def renamed(seat: Seat) -> Seat:
        return replace(seat, piece=names.get(seat.piece, seat.piece))

    joints = {
        name: replace(
            joint,
            enters_piece=names.get(joint.enters_piece, joint.enters_piece),
            its=renamed(joint.its),
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
                "error",
                "overall-unclear",
                overall.name,
                f"{start} and {stop} are not parallel where the joints put them.",
                "",
                "Name two faces that look away from each other.",
                overall.place,
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
            "error",
            "overall-wrong",
            overall.name,
            f"From {start} to {stop} the parts add up to {mm(measured)} mm; drawn is {mm(overall.measures)} mm: "
            f"{mm(abs(off))} mm too {'large' if off > 0 else 'small'}.",
            "The finished thing does not have the size on the drawing.",
            "Correct a part, a depth, or the outside measure.",
            overall.place,
            COMMON,
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
        "error",
        "piece-between-wrong",
        part.name,
        f"Between {joint.seat.piece} and {second.meeting.joint.seat.piece}, {mm(overall.measures)} mm over all, its {word} is "
        f"{right} mm; drawn is {mm(size)} mm, {mm(abs(off))} mm too {'long' if off > 0 else 'short'}.",
        "The outside measure does not come out.",
        f"Make its {word} {mm(right.value)} mm, or correct `overall`.",
        part.place or overall.place,
        COMMON,
    )


def what_was_not_measured(job: Job, placement: Placement) -> Iterator[Finding]:
    """Notes on pieces in no joint or without a place, on pieces that nothing holds to the rest, and on joints that bear on
    a face which is not square."""
    if len(job.pieces()) < 2:
        return
    joined = {piece for joint in job.joints.values() for piece in (joint.enters_piece, joint.seat.piece)}
    for part in job.parts.values():
        alone = [piece.name for piece in part.pieces if piece.name not in joined]
        if alone:
            yield Finding(
                "note",
                "in-no-joint",
                part.name,
                f"{listed(alone)} {'is' if len(alone) == 1 else 'are'} in no joint.",
                "Where it goes and whether it fits is not checked.",
                "Add a joint if it is fixed to another piece.",
                part.place,
            )
    if placement.unplaced:
        yield Finding(
            "note",
            "not-placed",
            placement.unplaced[0],
            f"{listed(placement.unplaced)} could not be placed, so the joints there were not measured.",
            "",
            "Correct the joints named in the errors first.",
        )
    for group in placement.groups[1:]:
        if len(group) > 1:
            yield Finding(
                "note",
                "held-by-nothing",
                group[0],
                f"No joint holds {listed(group)} to {placement.groups[0][0]}.",
                "How the two lie to each other is not checked.",
                "Add a joint if they are fixed to each other.",
            )
    for joint in job.joints.values():
        bearing = placement.bearing(joint.name)
        if bearing is None or placement.poses[joint.enters_piece].lean is not None:
            continue
        for seat in (joint.its, joint.seat):
            spoilt = [each.name for each in sloping(placement.bodies[seat.piece], seat, placement, bearing)]
            if spoilt:
                yield Finding(
                    "note",
                    "not-square-there",
                    joint.name,
                    f"{seat} is not square after {listed(spoilt)}; the pieces are placed as if it were.",
                    "How they meet along the slope or curve is not measured.",
                    "Check this joint on a full-size drawing.",
                    joint.place,
                )


def sloping(own: Body, seat: Seat, placement: Placement, bearing: Bearing) -> Iterator[Feature]:
    """Features that take the bearing face away just where the pieces meet."""
    for feature in own.part.features_of(own.piece.hand):
        if seat.face is None or seat.face not in own.faces(feature.spoils()):
            continue
        for box in own.boxes(feature):
            lies = placement.lying(own.piece.name, box)
            regions = {axis: bearing.region(axis) for axis in bearing.its_spans}
            if all(lies[axis][0] < high and low < lies[axis][1] for axis, (low, high) in regions.items()):
                yield feature
                break
