"""Long stretches broken out of a flat view: what is kept, and where it lies on paper. mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sequencer.paper.frames import Flat
from sequencer.paper.svg import Paper
from sequencer.paper.views import Line

Kept = tuple[tuple[float, float], ...]
"""Stretches of an axis that are shown, in mm of the part; what lies between is broken out."""

_BREAK = 2.4
"""Room between two break lines, mm on paper."""


def joined(wanted: Sequence[tuple[float, float]], size: float) -> Kept:
    """Overlapping stretches as one; what would break out little, or reaches nearly to an end, is shown instead."""
    little = 0.2 * size
    kept: list[tuple[float, float]] = []
    for low, high in sorted((max(0.0, low), min(size, high)) for low, high in wanted):
        if kept and low - kept[-1][1] < little:
            kept[-1] = (kept[-1][0], max(high, kept[-1][1]))
        else:
            kept.append((low, high))
    if kept[0][0] < little:
        kept[0] = (0.0, kept[0][1])
    if size - kept[-1][1] < little:
        kept[-1] = (kept[-1][0], size)
    return tuple(kept)


class Strip:
    """Where one axis lies on paper: kept stretches one after another with room for the break lines between."""

    def __init__(self, kept: Kept, scale: float) -> None:
        self.kept, self.scale = kept, scale
        self.starts: list[float] = []
        at = 0.0
        for low, high in kept:
            self.starts.append(at)
            at += (high - low) * scale + _BREAK
        self.length = at - _BREAK

    def place(self, value: float) -> float:
        """A coordinate on paper; one inside a break goes to the middle of the break."""
        for (low, high), start in zip(self.kept, self.starts, strict=True):
            if value < low:
                return start - _BREAK / 2 if start else 0.0
            if value <= high:
                return start + (value - low) * self.scale
        return self.length

    def breaks(self, size: float) -> list[float]:
        """Where break lines stand: every end of a kept stretch that is not an end of the wood."""
        found: list[float] = []
        for (low, high), start in zip(self.kept, self.starts, strict=True):
            found += [start] if low > 1e-6 else []
            found += [start + (high - low) * self.scale] if high < size - 1e-6 else []
        return found


class Places:
    """From the view frame to paper, y downwards, the view's top left corner at 0, 0."""

    def __init__(self, kept: tuple[Kept, Kept], scale: float) -> None:
        self.kept, self.scale = kept, scale
        self.across, self.up = (Strip(each, scale) for each in kept)

    def __call__(self, point: Flat) -> Paper:
        return self.across.place(point[0]), self.up.length - self.up.place(point[1])

    def clipped(self, lines: Sequence[Line]) -> Iterator[tuple[Paper, Paper]]:
        """Lines on paper, cut off where the wood is broken out."""
        for line in lines:
            for columns in self.kept[0]:
                for rows in self.kept[1]:
                    piece = _cut_to(line.start, line.stop, columns, rows)
                    if piece is not None:
                        # Ends on a break stay on its near side: placed from inside the stretch they belong to.
                        yield self._inside(piece[0], columns, rows), self._inside(piece[1], columns, rows)

    def _inside(self, point: Flat, columns: tuple[float, float], rows: tuple[float, float]) -> Paper:
        x = self.across.starts[self.kept[0].index(columns)] + (point[0] - columns[0]) * self.scale
        y = self.up.starts[self.kept[1].index(rows)] + (point[1] - rows[0]) * self.scale
        return x, self.up.length - y


def _cut_to(a: Flat, b: Flat, columns: tuple[float, float], rows: tuple[float, float]) -> tuple[Flat, Flat] | None:
    """The part of a line inside a rectangle (Liang and Barsky, ACM Transactions on Graphics 3(1), 1984)."""
    low, high = 0.0, 1.0
    dx, dy = b[0] - a[0], b[1] - a[1]
    for step, room in ((-dx, a[0] - columns[0]), (dx, columns[1] - a[0]), (-dy, a[1] - rows[0]), (dy, rows[1] - a[1])):
        room += 1e-6
        if abs(step) < 1e-12:
            if room < 0:
                return None
        elif step < 0:
            low = max(low, room / step)
        else:
            high = min(high, room / step)
    if high - low < 1e-9:
        return None
    return (a[0] + low * dx, a[1] + low * dy), (a[0] + high * dx, a[1] + high * dy)


def zigzag(at: float, start: float, stop: float, level: bool) -> list[Paper]:
    """A break line at a place across a piece, level or upright."""
    middle = (start + stop) / 2
    steps = [(start, 0.0), (middle - 1.2, 0.0), (middle - 0.5, 0.9), (middle + 0.5, -0.9), (middle + 1.2, 0.0), (stop, 0.0)]
    return [(along, at + off) if level else (at + off, along) for along, off in steps]
