"""How the piece lies in the picture: turned so that its face is down and its edge at the fence, and shortened where it is
long. The frame of the picture: x to the right, y away from the viewer, z up; the table is at z = 0. mm.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from sequencer.design.poses import TURNS, Direction, Pose, normal
from sequencer.model.frame import AXES, FACES, Axis, FaceName, Point, axis_of
from sequencer.model.shapes import Bounds
from sequencer.paper.scene import FROM_THE_LEFT
from sequencer.paper.set_ups.subject import Subject
from sequencer.solid.solids import Solid, joined, prism

DOWN, UP = Direction("z", -1), Direction("z", 1)
FRONT, BACK = Direction("y", -1), Direction("y", 1)
LEFT, RIGHT = Direction("x", -1), Direction("x", 1)

FROM_THE_RIGHT = FROM_THE_LEFT._replace(x=-FROM_THE_LEFT.x)
"""The usual view in a mirror: for work whose measured end is on the right."""

GAP = 6.0
"""Between the two sides of a stretch that is left out, mm."""
TOOTH = 2.5
"""How far the line of a break swings, mm."""

Span = tuple[float, float]


@dataclass(frozen=True)
class Break:
    """Stretches of an axis that are shown, low to high; what lies between and beyond is left out. `fixed` is a place that
    stays where it is."""

    axis: Axis
    kept: tuple[Span, ...]
    fixed: float

    def drawn(self, value: float) -> float:
        """Where a place along the axis is drawn; one that is left out is drawn at the break."""
        return self._at(value) - self._at(self.fixed) + self.fixed

    def _at(self, value: float) -> float:
        drawn = first = self.kept[0][0]
        if value <= first:
            return first
        for low, high in self.kept:
            if value <= low:
                return drawn
            if value <= high:
                return drawn + value - low
            drawn += high - low + GAP
        return drawn - GAP

    def solid(self, solid: Solid, room: Bounds) -> Solid:
        """A body with the stretches left out; where it is broken the edge is a zigzag, so that nobody takes it for an end."""
        if solid.empty:
            return solid
        low, high = room.span(self.axis)
        parts = []
        for start, stop in self.kept:
            cutter = _zigzag(self.axis, (start, start > low + 0.01), (stop, stop < high - 0.01), room)
            moved = self.drawn((start + stop) / 2) - (start + stop) / 2
            parts.append((solid & cutter).moved(**{self.axis: moved}))
        return joined(part for part in parts if not part.empty)


def _zigzag(axis: Axis, start: tuple[float, bool], stop: tuple[float, bool], room: Bounds) -> Solid:
    """Space between two planes square to an axis; either may be a zigzag, as seen from above or, of an upright piece, from
    in front."""
    across: Axis = "y" if axis == "x" else "x"
    straight: Axis = "y" if axis == "z" else "z"
    low, high = room.span(across)
    low, high = low - 1.0, high + 1.0
    teeth = 6

    def side(at: float, torn: bool) -> list[tuple[float, float]]:
        if not torn:
            return [(at, low), (at, high)]
        swings = (at + (TOOTH if number % 2 else -TOOTH) for number in range(teeth + 1))
        return [(swing, low + (high - low) * number / teeth) for number, swing in enumerate(swings)]

    far = 1.0
    begin = side(*start) if start[1] else side(start[0] - far, False)
    end = side(*stop) if stop[1] else side(stop[0] + far, False)
    outline = [*begin, *reversed(end)]
    if axis != "x":
        outline = [(other, along) for along, other in outline]
    bottom, top = room.span(straight)
    return prism(straight, [outline], bottom - 1.0, top + 1.0)


@dataclass(frozen=True, eq=False)
class Laid:
    """A piece as it lies in the picture."""

    subject: Subject
    pose: Pose
    looks_from: Point = FROM_THE_LEFT
    breaks: tuple[Break, ...] = ()

    @cached_property
    def _room(self) -> Bounds:
        return self.subject.before.posed(self.pose).bounds

    @cached_property
    def wood(self) -> Solid:
        """What stays, as drawn."""
        return self._drawn(self.subject.before - self.subject.waste)

    @cached_property
    def waste(self) -> Solid:
        """What is cut away, as drawn."""
        return self._drawn(self.subject.before & self.subject.waste)

    @cached_property
    def piece(self) -> Solid:
        """The whole piece, as drawn."""
        return self._drawn(self.subject.before)

    @cached_property
    def bounds(self) -> Bounds:
        """The box around the whole piece, as drawn."""
        return self.piece.bounds

    @property
    def cut(self) -> Bounds:
        """The box around the waste, as drawn; around the piece if nothing is cut."""
        return self.bounds if self.waste.empty else self.waste.bounds

    def _drawn(self, solid: Solid) -> Solid:
        laid = solid.posed(self.pose)
        for each in self.breaks:
            laid = each.solid(laid, self._room)
        return laid

    def real(self, axis: Axis) -> Span:
        """Where the piece starts and ends along an axis of the picture before anything is left out."""
        return self._room.span(axis)

    def real_cut(self, axis: Axis) -> Span:
        """The same of the waste."""
        waste = self.subject.before & self.subject.waste
        return self.real(axis) if waste.empty else waste.posed(self.pose).bounds.span(axis)

    def drawn(self, axis: Axis, value: float) -> float:
        """Where a place along an axis of the picture is drawn."""
        for each in self.breaks:
            if each.axis == axis:
                value = each.drawn(value)
        return value

    def at(self, own: Point) -> Point:
        """A point of the part as drawn."""
        there = self.pose.to_world(own)
        return Point(*(self.drawn(axis, value) for axis, value in zip(AXES, there, strict=True)))

    def level(self, face: FaceName) -> float:
        """Where a face of the piece lies, along the axis of the picture it is square to."""
        return self.pose.level(axis_of(face), self.subject.level(face))

    def way(self, face: FaceName) -> Direction:
        """Where a face looks."""
        return self.pose.direction(normal(face))

    def face(self, way: Direction) -> FaceName:
        """The face that looks somewhere."""
        return next(face for face in FACES if self.way(face) == way)

    def axis(self, own: Axis) -> Axis:
        """The axis of the picture along which one of the piece lies."""
        return self.pose.direction(Direction(own, 1)).axis

    def seen(self, face: FaceName) -> bool:
        """Whether the viewer looks at this face."""
        way = self.way(face)
        return way.sign * self.looks_from[AXES.index(way.axis)] > 0

    def near(self, own: Axis) -> FaceName:
        """Of the two faces square to an axis of the piece, the one the viewer looks at."""
        first, second = (face for face in FACES if axis_of(face) == own)
        return first if self.seen(first) else second

    @cached_property
    def upright(self) -> bool:
        """Whether it stands higher than it is deep: on an edge or an end, and not flat."""
        return self.real("z")[1] > 1.5 * (self.real("y")[1] - self.real("y")[0])

    def moved(self, x: float = 0.0, y: float = 0.0, z: float = 0.0) -> Laid:
        """The piece elsewhere. Before anything is left out."""
        assert not self.breaks
        shift = self.pose.shift
        return Laid(self.subject, replace(self.pose, shift=Point(shift.x + x, shift.y + y, shift.z + z)), self.looks_from)

    def touching(self, way: Direction, level: float) -> Laid:
        """The piece moved so that its face that looks that way lies at a level."""
        shift = level - self.level(self.face(way))
        return self.moved(**{way.axis: shift})

    def shortened(self, axis: Axis, kept: Sequence[Span], fixed: float | None = None) -> Laid:
        """The piece with all but some stretches left out along an axis; the whole where little would be saved."""
        low, high = self.real(axis)
        spans = merged([(max(a, low), min(b, high)) for a, b in kept if b > low and a < high], 8 * TOOTH)
        left = sum(b - a for a, b in spans)
        if not spans or left > 0.75 * (high - low):
            return self
        spans = [(low if a - low < 4 * TOOTH else a, high if high - b < 4 * TOOTH else b) for a, b in spans]
        each = Break(axis, tuple(spans), spans[0][0] if fixed is None else fixed)
        return replace(self, breaks=(*self.breaks, each))


def merged(spans: Sequence[Span], gap: float) -> list[Span]:
    """Spans in order, those that overlap or nearly touch as one."""
    found: list[Span] = []
    for low, high in sorted(spans):
        if found and low - found[-1][1] < gap:
            found[-1] = (found[-1][0], max(found[-1][1], high))
        else:
            found.append((low, high))
    return found


def possible(ways: Mapping[FaceName, Direction]) -> bool:
    """Whether a piece can be turned so that its faces look where `ways` says."""
    return bool(_turns(ways))


def _turns(ways: Mapping[FaceName, Direction]) -> list[tuple[Direction, Direction, Direction]]:
    return [turn for turn in TURNS if all(Pose(turn).direction(normal(face)) == way for face, way in ways.items())]


def lay(
    subject: Subject,
    ways: Mapping[FaceName, Direction],
    *,
    across: Axis | None = None,
    seen: Collection[FaceName] = (),
    either_side: bool = False,
) -> Laid:
    """The piece turned so that faces look where `ways` says, resting on z = 0.

    What is left open goes by these wishes, in order: the piece's own axis `across` runs across the picture (without one, its
    longest); as many of the faces `seen` as can be towards the viewer, who may stand on `either_side`.
    """
    turns = _turns(ways)
    if not turns:
        raise ValueError(f"no piece lies so: {ways}")
    sides = (FROM_THE_LEFT, FROM_THE_RIGHT) if either_side else (FROM_THE_LEFT,)
    choices = [Laid(subject, Pose(turn), side) for side in sides for turn in turns]
    best = max(choices, key=_wishes(across, seen))
    return best.moved(z=-best.real("z")[0])


def _wishes(across: Axis | None, seen: Collection[FaceName]) -> Callable[[Laid], tuple[float, ...]]:
    def wish(laid: Laid) -> tuple[float, ...]:
        low, high = laid.real("x")
        spread = round(high - low, 3) if across is None else float(laid.axis(across) == "x")
        return spread, float(sum(laid.seen(face) for face in seen)), float(laid.looks_from == FROM_THE_LEFT)

    return wish


def stretches(laid: Laid, axis: Axis, measured: Collection[FaceName], room: float) -> list[Span]:
    """What is shown of a long piece: the cut, and the ends its place is measured from."""
    ends = [laid.level(face) for face in measured if laid.way(face).axis == axis]
    return [*around_cut(laid, axis, room), *((end - room, end + room) for end in ends)]


def around_cut(laid: Laid, axis: Axis, room: float) -> list[Span]:
    """Stretches of an axis of the picture about the places where the cut begins and ends in the wood; all of a short cut.
    Of a cut from end to end there are none."""
    low, high = laid.real(axis)
    start, stop = laid.real_cut(axis)
    spans = [(at - room, at + room) for at in (start, stop) if low + 0.01 < at < high - 0.01]
    if spans and stop - start < 2 * room:
        spans.append((start - room, stop + room))
    return spans
