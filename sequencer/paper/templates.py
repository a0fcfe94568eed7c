"""What is worth a template at full size: outlines, rounded corners, rounded openings and the centres of holes. mm.

Everything comes from the marks of each feature, so that a template says nothing that a ruler would not.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import acos, ceil, cos, degrees, hypot, pi, radians, sin

from sequencer.features.base import Feature, mm
from sequencer.model.frame import FACES, Axis, FaceName, Hand, Point, axis_of, mirrored, opposite
from sequencer.model.job import Job, Part
from sequencer.model.marks import Edges, Line, Marks, Spot, Spots, Window, measured_faces, mirrored_marks
from sequencer.paper.frames import Flat, Frame
from sequencer.paper.svg import Box

_MARGIN, _NEAR = 12.0, 45.0
"""How far a template runs on beyond a curve, and how far apart two stretches of a long part must be to be two
templates."""
_WHOLE = 200.0
"""A part that is no longer is shown whole."""
_SMOOTH = 12.0
"""Chords that turn by less are a curve, in degrees; regular polygons turn by more."""
_FINE = 3.0
"""A curve is drawn with chords that turn by this at most, in degrees: under 0.07 mm off at a radius of 200 mm."""
_ORDER: tuple[FaceName, ...] = ("inside", "outside", "bottom", "top", "left", "right")


@dataclass(frozen=True)
class Curve:
    """A line to cut to, in the view of its face, and the faces it is measured from."""

    points: tuple[Flat, ...]
    closed: bool
    measured: tuple[FaceName, ...]


@dataclass(frozen=True)
class Centre:
    """The centre of a hole, in the view of its face, and the faces it is measured from."""

    at: Flat
    diameter: float
    words: str
    measured: tuple[FaceName, ...]

    @property
    def reach(self) -> float:
        """How far its cross reaches."""
        return max(self.diameter / 2, 2.0) + 2.0


@dataclass(frozen=True, eq=False)
class Template:
    """A face of a part, or a stretch of it, with what is set out there. The view is that of `Frame`: x right, y up.

    window
        What is shown, in the view: left, low, right, high.
    """

    part: Part
    hand: Hand | None
    face: FaceName
    features: tuple[Feature, ...]
    curves: tuple[Curve, ...]
    centres: tuple[Centre, ...]
    window: Box

    @property
    def frame(self) -> Frame:
        """The view."""
        return Frame(self.face, self.part.block)

    @property
    def title(self) -> str:
        """The part, the hand and the face, by the part's own words."""
        words = [self.part.name.replace("-", " "), *([f"{self.hand} hand"] if self.hand else [])]
        return f"{', '.join(words)}: {self.called(self.face)}"

    def called(self, face: FaceName) -> str:
        """What a face is called: `inside face`, `bottom edge`, `foot`."""
        own = mirrored(face) if self.hand == "right" else face
        word = next((word for word, meant in self.part.names.items() if meant == own), face).replace("-", " ")
        kind = {"x": "end", "y": "edge", "z": "face"}[axis_of(face)]
        return word if word.endswith(kind) or word in ("head", "foot") else f"{word} {kind}"

    @cached_property
    def references(self) -> tuple[FaceName, ...]:
        """The edges it is laid on: those that something shown is measured from."""
        named = {face for curve in self.curves for face in curve.measured}
        named |= {face for centre in self.centres for face in centre.measured}
        return tuple(face for face in FACES if face in named and axis_of(face) != axis_of(self.face))

    @property
    def laid_on(self) -> str:
        """What its firm lines are laid on: `bottom edge, left end`."""
        return ", ".join(self.called(face) for face in sorted(self.references, key=_ORDER.index))

    @property
    def holes(self) -> tuple[str, ...]:
        """What the holes are like, each kind once."""
        return tuple(dict.fromkeys(centre.words for centre in self.centres))


def templates(job: Job) -> tuple[Template, ...]:
    """Every template of a job, part by part, the left hand before the right. Round stock has none: no edge to lay it on."""
    return tuple(
        each for part in job.parts.values() if part.section != "round" for hand in _hands(part) for each in _of_part(part, hand)
    )


def _hands(part: Part) -> tuple[Hand | None, ...]:
    return ("left", "right") if part.handed else (None,)


def _of_part(part: Part, hand: Hand | None) -> Iterator[Template]:
    by_face: dict[FaceName, list[tuple[Feature, Marks]]] = {}
    for feature in part.features_of(hand):
        marks, face = feature.marks(part.block), feature.opens()[0]
        if _wanted(marks):
            marks, face = (mirrored_marks(marks), mirrored(face)) if hand == "right" else (marks, face)
            by_face.setdefault(face, []).append((feature, marks))
    for face in sorted(by_face, key=_ORDER.index):
        frame = Frame(face, part.block)
        curves = tuple(curve for _, marks in by_face[face] for curve in _curves(marks, frame))
        centres = tuple(centre for _, marks in by_face[face] for centre in _centres(marks, frame))
        for window in _windows(frame, curves, centres):
            yield Template(
                part,
                hand,
                face,
                tuple(feature for feature, _ in by_face[face]),
                tuple(curve for curve in curves if any(within(window, at) for at in curve.points)),
                tuple(centre for centre in centres if within(window, centre.at)),
                window,
            )


def _wanted(marks: Marks) -> bool:
    """Whether a ruler alone is not enough, or places are to be marked: curves, bent lines, holes."""
    if isinstance(marks, Line):
        return len(marks.points) > 2
    if isinstance(marks, Edges):
        return marks.rounded and all(axis_of(face) != "z" for edge in marks.edges for face in edge)
    return isinstance(marks, Spots) or (isinstance(marks, Window) and marks.radius > 0)


def within(window: Box, at: Flat) -> bool:
    """Whether a place lies in a window or on its border."""
    return window.left - 0.01 <= at[0] <= window.right + 0.01 and window.top - 0.01 <= at[1] <= window.bottom + 0.01


def _flat(frame: Frame, spot: Spot) -> Flat:
    """A place on a face, in its view."""
    levels: dict[Axis, float] = {axis_of(face): frame.block.inward(face, distance) for face, distance in spot}
    x, y, _ = frame.spot(Point(levels.get("x", 0.0), levels.get("y", 0.0), levels.get("z", 0.0)))
    return x, y


def _curves(marks: Marks, frame: Frame) -> Iterator[Curve]:
    if isinstance(marks, Line):
        closed = not marks.edges
        yield Curve(smoothed([_flat(frame, spot) for spot in marks.points], closed), closed, measured_faces(marks))
    elif isinstance(marks, Edges):
        for one, two in marks.edges:
            yield Curve(_corner(frame, ((one, 0.0), (two, 0.0)), marks.reach), False, (one, two))
    elif isinstance(marks, Window):
        yield Curve(tuple(_opening(marks, frame)), True, measured_faces(marks))


def _corner(frame: Frame, spot: Spot, radius: float) -> tuple[Flat, ...]:
    """The quarter round in the corner that lies at a spot, from its first face to its second, `radius` into both."""
    (one, first), (two, second) = spot
    steps = ceil(90 / _FINE)
    turns = (pi / 2 * step / steps for step in range(steps + 1))
    return tuple(
        _flat(frame, ((one, first + radius * (1 - cos(turn))), (two, second + radius * (1 - sin(turn))))) for turn in turns
    )


def _opening(marks: Window, frame: Frame) -> Iterator[Flat]:
    """The border of a window once round, its rounded corners as arcs."""
    rounded = {frozenset(pair) for pair in marks.rounded}
    for turn, sides in enumerate(((False, False), (True, False), (True, True), (False, True))):
        ends: list[tuple[FaceName, float]] = []
        for pair, far in zip(marks.sides, sides, strict=True):
            whole = frame.block.size(axis_of(pair.face))
            ends.append((opposite(pair.face), whole - pair.far) if far else (pair.face, pair.near))
        corner: Spot = (ends[0], ends[1])
        if frozenset(face for face, _ in corner) in rounded:
            points = _corner(frame, corner, marks.radius)
            # An arc runs from the border of its first face to that of its second.
            yield from points[::-1] if turn % 2 else points
        else:
            yield _flat(frame, corner)


def _centres(marks: Marks, frame: Frame) -> Iterator[Centre]:
    if isinstance(marks, Spots):
        deep = "through" if marks.depth is None else f"{mm(marks.depth)} deep"
        head = f", {'countersink' if marks.conical else 'counterbore'} {mm(marks.head_diameter)}" if marks.head_diameter else ""
        words = f"diameter {mm(marks.diameter)}: {deep}{head}"
        for place in marks.places:
            yield Centre(_flat(frame, place), marks.diameter, words, tuple(face for face, _ in place))


def smoothed(points: Sequence[Flat], closed: bool) -> tuple[Flat, ...]:
    """A path with its equal chords divided again, on the circle their ends lie on."""
    if closed and hypot(points[0][0] - points[-1][0], points[0][1] - points[-1][1]) > 1e-6:
        points = [*points, points[0]]
    found: list[Flat] = [points[0]]
    last = len(points) - 1
    for at, (start, stop) in enumerate(pairwise(points)):
        before = points[at - 1] if at > 0 else points[last - 1] if closed else None
        after = points[at + 2] if at + 2 <= last else points[1] if closed else None
        centre = _circle(before, start, stop) or _circle(start, stop, after)
        found += _divided(start, stop, centre) if centre is not None else [stop]
    return tuple(found)


def _circle(one: Flat | None, two: Flat | None, three: Flat | None) -> Flat | None:
    """The centre of the circle through the ends of two equal chords that turn a little; None if they are no curve."""
    if one is None or two is None or three is None:
        return None
    first, second = (two[0] - one[0], two[1] - one[1]), (three[0] - two[0], three[1] - two[1])
    long, longer = hypot(*first), hypot(*second)
    if min(long, longer) < 1e-9 or abs(long - longer) > 0.005 * long:
        return None
    turn = _angle(first, second)
    if not 0.01 < abs(degrees(turn)) < _SMOOTH:
        return None
    radius = long / 2 / sin(turn / 2)
    away = radius * cos(turn / 2)
    middle = (one[0] + two[0]) / 2, (one[1] + two[1]) / 2
    return middle[0] - first[1] / long * away, middle[1] + first[0] / long * away


def _angle(one: Flat, two: Flat) -> float:
    """From one direction to another, in radians, over zero to the left."""
    share = (one[0] * two[0] + one[1] * two[1]) / hypot(*one) / hypot(*two)
    turn = acos(max(-1.0, min(1.0, share)))
    return turn if one[0] * two[1] - one[1] * two[0] > 0 else -turn


def _divided(start: Flat, stop: Flat, centre: Flat) -> list[Flat]:
    """Points on the arc from `start` to `stop`, the first left out."""
    one, two = ((end[0] - centre[0], end[1] - centre[1]) for end in (start, stop))
    turn = _angle(one, two)
    steps = max(1, ceil(abs(turn) / radians(_FINE)))
    turns = [turn * step / steps for step in range(1, steps)]
    between = [(cos(t) * one[0] - sin(t) * one[1], sin(t) * one[0] + cos(t) * one[1]) for t in turns]
    return [*((centre[0] + x, centre[1] + y) for x, y in between), stop]


def _windows(frame: Frame, curves: Sequence[Curve], centres: Sequence[Centre]) -> list[Box]:
    """What is shown: the whole face, or, of a long one, the stretches in which something is, each to the end it is measured
    from."""
    right, up, _ = frame.size
    index = 0 if right >= up else 1
    size = (right, up)[index]
    if size <= _WHOLE:
        return [Box(0.0, 0.0, right, up)]
    wanted: list[tuple[float, float]] = []
    items = [([point[index] + sign * _MARGIN for point in curve.points for sign in (-1, 1)], curve.measured) for curve in curves]
    items += [([centre.at[index] + sign * centre.reach for sign in (-1, 1)], centre.measured) for centre in centres]
    for levels, measured in items:
        ends = [size if high else 0.0 for axis, high in map(frame.side, measured) if axis == "xy"[index]]
        levels = [*levels, *(ends or [0.0, size])]
        wanted.append((max(min(levels), 0.0), min(max(levels), size)))
    kept: list[tuple[float, float]] = []
    for low, high in sorted(wanted):
        if kept and low - kept[-1][1] < _NEAR:
            kept[-1] = (kept[-1][0], max(high, kept[-1][1]))
        else:
            kept.append((low, high))
    spans = [(0.0 if low < _NEAR else low, size if size - high < _NEAR else high) for low, high in kept]
    return [Box(low, 0.0, high, up) if index == 0 else Box(0.0, low, right, high) for low, high in spans]
