"""What is written beside a picture in the round: sizes, arrows, letters in rings, names. Each takes the best of a few
places. mm on paper, y downwards.

A place costs what it hides and how far off it is; words never share room. The first of equally good places is taken, so
that the same picture always comes out the same.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import cos, hypot, pi, sin

import numpy as np
from numpy.typing import NDArray

from sequencer.paper.svg import TEXT, Box, Paper, Pen, text_width
from sequencer.paper.visible import Flags, Floats, Whole

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
_MARGIN = 30.0
"""Room around the drawing in which ink is counted."""
_APART = 0.5
"""Words keep this far apart."""
_READ_ON = 6.0
"""A figure and other words in one line keep this far apart, or they are read on: 10, vice."""
_IN_LINE = 0.8
"""Words of which so much is at one height stand in one line."""
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


class Ground:
    """Where ink stands, counted in cells, the words that stand already, and where the wood and the tools are."""

    def __init__(self, drawn: Box, taken: Callable[[Floats], Flags]) -> None:
        """`drawn` is the room of what is drawn; `taken` says of points (k x 2) whether wood or a tool is there."""
        self.drawn = drawn
        self.words: list[Box] = []
        self._figures: list[Box] = []
        self._others: list[Box] = []
        self._taken = taken
        self._left, self._top = drawn.left - _MARGIN, drawn.top - _MARGIN
        across, down = (int((size + 2 * _MARGIN) / _CELL) + 2 for size in (drawn.width, drawn.height))
        self._cells = np.zeros((down, across), dtype=np.bool_)
        self._sums: NDArray[np.int32] | None = None

    def ink(self, lines: Floats) -> None:
        """Lines (n x 4: x, y, x, y) that stand in the way from now on."""
        if len(lines):
            row, column, _ = self._on(lines)
            self._cells[row, column] = True
            self._sums = None

    def clearest(self, spots: Sequence[Paper]) -> list[Paper]:
        """The spots with no ink close by before the others, else in the order they come in."""
        at = np.array(spots)
        near = self._under(np.concatenate([at - 0.9, at + 0.9], axis=1)) > 0
        return [spots[index] for index in np.argsort(near, kind="stable").tolist()]

    def place(self, choices: Iterable[Sequence[Note]]) -> Note:
        """The cheapest place of the first lot that has one with nothing in its way, else of all; it is taken from now on."""
        best, least = None, 0.0
        for lot in choices:
            costs, hindered = self._costs(lot)
            index = int(costs.round(4).argmin())
            if best is None or costs[index] < least:
                best, least = lot[index], float(costs[index])
                if hindered[index]:
                    best = replace(best, clear=True)
            if not hindered[index]:
                break
        if best is None:
            raise ValueError("a note needs a place")
        if best.box is not None:
            self.words.append(best.box)
            if not best.ring:
                (self._figures if best.kind == "size" else self._others).append(best.box)
        edges = [*best.lines, *best.faint, *zip(best.outline, best.outline[1:] + best.outline[:1], strict=True)]
        self.ink(np.array([(*one, *two) for one, two in edges]).reshape(-1, 4))
        return best

    def _costs(self, lot: Sequence[Note]) -> tuple[Floats, Flags]:
        """What each place costs, and whether its words hide anything or are crossed."""
        costs = np.array([note.cost for note in lot])
        hindered = np.zeros(len(lot), dtype=np.bool_)
        words, boxes = _rows(self.words), _rows([note.box for note in lot if note.box])
        if len(boxes) == len(lot):
            under, near = self._under(boxes), self._under(boxes + np.array((-1.2, -1.2, 1.2, 1.2)))
            over = _overlapping(boxes, words).sum(axis=1)
            costs += 2.5 * under + 0.12 * near + 1000.0 * over + 0.25 * self._beyond(boxes)
            read_on = np.zeros(len(lot), dtype=np.bool_)
            for figure, against in ((True, self._others), (False, self._figures)):
                mine = np.array([not note.ring and (note.kind == "size") == figure for note in lot])
                read_on |= mine & _in_line(boxes, _rows(against)).any(axis=1)
            costs += 30.0 * read_on
            hindered |= (under > 0) | (over > 0) | read_on
            if any(note.lines for note in lot):
                # Beside what it names, but on something else, it would name that.
                wrong = self._taken((boxes[:, :2] + boxes[:, 2:]) / 2)
                costs += 14.0 * wrong
                hindered |= wrong
        for which, across, through in (("lines", 0.8, 300.0), ("faint", 0.08, 120.0)):
            owner = np.array([index for index, note in enumerate(lot) for _ in getattr(note, which)], dtype=np.int64)
            if not len(owner):
                continue
            lines = np.array([(*one, *two) for note in lot for one, two in getattr(note, which)])
            met = _meeting(lines, words).sum(axis=1)
            beyond = self._beyond(
                np.concatenate([np.minimum(lines[:, :2], lines[:, 2:]), np.maximum(lines[:, :2], lines[:, 2:])], 1)
            )
            hinder = across * self._crossed(lines) + through * met + 0.1 * beyond
            costs += np.bincount(owner, weights=hinder, minlength=len(lot))
            hindered |= np.bincount(owner, weights=met, minlength=len(lot)) > 0
        return costs, hindered

    def _beyond(self, boxes: Floats) -> Floats:
        """How far boxes (k x 4) stand out of what is drawn."""
        drawn = np.array((self.drawn.left, self.drawn.top, self.drawn.right, self.drawn.bottom))
        out = np.concatenate([drawn[:2] - boxes[:, :2], boxes[:, 2:] - drawn[2:]], axis=1)
        found: Floats = np.maximum(out, 0.0).sum(axis=1)
        return found

    def _under(self, boxes: Floats) -> Floats:
        """How many inked cells boxes of about one size (k x 4) would cover: sums over all cells up to the four corners."""
        down, across = self._cells.shape
        wide, high = ((boxes[:, 2:] - boxes[:, :2]).max(axis=0) / _CELL).tolist()
        first = ((boxes[:, :2] - (self._left, self._top)) / _CELL).astype(np.int64)
        last = first + np.array((int(wide) + 2, int(high) + 2))
        if self._sums is None:
            self._sums = np.zeros((down + 1, across + 1), dtype=np.int32)
            np.cumsum(np.cumsum(self._cells, axis=0, dtype=np.int32), axis=1, out=self._sums[1:, 1:])
        (left, top), (right, bottom) = _within(first, (across, down)).T, _within(last, (across, down)).T
        sums = self._sums
        found: Floats = (sums[bottom, right] - sums[top, right] - sums[bottom, left] + sums[top, left]).astype(np.float64)
        return found

    def _crossed(self, lines: Floats) -> Floats:
        """How many inked cells each line runs through."""
        row, column, owner = self._on(lines)
        return np.bincount(owner, weights=self._cells[row, column], minlength=len(lines)).astype(np.float64)

    def _on(self, lines: Floats) -> tuple[Whole, Whole, Whole]:
        """The cells lines run through, and of which line each is."""
        length = np.hypot(lines[:, 2] - lines[:, 0], lines[:, 3] - lines[:, 1])
        count = np.ceil(length / (0.7 * _CELL)).astype(np.int64) + 1
        owner = np.repeat(np.arange(len(lines)), count)
        step = np.arange(len(owner)) - np.repeat(np.cumsum(count) - count, count)
        share = step / np.maximum(count - 1, 1)[owner]
        x = lines[owner, 0] + share * (lines[owner, 2] - lines[owner, 0])
        y = lines[owner, 1] + share * (lines[owner, 3] - lines[owner, 1])
        down, across = self._cells.shape
        column = _within(((x - self._left) / _CELL).astype(np.int64), across - 1)
        row = _within(((y - self._top) / _CELL).astype(np.int64), down - 1)
        return row, column, owner


def _within(places: Whole, most: int | tuple[int, int]) -> Whole:
    """Places in rows or columns, those outside taken to the nearest; of few at a time this is faster than `clip`."""
    found: Whole = np.minimum(np.maximum(places, 0), most)
    return found


def _overlapping(boxes: Floats, others: Floats) -> Flags:
    """Which boxes come nearer to which others than they may (n x m)."""
    low, high = np.maximum(boxes[:, None, :2], others[:, :2]), np.minimum(boxes[:, None, 2:], others[:, 2:])
    apart = low - high
    return (apart[:, :, 0] < _APART) & (apart[:, :, 1] < _APART)


def _rows(boxes: Sequence[Box]) -> Floats:
    """Boxes as left, top, right, bottom (n x 4)."""
    return np.array([(box.left, box.top, box.right, box.bottom) for box in boxes]).reshape(-1, 4)


def _in_line(boxes: Floats, others: Floats) -> Flags:
    """Which boxes stand so close beside which others, in one line, that they are read on (n x m)."""
    low, high = np.maximum(boxes[:, None, :2], others[:, :2]), np.minimum(boxes[:, None, 2:], others[:, 2:])
    apart = low - high
    return (apart[:, :, 0] < _READ_ON) & (apart[:, :, 1] < -_IN_LINE)


def read_on(one: Note, two: Note) -> bool:
    """Whether of two notes one is a figure and the other is words that are read on from it, or into it."""
    if one.box is None or two.box is None or one.ring or two.ring or (one.kind == "size") == (two.kind == "size"):
        return False
    return bool(_in_line(_rows([one.box]), _rows([two.box]))[0, 0])


def _meeting(lines: Floats, boxes: Floats) -> Flags:
    """Which lines run through which boxes (n x m)."""
    way = lines[:, 2:] - lines[:, :2]
    way = np.where(np.abs(way) < 1e-9, 1e-9, way)[:, None]
    one, two = (boxes[:, :2] - lines[:, None, :2]) / way, (boxes[:, 2:] - lines[:, None, :2]) / way
    enter, leave = np.minimum(one, two).max(axis=2), np.maximum(one, two).min(axis=2)
    found: Flags = np.maximum(enter, 0.0) < np.minimum(leave, 1.0)
    return found


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
        across, down = (ring.width + wide) / 2 + _APART, (ring.height + high) / 2 + _APART
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
