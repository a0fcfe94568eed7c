"""Details of splines across glued corners: where the slot lies, how it is chiselled, how splines are sawn and trimmed. mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import sqrt

from sequencer.design.poses import Pose
from sequencer.features.base import mm
from sequencer.model.frame import Point, axis_of
from sequencer.model.plan import Step, Task
from sequencer.paper.corner_pictures import STANDS_OUT, Corner, corner_scene, first_spline
from sequencer.paper.scene import FROM_THE_LEFT, Arrow, Scene, Size, Thing
from sequencer.paper.whole import Whole
from sequencer.planning.loose import SLOTS
from sequencer.solid.solids import Solid, box, joined

CLOSE = 22.0
"""How far beyond the slot a corner that is seen from close by is drawn, mm."""
LONG_STRIP, SAW_HIGH, SAW_OUT = 90.0, 45.0, 45.0
"""Of the strip that splines are sawn off, how much is drawn behind the cut; of the saw, how high its blade is and how far it
stands out over the strip, mm."""
HOOK, STOP, BOARD = 14.0, 20.0, 10.0
"""Of a bench hook: how deep and how high its stop is, how thick its board, mm."""
CARD = 1.5
"""How thick stiff card is drawn, mm."""
ABOVE = 8.0
"""How far above what is cut the tool is drawn to stand, mm."""


def corner_scenes(step: Step, task: Task, whole: Whole, pieces: Sequence[str]) -> Iterator[tuple[str, Scene, bool]]:
    """What is done at a corner with a spline: its slot set out, sawn, and chiselled where the saw leaves waste; the spline on its
    way in; and sawn off and planed. Each with its words, and whether it shows the whole work."""
    if task.kind == "trim-splines":
        yield from ((words, scene, True) for words, scene in trimmed(task, whole, pieces))
        return
    slots = task.kind == SLOTS.name
    if slots:
        yield from ((words, scene, False) for words, scene in slot_details(task, whole))
    scene = corner_scene(task, whole, pieces)
    if scene is not None:
        yield "", scene, True
    cleared = slots and any("chisel" in tool for tool in step.tools)
    scene = chiselled(task, whole, pieces) if cleared else None
    if scene is not None:
        yield "then chisel, one side up", scene, True


def slot_details(task: Task, whole: Whole) -> Iterator[tuple[str, Scene]]:
    """Where the slot of a step lies, with its sizes: the corner seen square from the front, then its outer side; nothing for a
    step without one."""
    spline = first_spline(task, whole)
    if spline is None:
        return
    corner = Corner(whole, spline)
    tip, slot = corner.tips[0], corner.slot
    solids = [corner.stands(name) for name in spline.pieces]
    front, back = min(each.bounds.low.y for each in solids), max(each.bounds.high.y for each in solids)
    low, high = sorted(each.y for each in corner.tips)
    leg, down = slot.length / sqrt(2), slot.depth + CLOSE
    near = box([tip.x - down, front - 1.0, tip.z - down], [tip.x + down, back + 1.0, tip.z + 1.0])
    waste = corner.slot_solid()
    wood = [Thing(each & near, letter=whole.letter(name)) for name, each in zip(spline.pieces, solids, strict=True)]
    legs = (
        Size(
            Point(tip.x, front, tip.z),
            Point(tip.x + side * leg, front, tip.z - leg),
            mm(slot.length),
            Point(float(side), 0.0, 1.0),
        )
        for side in (-1, 1)
    )
    yield (
        "from the front",
        Scene((*wood, Thing(waste & joined(solids), "tool", through=True)), tuple(legs), looks_from=Point(0.0, -1.0, 0.0)),
    )
    away, side = Point(-1.0, 0.0, 1.0), Point(0.0, 1.0, 0.0)
    cut = [Thing(each.solid - waste, letter=each.letter) for each in wood]
    sizes = (
        Size(Point(tip.x, front, tip.z), Point(tip.x, low, tip.z), mm(low - front), away),
        Size(Point(tip.x, low, tip.z), Point(tip.x, high, tip.z), mm(high - low), away),
        Size(Point(tip.x, back, tip.z), Point(tip.x + leg, back, tip.z - leg), mm(slot.length), side),
    )
    part = whole.job.part_of(spline.pieces[0])
    face = "face side" if slot.across() == axis_of(part.face_side) else "face edge"
    at = Point(tip.x + leg, front, tip.z - leg)
    named = Arrow(Point(at.x, front - 14.0, at.z), at, face)
    yield (
        f"on the outer {'edge' if axis_of(slot.long) == 'y' else 'face'}",
        Scene((*cut, Thing(waste & joined(solids), "waste")), sizes, (named,), looks_from=Point(1.0, 0.0, 1.0)),
    )


class _EdgeUp:
    """A corner that lies with one outer edge up and level in the vice."""

    def __init__(self, corner: Corner) -> None:
        self.corner = corner
        level = Pose(corner.pose.turn)
        self._from_corner, self._level = corner.pose.inverse, level
        self.tips = [level.to_world(each) for each in corner.spline.tip]
        tipped, middle = self.tips[0], self.wood(corner.spline.pieces[0]).bounds
        self.inwards = 1.0 if (middle.low.x + middle.high.x) / 2 > tipped.x else -1.0

    def wood(self, name: str) -> Solid:
        """A piece of the corner, where it lies in the picture."""
        return self.corner.whole.body_in_place(name).posed(self._level)

    def seen(self, solid: Solid) -> Solid:
        """What stands in the picture of the corner that points up, as it lies here."""
        return solid.posed(self._from_corner).posed(self._level)

    def vice(self, pieces: Sequence[str]) -> Iterator[Thing]:
        """The cheeks of the vice, low on both sides of the edge that is up."""
        bounds = self.wood(self.corner.spline.pieces[0]).bounds
        top = self.tips[0].z - self.corner.slot.depth - ABOVE
        tip = self.tips[0].x
        x = sorted((tip + self.inwards * 4.0, tip + self.inwards * 120.0))
        front, back = bounds.span("y")
        yield Thing(box([x[0], back, top - 40.0], [x[1], back + 15.0, top]), "tool")
        yield Thing(box([x[0], front - 15.0, top - 40.0], [x[1], front, top]), "tool", name="vice")


def chiselled(task: Task, whole: Whole, pieces: Sequence[str]) -> Scene | None:
    """The waste between two saw cuts chiselled out, the work flat with one outer edge up, by a chisel that fits the slot."""
    spline = first_spline(task, whole)
    if spline is None:
        return None
    there = _EdgeUp(Corner(whole, spline))
    tip, slot = there.tips[0], spline.slot
    low, high = sorted(each.y for each in there.tips)
    waste = there.seen(there.corner.slot_solid())
    wood = {name: there.wood(name) for name in pieces}
    at = tip.x + there.inwards * 0.55 * slot.length
    blade = box([at - 1.5, low + 0.2, tip.z - 0.3 * slot.length], [at + 1.5, high - 0.2, tip.z + 55.0])
    handle = box([at - 9.0, (low + high) / 2 - 9.0, tip.z + 55.0], [at + 9.0, (low + high) / 2 + 9.0, tip.z + 100.0])
    things = [Thing(each - waste, letter=whole.letter(name)) for name, each in wood.items()]
    left = Thing((waste & joined(wood.values())) - blade, "waste")
    tool = Thing(joined((blade, handle)), "tool", name=f"chisel, {mm(slot.width)} mm or less")
    return Scene((*things, left, tool, *there.vice(pieces)))


def trimmed(task: Task, whole: Whole, pieces: Sequence[str]) -> Iterator[tuple[str, Scene]]:
    """A spline sawn off over a card, then planed flush from the corner inwards; nothing for a step without one."""
    spline = first_spline(task, whole)
    if spline is None:
        return
    there = _EdgeUp(Corner(whole, spline))
    tip, low, high = there.tips[0], *sorted(each.y for each in there.tips)
    out = there.seen(there.corner.spline_solid(STANDS_OUT))
    wood = [Thing(there.wood(name), letter=whole.letter(name)) for name in pieces]
    first = there.wood(spline.pieces[0]).bounds
    vice = tuple(there.vice(pieces))
    long = there.corner.slot.length
    x = sorted((tip.x + there.inwards * (long + STANDS_OUT + 4.0), tip.x + there.inwards * (long + 60.0)))
    card = box([x[0], first.low.y, tip.z], [x[1], first.high.y, tip.z + CARD])
    start = tip.x - there.inwards * 12.0
    blade = sorted((start, x[0] if there.inwards < 0 else x[1]))
    saw = box([blade[0], first.low.y - 25.0, tip.z + CARD], [blade[1], (low + high) / 2, tip.z + CARD + 1.0])
    yield (
        "saw, flat on the card",
        Scene((*wood, Thing(out), Thing(card, "behind", name="card"), Thing(saw, "tool", name="saw"), *vice)),
    )
    rest = out & box([-1e4, -1e4, -1e4], [1e4, 1e4, tip.z + CARD])
    plane = sorted((tip.x + there.inwards * 6.0, tip.x + there.inwards * 90.0))
    sole = tip.z + CARD
    body = box([plane[0], first.low.y - 6.0, sole], [plane[1], first.high.y + 6.0, sole + 30.0])
    way = Arrow(
        Point(tip.x - there.inwards * 30.0, (low + high) / 2, sole + 45.0),
        Point(tip.x + there.inwards * 60.0, (low + high) / 2, sole + 45.0),
        heavy=True,
    )
    yield (
        "then plane, from the corner inwards",
        Scene((*wood, Thing(rest, "waste"), Thing(body, "tool", name="block plane"), *vice), arrows=(way,)),
    )


def sawn_off(task: Task, what: str) -> Scene | None:
    """Loose pieces sawn off a strip on the bench hook; None where the step does not say their sizes."""
    sizes: Mapping[str, float | None] = {setting.name: setting.value for setting in task.settings}
    length, width, thick = (sizes.get(name) or 0.0 for name in ("length", "width", "thickness"))
    if not length or not width or not thick or task.cut != "crosscut":
        return None
    strip = box([0.0, 0.0, 0.0], [LONG_STRIP, width, thick])
    piece = box([LONG_STRIP + 1.0, 0.0, 0.0], [LONG_STRIP + 1.0 + length, width, thick])
    held = (LONG_STRIP - 75.0, LONG_STRIP - 6.0)
    stop = box([held[0], width, 0.0], [held[1], width + HOOK, STOP])
    board = box([held[0], -10.0, -BOARD], [held[1] + length + 20.0, width + HOOK, 0.0])
    lip = box([held[0], -22.0, -BOARD - 18.0], [held[1] + length + 20.0, -10.0, 0.0])
    saw = box([LONG_STRIP, -SAW_OUT, thick / 2], [LONG_STRIP + 1.0, width + SAW_OUT / 2, thick / 2 + SAW_HIGH])
    front = LONG_STRIP + 1.0
    return Scene(
        (
            Thing(strip, name="strip"),
            Thing(piece, name=what),
            Thing(stop, "behind", name="bench hook"),
            Thing(joined((board, lip)), "behind"),
            Thing(saw, "tool", name="saw"),
        ),
        (
            Size(Point(front, 0.0, thick), Point(front + length, 0.0, thick), mm(length), Point(0.0, 0.0, 1.0)),
            Size(Point(0.0, 0.0, thick), Point(0.0, width, thick), mm(width), Point(-1.0, 0.0, 0.0)),
        ),
        looks_from=FROM_THE_LEFT,
    )
