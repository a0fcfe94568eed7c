"""Scenes of the whole thing: as it stands, taken apart, put together step by step, and its parts. mm.

The thing stands upright as it is used, the side with a front towards the viewer. Taken apart, every piece is moved along the
axes it goes in by, until nothing covers anything in the picture.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import combinations

from sequencer.design.placement import Placement
from sequencer.design.poses import ORIGIN, Direction, Pose
from sequencer.design.standing import front_of, up_of
from sequencer.features.base import Feature
from sequencer.model.frame import AXES, Axis, Hand, Point, others
from sequencer.model.job import Job, Joint
from sequencer.model.shapes import Bounds
from sequencer.paper.outlines import Eye, eye
from sequencer.paper.scene import FROM_THE_LEFT, Arrow, Scene, Thing
from sequencer.solid.parts import blank_solid, feature_solid
from sequencer.solid.solids import Solid, without
from sequencer.solid.taking_apart import Layers, Obstacles, ways_apart

_ASIDE = 0.12
"""Between things that no joint connects, share of the size of what stands before."""
_MEET = 0.5
"""Pieces closer than this meet: a loose fit, mm."""

_FEW = 2
"""Arrows that may be heavy: more would cover the pieces."""
_CLEAR = 0.025
"""Between what is to be told apart in the picture: share of the size of the whole."""


@dataclass(frozen=True, eq=False)
class Whole:
    """A job's pieces where they stand in the scene's frame: x to the right, y away from the viewer, z up.

    made
        Pieces as they are at some moment of the making, in their own frames; a piece that is not in it is as drawn.
    """

    job: Job
    placement: Placement
    made: Mapping[str, Solid] = field(default_factory=dict)
    drawn: Whole | None = None
    """The same with every piece as drawn, which knows what stands in the way of what; None if this is it."""

    def made_of(self, made: Mapping[str, Solid]) -> Whole:
        """The same whole with its pieces as they are at a moment of the making."""
        return replace(self, made=made, drawn=self.drawn or self)

    @cached_property
    def turns(self) -> Mapping[str, Pose]:
        """How the place each piece has in its group is turned and moved into the scene, by piece. Groups stand beside each
        other; a piece without a place lies behind them as it is drawn."""
        found: dict[str, Pose] = {}
        right = 0.0
        for group in (*self.placement.groups, *((piece,) for piece in self.placement.unplaced)):
            pose = Pose(turned_so(up_of(self.placement, group), front_of(self.placement, group)))
            boxes = [self._box(piece, pose) for piece in group]
            low = [min(box.low[index] for box in boxes) for index in range(3)]
            high = [max(box.high[index] for box in boxes) for index in range(3)]
            moved = Pose(pose.turn, Point(right - low[0], -low[1], -low[2]))
            found |= dict.fromkeys(group, moved)
            right += (high[0] - low[0]) + _ASIDE * max(b - a for a, b in zip(low, high, strict=True))
        return found

    def _box(self, piece: str, turned: Pose) -> Bounds:
        block = self.placement.bodies[piece].block
        pose = turned.after(self.placement.poses.get(piece, Pose()))
        ends = [pose.to_world(ORIGIN), pose.to_world(Point(block.length, block.width, block.thickness))]
        return Bounds(Point(*map(min, *ends)), Point(*map(max, *ends)))

    def pose(self, piece: str) -> Pose:
        """Where a piece stands in the scene."""
        return self.turns[piece].after(self.placement.poses.get(piece, Pose()))

    @cached_property
    def boxes(self) -> Mapping[str, Bounds]:
        """The block around each piece in the scene."""
        return {piece: self._box(piece, turn) for piece, turn in self.turns.items()}

    @cached_property
    def standing(self) -> Mapping[str, Solid]:
        """Every piece as it is drawn."""
        return self._pieces(lambda part, feature: True)

    @cached_property
    def loose(self) -> Mapping[str, Solid]:
        """Every piece as it is when it is put together: without what is cut after."""
        return self._pieces(lambda part, feature: feature.when == "loose")

    def body_in_place(self, piece: str) -> Solid:
        """A piece as it is made by now, in the frame of its group."""
        return self.made[piece].posed(self.placement.poses.get(piece, Pose()))

    def _pieces(self, has: Callable[[str, Feature], bool]) -> dict[str, Solid]:
        """Every piece where it stands: as it is made, or with the features of its part that are asked for."""
        cut: dict[tuple[str, Hand | None], Solid] = {}
        found = {}
        for name, body in self.placement.bodies.items():
            if name in self.made:
                found[name] = self.made[name].posed(self.pose(name))
                continue
            key = (body.part.name, body.piece.hand)
            if key not in cut:
                features = (each for each in body.part.features_of(body.piece.hand) if has(body.part.name, each))
                shapes = (shape for each in features for shape in feature_solid(body, each))
                cut[key] = without(blank_solid(body), shapes)
            found[name] = cut[key].posed(self.pose(name))
        return found

    @cached_property
    def obstacles(self) -> Obstacles:
        """What stands in the way of what, as drawn. Holes that nothing goes into and broken edges stop nothing and are left
        out, which takes a tenth of the time."""
        if self.drawn is not None:
            return self.drawn.obstacles
        seats = [seat for joint in self.job.joints.values() for seat in (joint.its, joint.seat)]
        named = {(self.job.part_of(seat.piece).name, seat.feature) for seat in seats}

        def matters(part: str, feature: Feature) -> bool:
            return feature.when == "loose" and (feature.nature not in ("bored", "edge") or (part, feature.name) in named)

        return Obstacles(self._pieces(matters))

    def letter(self, piece: str) -> str:
        """The letter of a piece's part."""
        return self.job.part_of(piece).letter

    def number(self, piece: str) -> str:
        """The letter of a piece's part, with the number that tells it from others alike: `A 1`, as it is written on the wood."""
        part = self.job.part_of(piece)
        number = piece.rpartition(".")[2]
        return f"{part.letter} {number}" if number.isdigit() else part.letter

    def hand(self, piece: str) -> str:
        """Which hand a piece is, if its part has two."""
        return self.job.pieces()[piece].hand or ""

    def contact(self, joint: Joint) -> tuple[Point, Axis]:
        """The middle of where the pieces of a joint meet, and the axis they meet along."""
        turn = self.turns[joint.enters_piece]
        bearing = self.placement.bearing(joint.name)
        if bearing is not None:
            spots = {axis: sum(bearing.region(axis)) / 2 for axis in others(bearing.looks.axis)}
            spots[bearing.looks.axis] = bearing.face
            return turn.to_world(Point(spots["x"], spots["y"], spots["z"])), turn.direction(bearing.looks).axis
        one, two = self.boxes[joint.enters_piece], self.boxes[joint.seat.piece]
        shared = [(max(one.low[at], two.low[at]), min(one.high[at], two.high[at])) for at in range(3)]
        least = min(range(3), key=lambda at: shared[at][1] - shared[at][0])
        return Point(*((low + high) / 2 for low, high in shared)), AXES[least]


def turned_so(up: Direction, front: Direction) -> tuple[Direction, Direction, Direction]:
    """The turn that lets one direction point up and another towards the viewer."""
    to = {up.axis: Direction("z", up.sign), front.axis: Direction("y", -front.sign)}
    third = next(axis for axis in AXES if axis not in to)
    for sign in (1, -1):
        x, y, z = (to.get(axis, Direction("x", sign)) for axis in AXES)
        if _right_handed(x, y, z):
            return x, y, z
    raise ValueError(f"up and front are both along {third}")


def _right_handed(x: Direction, y: Direction, z: Direction) -> bool:
    cyclic = (AXES.index(y.axis) - AXES.index(x.axis)) % 3 == 1
    return x.sign * y.sign * z.sign == (1 if cyclic else -1)


def assembled_scene(whole: Whole, pieces: Collection[str] = (), looks_from: Point = FROM_THE_LEFT) -> Scene:
    """All pieces, or some, where the joints place them, with the letters of their parts."""
    chosen = [piece for piece in whole.job.pieces() if not pieces or piece in pieces]
    things = tuple(Thing(whole.standing[piece], letter=whole.letter(piece)) for piece in chosen)
    return Scene(things, title=f"{whole.job.name}, put together", looks_from=looks_from)


def exploded_scene(whole: Whole, looks_from: Point = FROM_THE_LEFT) -> Scene:
    """Every piece moved out along the ways it goes in by, with a thin arrow back for each joint."""
    bodies = {piece: (piece,) for piece in whole.job.pieces()}
    moves = _spread(whole, bodies, eye(looks_from), whole.job.joints.values(), _TAKEN_APART)
    things = tuple(
        Thing(whole.standing[piece].moved(*moves[piece]), letter=whole.letter(piece), name=whole.hand(piece)) for piece in bodies
    )
    arrows = _ways_in(whole, bodies, moves, whole.job.joints.values())
    return Scene(things, arrows=arrows, title=f"{whole.job.name}, taken apart", looks_from=looks_from)


def joining_scene(
    whole: Whole, joints: Sequence[Joint], before: Sequence[Joint] = (), looks_from: Point = FROM_THE_LEFT
) -> Scene:
    """What `joints` put together, apart, with what the joints `before` have joined already as one; arrows show the way in."""
    about = list(dict.fromkeys(piece for joint in joints for piece in (joint.seat.piece, joint.enters_piece)))
    bodies = _bodies(whole.job, about, before)
    moves = _spread(whole, bodies, eye(looks_from), joints, _JOINING)
    things = tuple(
        Thing(whole.loose[piece].moved(*moves[name]), letter=whole.number(piece), name=whole.hand(piece))
        for name, own in bodies.items()
        for piece in own
    )
    arrows = _ways_in(whole, bodies, moves, joints)
    if len(arrows) <= _FEW:
        arrows = tuple(replace(arrow, heavy=True) for arrow in arrows)
    return Scene(things, arrows=arrows, looks_from=looks_from)


def _bodies(job: Job, about: Sequence[str], before: Sequence[Joint]) -> dict[str, tuple[str, ...]]:
    """The pieces in question, each with all that is joined to it by then, by the name of its first piece."""
    links = [{joint.enters_piece, joint.seat.piece} for joint in before]
    order = list(job.pieces())
    bodies: dict[str, tuple[str, ...]] = {}
    done: set[str] = set()
    for piece in order:
        if piece not in about or piece in done:
            continue
        reached = _reached({piece}, links)
        done |= reached
        bodies[piece] = tuple(each for each in order if each in reached)
    return bodies


def _reached(start: set[str], links: Sequence[set[str]]) -> set[str]:
    """Everything that links connect to the start."""
    reached = set(start)
    grown = True
    while grown:
        more = {piece for link in links if reached & link for piece in link} - reached
        reached |= more
        grown = bool(more)
    return reached


@dataclass(frozen=True)
class _Gaps:
    """How far layers are moved apart: at least, a share of the size of the whole, and at most, times the size of what they are
    moved from."""

    least: float
    most: float


_TAKEN_APART = _Gaps(0.05, 1.5)
_JOINING = _Gaps(0.2, 0.6)
"""A picture of joining is small: room for its arrows comes before seeing every piece alone."""


@dataclass(frozen=True, eq=False)
class _Spreading:
    """Moves bodies apart until each can be told in a viewer's picture."""

    whole: Whole
    bodies: Mapping[str, tuple[str, ...]]
    joints: Mapping[str, set[str]]
    """The two bodies that each joint joins."""
    viewer: Eye
    size: float
    gaps: _Gaps

    @cached_property
    def links(self) -> list[set[str]]:
        """The pairs of bodies that are joined or touch."""
        touching = [
            {one, two}
            for one, two in combinations(self.bodies, 2)
            if any(_touch(a, b) for a in self._boxes(one) for b in self._boxes(two))
        ]
        return [*self.joints.values(), *touching]

    def apart(self, names: Sequence[str]) -> dict[str, Point]:
        """How far each body is moved, of bodies that belong together: first what is joined last, if it can be."""
        kept = _clusters(names, self._made_first(names))
        found = self._layers(kept) or self._layers([(name,) for name in names])
        if found is None:
            return dict.fromkeys(names, ORIGIN)
        moves: dict[str, Point] = {}
        placed: list[Bounds] = []
        at = 0.0
        for layer in found.layers:
            inner = {name: move for cluster in _clusters(layer, self.links) for name, move in self.apart(cluster).items()}
            boxes = [self._moved(box, inner[name]) for name in layer for box in self._boxes(name)]
            if placed:
                clear = max((self._clear(one, two, found.axis) for one in placed for two in boxes), default=0.0)
                at = max(at + self.gaps.least * self.size, min(clear, at + self.gaps.most * _size(placed)))
            shift = Point(*(at if axis == found.axis else 0.0 for axis in AXES))
            moves |= {name: _sum(inner[name], shift) for name in layer}
            placed += [self._moved(box, shift) for box in boxes]
        return moves

    def _layers(self, kept: Sequence[tuple[str, ...]]) -> Layers | None:
        """The layers that bodies come apart in, where some are kept together; None if none do."""
        if len(kept) < 2:
            return None
        members = {each[0]: each for each in kept}
        pieces = {first: tuple(piece for name in each for piece in self.bodies[name]) for first, each in members.items()}
        found = [
            Layers(way.axis, tuple(tuple(name for first in layer for name in members[first]) for layer in way.layers))
            for way in ways_apart(self.whole.obstacles, pieces)
        ]
        return max(found, key=lambda way: (self._straight(way), len(way.layers)), default=None)

    def _straight(self, way: Layers) -> int:
        """How many joints between layers meet along the axis, less those that would be drawn apart sideways."""
        layer = {name: number for number, names in enumerate(way.layers) for name in names}
        inside = ((name, pair) for name, pair in self.joints.items() if pair <= set(layer))
        apart = (name for name, pair in inside if len({layer[each] for each in pair}) > 1)
        return sum(1 if self.whole.contact(self.whole.job.joints[name])[1] == way.axis else -1 for name in apart)

    def _made_first(self, names: Sequence[str]) -> list[set[str]]:
        """The pairs of bodies among these that are joined before others of them are: by a joint that comes before another,
        or in a sub-assembly that others join."""
        inside = {name: pair for name, pair in self.joints.items() if pair <= set(names)}
        job = self.whole.job
        before = {name for later in inside for name in job.joints[later].after}
        assemblies = {job.joints[name].assembly for name in inside}
        if len(assemblies) > 1:
            before |= {name for name in inside if job.joints[name].assembly}
        return [inside[name] for name in inside if name in before]

    def _boxes(self, name: str) -> list[Bounds]:
        return [self.whole.boxes[piece] for piece in self.bodies[name]]

    @staticmethod
    def _moved(box: Bounds, by: Point) -> Bounds:
        return Bounds(_sum(box.low, by), _sum(box.high, by))

    def _clear(self, one: Bounds, two: Bounds, axis: Axis) -> float:
        """How far the second box must be moved up along an axis to be beside the first in the picture; 0 if it never covers
        it. Both are seen as the six-sided outlines of boxes, which are square to the same three directions."""
        ways = {each: self.viewer.direction(Point(*(float(each == own) for own in AXES))) for each in AXES}
        along = ways[axis]
        last, first = float("inf"), 0.0
        for each in AXES:
            for sign in (1, -1):
                across = (-ways[each].y * sign, ways[each].x * sign)
                length = (across[0] ** 2 + across[1] ** 2) ** 0.5
                if length < 1e-9:
                    continue
                turned = {side: (across[0] * way.x + across[1] * way.y) / length for side, way in ways.items()}
                room = sum(_most(one, side, turned[side]) + _most(two, side, -turned[side]) for side in AXES)
                room += _CLEAR * self.size
                speed = (across[0] * along.x + across[1] * along.y) / length
                if speed > 1e-9:
                    last = min(last, room / speed)
                elif speed < -1e-9:
                    first = max(first, room / speed)
                elif room < 0:
                    return 0.0
        return last if first <= last < float("inf") else 0.0


def _clusters(names: Sequence[str], links: Sequence[set[str]]) -> list[tuple[str, ...]]:
    """Names in the sets that links between them connect."""
    inside = [link for link in links if link <= set(names)]
    found: list[tuple[str, ...]] = []
    for name in names:
        if not any(name in cluster for cluster in found):
            reached = _reached({name}, inside)
            found.append(tuple(each for each in names if each in reached))
    return found


def _size(boxes: Sequence[Bounds]) -> float:
    """The longest side of the box around boxes."""
    return max((max(box.high[at] for box in boxes) - min(box.low[at] for box in boxes) for at in range(3)), default=0.0)


def _touch(one: Bounds, two: Bounds) -> bool:
    """Whether two boxes share anything or meet."""
    spans = zip(one.low, one.high, two.low, two.high, strict=True)
    return all(min(high, stop) - max(low, start) > -_MEET for low, high, start, stop in spans)


def _most(box: Bounds, axis: Axis, share: float) -> float:
    low, high = box.span(axis)
    return max(low * share, high * share)


def _at(point: Point, axis: Axis, level: float) -> Point:
    """A point moved along an axis to a level."""
    return Point(*(level if own == axis else value for own, value in zip(AXES, point, strict=True)))


def _sum(one: Point, two: Point) -> Point:
    return Point(one.x + two.x, one.y + two.y, one.z + two.z)


def _spread(
    whole: Whole, bodies: Mapping[str, tuple[str, ...]], viewer: Eye, joints: Collection[Joint], gaps: _Gaps
) -> dict[str, Point]:
    """How far each body is moved so that nothing covers anything; bodies that no joint connects stay as they stand."""
    of = {piece: name for name, own in bodies.items() for piece in own}
    pairs = {
        joint.name: {of[joint.enters_piece], of[joint.seat.piece]}
        for joint in joints
        if joint.enters_piece in of and joint.seat.piece in of
    }
    boxes = [whole.boxes[piece] for piece in of]
    spreading = _Spreading(whole, bodies, pairs, viewer, _size(boxes), gaps)
    moves: dict[str, Point] = {}
    for cluster in _clusters(tuple(bodies), spreading.links):
        moves |= spreading.apart(cluster)
    return moves


def _ways_in(
    whole: Whole,
    bodies: Mapping[str, tuple[str, ...]],
    moves: Mapping[str, Point],
    joints: Collection[Joint],
) -> tuple[Arrow, ...]:
    """An arrow for each joint between bodies that were moved apart, from the one that is brought to the other."""
    of = {piece: name for name, own in bodies.items() for piece in own}
    straight: dict[tuple[str, str], Arrow] = {}
    slanting: dict[tuple[str, str], Arrow] = {}
    for joint in joints:
        enters, into = of.get(joint.enters_piece), of.get(joint.seat.piece)
        if enters is None or into is None or enters == into:
            continue
        turned = len(bodies[enters]) > len(bodies[into])
        spot, meets = whole.contact(joint)
        away = Point(*(one - two for one, two in zip(moves[enters], moves[into], strict=True)))
        moved = [axis for axis, gone in zip(AXES, away, strict=True) if abs(gone) > 1e-6]
        if not moved:
            continue
        axis = meets if meets in moved else max(moved, key=lambda each: abs(away[AXES.index(each)]))
        at = AXES.index(axis)
        # From the tip of what goes in to the mouth of what it goes into.
        box = whole.boxes[joint.enters_piece]
        tip = _sum(spot, moves[enters])
        tip = _at(tip, axis, (box.low if away[at] > 0 else box.high)[at] + moves[enters][at])
        mouth = _at(tip, axis, spot[at] + moves[into][at])
        if (tip[at] - mouth[at]) * away[at] <= 0:
            mouth = _at(tip, axis, tip[at] - away[at])
        arrow = Arrow(mouth, tip) if turned else Arrow(tip, mouth)
        (straight if moved == [axis] else slanting).setdefault((enters, into), arrow)
    # A body that is away along two axes is shown by the joint that is away along one, if it has one.
    shown = {name for pair in straight for name in pair}
    rest = {pair: arrow for pair, arrow in slanting.items() if not set(pair) <= shown}
    return (*straight.values(), *rest.values())
