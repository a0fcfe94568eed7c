"""How high text and steps print, so that pages can be filled before anything is laid out. mm.

Only an estimate, on the high side: the layout itself never splits a step, and counts its pages itself.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeVar

from sequencer.paper.svg import text_width

_PT = 25.4 / 72
_LINE = 1.25

_T = TypeVar("_T")


def lines(text: str, width: float, points: float, *, bold: bool = False) -> int:
    """Lines a text takes in a column `width` mm wide."""
    size = points * _PT
    count, at = 1, 0.0
    for word in text.split():
        wide = text_width(word, size, bold=bold)
        if at and at + wide > width:
            count, at = count + 1, 0.0
        count += int(wide // width)
        at += wide % width + text_width(" ", size, bold=bold)
    return count


def height(text: str, width: float, points: float, *, bold: bool = False) -> float:
    """Height of a text in a column, mm."""
    return lines(text, width, points, bold=bold) * points * _PT * _LINE


def filled(entries: Sequence[_T], tall: Callable[[_T], float], first: float, rest: float, firsts: int = 1) -> list[list[_T]]:
    """Entries in order on as few pages as hold them: `first` mm on the first ones, of which there are `firsts`, `rest` on
    the others.
    """
    pages: list[list[_T]] = [[]]
    room = first
    for entry in entries:
        need = tall(entry)
        while need > room and (pages[-1] or len(pages) < firsts or (len(pages) == firsts and rest > first)):
            pages.append([])
            room = first if len(pages) <= firsts else rest
        pages[-1].append(entry)
        room -= need
    return pages
