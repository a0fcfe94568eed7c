"""What is written beside a picture in the round: sizes, arrows, letters in rings, names. Each takes the best of a few
places. mm on paper, y downwards.

A place costs what it hides and how far off it is; words never share room. The first of equally good places is taken, so
that the same picture always comes out the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from math import cos, hypot, pi, sin

import numpy as np

from sequencer.paper.svg import TEXT, Box, Paper, Pen, text_width
from sequencer.paper.visible import Floats

Stroke = tuple[Paper, Paper]

RING = 2.5
"""Radius of the ring round a letter."""
_HALF = TEXT * 0.48
_HEAD, _TAIL = 1.9, 2.6
"""Length of an arrow head, and of the tails of arrows that point inwards from outside."""
_CELL = 0.6
"""Side of the cells in which ink is counted."""
_THIN = 0.22
_LANES = (4.0, 6.0, 8.0, 10.5, 13.0, 16.0, 20.0, 25.0)
"""How far off the wood dimension lines may stand."""
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


@dataclass
class Ground:
    """Where ink stands, counted in cells, and the words that stand already."""

    drawn: Box
    words: list[Box] = field(default_factory=list)

    def __post_init__(self) -> None:
        margin = 45.0
        self._left, self._top = self.drawn.left - margin, self.drawn.top - margin
        across = int((self.drawn.width + 2 * margin) / _CELL) + 2
        down = int((self.drawn.height + 2 * margin) / _CELL) + 2
        self._cells = np.zeros((down, across))
        self._sums = np.zeros((down + 1, across + 1))

    def ink(self, lines: Floats) -> None:
        """Lines (n x 4: x, y, x, y) that stand in the way from now on."""
        if not len(lines):
            return
        row, column, _ = self._on(lines)
        self._cells[row, column] = 1.0
        self._sums[1:, 1:] = self._cells.cumsum(axis=0).cumsum(axis=1)

    def under(self, boxes: Sequence[Box]) -> Floats:
        """How many inked cells each box would cover."""
        edges = np.array([(box.left, box.top, box.right, box.bottom) for box in boxes])
        down, across = self._cells.shape
        left = np.clip(np.floor((edges[:, 0] - self._left) / _CELL), 0, across).astype(np.int64)
        right = np.clip(np.ceil((edges[:, 2] - self._left) / _CELL), 0, across).astype(np.int64)
        top = np.clip(np.floor((edges[:, 1] - self._top) / _CELL), 0, down).astype(np.int64)
        bottom = np.clip(np.ceil((edges[:, 3] - self._top) / _CELL), 0, down).astype(np.int64)
        sums: Floats = self._sums[bottom, right] - self._sums[top, right] - self._sums[bottom, left] + self._sums[top, left]
        return sums

    def crossed(self, lines: Floats) -> Floats:
        """How many inked cells each line runs through."""
        row, column, owner = self._on(lines)
        found: Floats = np.bincount(owner, weights=self._cells[row, column], minlength=len(lines))
        return found

    def _on(self, lines: Floats) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """The cells lines run through, and of which line each is."""
        length = np.hypot(lines[:, 2] - lines[:, 0], lines[:, 3] - lines[:, 1])
        count = np.ceil(length / (0.7 * _CELL)).astype(np.int64) + 1
        owner = np.repeat(np.arange(len(lines)), count)
        step = np.arange(len(owner)) - np.repeat(np.cumsum(count) - count, count)
        share = step / np.maximum(count - 1, 1)[owner]
        x = lines[owner, 0] + share * (lines[owner, 2] - lines[owner, 0])
        y = lines[owner, 1] + share * (lines[owner, 3] - lines[owner, 1])
        down, across = self._cells.shape
        column = np.clip(((x - self._left) / _CELL).astype(np.int64), 0, across - 1)
        row = np.clip(((y - self._top) / _CELL).astype(np.int64), 0, down - 1)
        return row, column, owner

    def place(self, choices: Sequence[Note]) -> Note:
        """The cheapest of several places, which is taken from now on."""
        costs = np.array([note.cost + self._in_the_way(note) + self._beyond(note) for note in choices])
        boxed = [index for index, note in enumerate(choices) if note.box is not None]
        hidden = np.zeros(len(choices))
        if boxed:
            hidden[boxed] = self.under([box for note in choices if (box := note.box) is not None])
        costs += 2.5 * hidden
        for weight, which in ((0.8, "lines"), (0.08, "faint")):
            lines = [(index, *one, *two) for index, note in enumerate(choices) for one, two in getattr(note, which)]
            if lines:
                table = np.array(lines)
                costs += weight * np.bincount(
                    table[:, 0].astype(np.int64), weights=self.crossed(table[:, 1:]), minlength=len(choices)
                )
        best = int(np.argmin(np.round(costs, 4)))
        found = choices[best]
        if found.box is not None:
            self.words.append(found.box)
            if hidden[best] > 0:
                found = Note(**{**found.__dict__, "clear": True})
        edges = [(*one, *two) for one, two in (*found.lines, *found.faint)]
        edges += [(*one, *two) for one, two in zip(found.outline, found.outline[1:] + found.outline[:1], strict=True)]
        if edges:
            self.ink(np.array(edges))
        return found

    def _in_the_way(self, note: Note) -> float:
        cost = 0.0
        for box in self.words:
            if note.box is not None and note.box.overlaps(box, 0.5):
                cost += 1000.0
            cost += sum(300.0 for line in note.lines if _meets(line, box))
            cost += sum(120.0 for line in note.faint if _meets(line, box))
        return cost

    def _beyond(self, note: Note) -> float:
        """What it adds to the picture's width and height."""
        box = note.around
        wider = max(self.drawn.left - box.left, 0.0) + max(box.right - self.drawn.right, 0.0)
        higher = max(self.drawn.top - box.top, 0.0) + max(box.bottom - self.drawn.bottom, 0.0)
        return 0.25 * (wider + higher)


def size_notes(label: str, start: Paper, stop: Paper, away: Paper, middle: Paper) -> list[Note]:
    """Places for a size between two points, standing off them `away`; `middle` is the middle of what is drawn."""
    length = hypot(stop[0] - start[0], stop[1] - start[1])
    if length < 0.6:
        return list(_led(label, "size", [start], text_width(label) + 0.6, 2 * _HALF))
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
            lines = ((one, _step(centre, along, -gap / 2)), (_step(centre, along, gap / 2), two))
            heads = ((one, _turned(along)), (two, along))
            found.append(Note(label, _box(centre, wide, high), "size", lines, faint, heads, cost=cost))
            continue
        if length >= 2 * _HEAD + 1.0:
            lines, heads, reach = ((one, two),), ((one, _turned(along)), (two, along)), 0.0
        else:
            lines = ((_step(one, along, -_TAIL - _HEAD), one), (two, _step(two, along, _TAIL + _HEAD)))
            heads, reach = ((one, along), (two, _turned(along))), _TAIL + _HEAD
        beside = _support(off, wide, high) + 0.3
        beyond = _support(along, wide, high) + reach + 0.2
        spots = [(_step(two, along, beyond), 0.6), (_step(one, along, -beyond), 0.6), (_step(centre, off, beside), 0.8)]
        found += [Note(label, _box(spot, wide, high), "size", lines, faint, heads, cost=cost + more) for spot, more in spots]
    return found


def arrow_notes(label: str, start: Paper, stop: Paper, heavy: bool) -> list[Note]:
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
        neck = _step(stop, along, -3.4)
        outline = (
            *(_step(start, square, 0.9), _step(neck, square, 0.9), _step(neck, square, 2.3), stop),
            *(_step(neck, square, -2.3), _step(neck, square, -0.9), _step(start, square, -0.9)),
        )
        side, thick = 2.3, 0.45
    else:
        lines, heads, side, thick = ((start, _step(stop, along, -1.0)),), ((stop, along),), 0.6, 0.35
    plain = Note(label, None, "feed" if heavy else "way", lines, heads=heads, outline=outline, thick=thick)
    if not label:
        return [plain]
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
    return [Note(**{**plain.__dict__, "box": _box(spot, wide, high), "cost": cost}) for spot, cost in spots]


def letter_notes(letter: str, spots: Sequence[Paper]) -> list[Note]:
    """Places for a letter in a ring: on the piece at one of `spots`, else beside it with a leader from one of them."""
    radius = max(RING, text_width(letter) / 2 + 0.8)
    on = [Note(letter, _box(spot, 2 * radius, 2 * radius), "letter", ring=True, cost=0.1 * n) for n, spot in enumerate(spots)]
    return [*on, *_led(letter, "letter", spots[:6], 2 * radius, 2 * radius, ring=True)]


def name_notes(words: str, spots: Sequence[Paper]) -> list[Note]:
    """Places for the name of a thing: on it, else beside it with a leader."""
    wide, high = text_width(words, bold=False) + 0.6, 2 * _HALF
    on = [Note(words, _box(spot, wide, high), "name", cost=0.1 * n) for n, spot in enumerate(spots)]
    return [*on, *_led(words, "name", spots[:6], wide, high)]


def _led(words: str, kind: str, spots: Sequence[Paper], wide: float, high: float, ring: bool = False) -> Iterator[Note]:
    for number, spot in enumerate(spots):
        for away in _AWAY:
            for turn in range(16):
                way = (cos(turn * pi / 8), -sin(turn * pi / 8))
                middle = _step(spot, way, away + _support(way, wide, high) - 2.0)
                reach = wide / 2 if ring else _edge(way, wide, high)
                lines = ((spot, _step(middle, way, -reach)),)
                cost = 4.0 + 0.5 * away + 0.2 * number + (0.3 if turn % 4 == 0 else 0.0)
                yield Note(words, _box(middle, wide, high), kind, lines, dot=spot, ring=ring, cost=cost)


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


def _meets(line: Stroke, box: Box) -> bool:
    """Whether a line runs through a box."""
    (x, y), (to_x, to_y) = line
    low, high = 0.0, 1.0
    for at, way, first, last in ((x, to_x - x, box.left, box.right), (y, to_y - y, box.top, box.bottom)):
        if abs(way) < 1e-12:
            if not first < at < last:
                return False
            continue
        one, two = sorted(((first - at) / way, (last - at) / way))
        low, high = max(low, one), min(high, two)
    return low < high


def around(boxes: Iterable[Box]) -> Box:
    """The box around boxes."""
    all_ = list(boxes)
    return Box(
        min(box.left for box in all_),
        min(box.top for box in all_),
        max(box.right for box in all_),
        max(box.bottom for box in all_),
    )
