"""Sizes that all run from one end: a tick at each end of each part, and how far it is from the first. mm on paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sequencer.features.base import mm
from sequencer.paper.svg import TEXT, Box, Pen, text_width

_BESIDE = 0.5
"""Between a tick and its figure."""
_LANE, _TICK = 4.2, 1.2
"""Height of a row of figures, and of a tick that stands above the first."""
_THIN = 0.22


@dataclass(frozen=True)
class Running:
    """One size: where its tick stands, its figure, where that lies across, and in which row."""

    at: float
    words: str
    left: float
    right: float
    lane: int


def running(parts: Sequence[tuple[float, float]], on_paper: Sequence[tuple[float, float]], origin: float) -> tuple[Running, ...]:
    """The sizes of the ends of all parts from `origin`, where the first begins: each figure stands under its own part, so that
    the two at a saw cut are told apart. `on_paper`: where the ends of each part lie. Figures that would meet stand in rows."""
    found: list[Running] = []
    for span, spots in zip(parts, on_paper, strict=True):
        for value, at, other in zip(span, spots, spots[::-1], strict=True):
            words = mm(value - origin)
            wide = text_width(words)
            left, right = (at + _BESIDE, at + _BESIDE + wide) if other > at else (at - _BESIDE - wide, at - _BESIDE)
            taken = {each.lane for each in found if left < each.right + 1.0 and right > each.left - 1.0}
            found.append(Running(at, words, left, right, next(row for row in range(len(taken) + 1) if row not in taken)))
    return tuple(found)


def height(sizes: Sequence[Running]) -> float:
    """The room that the rows take, mm."""
    return _TICK + _LANE * (max((each.lane for each in sizes), default=-1) + 1)


def draw(pen: Pen, sizes: Sequence[Running], view: Box, top: float) -> None:
    """Draws them under a view, the first row from `top` on: ticks before figures."""
    pen.lines(
        "running", [((each.at, view.bottom + 0.6), (each.at, top + _TICK + _LANE * (each.lane + 1))) for each in sizes], _THIN
    )
    for each in sizes:
        middle = ((each.left + each.right) / 2, top + _TICK + _LANE * each.lane + TEXT / 2)
        pen.text(each.words, middle, kind="running-size", clear=True)
