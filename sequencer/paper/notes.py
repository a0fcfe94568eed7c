"""What is written beside a picture in the round: sizes, arrows, letters in rings, names. Each takes the best of a few
places. mm on paper, y downwards.

A place costs what it hides and how far off it is; words never share room. The first of equally good places is taken, so
that the same picture always comes out the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import cos, hypot, pi, sin

from sequencer.paper.svg import TEXT, Box, Paper, Pen, text_width

Stroke = tuple[Paper, Paper]

RING = 2.5
"""Radius of the ring round a letter."""
_HALF = TEXT * 0.48
_HEAD, _TAIL = 1.9, 2.6
"""Length of an arrow head, and of the tails of arrows that point inwards from outside."""
_THIN = 0.22
_LANES = (4.0, 6.0, 8.0, 10.5, 13.0, 16.0, 20.0, 25.0)
"""How far off the wood dimension lines may stand."""
APART = 0.5
"""Words keep this far apart."""
_AROUND = tuple((cos(turn * pi / 6), -sin(turn * pi / 6)) for turn in (1, 2, 4, 5, 7, 8, 10, 11, 0, 3, 6, 9))
"""The ways a leader may go, slanting ones first."""
_AWAY = (4.5, 6.5, 9.0, 12.0, 16.0, 21.0, 27.0)
"""How far off what they name words may stand."""


@dataclass(frozen=True)
class Note:
    """Words at a place, with the lines that go with them.

    faint
        Lines that may cross anything: extension lines.
    dot
        Where a leader ends on what it names.
    outline
        The outline of a heavy arrow.
    cost
        Of the place itself, before what is in its way.
    """

    words: str
    box: Box | None
    kind: str
    lines: tuple[Stroke, ...] = ()
    faint: tuple[Stroke, ...] = ()
    heads: tuple[Stroke, ...] = ()
    dot: Paper | None = None
    outline: tuple[Paper, ...] = ()
    ring: bool = False
    thick: float = _THIN
    cost: float = 0.0
    clear: bool = False

    @property
    def around(self) -> Box:
        """The room it takes."""
        points = [point for line in (*self.lines, *self.faint) for point in line]
        points += [*self.outline, *(tip for tip, _ in self.heads)]
        if self.box is not None:
            points += [(self.box.left, self.box.top), (self.box.right, self.box.bottom)]
        across, down = [x for x, _ in points], [y for _, y in points]
        return Box(min(across), min(down), max(across), max(down))

    def draw(self, pen: Pen, dx: float, dy: float) -> None:
        """Draws it shifted by dx and dy."""

        def over(point: Paper) -> Paper:
            return point[0] + dx, point[1] + dy

        pen.lines("extension", [(over(one), over(two)) for one, two in self.faint], _THIN)
        pen.lines("leader" if self.dot else self.kind, [(over(one), over(two)) for one, two in self.lines], self.thick)
        if self.outline:
            pen.path(self.kind, [over(point) for point in self.outline], self.thick, closed=True, fill="#fff")
        for tip, towards in self.heads:
            pen.arrow(over(tip), towards, _HEAD if self.thick < 0.3 else 2.4)
        if self.dot is not None:
            pen.circle(over(self.dot), 0.5, _THIN, "#000")
        if self.box is not None:
            middle = (self.box.left + self.box.right) / 2 + dx, (self.box.top + self.box.bottom) / 2 + dy
            if self.ring:
                pen.circle(middle, self.box.height / 2, 0.35, "#fff")
            pen.text(self.words, middle, kind=self.kind, clear=self.clear and not self.ring, bold=self.kind != "name")


def size_notes(label: str, start: Paper, stop: Paper, away: Paper, middle: Paper) -> Iterator[list[Note]]:
    """Places for a size between two points, standing off them `away`; `middle` is the middle of what is drawn."""
    length = hypot(stop[0] - start[0], stop[1] - start[1])
    if length < 0.6:
        yield from _led(label, "size", [start], text_width(label) + 0.6, 2 * _HALF)
        return
    along = ((stop[0] - start[0]) / length, (stop[1] - start[1]) / length)
    off = _off(along, away, ((start[0] + stop[0]) / 2 - middle[0], (start[1] + stop[1]) / 2 - middle[1]))
    wide, high = text_width(label) + 1.0, 2 * _HALF + 0.6
    gap = min(wide / max(abs(along[0]), 1e-9), high / max(abs(along[1]), 1e-9))
    found: list[Note] = []
    for lane in _LANES:
        one, two = _step(start, off, lane), _step(stop, off, lane)
        faint = ((_step(start, off, 0.7), _step(one, off, 0.9)), (_step(stop, off, 0.7), _step(two, off, 0.9)))
        centre = _step(one, along, length / 2)
        cost = 0.5 * lane
        if length >= gap + 2 * (_HEAD + 0.5):
            halves = ((one, _step(centre, along, -gap / 2)), (_step(centre, along, gap / 2), two))
            out = ((one, _turned(along)), (two, along))
            found.append(Note(label, _box(centre, wide, high), "size", halves, faint, out, cost=cost))
            continue
        lines: tuple[Stroke, ...] = ((one, two),)
        heads, reach = ((one, _turned(along)), (two, along)), 0.0
        if length < 2 * _HEAD + 1.0:
            lines = ((_step(one, along, -_TAIL - _HEAD), one), (two, _step(two, along, _TAIL + _HEAD)))
            heads, reach = ((one, along), (two, _turned(along))), _TAIL + _HEAD
        beside = _support(off, wide, high) + 0.3
        beyond = _support(along, wide, high) + reach + 0.2
        spots = [(_step(two, along, beyond), 0.6), (_step(one, along, -beyond), 0.6), (_step(centre, off, beside), 0.8)]
        found += [Note(label, _box(spot, wide, high), "size", lines, faint, heads, cost=cost + more) for spot, more in spots]
    yield found


def arrow_notes(label: str, start: Paper, stop: Paper, heavy: bool) -> Iterator[list[Note]]:
    """Places for the words of an arrow, with the arrow. A heavy one is long enough to be seen: it grows at its tail."""
    length = hypot(stop[0] - start[0], stop[1] - start[1])
    along = ((stop[0] - start[0]) / length, (stop[1] - start[1]) / length) if length > 1e-6 else (1.0, 0.0)
    least = 9.0 if heavy else 5.0
    if length < least:
        start, length = _step(stop, along, -least), least
    square = (-along[1], along[0])
    outline: tuple[Paper, ...] = ()
    lines: tuple[Stroke, ...] = ()
    heads: tuple[Stroke, ...] = ()
    if heavy:
        neck = _step(stop, along, -3.0)
        outline = (
            *(_step(start, square, 0.75), _step(neck, square, 0.75), _step(neck, square, 1.9), stop),
            *(_step(neck, square, -1.9), _step(neck, square, -0.75), _step(start, square, -0.75)),
        )
        side, thick = 1.9, 0.45
    else:
        lines, heads, side, thick = ((start, _step(stop, along, -1.0)),), ((stop, along),), 0.6, 0.35
    plain = Note(label, None, "feed" if heavy else "way", lines, heads=heads, outline=outline, thick=thick)
    if not label:
        yield [plain]
        return
    wide, high = text_width(label) + 0.6, 2 * _HALF
    centre = _step(start, along, length / 2)
    reach = _support(square, wide, high) + side + 0.3
    spots = [
        (_step(start, along, -_support(along, wide, high) - 0.5), 0.0),
        (_step(centre, square, reach), 0.5),
        (_step(centre, square, -reach), 0.5),
        (_step(stop, along, _support(along, wide, high) + 0.5), 2.0),
        (_step(start, square, reach), 1.0),
        (_step(start, square, -reach), 1.0),
    ]
    yield [replace(plain, box=_box(spot, wide, high), cost=cost) for spot, cost in spots]


def letter_notes(letter: str, spots: Sequence[Paper]) -> Iterator[list[Note]]:
    """Places for a letter in a ring: on the piece at one of `spots`, else beside it with a leader from one of them."""
    radius = max(RING, text_width(letter) / 2 + 0.8)
    on = [Note(letter, _box(spot, 2 * radius, 2 * radius), "letter", ring=True, cost=0.1 * n) for n, spot in enumerate(spots)]
    yield on
    yield from _led(letter, "letter", _few(spots), 2 * radius, 2 * radius, ring=True)


def name_notes(words: str, spots: Sequence[Paper], ring: Box | None = None) -> Iterator[list[Note]]:
    """Places for the name of a thing: beside the ring its letter stands in, on the thing, or beside it with a leader."""
    wide, high = text_width(words, bold=False) + 0.6, 2 * _HALF
    if ring is not None:
        x, y = (ring.left + ring.right) / 2, (ring.top + ring.bottom) / 2
        across, down = (ring.width + wide) / 2 + APART, (ring.height + high) / 2 + APART
        sides = ((x + across, y), (x - across, y), (x, y + down), (x, y - down))
        yield [Note(words, _box(spot, wide, high), "name", cost=0.2 * n) for n, spot in enumerate(sides)]
    yield [Note(words, _box(spot, wide, high), "name", cost=0.1 * n) for n, spot in enumerate(spots)]
    yield from _led(words, "name", _few(spots), wide, high)


def _few(spots: Sequence[Paper]) -> Sequence[Paper]:
    """Some of the spots, central ones, not all in one place."""
    return spots[:: max(len(spots) // 12, 1)][:3]


def _led(words: str, kind: str, spots: Sequence[Paper], wide: float, high: float, ring: bool = False) -> Iterator[list[Note]]:
    """Places beside what is named, with a leader to one of its spots: one lot for each distance."""
    for away in _AWAY:
        lot = []
        for number, spot in enumerate(spots):
            for way in _AROUND:
                middle = _step(spot, way, away + _support(way, wide, high) - 2.0)
                reach = wide / 2 if ring else _edge(way, wide, high)
                line = (spot, _step(middle, way, -reach))
                box = _box(middle, wide, high)
                lot.append(Note(words, box, kind, (line,), dot=spot, ring=ring, cost=4.0 + 0.5 * away + 0.2 * number))
        yield lot


def _off(along: Paper, away: Paper, outward: Paper) -> Paper:
    """The unit step a dimension line stands off: the way asked for, or square to the size where that would lie along it."""
    size = hypot(*away)
    if size > 1e-6 and abs(along[0] * away[1] - along[1] * away[0]) > 0.3 * size:
        return away[0] / size, away[1] / size
    square = (-along[1], along[0])
    return square if square[0] * outward[0] + square[1] * outward[1] >= 0 else _turned(square)


def _step(point: Paper, way: Paper, distance: float) -> Paper:
    return point[0] + way[0] * distance, point[1] + way[1] * distance


def _turned(way: Paper) -> Paper:
    return -way[0], -way[1]


def _box(middle: Paper, wide: float, high: float) -> Box:
    return Box(middle[0] - wide / 2, middle[1] - high / 2, middle[0] + wide / 2, middle[1] + high / 2)


def _support(way: Paper, wide: float, high: float) -> float:
    """How far a box reaches from its middle along a unit step."""
    return abs(way[0]) * wide / 2 + abs(way[1]) * high / 2


def _edge(way: Paper, wide: float, high: float) -> float:
    """How far the edge of a box is from its middle along a unit step."""
    return min(wide / 2 / max(abs(way[0]), 1e-9), high / 2 / max(abs(way[1]), 1e-9))


def around(boxes: Iterable[Box]) -> Box:
    """The box around boxes."""
    all_ = list(boxes)
    return Box(
        min(box.left for box in all_),
        min(box.top for box in all_),
        max(box.right for box in all_),
        max(box.bottom for box in all_),
    )
