"""Speeds of what turns: the rim, the spindle, and the mark on a blade, cutter or disc. mm, rev/min, m/min, m/s."""

from __future__ import annotations

from math import pi


def cutting_speed(diameter: float, turns: float) -> float:
    """Speed of the rim in m/min from diameter in mm and rev/min: v = pi d n / 1000. Plain geometry."""
    return pi * diameter * turns / 1000


def rim_speed(diameter: float, turns: float) -> float:
    """Speed of the rim in m/s: v = pi d n / 60 000. Plain geometry."""
    return cutting_speed(diameter, turns) / 60


def turns_for(cutting: float, diameter: float) -> float:
    """Rev/min that give a cutting speed in m/min at a diameter in mm: n = 1000 v / (pi d). Plain geometry. ValueError if the
    diameter is not more than 0."""
    if diameter <= 0:
        raise ValueError("a diameter is more than 0")
    return 1000 * cutting / (pi * diameter)


def most_turns(rim: float, diameter: float) -> float:
    """Highest rev/min that keep the rim at or below a speed in m/s: n = 60 000 v / (pi d). Plain geometry. ValueError if the
    diameter is not more than 0."""
    return turns_for(rim * 60, diameter)


def step_at_or_below(speed: float, steps: tuple[float, ...]) -> float | None:
    """The fastest of a machine's steps that is not faster than a speed; None if every step is faster. Never a step above:
    common practice."""
    return max((step for step in steps if step <= speed), default=None)


def over_mark(turns: float, marked: float) -> float:
    """By how many rev/min a spindle is faster than what is marked on the blade, cutter or disc as its most; 0 if it is not.
    The mark is its maker's limit and is never rounded: tools are run at or below it (EN 847-1, from memory)."""
    return max(0.0, turns - marked)
