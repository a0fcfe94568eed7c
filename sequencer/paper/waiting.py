"""The picture of a wait: a clock face and how long."""

from __future__ import annotations

from sequencer.paper.svg import Pen


def draw_waiting(pen: Pen, minutes: float, width: float, height: float) -> float:
    """A clock face with how long to wait. Returns the height used."""
    radius = min(10.0, height / 2 - 1.0)
    x, y = radius + 2.0, radius + 1.0
    pen.circle((x, y), radius, 0.6)
    pen.lines("hands", [((x, y), (x, y - radius * 0.7)), ((x, y), (x + radius * 0.5, y))], 0.6)
    pen.text(waiting_words(minutes), (x + radius + 4.0, y), anchor="start", kind="wait", size=4.6)
    return 2 * radius + 2.0


def waiting_words(minutes: float) -> str:
    """A waiting time as printed: minutes under two hours, else hours."""
    if minutes < 120:
        return f"{minutes:.0f} minutes"
    hours = f"{minutes / 60:.1f}".removesuffix(".0")
    return f"{hours} hours"
