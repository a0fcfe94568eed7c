"""Fits the views of one piece into a picture: beside or under each other, each as large as there is room for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import log

from sequencer.paper.part_view import View
from sequencer.paper.svg import Pen
from sequencer.paper.view_drawing import draw_view

_SCALES = (
    1.5,
    1.25,
    1.0,
    0.85,
    0.7,
    0.6,
    0.5,
    0.42,
    0.36,
    0.3,
    0.25,
    0.21,
    0.18,
    0.15,
    0.125,
    0.105,
    0.09,
    0.075,
    0.06,
    0.05,
    0.04,
    0.03,
    0.02,
    0.012,
    0.007,
)
LARGEST = _SCALES[0]
"""The largest scale of a view."""
_GROWTH = (1.0, 1.15, 1.3, 1.5, 1.75, 2.0, 3.0, 5.0)
"""How much higher than asked a picture may be, where that lets its sizes be read."""
_LEAST = 3.5
"""The least short side, mm on paper, at which a piece can be made out."""
_ACROSS = 150.0
"""The least width for a long piece on which the ends of all its parts are set out, mm: that of the card."""
_BETWEEN = 2.0
"""Room between views, mm."""

Column = tuple[View, ...]
"""Views under each other at one scale."""


def size_of(column: Column, scale: float) -> tuple[float, float]:
    """Width and height of a column, mm on paper."""
    boxes = [view.box(scale) for view in column]
    return max(box.width for box in boxes), sum(box.height for box in boxes) + _BETWEEN * (len(boxes) - 1)


def largest(column: Column, width: float, height: float, most: float = LARGEST) -> float | None:
    """The greatest scale up to `most` at which a column fits, found by halving; None if none does."""
    low, high = _SCALES.index(most), len(_SCALES)
    while low < high:
        middle = (low + high) // 2
        wide, tall = size_of(column, _SCALES[middle])
        if wide <= width and tall <= height:
            high = middle
        else:
            low = middle + 1
    return _SCALES[low] if low < len(_SCALES) else None


@dataclass(frozen=True)
class Arrangement:
    """How the views of a piece stand: the section beside or below the main column, and the scales of both."""

    score: float
    beside: bool
    column: Column
    scale: float
    section_scale: float


def arranged(main: Sequence[Column], section: Column, width: float, height: float, most: float = LARGEST) -> Arrangement:
    """The best of the `main` columns (alternatives: whole or broken) with the section, no larger than the scale `most`.

    Where the height leaves it illegible, the picture grows downwards rather than losing a size.
    """
    return max(
        (
            option
            for grown in _GROWTH
            for rank, column in enumerate(main)
            for option in _arrangements(column, section, width, height * grown, -0.6 * rank - 1.1 * log(grown), most)
        ),
        key=lambda option: option.score,
        default=Arrangement(0.0, False, main[-1], _SCALES[-1], _SCALES[-1]),
    )


def across(column: Column, width: float) -> float | None:
    """The scale at which a column takes the whole width; None where the piece would be too thin to be made out."""
    scale = LARGEST
    for _ in range(6):
        # What stands beside keeps its size at every scale.
        beside = size_of(column, scale)[0] - max(view.extent(scale)[0] for view in column)
        scale = min(LARGEST, (width - beside) / max(view.frame.size[0] for view in column))
        if scale <= 0:
            return None
    return scale if size_of(column, scale)[0] <= width + 0.01 and column[0].legible(scale) >= _LEAST else None


def compose(
    pen: Pen,
    main: Sequence[Column],
    section: Column,
    left: float,
    top: float,
    width: float,
    height: float,
    most: float = LARGEST,
) -> tuple[float, bool]:
    """Draws the best arrangement of the views of a piece; returns the height used, and whether it can be read: the room may
    be too narrow for its sizes.
    """
    if len(main[0][0].subject.parts) > 1 and not section and (scale := across(main[0], width)) is not None:
        _, high = _draw(pen, main[0], left, top, scale)
        return high, width >= _ACROSS
    best = arranged(main, section, width, height, most)
    readable = best.column[0].legible(best.scale) >= _LEAST
    wide, high = _draw(pen, best.column, left, top, best.scale)
    if section:
        size = size_of(section, best.section_scale)
        if best.beside:
            _draw(pen, section, left + wide + max(_BETWEEN, (width - wide - size[0]) / 2), top, best.section_scale)
            return max(high, size[1]), readable
        _draw(pen, section, left, top + high + _BETWEEN, best.section_scale)
        return high + _BETWEEN + size[1], readable
    return high, readable


def _arrangements(column: Column, section: Column, width: float, height: float, bonus: float, most: float) -> list[Arrangement]:
    if not section:
        scale = largest(column, width, height, most)
        return [Arrangement(_piece(column, scale) + bonus, False, column, scale, 1.0)] if scale is not None else []
    found = []
    for share in (0.7, 0.62, 0.54, 0.46, 0.38):
        beside = (width - _BETWEEN) * share, height, (width - _BETWEEN) * (1 - share), height
        below = width, (height - _BETWEEN) * share, width, (height - _BETWEEN) * (1 - share)
        for way, (w1, h1, w2, h2) in (("beside", beside), ("below", below)):
            first = largest(column, w1, h1, most)
            if first is None:
                continue
            wide, high = size_of(column, first)
            second = largest(
                section, width - _BETWEEN - wide if way == "beside" else w2, height - _BETWEEN - high if way == "below" else h2
            )
            if second is not None:
                score = _piece(column, first) + _detail(section, second) + bonus
                found.append(Arrangement(score, way == "beside", column, first, second))
    return found


def _piece(column: Column, scale: float) -> float:
    """How well a whole piece is seen: from 12 mm on its short side, or with many sizes twice that, more says nothing more."""
    enough = min(max(12.0, 2.0 * len(column[0].edges)), 24.0)
    return log(min(column[0].legible(scale), enough) / enough)


def _detail(section: Column, scale: float) -> float:
    """How well a cut's section is seen: from 3.6 mm on, more says nothing more."""
    return log(min(section[0].legible(scale), 3.6) / 3.6)


def _draw(pen: Pen, column: Column, left: float, top: float, scale: float) -> tuple[float, float]:
    at = top
    for view in column:
        draw_view(view, pen, left, at, scale)
        at += view.box(scale).height + _BETWEEN
    return size_of(column, scale)
