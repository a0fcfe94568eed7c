"""Places the sizes of a view around it: arrows, extension lines and labels, stacked outwards, never over each other."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from sequencer.paper.svg import TEXT, Box, Paper, Pen, text_width

Side = str
"""`below`, `above`, `left` or `right` of the view."""

_ARROW = 1.9
_TAIL = 2.6
"""Length of the outside arrows' tails, mm."""
_GAP = 0.8
_HALF = TEXT * 0.48


@dataclass(frozen=True)
class Size:
    """A size to show, in paper millimetres: between two points, level or upright, with its label.

    leader
        A small round cut seen end on: one line leads from its rim to the label instead of two from its sides.
    arc
        An angle: the arc between its arms. A line leads from the middle of it, where the size starts and stops.
    """

    level: bool
    start: Paper
    stop: Paper
    label: str
    leader: bool = False
    arc: tuple[Paper, ...] = ()

    def moved(self, x: float, y: float) -> Size:
        """The size shifted by x and y."""

        def over(point: Paper) -> Paper:
            return point[0] + x, point[1] + y

        return Size(
            self.level, over(self.start), over(self.stop), self.label, self.leader, tuple(over(point) for point in self.arc)
        )


@dataclass(frozen=True)
class Placed:
    """A size with its place: the lane's distance from the view, where its label is, whether its arrows point inwards."""

    size: Size
    side: Side
    lane: float
    label: Box
    outside: bool


@dataclass
class _Lane:
    number: int
    labels: list[tuple[float, float]]
    lines: list[tuple[float, float]]
    breadth: float


def placed(sizes: Sequence[Size], view: Box, first: dict[Side, float]) -> tuple[Placed, ...]:
    """Every size with its place. `first` is the room kept free beside the view before the first lane, by side."""
    found: list[Placed] = []
    for side in ("below", "above", "left", "right"):
        level = side in ("below", "above")
        mine = sorted((size for size in sizes if size.level == level and _side(size, view) == side), key=_span_key)
        stacked = _stacked(mine, side, view, first.get(side, 1.5))
        if any(one.label.overlaps(other.label, 0.3) for one in stacked for other in found):
            # Labels meet beyond a corner: these begin outside of everything there is.
            beyond = around(found, view)
            clear = max(view.left - beyond.left if side == "left" else beyond.right - view.right, 0.0) + _GAP
            stacked = _stacked(mine, side, view, max(clear, first.get(side, 1.5)))
        found += stacked
    return tuple(found)


def _side(size: Size, view: Box) -> Side:
    if size.level:
        return "above" if (size.start[1] + size.stop[1]) / 2 < (view.top + view.bottom) / 2 - 0.01 else "below"
    return "right" if (size.start[0] + size.stop[0]) / 2 > (view.left + view.right) / 2 + 0.01 else "left"


def _ends(size: Size) -> tuple[float, float]:
    a, b = (size.start[0], size.stop[0]) if size.level else (size.start[1], size.stop[1])
    return min(a, b), max(a, b)


def _spread(size: Size) -> tuple[float, float]:
    """How far it reaches where its lines run: a leader is one line."""
    low, high = _ends(size)
    return ((low + high) / 2, (low + high) / 2) if size.leader else (low, high)


def _span_key(size: Size) -> tuple[float, float, str]:
    low, high = _ends(size)
    return round(high - low, 3), round(low, 3), size.label


def _stacked(sizes: Sequence[Size], side: Side, view: Box, first: float) -> list[Placed]:
    level = side in ("below", "above")
    lanes: list[_Lane] = []
    chosen: list[tuple[Size, int, tuple[float, float], bool]] = []
    for size in sizes:
        low, high = _spread(size)
        extent = text_width(size.label) + 1 if level else 2 * _HALF + 0.6
        number, label, outside = _free(lanes, low, high, extent, view, level, 1.2 if size.leader else _TAIL + _ARROW)
        while len(lanes) <= number:
            lanes.append(_Lane(len(lanes), [], [], 0.0))
        lane = lanes[number]
        reach = 0.0 if size.leader else _TAIL + _ARROW
        taken = (min(label[0], low - reach), max(label[1], high + reach)) if outside else (low, high)
        lane.labels.append(taken)
        lane.breadth = max(lane.breadth, 2 * _HALF if level else text_width(size.label))
        for inner in lanes[: number + 1]:
            inner.lines += [(low, low), (high, high)]
        chosen.append((size, number, label, outside))
    middles: list[float] = []
    edge = first
    for lane in lanes:
        middles.append(edge + lane.breadth / 2)
        edge += lane.breadth + _GAP
    return [
        Placed(size, side, middles[number], _label_box(size, side, middles[number], label, view), outside)
        for size, number, label, outside in chosen
    ]


def _free(
    lanes: Sequence[_Lane], low: float, high: float, extent: float, view: Box, level: bool, reach: float
) -> tuple[int, tuple[float, float], bool]:
    """The innermost lane with room, where the label goes in it, and whether the arrows stand outside."""
    middle = (low + high) / 2
    if high - low >= extent + 2 * _ARROW + 0.8:
        options = [((middle - extent / 2, middle + extent / 2), False)]
    else:
        after = ((high + reach, high + reach + extent), True)
        before = ((low - reach - extent, low - reach), True)
        end = view.right if level else view.bottom
        options = (
            [after, before]
            if high + reach + extent <= end or middle <= ((view.left + view.right) / 2 if level else (view.top + view.bottom) / 2)
            else [before, after]
        )
    number = 0
    while True:
        for label, outside in options:
            taken = (min(label[0], low - reach), max(label[1], high + reach)) if outside else (low, high)
            # Beyond every lane an extension line may have to pass under a label, which whitens its ground.
            if number > len(lanes) or _fits(lanes, number, taken, label, (low, high)):
                return number, label, outside
        number += 1


def _fits(
    lanes: Sequence[_Lane], number: int, taken: tuple[float, float], label: tuple[float, float], ends: tuple[float, float]
) -> bool:
    if number < len(lanes):
        here = lanes[number]
        if any(taken[0] < other[1] - 1e-6 and other[0] < taken[1] - 1e-6 for other in here.labels):
            return False
        if any(label[0] - 0.3 < line < label[1] + 0.3 for line, _ in here.lines):
            return False
    # Its extension lines must not run through labels nearer to the view.
    return not any(inside[0] + 1e-6 < end < inside[1] - 1e-6 for lane in lanes[:number] for inside in lane.labels for end in ends)


def _label_box(size: Size, side: Side, lane: float, label: tuple[float, float], view: Box) -> Box:
    if side in ("below", "above"):
        y = view.bottom + lane if side == "below" else view.top - lane
        return Box(label[0] + 0.5, y - _HALF, label[1] - 0.5, y + _HALF)
    x = view.left - lane if side == "left" else view.right + lane
    middle, half = (label[0] + label[1]) / 2, text_width(size.label) / 2
    return Box(x - half, middle - _HALF, x + half, middle + _HALF)


def around(places: Sequence[Placed], view: Box) -> Box:
    """The box around a view with its sizes."""
    left, top, right, bottom = view.left, view.top, view.right, view.bottom
    for each in places:
        box = each.label
        left, top, right, bottom = min(left, box.left), min(top, box.top), max(right, box.right), max(bottom, box.bottom)
        low, high = _spread(each.size)
        reach = _TAIL + _ARROW if each.outside and not each.size.leader else 0.0
        if each.size.level:
            left, right = min(left, low - reach), max(right, high + reach)
        else:
            top, bottom = min(top, low - reach), max(bottom, high + reach)
    return Box(left, top, right, bottom)


def draw(pen: Pen, places: Sequence[Placed], view: Box) -> None:
    """Draws placed sizes: extension lines first, then dimension lines, arrows and labels."""
    thin, extensions = 0.22, []
    for each in places:
        if each.size.leader:
            continue
        beyond = 0.9
        for x, y in (each.size.start, each.size.stop):
            if each.side == "below":
                extensions.append(((x, y + 0.6), (x, view.bottom + each.lane + beyond)))
            elif each.side == "above":
                extensions.append(((x, y - 0.6), (x, view.top - each.lane - beyond)))
            elif each.side == "left":
                extensions.append(((x - 0.6, y), (view.left - each.lane - beyond, y)))
            else:
                extensions.append(((x + 0.6, y), (view.right + each.lane + beyond, y)))
    pen.lines("extension", extensions, thin)
    for each in places:
        low, high = _ends(each.size)
        level = each.size.level
        at = {
            "below": view.bottom + each.lane,
            "above": view.top - each.lane,
            "left": view.left - each.lane,
            "right": view.right + each.lane,
        }[each.side]

        def point(along: float, at: float = at, level: bool = level) -> Paper:
            return (along, at) if level else (at, along)

        step: Paper = (1.0, 0.0) if level else (0.0, 1.0)
        back: Paper = (-step[0], -step[1])
        middle = (each.label.left + each.label.right) / 2, (each.label.top + each.label.bottom) / 2
        if each.size.leader:
            _lead(pen, each, point, middle, thin)
        elif each.outside:
            reach = _TAIL + _ARROW
            pen.lines("dimension", [(point(low - reach), point(low)), (point(high), point(high + reach))], thin)
            pen.arrow(point(low), step)
            pen.arrow(point(high), back)
        else:
            pen.lines("dimension", [(point(low), point(high))], thin)
            pen.arrow(point(low), back)
            pen.arrow(point(high), step)
        pen.text(each.size.label, middle, kind="size", clear=True)


def _lead(pen: Pen, each: Placed, point: Callable[[float], Paper], label: Paper, thin: float) -> None:
    """From the rim of a round cut straight out to the lane, along it to the label; the arrow points at the rim."""
    low, high = _ends(each.size)
    middle, radius = (low + high) / 2, (high - low) / 2
    out = {"below": (0.0, 1.0), "above": (0.0, -1.0), "left": (-1.0, 0.0), "right": (1.0, 0.0)}[each.side]
    x, y = each.size.start
    centre = (middle, y) if each.size.level else (x, middle)
    rim = (centre[0] + out[0] * radius, centre[1] + out[1] * radius)
    pen.lines("dimension", [(rim, point(middle)), (point(middle), label)], thin)
    if each.size.arc:
        pen.path("angle", each.size.arc, thin * 1.5)
        pen.circle(rim, 0.4, thin, "#000")
    else:
        pen.arrow(rim, (-out[0], -out[1]))
