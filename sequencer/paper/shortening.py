"""Long scenes with the stretches taken out in which nothing happens, as drawings of long work are broken. mm.

A stick of 2400 x 20 would be a hair line on a card. Where no body has a corner and no size an end, a stretch says
nothing: it is sawn out along a zigzag, and the rest moves up. Sizes keep what they say.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from sequencer.model.frame import AXES, Axis, Point, others
from sequencer.model.shapes import Bounds
from sequencer.paper.scene import Scene, Thing
from sequencer.solid.solids import Solid, joined, prism

_CLEAR = 0.35
"""Wood left beside whatever happens, as a share of the length wanted; both sides of a break together."""
_GAP = 0.04
"""Width of a break as it is drawn, as a share of the length wanted."""
_ENOUGH = 0.3
"""No further break for less than this over the length wanted, as a share of it."""


@dataclass(frozen=True)
class _Break:
    """A stretch taken out from `start` to `stop` along an axis; what follows moves up by `by`."""

    axis: Axis
    start: float
    stop: float
    by: float

    def place(self, point: Point) -> Point:
        """Where a point is after it; what was in the stretch comes to stand before it."""
        at = point[AXES.index(self.axis)]
        if at <= self.start:
            return point
        to = at - self.by if at >= self.stop else self.start - 4 * (self.stop - self.start - self.by)
        return point._replace(**{self.axis: to})


def room(things: Sequence[Thing]) -> Bounds:
    """The box around things."""
    found = [thing.solid.bounds for thing in things]
    low, high = (zip(*ends, strict=True) for ends in ([each.low for each in found], [each.high for each in found]))
    return Bounds(Point(*map(min, low)), Point(*map(max, high)))


def shortened(scene: Scene, axis: Axis, length: float) -> Scene | None:
    """The scene at most `length` long along an axis, or as short as it gets; None where there is nothing to take out.
    Every thing in it is some body, not nothing."""
    breaks = _breaks(scene, axis, length)
    for each in reversed(breaks):
        scene = _without(scene, each)
    return scene if breaks else None


def _breaks(scene: Scene, axis: Axis, length: float) -> list[_Break]:
    """What is taken out, in order along the axis: from the longest empty stretches first."""
    index = AXES.index(axis)
    spots = [float(at) for thing in scene.things for at in thing.solid.mesh.corners[:, index]]
    spots += [point[index] for size in scene.sizes for point in (size.start, size.stop)]
    if not spots:
        return []
    spots.sort()
    left, gap = spots[-1] - spots[0] - length, _GAP * length
    found: list[_Break] = []
    for start, stop in sorted(pairwise(spots), key=lambda pair: (round(pair[0] - pair[1], 3), pair[0])):
        out = min(stop - start - _CLEAR * length - gap, left)
        if (found and left <= _ENOUGH * length) or out <= 2 * gap:
            break
        middle = (start + stop) / 2
        found.append(_Break(axis, middle - (out + gap) / 2, middle + (out + gap) / 2, out))
        left -= out
    return sorted(found, key=lambda each: each.start)


def _without(scene: Scene, gone: _Break) -> Scene:
    broken = _sawn(scene, gone)
    place = gone.place
    return replace(
        scene,
        things=tuple(replace(thing, solid=broken(thing)) for thing in scene.things),
        sizes=tuple(replace(size, start=place(size.start), stop=place(size.stop)) for size in scene.sizes),
        arrows=tuple(replace(arrow, start=place(arrow.start), stop=place(arrow.stop)) for arrow in scene.arrows),
        marks=tuple(replace(mark, at=place(mark.at)) for mark in scene.marks),
    )


def _sawn(scene: Scene, gone: _Break) -> Callable[[Thing], Solid]:
    """Saws a stretch out of things along a zigzag over the broader side of the wood."""
    around = room([thing for thing in scene.things if thing.look in ("wood", "waste")] or scene.things)
    everything = room(scene.things)
    one, two = others(gone.axis)
    across, through = (one, two) if around.size(one) >= around.size(two) else (two, one)
    tooth = around.size(across) / 3
    swing = 0.25 * tooth
    low, high = everything.span(across)
    first = around.span(across)[0]
    count = int((first - low) / tooth) + 2
    rows = [first + tooth * n for n in range(-count, int((high - first) / tooth) + 3)]
    start, stop = everything.span(gone.axis)
    edge = [(gone.start + (swing if n % 2 else -swing), row) for n, row in enumerate(rows)]
    far = [(at + gone.stop - gone.start, row) for at, row in edge]
    before = [(start - 1.0, rows[0]), *edge, (start - 1.0, rows[-1])]
    after = [*far, (stop + 1.0, rows[-1]), (stop + 1.0, rows[0])]
    floor, top = everything.span(through)
    in_order = AXES.index(gone.axis) < AXES.index(across)

    def kept(outline: list[tuple[float, float]]) -> Solid:
        return prism(through, [[(a, b) if in_order else (b, a) for a, b in outline]], floor - 1.0, top + 1.0)

    near, beyond = kept(before), kept(after)
    back = {each: -gone.by if each == gone.axis else 0.0 for each in AXES}

    def saw(thing: Thing) -> Solid:
        rest = (thing.solid & beyond).moved(back["x"], back["y"], back["z"])
        return joined(each for each in ((thing.solid & near), rest) if not each.empty)

    return saw
