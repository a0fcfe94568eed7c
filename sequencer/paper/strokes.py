"""Loose straight pieces joined into long strokes, so that a drawing is small and its joints are round. mm on paper."""

from __future__ import annotations

from collections import defaultdict
from itertools import pairwise
from math import hypot

import numpy as np

from sequencer.paper.svg import Paper
from sequencer.paper.visible import Floats

_STRAIGHT = 0.012
"""A point that strays less than this from the line past it is left out, mm."""


def strokes(start: Floats, stop: Floats) -> list[list[Paper]]:
    """Pieces as bent lines, each piece once, in an order that does not depend on the order they come in."""
    ends = np.round(np.concatenate([start, stop], axis=1), 2) + 0.0
    pieces = sorted({min((a, b), (b, a)) for a, b in (((w, x), (y, z)) for w, x, y, z in ends.tolist()) if a != b})
    at: dict[Paper, list[int]] = defaultdict(list)
    for index, (one, two) in enumerate(pieces):
        at[one].append(index)
        at[two].append(index)
    left = [True] * len(pieces)
    found = []
    # First from where lines begin or branch, then what is left: rings.
    for starts in ([point for point in sorted(at) if len(at[point]) != 2], sorted(at)):
        for begin in starts:
            for first in at[begin]:
                if left[first]:
                    found.append(_straightened(_walk(begin, first, pieces, at, left)))
    return found


def _walk(
    begin: Paper, first: int, pieces: list[tuple[Paper, Paper]], at: dict[Paper, list[int]], left: list[bool]
) -> list[Paper]:
    stroke, index = [begin], first
    while True:
        left[index] = False
        one, two = pieces[index]
        stroke.append(two if stroke[-1] == one else one)
        onward = at[stroke[-1]]
        if len(onward) != 2:
            return stroke
        index = onward[0] if onward[1] == index else onward[1]
        if not left[index]:
            return stroke


def _straightened(stroke: list[Paper]) -> list[Paper]:
    """A stroke without the points between which it runs straight on."""
    kept = [stroke[0]]
    skipped: list[Paper] = []
    for here, after in pairwise(stroke[1:]):
        skipped.append(here)
        if any(_off(point, kept[-1], after) > _STRAIGHT for point in skipped):
            kept.append(here)
            skipped = []
    kept.append(stroke[-1])
    return kept


def _off(point: Paper, one: Paper, two: Paper) -> float:
    x, y = two[0] - one[0], two[1] - one[1]
    size = hypot(x, y)
    if size < 1e-9:
        return hypot(point[0] - one[0], point[1] - one[1])
    return abs((point[0] - one[0]) * y - (point[1] - one[1]) * x) / size
