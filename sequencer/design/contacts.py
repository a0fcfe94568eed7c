"""Where the two pieces of a joint bear on each other, and what that says about how one lies to the other.

A `Patch` is the bearing of one piece in its own frame: a face, the floor of a housing, the section of a tenon at its
shoulder. From two patches, and what the joint says besides, follow the turns that are possible and, for one turn, the
`Wish`es: how far the entering piece is moved along an axis of the other.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import pairwise
from typing import Literal

from sequencer.design.bodies import Body, around
from sequencer.design.poses import Direction, Pose, Turn, face_towards, normal
from sequencer.features.base import NEAR, Feature
from sequencer.features.bridle import Bridle
from sequencer.features.bridle_tongue import BridleTongue
from sequencer.features.channel import Trenched
from sequencer.features.cope import Cope
from sequencer.features.dovetail_end import DovetailEnd
from sequencer.features.interlocking import Interlocking
from sequencer.features.mortise import Mortise
from sequencer.features.tongue import Tongue
from sequencer.model.frame import AXES, Axis, Block, FaceName, Point, axis_of, face_at, is_high, opposite, others, sign_of
from sequencer.model.job import Joint, Seat
from sequencer.model.shapes import Bounds, Prism

Span = tuple[float, float]


@dataclass(frozen=True)
class Patch:
    """Where a piece bears, in its own frame.

    level
        Of the bearing plane along the normal's axis; `None` where a feature goes right through and has no floor.
    spans
        Its extent along the two other axes.
    stands
        How far the piece stands out beyond the bearing plane: the length of a tenon.
    """

    normal: Direction
    level: float | None
    spans: Mapping[Axis, Span]
    bounded: frozenset[Axis] = frozenset()
    """Axes along which the feature is closed on both sides, so that what enters it is held."""
    walls: Mapping[Axis, Direction] = field(default_factory=dict)
    """Axes along which it is closed on one side only: the way that wall looks."""
    run: Axis | None = None
    """The axis a channel runs along: its end there is no wall to bear on unless nothing else is said."""
    stands: float = 0.0


def _face_patch(block: Block, face: FaceName) -> Patch:
    return Patch(normal(face), block.level(face), {axis: (0.0, block.size(axis)) for axis in others(axis_of(face))})


def _floor_patch(own: Body, feature: Feature, opened: FaceName, spot: int = 0) -> Patch:
    """The floor of what a feature opens in a face, with its walls; of several alike holes that of one spot."""
    spots = own.spots(feature)
    # A mortise holds a tenon by its own walls, not by a flare or the recess for a haunch.
    block, axis, boxes = own.block, axis_of(opened), spots[min(spot, len(spots) - 1)]
    box = boxes[0] if isinstance(feature, Mortise) else around(boxes)
    low, high = box.span(axis)
    through = low <= NEAR and high >= block.size(axis) - NEAR
    bounded, walls = set(), {}
    for side in others(axis):
        start, stop = box.span(side)
        at_start, at_stop = start <= NEAR, stop >= block.size(side) - NEAR
        if not at_start and not at_stop:
            bounded.add(side)
        elif at_start != at_stop:
            walls[side] = Direction(side, -1 if at_start else 1)
    return Patch(
        normal(opened),
        None if through else (low if is_high(opened) else high),
        {side: box.span(side) for side in others(axis)},
        frozenset(bounded),
        walls,
        feature.trench().run if isinstance(feature, Trenched) else None,
    )


def _mouth_patch(own: Body, feature: Interlocking, face: FaceName) -> Patch:
    """The face that the shoulder of the other board closes on, walled by the ends of the sockets or gaps."""
    (end,) = own.faces((feature.end,))
    spans: dict[Axis, Span] = {"x": own.block.span(end, 0.0, feature.length), "y": (0.0, own.block.width)}
    return Patch(normal(face), own.block.level(face), spans, walls={"x": Direction("x", sign_of(end))})


def _standing(own: Body, feature: Feature, end: FaceName) -> tuple[float, Bounds] | None:
    """What stands at an end after a feature is cut: (level of the shoulder, box of what is left). None if nothing is."""
    block, axis = own.block, axis_of(end)
    index = AXES.index(axis)
    boxes = [box for box in own.boxes(feature) if _reaches(box, block, end)]
    if not boxes:
        return None
    shoulder = max(box.low[index] for box in boxes) if is_high(end) else min(box.high[index] for box in boxes)
    first, second = others(axis)
    marks = {
        side: sorted({0.0, block.size(side), *(value for box in boxes for value in box.span(side))}) for side in (first, second)
    }
    left = [
        (a, b)
        for a in zip(marks[first], marks[first][1:], strict=False)
        for b in zip(marks[second], marks[second][1:], strict=False)
        if not any(_covers(box.span(first), a) and _covers(box.span(second), b) for box in boxes)
    ]
    if not left:
        return None
    spans: dict[Axis, Span] = {
        axis: (min(shoulder, block.level(end)), max(shoulder, block.level(end))),
        first: (min(a[0] for a, _ in left), max(a[1] for a, _ in left)),
        second: (min(b[0] for _, b in left), max(b[1] for _, b in left)),
    }
    return shoulder, Bounds(Point(*(spans[a][0] for a in AXES)), Point(*(spans[a][1] for a in AXES)))


def _reaches(box: Bounds, block: Block, face: FaceName) -> bool:
    low, high = box.span(axis_of(face))
    return high >= block.size(axis_of(face)) - NEAR if is_high(face) else low <= NEAR


def _covers(outer: Span, inner: Span) -> bool:
    return outer[0] <= inner[0] + NEAR and outer[1] >= inner[1] - NEAR


def tenon_of(own: Body, feature: Feature) -> tuple[FaceName, float, Bounds] | None:
    """A tenon as it stands: its end, the level of its shoulder, its box. None if it takes nothing from an end."""
    for end in own.faces(feature.ends_part() or feature.opens()):
        if axis_of(end) == "x" and (standing := _standing(own, feature, end)):
            return end, *standing
    return None


def _astride_patches(own: Body, feature: Feature) -> Iterator[Patch]:
    """What a bridle sits astride: the edges of a piece where both its broad faces are cut thinner, in the middle or at an
    end. The root of the fork comes down on either edge."""
    if isinstance(feature, BridleTongue):
        spans: dict[Axis, Span] = {axis: around(own.boxes(feature)).span(axis) for axis in AXES}
        spans["z"] = (feature.depth, own.block.thickness - feature.depth)
        run, walls = feature.trench().run, dict[Axis, Direction]()
    else:
        tenon = tenon_of(own, feature)
        if tenon is None:
            return
        end, _, box = tenon
        spans, run = {axis: box.span(axis) for axis in AXES}, "y"
        walls = {"x": Direction("x", sign_of(end))}
    beside = next(axis for axis in others("z") if axis != run)
    for high in (False, True):
        face = face_at(run, high)
        across = {side: spans[side] for side in others(run)}
        bounded: frozenset[Axis] = frozenset(("z",) if walls else ("z", beside))
        yield Patch(normal(face), spans[run][high], across, bounded, walls)


def _surface(own: Body, feature: Feature, face: FaceName, mouth: Patch) -> float:
    """Where the shoulder of a tenon comes to bear: on the face, or where square cuts take that away beside the mortise, one over
    the whole thickness or several side by side, on the floor that stands furthest out."""
    level, index = own.block.level(face), AXES.index(axis_of(face))
    if not isinstance(feature, Mortise):
        return level
    across = feature.across(own.block)
    along = {side: span for side, span in mouth.spans.items() if side != across}
    cuts = [
        box
        for other in own.part.features_of(own.piece.hand)
        if other != feature and (other.nature == "cut" or isinstance(other, Cope)) and face in own.faces(other.opens())
        for box in own.boxes(other)
        if _reaches(box, own.block, face) and all(_covers(box.span(side), span) for side, span in along.items())
    ]
    marks = sorted({0.0, own.block.size(across), *(value for box in cuts for value in box.span(across))})
    floors = []
    for strip in pairwise(marks):
        deep = [box.low[index] if is_high(face) else box.high[index] for box in cuts if _covers(box.span(across), strip)]
        floors.append((min if is_high(face) else max)([level, *deep]))
    return max(floors) if is_high(face) else min(floors)


def _seat_patches(own: Body, seat: Seat, entering: Feature | None, spot: int) -> tuple[Patch, ...]:
    """Where the other piece is borne on, the likeliest first."""
    if not seat.feature:
        return (_face_patch(own.block, seat.face),) if seat.face else ()
    feature = own.feature(seat.feature)
    if feature is None:
        return ()
    if isinstance(feature, Interlocking):
        return tuple(_mouth_patch(own, feature, face) for face in own.faces(feature.mouths()))
    opens = own.faces(feature.opens())
    if seat.face:
        opens = tuple(face for face in opens if face == seat.face) or opens
    if isinstance(entering, Bridle):
        return tuple(_astride_patches(own, feature))
    patches = tuple(_floor_patch(own, feature, face, spot) for face in opens)
    if isinstance(entering, Tongue) or (entering is not None and entering.kind == "tenon"):
        # The shoulder closes on the face; tenon or tongue may stop short of the floor.
        return tuple(
            Patch(each.normal, _surface(own, feature, face, each), each.spans, each.bounded, each.walls, each.run)
            for each, face in zip(patches, opens, strict=True)
        )
    return patches


def _entering_patches(own: Body, its: Seat, seat: Feature | None) -> tuple[Patch, ...]:
    """What the entering piece bears with, the likeliest first."""
    if not its.feature:
        return (_face_patch(own.block, its.face),) if its.face else ()
    feature = own.feature(its.feature)
    if feature is None:
        return ()
    if isinstance(feature, Interlocking):
        (end,) = own.faces((feature.end,))
        return (replace(_face_patch(own.block, end), level=own.block.inward(end, feature.length)),)
    if isinstance(feature, DovetailEnd):
        return tuple(_face_patch(own.block, end) for end in own.faces((feature.end,)))
    if feature.kind == "tenon":
        tenon = tenon_of(own, feature)
        if tenon is None:
            return ()
        end, shoulder, box = tenon
        spans = {side: box.span(side) for side in others("x")}
        return (Patch(normal(end), shoulder, spans, stands=box.size("x")),)
    if isinstance(feature, Tongue):
        (edge,) = own.faces((feature.edge,))
        found = _standing(own, feature, edge)
        if found is None:
            return ()
        spans = {side: found[1].span(side) for side in others(axis_of(edge))}
        return (Patch(normal(edge), found[0], spans, stands=feature.length),)
    if isinstance(feature, Bridle):
        (end,) = own.faces((feature.end,))
        return (_floor_patch(own, feature, end),)
    opens = own.faces(feature.opens())
    if feature.kind == "rebate" and seat is not None and seat.kind not in ("rebate", "halving"):
        # A rebate that enters a channel leaves a tongue: its tip bears on the floor.
        tongues = []
        for tip in opens[1:] or opens:
            standing = _standing(own, feature, tip)
            if standing:
                sides = {side: standing[1].span(side) for side in others(axis_of(tip))}
                tongues.append(Patch(normal(tip), own.block.level(tip), sides))
        return tuple(tongues)
    return tuple(_floor_patch(own, feature, face) for face in opens)


WishKind = Literal["contact", "flush", "at", "held", "wall", "mitre", "equal"]


@dataclass(frozen=True)
class Wish:
    """How far a joint wants the entering piece moved along one axis of the other piece's frame.

    kind
        `contact` seat planes meet; `flush`, `at` as the joint says; `held` centred in the feature; `wall` against the
        one wall of a rebate; `mitre` the corners of a mitre meet; `equal` centred because nothing else is said.
    looks
        The way an open gap is counted, along the axis of the other piece.
    slack
        Distance from the wish that the fit itself leaves, mm.
    """

    axis: Axis
    moved: float
    kind: WishKind
    looks: Direction
    slack: float = 0.0

    @property
    def firmness(self) -> int:
        """What is listened to first when a piece is placed: 0 firm, 1 a wall that may leave room, 2 only if nothing else
        is said."""
        return {"wall": 1, "equal": 2}.get(self.kind, 0)


@dataclass(frozen=True)
class Meeting:
    """A joint between two bodies: which turns of the entering piece it allows, and where it then goes.

    All in the frame of the other piece. `spot` counts the joints into one feature of one piece: the third of three pegs
    goes into the third of three holes. `loose`: it holds a panel that has room in its groove.
    """

    joint: Joint
    entering: Body
    other: Body
    spot: int = 0
    loose: bool = False
    _ranks: dict[Turn, int | None] = field(default_factory=dict, init=False, repr=False, compare=False)

    @property
    def ends(self) -> tuple[str, str]:
        """The names of the entering piece and of the other."""
        return self.entering.piece.name, self.other.piece.name

    def _features(self) -> tuple[Feature | None, Feature | None]:
        return self.entering.feature(self.joint.its.feature), self.other.feature(self.joint.seat.feature)

    @cached_property
    def mitred(self) -> bool:
        """Whether both seats are mitres."""
        mine, theirs = self._features()
        return mine is not None and theirs is not None and mine.kind == theirs.kind == "mitre"

    @cached_property
    def _pairs(self) -> tuple[tuple[int, Patch, Patch], ...]:
        mine, theirs = self._features()
        return tuple(
            (rank_mine + rank_theirs, its, seat)
            for rank_mine, its in enumerate(_entering_patches(self.entering, self.joint.its, theirs))
            for rank_theirs, seat in enumerate(_seat_patches(self.other, self.joint.seat, mine, self.spot))
        )

    @property
    def can_bear(self) -> bool:
        """Whether both pieces have something to bear with."""
        return self.corners is not None if self.mitred else bool(self._pairs)

    def rank(self, turn: Turn) -> int | None:
        """How likely the joint makes this turn of the entering piece: 0 likeliest, None not at all."""
        if turn not in self._ranks:
            self._ranks[turn] = self._rank(turn)
        return self._ranks[turn]

    def _rank(self, turn: Turn) -> int | None:
        pose = Pose(turn)
        for mine, theirs in (*self.joint.flush, *self.joint.align):
            if pose.direction(normal(mine)) != normal(theirs):
                return None
        if self.mitred:
            corners = self.corners
            if corners is None:
                return None
            own, other = corners
            meets = pose.direction(normal(own.end)) == normal(other.outer) and (
                pose.direction(normal(own.outer)) == normal(other.end)
            )
            return 0 if meets else None
        found = self.bearing(turn)
        if found is None:
            return None
        rank, _, seat = found
        if not self.joint.crossing:
            return rank
        along = pose.direction(Direction("x", 1))
        if along.axis in ("x", seat.normal.axis):
            return None
        return rank + (0 if along.sign > 0 else 1)

    def bearing(self, turn: Turn) -> tuple[int, Patch, Patch] | None:
        """The patches that face each other in this turn, with their rank."""
        pose = Pose(turn)
        facing = [pair for pair in self._pairs if pose.direction(pair[1].normal) == pair[2].normal.reversed]
        return min(facing, key=lambda pair: pair[0]) if facing else None

    def misfit(self, turn: Turn) -> float:
        """How badly the entering section fits the feature in this turn, mm over the axes that hold it."""
        found = None if self.mitred else self.bearing(turn)
        if found is None:
            return 0.0
        _, its, seat = found
        pose = Pose(turn)
        return sum(
            abs(_length(seat.spans[axis]) - _length(its.spans[pose.own(Direction(axis, 1)).axis]))
            for axis in seat.spans
            if axis in seat.bounded or (axis in seat.walls and axis != seat.run and seat.run is not None)
        )

    def agrees(self, turn: Turn) -> int:
        """Along how many axes of a face the entering piece is just as large as the face."""
        found = None if self.mitred else self.bearing(turn)
        if found is None:
            return 0
        _, its, seat = found
        pose = Pose(turn)
        pairs = ((span, its.spans[pose.own(Direction(axis, 1)).axis]) for axis, span in seat.spans.items())
        return sum(1 for there, section in pairs if abs(_length(there) - _length(section)) < NEAR)

    def wishes(self, turn: Turn) -> tuple[Wish, ...]:
        """What the joint wants in a turn it allows, the most binding first."""
        pose = Pose(turn)
        return tuple(self._mitre_wishes(pose)) if self.mitred else tuple(self._bearing_wishes(pose))

    def _said(self, pose: Pose) -> Iterator[Wish]:
        """What flush and at say."""
        block, other = self.entering.block, self.other.block
        for mine, theirs in self.joint.flush:
            moved = other.level(theirs) - pose.level(axis_of(mine), block.level(mine))
            yield Wish(axis_of(theirs), moved, "flush", normal(theirs))
        for face, distance in self.joint.at:
            nearest = face_towards(pose.own(normal(face)))
            moved = other.inward(face, distance) - pose.level(axis_of(nearest), block.level(nearest))
            yield Wish(axis_of(face), moved, "at", normal(opposite(face)))

    def _bearing_wishes(self, pose: Pose) -> Iterator[Wish]:
        found = self.bearing(pose.turn)
        if found is None:
            return
        _, its, seat = found
        if its.level is not None and seat.level is not None:
            moved = seat.level - pose.level(its.normal.axis, its.level)
            yield Wish(seat.normal.axis, moved, "contact", seat.normal)
        yield from self._said(pose)
        for axis, span in seat.spans.items():
            own = pose.own(Direction(axis, 1)).axis
            section = its.spans[own]
            low, high = sorted((pose.level(own, section[0]), pose.level(own, section[1])))
            centred = (span[0] + span[1]) / 2 - (low + high) / 2
            spare = _length(span) - _length(section)
            if axis in seat.bounded or own in its.bounded or (self.joint.crossing and axis != seat.normal.axis):
                yield Wish(axis, centred, "held", Direction(axis, 1), max(spare, 0.0) / 2)
            elif axis in seat.walls and axis != seat.run:
                wall = seat.walls[axis]
                moved = span[0] - low if wall.sign > 0 else span[1] - high
                yield Wish(axis, moved, "wall", wall)
            elif abs(spare) < NEAR or axis in seat.walls:
                yield Wish(axis, centred, "equal", Direction(axis, 1))

    @cached_property
    def corners(self) -> tuple[Corner, Corner] | None:
        """Both mitres; None where the joint is no mitre, or one is not the simple half of a square corner."""
        mine, theirs = self._features()
        if mine is None or theirs is None or mine.kind != "mitre" or theirs.kind != "mitre":
            return None
        own, other = corner(self.entering, mine), corner(self.other, theirs)
        return (own, other) if own and other and own.is_half and other.is_half else None

    def _mitre_wishes(self, pose: Pose) -> Iterator[Wish]:
        corners = self.corners
        if corners is None:
            return
        own_corner, other_corner = corners
        block, other = self.entering.block, self.other.block
        for mine, theirs in ((own_corner.end, other_corner.outer), (own_corner.outer, other_corner.end)):
            moved = other.level(theirs) - pose.level(axis_of(mine), block.level(mine))
            yield Wish(axis_of(theirs), moved, "mitre", normal(theirs))
        yield from self._said(pose)
        third = next(axis for axis in AXES if axis not in (axis_of(other_corner.end), axis_of(other_corner.outer)))
        own = pose.own(Direction(third, 1)).axis
        middle = (pose.level(own, 0.0) + pose.level(own, block.size(own))) / 2
        yield Wish(third, other.size(third) / 2 - middle, "equal", Direction(third, 1))


@dataclass(frozen=True)
class Corner:
    """A mitred end: the end, the face that keeps the full length, how far the mitre runs back along the other one."""

    end: FaceName
    outer: FaceName
    across: float
    back: float

    @property
    def is_half(self) -> bool:
        """Whether it runs back as far as it goes across: 45 degrees, half of a square corner."""
        return abs(self.across - self.back) < 0.01


def corner(own: Body, feature: Feature) -> Corner | None:
    """A mitre as it lies on the piece, read from the slope of what it takes away. None where there is no single slope."""
    ends = own.faces(feature.ends_part())
    shapes = own.shapes(feature)
    if len(ends) != 1 or len(shapes) != 1 or not isinstance(shapes[0], Prism) or shapes[0].axis == "x":
        return None
    prism, end = shapes[0], ends[0]
    axis = next(side for side in others("x") if side != prism.axis)
    outline = prism.outline
    slopes = [
        (start, stop)
        for start, stop in zip(outline, (*outline[1:], outline[0]), strict=True)
        if abs(start[0] - stop[0]) > NEAR and abs(start[1] - stop[1]) > NEAR
    ]
    if len(slopes) != 1:
        return None
    (x0, side0), (x1, side1) = slopes[0]
    across = own.block.size(axis)
    reach = {
        high: abs(x0 + (x1 - x0) * ((across if high else 0.0) - side0) / (side1 - side0) - own.block.level(end))
        for high in (False, True)
    }
    high = reach[True] < reach[False]
    return Corner(end, face_at(axis, high), across, abs(reach[True] - reach[False]))


def _length(span: Span) -> float:
    return span[1] - span[0]
