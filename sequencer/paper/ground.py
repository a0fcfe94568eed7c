"""The ground of a picture on which words find their places: what is drawn there already, and what may not stand together."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from sequencer.paper.notes import APART, Note
from sequencer.paper.svg import Box, Paper
from sequencer.paper.visible import Flags, Floats, Whole

_CELL = 0.6
"""Side of the cells in which ink is counted."""
_MARGIN = 30.0
"""Room around the drawing in which ink is counted."""
_READ_ON = 6.0
"""A figure and other words in one line keep this far apart, or they are read on: 10, vice."""
_IN_LINE = 0.8
"""Words of which so much is at one height stand in one line."""


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
    return (apart[:, :, 0] < APART) & (apart[:, :, 1] < APART)


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
