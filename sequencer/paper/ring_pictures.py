"""Pictures of mitred frames and boxes as they are glued: laid in a row, taped and rolled up; or with blocks at their corners and
cramps both ways; or with a band round them. mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sequencer.design.poses import Direction, Pose, normal
from sequencer.model.frame import Point, others
from sequencer.model.job import Joint
from sequencer.model.plan import Plan, Step
from sequencer.paper.scene import Arrow, Scene, Thing
from sequencer.paper.whole import Whole, turned_so
from sequencer.planning.mitred_corners import mitred, mitres_of
from sequencer.planning.rolled_up import ring_from, upright
from sequencer.solid.solids import Solid, box, joined

TAPE, TAPE_WIDE, TAPE_LONG = 0.8, 12.0, 22.0
"""Of tape as it is drawn: its thickness, its width, and how far it reaches to either side of a joint, mm."""
LOW = 50.0
"""Up to this height of a corner one length of tape is drawn, else three, mm."""
BAND, BAND_WIDE = 2.0, 20.0
"""Of a band: its thickness and its width as they are drawn, mm."""
JAW, BAR = 8.0, 7.0
"""Of a cramp: the thickness of its jaws and of its bar as they are drawn, mm."""
BLOCK = 30.0
"""How far a corner block reaches where the step does not say it, mm."""


class Ring:
    """A ring of mitred pieces in a picture: how they lie in a row, and how they stand closed with their lower edges down."""

    def __init__(self, whole: Whole, joints: Sequence[Joint], first: str) -> None:
        self.whole, self.joints = whole, joints
        self.row = ring_from(whole.job, joints, whole.placement, first)
        self._run = upright(whole.job, joints, whole.placement)
        self._mitres = {piece: mitre for joint in joints for piece, _, mitre in mitres_of(whole.job, joint)}

    def in_a_row(self, *, outside_up: bool) -> tuple[list[Thing], list[float]]:
        """The pieces side by side, points touching, outside up or turned over; and where the joints between them are."""
        things, at, joints = [], 0.0, []
        for piece in self.row:
            outside = normal(self._mitres[piece].long)
            low = self.whole.placement.poses[piece].own(Direction(self._run, -1))
            pose = Pose(turned_so(outside, low) if outside_up else turned_so(outside.reversed, low.reversed))
            solid = self.whole.made[piece].posed(pose)
            bounds = solid.bounds
            things.append(Thing(solid.moved(at - bounds.low.x, -bounds.low.y, -bounds.low.z), letter=self.whole.number(piece)))
            at += bounds.size("x")
            joints.append(at)
        return things, joints[:-1]

    def standing(self, pieces: Sequence[str]) -> tuple[list[Thing], Pose]:
        """The pieces closed, a box on its lower edges and a frame on its face, with the letters of their parts; and how they are
        turned."""
        first = self.row[0]
        seen = self.whole.placement.poses[first].direction(normal(self.whole.job.part_of(first).face_side))
        up = seen.reversed if seen.axis == self._run else Direction(self._run, 1)
        pose = Pose(turned_so(up, Direction(others(self._run)[0], -1)))
        solids = {piece: self.whole.body_in_place(piece).posed(pose) for piece in pieces}
        return [Thing(solid, letter=self.whole.letter(piece)) for piece, solid in solids.items()], pose

    def around(self, pose: Pose) -> Solid:
        """The ring alone, closed, where it stands."""
        return joined(self.whole.body_in_place(piece).posed(pose) for piece in self.row)


def ring_of(step: Step, whole: Whole, joints: Sequence[Joint]) -> Ring | None:
    """The ring that a step closes, from the piece that its lines name first; None where mitres close none."""
    mitres = [joint for joint in joints if mitred(whole.job, joint)]
    pieces = dict.fromkeys(piece for joint in mitres for piece in (joint.enters_piece, joint.seat.piece))
    said = " ".join(step.together)
    first = min(
        (piece for piece in pieces if whole.number(piece) in said), key=lambda each: said.find(whole.number(each)), default=""
    )
    if not mitres or len(mitres) != len(pieces) or any(piece not in whole.placement.poses for piece in pieces):
        return None
    ring = Ring(whole, mitres, first)
    return ring if len(ring.row) == len(pieces) else None


def rolled_scenes(ring: Ring, pieces: Sequence[str], *, tried: bool) -> Iterator[tuple[str, Scene]]:
    """The row as it is taped, where it is `tried`; turned over; and rolled up with its last corner taped."""
    things, joints = ring.in_a_row(outside_up=True)
    high, top = things[0].solid.bounds.size("y"), max(thing.solid.bounds.high.z for thing in things)
    if tried:
        tapes = [
            box([at - TAPE_LONG, y - TAPE_WIDE / 2, top], [at + TAPE_LONG, y + TAPE_WIDE / 2, top + TAPE])
            for at in joints
            for y in _levels(high)
        ]
        taped = [Thing(tape, "tool", name="" if number else "tape") for number, tape in enumerate(tapes)]
        yield "outside up, points touching", Scene((*things, *taped))
    over, _ = ring.in_a_row(outside_up=False)
    end = over[-1].solid.bounds
    middle, level = (end.low.y + end.high.y) / 2, end.high.z + 12.0
    way = Arrow(Point(end.high.x, middle, level), Point(end.low.x, middle, level + 28.0), "roll up", heavy=True)
    yield "turned over, mitres up", Scene(tuple(over), arrows=(way,))
    closed, pose = ring.standing(pieces)
    yield "rolled up", Scene((*closed, *_tape_at_last(ring, pose)))


def _levels(high: float) -> tuple[float, ...]:
    return (high / 2,) if high <= LOW else (0.16 * high, high / 2, 0.84 * high)


def _tape_at_last(ring: Ring, pose: Pose) -> Iterator[Thing]:
    """The tape across the last corner, on the outside of both pieces that meet there."""
    solid = ring.around(pose)
    bounds = solid.bounds
    first, last = (ring.whole.body_in_place(piece).posed(pose).bounds for piece in (ring.row[0], ring.row[-1]))
    outer = box(
        [bounds.low.x - TAPE, bounds.low.y - TAPE, bounds.low.z], [bounds.high.x + TAPE, bounds.high.y + TAPE, bounds.high.z]
    ) - box([bounds.low.x, bounds.low.y, bounds.low.z - 1.0], [bounds.high.x, bounds.high.y, bounds.high.z + 1.0])
    x, y = (
        bounds.high[axis]
        if min(first.high[axis], last.high[axis]) > (bounds.low[axis] + bounds.high[axis]) / 2
        and max(first.low[axis], last.low[axis]) > (bounds.low[axis] + bounds.high[axis]) / 2
        else bounds.low[axis]
        for axis in (0, 1)
    )
    for number, level in enumerate(_levels(bounds.size("z"))):
        z = bounds.low.z + level
        near = box([x - TAPE_LONG, y - TAPE_LONG, z - TAPE_WIDE / 2], [x + TAPE_LONG, y + TAPE_LONG, z + TAPE_WIDE / 2])
        yield Thing(outer & near, "tool", name="" if number else "tape")


def cramped_scene(ring: Ring, pieces: Sequence[str], step: Step, plan: Plan) -> Scene | None:
    """The ring as it is cramped: with a band, or with blocks at its corners and cramps both ways, as many as its glue-up takes;
    None for neither."""
    held = {thing.name for thing in step.holding}
    closed, pose = ring.standing(pieces)
    bounds = ring.around(pose).bounds
    if "band-cramp" in held:
        return Scene((*closed, *_band(bounds.low, bounds.high)))
    if not held & {"corner-blocks", "tall-corner-blocks"}:
        return None
    opens = next((setting.value for setting in step.settings if setting.name == "open"), None)
    leg = (opens - max(bounds.size("x"), bounds.size("y"))) / 2 if opens else BLOCK
    high = _cramps_of(ring, plan) // len(ring.row)
    cramps = _cramps(bounds.low, bounds.high, leg) if high <= 1 else _cramps_beside(bounds.low, bounds.high, leg, high)
    return Scene((*closed, *_blocks(bounds.low, bounds.high, leg), *cramps))


def _cramps_of(ring: Ring, plan: Plan) -> int:
    """How many cramps the glue-up of a ring takes, which its trial is made in too."""
    joints = {joint.name for joint in ring.joints}
    glued = (task for task in plan.tasks if task.kind == "glue" and joints <= {*task.joints})
    return int(max((setting.value or 0.0 for task in glued for setting in task.settings if setting.name == "cramps"), default=0))


def _band(low: Point, high: Point) -> Iterator[Thing]:
    """A band halfway up, round the outside."""
    middle = (low.z + high.z) / 2
    half = min(BAND_WIDE, high.z - low.z) / 2
    outer = box([low.x - BAND, low.y - BAND, middle - half], [high.x + BAND, high.y + BAND, middle + half])
    inner = box([low.x, low.y, low.z - 1.0], [high.x, high.y, high.z + 1.0])
    yield Thing(outer - inner, "tool", name="band cramp")


def _blocks(low: Point, high: Point, leg: float) -> Iterator[Thing]:
    """A block round each corner, as high as the work."""
    ring = box([low.x, low.y, low.z - 1.0], [high.x, high.y, high.z + 1.0])
    for number, (x, y) in enumerate(((low.x, low.y), (high.x, low.y), (low.x, high.y), (high.x, high.y))):
        solid = box([x - leg, y - leg, low.z], [x + leg, y + leg, high.z]) - ring
        yield Thing(solid, "behind", name="" if number else "corner block")


def _cramps(low: Point, high: Point, leg: float) -> Iterator[Thing]:
    """Two cramps one way and two over them the other way, each from block to block."""
    for number, across in enumerate((low.y, high.y)):
        side = -1.0 if across == low.y else 1.0
        middle = across + side * 0.5 * leg
        yield Thing(
            _cramp((low.x - leg, high.x + leg), middle, (low.z, high.z), high.z + 4.0), "tool", name="" if number else "cramp"
        )
    for across in (low.x, high.x):
        side = -1.0 if across == low.x else 1.0
        middle = across + side * 0.5 * leg
        turned = _cramp((low.y - leg, high.y + leg), -middle, (low.z, high.z), high.z + 4.0 + 2 * BAR)
        yield Thing(turned.posed(_ACROSS), "tool")


def _cramps_beside(low: Point, high: Point, leg: float, levels: int) -> Iterator[Thing]:
    """Cramps at several heights of a high corner, from bottom to top: their bars lie beside the blocks, those of the other way
    just over them."""
    for level in range(levels):
        z = low.z + (level + 0.5) / levels * (high.z - low.z)
        for number, (edge, side) in enumerate(((low.y, -1.0), (high.y, 1.0))):
            name = "" if level or number else "cramp"
            yield Thing(_cramp_beside((low.x - leg, high.x + leg), edge, side, leg, z - BAR), "tool", name=name)
        for edge, side in ((low.x, -1.0), (high.x, 1.0)):
            turned = _cramp_beside((low.y - leg, high.y + leg), -edge, -side, leg, z)
            yield Thing(turned.posed(_ACROSS), "tool")


def _cramp_beside(span: tuple[float, float], edge: float, side: float, leg: float, low: float) -> Solid:
    """A cramp along x whose bar lies beside the blocks: a jaw at either end reaches in over the middle of a block's leg."""
    middle, outer = edge + side * 0.5 * leg, edge + side * (leg + BAR)
    y = sorted((middle, outer))
    bar_y = sorted((edge + side * leg, outer))
    jaws = [
        box([at - (JAW if at == span[0] else 0.0), y[0], low], [at + (0.0 if at == span[0] else JAW), y[1], low + BAR])
        for at in span
    ]
    bar = box([span[0] - 2 * JAW, bar_y[0], low], [span[1] + 3 * JAW, bar_y[1], low + BAR])
    return joined((*jaws, bar))


_ACROSS = Pose((Direction("y", 1), Direction("x", -1), Direction("z", 1)))
"""What lies along x laid along y."""


def _cramp(span: tuple[float, float], middle: float, high: tuple[float, float], over: float) -> Solid:
    """A cramp along x: a jaw at either end and the bar over both."""
    y = (middle - BAR / 2, middle + BAR / 2)
    jaws = [
        box(
            [at - (JAW if at == span[0] else 0.0), y[0], high[0] + 0.3 * (high[1] - high[0])],
            [at + (0.0 if at == span[0] else JAW), y[1], over + BAR],
        )
        for at in span
    ]
    bar = box([span[0] - 2 * JAW, y[0], over], [span[1] + 3 * JAW, y[1], over + BAR])
    return joined((*jaws, bar))
