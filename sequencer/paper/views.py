"""What is seen of a part from one side: edges visible or hidden, and the waste of a cut. mm.

Works on the neutral shapes of `model.shapes` alone. A view frame names the axes anew: x to the right, y up, z towards
the viewer, so that every function here looks along z from above.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import atan2, hypot, pi, sqrt

from sequencer.model.shapes import Cone, Prism, Rind, bounds
from sequencer.paper.frames import Cut, Flat, Frame, Spot, circle
from sequencer.paper.wood_runs import STEP, Runs, Wood

_SAME = 0.3
"""Depths closer than this belong to the same edge."""
_SMOOTH = 26.0
"""Corners that turn by less, in degrees, are part of a curve and show no edge line."""


@dataclass(frozen=True)
class Line:
    """A straight piece of an edge as seen, in the view frame."""

    start: Flat
    stop: Flat
    hidden: bool = False


def body_of(frame: Frame, section: str) -> Prism:
    """The uncut part in the view frame: a square block, or round stock lying along its length."""
    right, up, depth = frame.size
    if section != "round":
        return Prism("z", ((0.0, 0.0), (right, 0.0), (right, up), (0.0, up)), 0.0, depth)
    block = frame.block
    round_body = Prism("x", circle((block.width / 2, block.thickness / 2), block.thickness / 2), 0.0, block.length)
    turned = frame.shapes([round_body])[0]
    assert isinstance(turned, Prism)
    return turned


def _edges(shape: Cut) -> list[tuple[Spot, Spot]]:
    """The edges of a shape as segments; where a curved side turns out of sight, the line where it does."""
    if isinstance(shape, Rind):
        return _cone_edges(shape.core)
    if isinstance(shape, Cone):
        return _cone_edges(shape)
    outline, found = shape.outline, []
    rings = list(zip(outline, (*outline[1:], *outline[:1]), strict=True))
    if shape.axis == "z":
        return [((*here, at), (*then, at)) for at in (shape.start, shape.stop) for here, then in rings]

    def place(along: float, pair: Flat) -> Spot:
        return (along, pair[0], pair[1]) if shape.axis == "x" else (pair[0], along, pair[1])

    for at in (shape.start, shape.stop):
        found += [(place(at, here), place(at, then)) for here, then in rings if abs(here[0] - then[0]) > 1e-9]
    low, high = min(pair[0] for pair in outline), max(pair[0] for pair in outline)
    for before, (here, then) in zip((outline[-1], *outline[:-1]), rings, strict=True):
        turn = abs(atan2(then[1] - here[1], then[0] - here[0]) - atan2(here[1] - before[1], here[0] - before[0]))
        turn = min(turn, 2 * pi - turn) * 180 / pi
        if turn > _SMOOTH or here[0] in (low, high):
            found.append((place(shape.start, here), place(shape.stop, here)))
    return found


def _cone_edges(cone: Cone) -> list[tuple[Spot, Spot]]:
    ends = ((cone.start, cone.radius_start), (cone.stop, cone.radius_stop))
    if cone.axis == "z":
        rings = [(at, circle(cone.centre, radius)) for at, radius in ends if radius > 1e-9]
        return [((*here, at), (*then, at)) for at, ring in rings for here, then in zip(ring, (*ring[1:], *ring[:1]), strict=True)]
    middle, depth = cone.centre

    def place(along: float, across: float) -> Spot:
        return (along, across, depth) if cone.axis == "x" else (across, along, depth)

    caps = [(place(at, middle - radius), place(at, middle + radius)) for at, radius in ends if radius > 1e-9]
    sides = [
        (place(cone.start, middle + sign * cone.radius_start), place(cone.stop, middle + sign * cone.radius_stop))
        for sign in (-1, 1)
    ]
    return caps + sides


def _meets(a: Spot, b: Spot, lines: Sequence[tuple[float, float, float, float]]) -> list[float]:
    """Where along a segment, 0 to 1, other lines of the view cross or touch it."""
    ax, ay = a[0], a[1]
    dx, dy = b[0] - ax, b[1] - ay
    left, right, low, high = min(ax, b[0]) - 0.01, max(ax, b[0]) + 0.01, min(ay, b[1]) - 0.01, max(ay, b[1]) + 0.01
    length, cuts = dx * dx + dy * dy, []
    for px, py, qx, qy in lines:
        if (px < left and qx < left) or (px > right and qx > right) or (py < low and qy < low) or (py > high and qy > high):
            continue
        ex, ey = qx - px, qy - py
        cross = dx * ey - dy * ex
        if abs(cross) < 1e-9 * length:
            cuts += [((px - ax) * dx + (py - ay) * dy) / length, ((qx - ax) * dx + (qy - ay) * dy) / length]
            continue
        along = ((px - ax) * ey - (py - ay) * ex) / cross
        other = ((px - ax) * dy - (py - ay) * dx) / cross
        if -1e-6 <= other <= 1 + 1e-6:
            cuts.append(along)
    return sorted({0.0, 1.0, *(round(cut, 9) for cut in cuts if 0 < cut < 1)})


def seen(wood: Wood) -> tuple[Line, ...]:
    """Every edge line of the wood: visible ones first, then those hidden behind wood. Coincident lines appear once."""
    segments = [
        (a, b) for shape in (wood.body, *wood.cuts) for a, b in _edges(shape) if abs(a[0] - b[0]) + abs(a[1] - b[1]) > 1e-6
    ]
    flat = sorted(
        {
            (*min(p, q), *max(p, q))
            for p, q in (((round(a[0], 6), round(a[1], 6)), (round(b[0], 6), round(b[1], 6))) for a, b in segments)
        }
    )
    visible: dict[tuple[Flat, Flat], Line] = {}
    hidden: dict[tuple[Flat, Flat], Line] = {}
    for a, b in segments:
        # The chords of small circles are short enough to be judged as a whole.
        cuts = _meets(a, b, flat) if hypot(b[0] - a[0], b[1] - a[1]) > 1.0 else [0.0, 1.0]
        for state, low, high in _joined(wood, a, b, cuts):
            line = Line(_between(a, b, low), _between(a, b, high), state == "hidden")
            if line.start == line.stop:
                continue
            key = (min(line.start, line.stop), max(line.start, line.stop))
            (hidden if line.hidden else visible).setdefault(key, line)
    shown = _unlike(visible.values(), ())
    return (*shown, *_unlike(hidden.values(), shown))


def _joined(wood: Wood, a: Spot, b: Spot, cuts: Sequence[float]) -> list[tuple[str, float, float]]:
    """The stretches of one edge that are seen or hidden, neighbours of the same state joined."""
    stretches: list[tuple[str, float, float]] = []
    for low, high in pairwise(cuts):
        if high - low < 1e-7:
            continue
        state = _state(wood, a, b, (low + high) / 2)
        if stretches and stretches[-1][0] == state and stretches[-1][2] == low:
            stretches[-1] = (state, stretches[-1][1], high)
        elif state:
            stretches.append((state, low, high))
    return stretches


def _between(a: Spot, b: Spot, share: float) -> Flat:
    return round(a[0] + share * (b[0] - a[0]), 4), round(a[1] + share * (b[1] - a[1]), 4)


def _state(wood: Wood, a: Spot, b: Spot, share: float) -> str:
    """`seen`, `hidden`, or empty where the wood has no edge here: judged by the wood a hair to either side."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    length = hypot(dx, dy)
    nx, ny = -dy / length * STEP, dx / length * STEP
    x, y, depth = a[0] + share * dx, a[1] + share * dy, a[2] + share * (b[2] - a[2])
    left, right = wood.runs(x + nx, y + ny), wood.runs(x - nx, y - ny)
    surfaces = [_surface(runs, depth) for runs in (left, right)]
    if surfaces[0] is None and surfaces[1] is None:
        return ""
    if surfaces[0] is not None and surfaces[1] is not None and surfaces[0][0] == surfaces[1][0]:
        further = (
            _surface(wood.runs(x + 3 * nx, y + 3 * ny), depth),
            _surface(wood.runs(x - 3 * nx, y - 3 * ny), depth),
        )
        if further[0] is not None and further[1] is not None:
            slopes = further[0][1] - surfaces[0][1], surfaces[1][1] - further[1][1]
            if abs(slopes[0] - slopes[1]) < 0.1 * STEP and abs(surfaces[0][1] - surfaces[1][1]) < 0.1:
                return ""
    open_to_viewer = any(all(high <= depth + _SAME for _, high in runs) for runs in (left, right))
    return "seen" if open_to_viewer else "hidden"


def _surface(runs: Runs, depth: float) -> tuple[bool, float] | None:
    """The surface of the wood at a depth: whether it faces the viewer, and where exactly."""
    for low, high in runs:
        if abs(high - depth) < _SAME:
            return True, high
        if abs(low - depth) < _SAME:
            return False, low
    return None


def _unlike(lines: Iterable[Line], over: Sequence[Line]) -> list[Line]:
    """Lines, the longest first, without those that lie wholly on one already kept or on one of `over`."""
    rails: dict[tuple[int, int], list[Line]] = {}
    for line in over:
        rails.setdefault(_rail(line), []).append(line)
    kept: list[Line] = []
    for line in sorted(
        lines, key=lambda each: (-hypot(each.stop[0] - each.start[0], each.stop[1] - each.start[1]), each.start, each.stop)
    ):
        turn, off = _rail(line)
        near = (rails.get((turn + t, off + o), ()) for t in (-1, 0, 1) for o in (-1, 0, 1))
        if not any(_covers(other, line) for rail in near for other in rail):
            kept.append(line)
            rails.setdefault((turn, off), []).append(line)
    return sorted(kept, key=lambda each: (each.start, each.stop))


def _rail(line: Line) -> tuple[int, int]:
    """The endless line it lies on, coarsely: direction and distance from the corner. Lines on one rail may coincide."""
    (ax, ay), (bx, by) = sorted((line.start, line.stop))
    length = hypot(bx - ax, by - ay)
    dx, dy = (bx - ax) / length, (by - ay) / length
    if dx < 1e-4:
        dx, dy = 0.0, 1.0
    return round(atan2(dy, dx) * 200), round((ax * dy - ay * dx) * 5)


def _covers(outer: Line, inner: Line) -> bool:
    (ax, ay), (bx, by) = outer.start, outer.stop
    dx, dy = bx - ax, by - ay
    length = dx * dx + dy * dy
    for px, py in (inner.start, inner.stop):
        if abs((px - ax) * dy - (py - ay) * dx) > 0.01 * sqrt(length):
            return False
        along = ((px - ax) * dx + (py - ay) * dy) / length
        if not -1e-3 <= along <= 1 + 1e-3:
            return False
    return True


def hatched(wood: Wood, waste: Sequence[Cut], spacing: float) -> tuple[Line, ...]:
    """Slanting lines `spacing` mm apart over the wood that `waste` takes away, clipped exactly to it."""
    flat = sorted({(a[0], a[1], b[0], b[1]) for shape in (wood.body, *wood.cuts, *waste) for a, b in _edges(shape)})
    found: list[Line] = []
    step = spacing * sqrt(2.0)
    spans = [bounds(cut) for cut in waste]
    if not spans:
        return ()
    low = min(span.low.y - span.high.x for span in spans)
    high = max(span.high.y - span.low.x for span in spans)
    left, right = min(span.low.x for span in spans), max(span.high.x for span in spans)
    offset = (int(low // step) + 0.5) * step
    while offset < high:
        a, b = (left, left + offset, 0.0), (right, right + offset, 0.0)
        start: float | None = None
        cuts = _meets(a, b, flat)
        for first, second in pairwise(cuts):
            x, y = _between(a, b, (first + second) / 2)
            takes = second - first > 1e-7 and wood.takes(waste, x, y)
            if takes and start is None:
                start = first
            if not takes and start is not None and second - first > 1e-7:
                found.append(Line(_between(a, b, start), _between(a, b, first)))
                start = None
        if start is not None:
            found.append(Line(_between(a, b, start), _between(a, b, 1.0)))
        offset += step
    return tuple(found)
