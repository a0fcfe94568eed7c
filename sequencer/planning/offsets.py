"""Where a piece is put that no seat holds in place: what the drawing fixes by a size, said on the card. mm."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from math import inf

from sequencer.design.placement import Placement
from sequencer.design.poses import Direction
from sequencer.features.base import mm
from sequencer.model.frame import AXES, Axis, Point, axis_of
from sequencer.model.job import Job, Joint
from sequencer.planning.going_together import NOUNS, face_from, label, own_face
from sequencer.planning.groups import laid_in
from sequencer.solid.whereabouts import face_word

LEVEL = 0.1
"""What differs by less is level, mm."""
_LOCATED = frozenset({"dowels", "biscuits"})
"""Fixings that put a piece in its place by themselves."""


def offset_lines(job: Job, piece: str, joints: Sequence[Joint], there: Collection[str], placement: Placement) -> Iterator[str]:
    """How a piece that has just been brought stands to those that are there, one distance a line. `joints`: those that it makes
    with them. Nothing where one of these has a seat that puts the piece in its place."""
    if piece not in placement.poses or not joints or not all(is_free(job, joint) for joint in joints):
        return
    bearings = [bearing for joint in joints if (bearing := placement.bearing(joint.name)) is not None]
    across = {bearing.looks.axis for bearing in bearings}
    met = sorted({other for joint in joints for other in (joint.enters_piece, joint.seat.piece) if other != piece})
    if any(_is_hole(job, joint) for joint in joints):
        if not all(_is_hole(job, joint) and joint.enters_piece == piece for joint in joints):
            return
        along, others = across, met if _stands_out(piece, met, across, placement) else []
    else:
        along, others = {*AXES} - across, met
    lean = placement.poses[piece].lean
    if not others:
        return
    there = [each for each in job.pieces() if each in there]
    for axis in AXES:
        if axis in along and (lean is None or lean.axis == axis or _against(piece, there, axis, placement)):
            yield from _Offset(job, piece, others, there, axis, placement).lines()


def is_free(job: Job, joint: Joint) -> bool:
    """Whether a joint lets its piece slide to and fro where it bears: on a face, or through a hole."""
    if joint.its.feature or laid_in(job, joint) or _LOCATED & {*joint.fixed}:
        return False
    return not joint.seat.feature or _is_hole(job, joint)


def placed_by_size(job: Job, joints: Sequence[Joint]) -> int:
    """How many of a group's joints let a piece slide that no other joint of the group holds: sizes say where it goes."""
    held = {joint.enters_piece for joint in joints if not is_free(job, joint)}
    sized = (joint for joint in joints if not _is_hole(job, joint) or any(distance for _, distance in joint.at))
    return sum(1 for joint in sized if joint.enters_piece not in held)


def _is_hole(job: Job, joint: Joint) -> bool:
    feature = job.part_of(joint.seat.piece).features.get(joint.seat.feature)
    return feature is not None and feature.kind == "hole"


def _stands_out(piece: str, others: Sequence[str], across: Collection[Axis], placement: Placement) -> bool:
    """Whether a piece that goes into holes of others stands out of them a little."""
    for axis in across:
        low, high = placement.span(piece, axis)
        if LEVEL < max(_over(others, low, high, axis, placement)) <= (high - low) / 2:
            return True
    return False


def _over(others: Sequence[str], low: float, high: float, axis: Axis, placement: Placement) -> tuple[float, float]:
    """How far a span reaches over the others at its low and at its high end; below 0 where it stays within."""
    spans = [placement.span(other, axis) for other in others]
    return min(first for first, _ in spans) - low, high - max(last for _, last in spans)


def _against(piece: str, there: Collection[str], axis: Axis, placement: Placement) -> str:
    """The piece that is there and stops this one along an axis; empty if there is none."""
    low, high = placement.span(piece, axis)
    rest = [each for each in AXES if each != axis]
    for other in there:
        start, stop = placement.span(other, axis)
        if min(abs(low - stop), abs(start - high)) <= LEVEL and all(_overlap(piece, other, each, placement) for each in rest):
            return other
    return ""


def _overlap(one: str, other: str, axis: Axis, placement: Placement) -> bool:
    (low, high), (start, stop) = placement.span(one, axis), placement.span(other, axis)
    return min(high, stop) - max(low, start) > LEVEL


def _same(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return abs(one[0] - other[0]) <= LEVEL and abs(one[1] - other[1]) <= LEVEL


@dataclass(frozen=True)
class _Offset:
    """Where a piece is put along one axis of the group."""

    job: Job
    piece: str
    met: Sequence[str]
    there: Sequence[str]
    axis: Axis
    placement: Placement

    def lines(self) -> Iterator[str]:
        """The distance in words; nothing where the piece is level on both sides with what it meets."""
        name, (low, high) = label(self.job, self.piece), self.placement.span(self.piece, self.axis)
        if stop := _against(self.piece, self.there, self.axis, self.placement):
            yield f"Push {name} against {label(self.job, stop)}."
            return
        if beside := self._beside():
            other, gap = beside
            yield f"Leave {mm(gap)} mm between {label(self.job, other)} and {name}."
            return
        noun = NOUNS[self.placement.poses[self.piece].own(Direction(self.axis, 1)).axis]
        other = min(self.met, key=lambda each: min(map(abs, _over([each], low, high, self.axis, self.placement))))
        before, after = _over([other], low, high, self.axis, self.placement)
        if min(abs(before), abs(after)) > LEVEL and max(_over(self.met, low, high, self.axis, self.placement)) > LEVEL:
            yield from self._standing_over(name, noun)
            return
        if abs(before) <= LEVEL and abs(after) <= LEVEL:
            return
        if abs(before - after) <= LEVEL:
            yield f"Let {name} lie {mm(-before)} mm in at each {noun}."
            return
        face, distance = self._nearer(other, before, after)
        if abs(distance) <= LEVEL:
            yield f"Align {name} with the {face} of {label(self.job, other)}."
        else:
            yield f"Set {name} {mm(-distance)} mm from the {face} of {label(self.job, other)}."

    def _standing_over(self, name: str, noun: str) -> Iterator[str]:
        """How far it stands over the part whose corners lie furthest out: what a rule is laid to."""
        low, high = self.placement.span(self.piece, self.axis)
        parts: dict[str, list[str]] = {}
        for each in self.there:
            if self.job.part_of(each) != self.job.part_of(self.piece):
                parts.setdefault(self.job.part_of(each).letter, []).append(each)
        found = {
            letter: over
            for letter, those in parts.items()
            if LEVEL < max(over := _over(those, low, high, self.axis, self.placement)) <= (high - low) / 2
        }
        if not found:
            return
        letter = max(found, key=lambda each: (min(found[each]) > 0, self._across(parts[each]), -max(found[each])))
        before, after = found[letter]
        shown = label(self.job, parts[letter][0]) if self.job.part_of(parts[letter][0]).count == 1 else letter
        if abs(before - after) <= LEVEL:
            yield f"Let {name} stand {mm(before)} mm over {shown} at each {noun}."
        elif len(parts[letter]) > 1:
            yield f"Let {name} stand {mm(max(before, after))} mm over {shown} at the outer {noun}."
        else:
            face, distance = self._nearer(parts[letter][0], *((before, -inf) if before > after else (-inf, after)))
            yield f"Let {name} stand {mm(distance)} mm over the {face} of {shown}."

    def _across(self, pieces: Sequence[str]) -> float:
        """How far pieces reach along the other two axes, the less of the two; rounded, so that the last digit decides nothing."""
        held = [each for each in AXES if each != self.axis]
        spans = [[self.placement.span(piece, axis) for piece in pieces] for axis in held]
        return round(min(max(last for _, last in each) - min(first for first, _ in each) for each in spans), 3)

    def _nearer(self, other: str, before: float, after: float) -> tuple[str, float]:
        """The face of another piece that the nearer end is measured from, and how far that end reaches over it. An edge or end
        that has no name of its own is the nearer one: which is the top edge nobody sees on a piece that stands on its end."""
        sign, distance = (-1.0, before) if abs(before) <= abs(after) else (1.0, after)
        way = Point(*(-sign * float(each == self.axis) for each in AXES))
        own = own_face(self.placement, other, way)
        named = axis_of(own) == "z" or face_word(self.placement.bodies[other].part, own) != own
        return face_from(self.placement, other, way) if named else f"nearer {NOUNS[axis_of(own)]}", distance

    def _beside(self) -> tuple[str, float] | None:
        """An alike piece that is there already, side by side with this one, and the gap between them; None if there is none."""
        low, high = self.placement.span(self.piece, self.axis)
        rest = [each for each in AXES if each != self.axis]
        for other in self.there:
            if self.job.part_of(other) != self.job.part_of(self.piece):
                continue
            start, stop = self.placement.span(other, self.axis)
            level = all(_same(self.placement.span(self.piece, each), self.placement.span(other, each)) for each in rest)
            if level and LEVEL < (gap := max(low - stop, start - high)) < high - low:
                return other, gap
        return None
