"""Pictures of splines across glued corners: the corner up in the vice with the cut, a spline on its way in, and the finished
whole with its splines. mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sequencer.design.poses import Direction, Lean, Pose, normal
from sequencer.design.splines import Spline, splines, true_face
from sequencer.model.frame import Point
from sequencer.model.job import Joint
from sequencer.model.plan import Task
from sequencer.paper.scene import Arrow, Scene, Thing
from sequencer.paper.whole import Whole, turned_so
from sequencer.solid.solids import Solid, box, joined, shape_solid

JAW, CHEEK, WIDE = 45.0, 15.0, 70.0
"""Of the vice as it is drawn: how high its cheeks are, how thick, and how far they reach to either side of the corner, mm."""
BELOW = 12.0
"""How far below the marks the jaws are drawn, mm."""
BLADE, HALF, THICK = 60.0, 95.0, 1.0
"""Of the saw as it is drawn: how high its blade is, half its length, its thickness, mm."""
STANDS_OUT = 3.0
"""How far a spline is drawn to stand out, mm."""


class Corner:
    """A corner of a whole, turned so that it points up and its true face towards the viewer."""

    def __init__(self, whole: Whole, spline: Spline) -> None:
        self.whole, self.spline = whole, spline
        piece, self.slot = spline.pieces[0], spline.slot
        own, pose = whole.placement.bodies[piece], whole.placement.poses[piece]
        (end,) = own.faces((self.slot.end,))
        up, aside, front = (pose.direction(normal(face)) for face in (self.slot.long, end, true_face(own.part, self.slot)))
        turn = turned_so(up, front)
        level = Pose(turn)
        right = level.direction(Direction(aside.axis, aside.sign)).sign
        tip = level.to_world(spline.tip[0])
        self.pose = Pose(turn, Point(0.0, 0.0, 0.0), Lean("y", -45.0 * right, tip))
        self.tips = [self.pose.to_world(each) for each in spline.tip]

    def stands(self, name: str) -> Solid:
        """A piece as it is by now, where it stands in the picture."""
        return self.whole.body_in_place(name).posed(self.pose)

    def slot_solid(self) -> Solid:
        """What the saw takes away, where it stands in the picture."""
        return _slot(self.whole, self.spline).posed(self.pose)

    def spline_solid(self, over: float) -> Solid:
        """The spline, standing out of its slot all round."""
        tip = self.tips[0]
        low, high = sorted(each.y for each in self.tips)
        half, floor = self.spline.floor / 2 + over, tip.z - self.slot.depth
        return box([tip.x - half, low, floor], [tip.x + half, high, tip.z + over])

    @property
    def vice(self) -> tuple[Thing, Thing]:
        """The cheeks of the vice under the cut, on both faces."""
        solids = [self.stands(name).bounds for name in self.spline.pieces]
        front, back = min(each.low.y for each in solids), max(each.high.y for each in solids)
        top = self.tips[0].z - self.slot.depth - BELOW
        span, up = (self.tips[0].x - WIDE, self.tips[0].x + WIDE), (top - JAW, top)
        return (
            Thing(box([span[0], back, up[0]], [span[1], back + CHEEK, up[1]]), "tool"),
            Thing(box([span[0], front - CHEEK, up[0]], [span[1], front, up[1]]), "tool", name="vice"),
        )


def _slot(whole: Whole, spline: Spline) -> Solid:
    piece = spline.pieces[0]
    shapes = whole.placement.bodies[piece].shapes(spline.slot)
    return joined(shape_solid(shape) for shape in shapes).posed(whole.placement.poses[piece])


def first_spline(task: Task, whole: Whole) -> Spline | None:
    joints = (whole.job.joints[name] for name in task.joints)
    found = [each for joint in joints for each in splines(whole.job, whole.placement, joint)]
    return next((each for each in found if each.name(whole.job) in task.folded), next(iter(found), None))


def corner_scene(task: Task, whole: Whole, pieces: Sequence[str]) -> Scene | None:
    """The first corner of a step that saws slots or glues splines in; None where it has none."""
    spline = first_spline(task, whole)
    if spline is None:
        return None
    corner = Corner(whole, spline)
    wood = [Thing(corner.stands(name), letter=whole.letter(name)) for name in pieces]
    tip, slot = corner.tips[0], corner.slot
    if task.kind == "spline":
        over = STANDS_OUT
        lifted = slot.depth + 2 * over + 8.0
        loose = Thing(corner.spline_solid(over).moved(0.0, 0.0, lifted), name="spline")
        way = Arrow(Point(tip.x, tip.y, tip.z + lifted + 30.0), Point(tip.x, tip.y, tip.z + lifted + over + 2.0), heavy=True)
        return Scene((*wood, *corner.vice, loose), arrows=(way,))
    waste = corner.slot_solid()
    low, _ = sorted(each.y for each in corner.tips)
    at = tip.z - slot.depth / 2
    blade = box([tip.x - HALF, low, at], [tip.x + HALF, low + THICK, at + BLADE])
    cut = [replace(each, solid=each.solid - waste) for each in wood]
    gone = Thing(waste & joined(each.solid for each in wood), "waste")
    return Scene((*cut, gone, *corner.vice, Thing(blade, "tool", name="saw")))


def with_splines(scene: Scene, whole: Whole, joints: Sequence[Joint]) -> Scene:
    """The whole with the splines in the corners of some joints, trimmed flush."""
    found = [
        Thing(_slot(whole, each).posed(whole.turns[each.pieces[0]]))
        for joint in joints
        for each in splines(whole.job, whole.placement, joint)
    ]
    return replace(scene, things=(*scene.things, *found)) if found else scene
