"""The whole thing where it stands in a picture: upright as it is used, the side with a front towards the viewer. mm."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

from sequencer.design.placement import Placement
from sequencer.design.poses import ORIGIN, Direction, Pose, normal
from sequencer.design.standing import front_of, up_of
from sequencer.features.base import Feature
from sequencer.model.frame import AXES, Axis, FaceName, Hand, Point, others
from sequencer.model.job import Job, Joint
from sequencer.model.shapes import Bounds
from sequencer.solid.parts import blank_solid, feature_solid
from sequencer.solid.solids import Solid, without
from sequencer.solid.taking_apart import Obstacles

_ASIDE = 0.12
"""Between things that no joint connects, share of the size of what stands before."""


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
    on_top: Direction | None = None
    """Which way of the frame of its groups is turned up; None where it stands as it is used."""

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
            up, front = up_of(self.placement, group), front_of(self.placement, group)
            if self.on_top is not None and self.on_top != up:
                # What stood up before looks away from the viewer, or towards it where the work is turned right over.
                up, front = self.on_top, front if front.axis != self.on_top.axis else up.reversed
            pose = Pose(turned_so(up, front))
            boxes = [self._box(piece, pose) for piece in group]
            low = [min(box.low[index] for box in boxes) for index in range(3)]
            high = [max(box.high[index] for box in boxes) for index in range(3)]
            moved = Pose(pose.turn, Point(right - low[0], -low[1], -low[2]))
            found |= dict.fromkeys(group, moved)
            right += (high[0] - low[0]) + _ASIDE * max(b - a for a, b in zip(low, high, strict=True))
        return found

    def lying_with(self, piece: str, face: FaceName) -> Whole:
        """The same whole with a face of a piece, as its part is drawn on that hand, turned up, as it lies to be worked there."""
        own = self.placement.poses.get(piece)
        return self if own is None else replace(self, on_top=own.direction(normal(face)))

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
