"""Where wood is along a line of sight through a piece, before it is drawn: what its shapes leave. mm."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot, sqrt

from sequencer.model.shapes import Bounds, Prism, Rind, bounds
from sequencer.paper.frames import Cut, Flat

Runs = list[tuple[float, float]]

STEP = 0.02
"""How far beside an edge the wood is looked at."""


def crossings(outline: Sequence[Flat], side: int, at: float) -> Runs:
    """Where the line `coordinate = at` runs inside a polygon."""
    other, cuts = 1 - side, []
    before = outline[-1]
    for point in outline:
        if (before[side] > at) != (point[side] > at):
            share = (at - before[side]) / (point[side] - before[side])
            cuts.append(before[other] + share * (point[other] - before[other]))
        before = point
    cuts.sort()
    return list(zip(cuts[::2], cuts[1::2], strict=False))


def _runs(shape: Cut, x: float, y: float) -> Runs:
    """The stretches along z that a shape takes up at one place of the view."""
    if isinstance(shape, Prism):
        if shape.axis == "z":
            inside = any(low < x < high for low, high in crossings(shape.outline, 1, y))
            return [(shape.start, shape.stop)] if inside else []
        along, across = (x, y) if shape.axis == "x" else (y, x)
        return crossings(shape.outline, 0, across) if shape.start < along < shape.stop else []
    if isinstance(shape, Rind):
        return _rind_runs(shape, x, y)
    if shape.axis == "z":
        away = hypot(x - shape.centre[0], y - shape.centre[1])
        if away >= max(shape.radius_start, shape.radius_stop):
            return []
        if away <= min(shape.radius_start, shape.radius_stop):
            return [(shape.start, shape.stop)]
        share = (away - shape.radius_start) / (shape.radius_stop - shape.radius_start)
        edge = shape.start + share * (shape.stop - shape.start)
        return [(edge, shape.stop)] if shape.radius_stop > shape.radius_start else [(shape.start, edge)]
    along, across = (x, y) if shape.axis == "x" else (y, x)
    if not shape.start < along < shape.stop:
        return []
    share = (along - shape.start) / (shape.stop - shape.start)
    radius = shape.radius_start + share * (shape.radius_stop - shape.radius_start)
    off = across - shape.centre[0]
    if abs(off) >= radius:
        return []
    half = sqrt(radius * radius - off * off)
    return [(shape.centre[1] - half, shape.centre[1] + half)]


def _rind_runs(shape: Rind, x: float, y: float) -> Runs:
    """The stretches of the square round a core that the core leaves."""
    box = bounds(shape)
    if not (box.low.x < x < box.high.x and box.low.y < y < box.high.y):
        return []
    return _less([box.span("z")], _runs(shape.core, x, y))


def _less(runs: Runs, gone: Runs) -> Runs:
    """Stretches without those taken away."""
    for low, high in gone:
        left: Runs = []
        for start, stop in runs:
            if high <= start or low >= stop:
                left.append((start, stop))
                continue
            if low > start + 1e-6:
                left.append((start, low))
            if high < stop - 1e-6:
                left.append((high, stop))
        runs = left
    return runs


class Wood:
    """A body less the shapes cut from it, in a view frame. `body` is one prism; shapes as `Frame.shapes` gives them."""

    def __init__(self, body: Prism, cuts: Sequence[Cut]) -> None:
        self.body = body
        self.cuts = tuple(cuts)
        self._around: list[tuple[Bounds, Cut]] = [(bounds(cut), cut) for cut in self.cuts]

    def runs(self, x: float, y: float) -> Runs:
        """Stretches of wood along the line of sight at one place, from far to near."""
        left = _runs(self.body, x, y)
        if not left:
            return left
        for around, cut in self._around:
            if around.low.x <= x <= around.high.x and around.low.y <= y <= around.high.y:
                left = _less(left, _runs(cut, x, y))
        left.sort()
        return left

    def takes(self, cuts: Sequence[Cut], x: float, y: float) -> bool:
        """Whether further cuts take wood away at this place, to be hatched. Not where wood stays between waste before and
        behind it: hatching over a tenon would say to saw it off."""
        left = self.runs(x, y)
        gone = [run for cut in cuts for run in _runs(cut, x, y)]
        taken = [
            (max(low, start), min(high, stop))
            for low, high in gone
            for start, stop in left
            if min(high, stop) - max(low, start) > 0.01
        ]
        stays = _less(left, gone) if taken else []
        if not stays:
            return bool(taken)
        back, front = min(low for low, _ in stays), max(high for _, high in stays)
        return not (any(low < back for low, _ in taken) and any(high > front for _, high in taken))
