"""Lessons are planned in whole slots of a few minutes: a class is not called by the minute."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from sequencer.model.plan import Step

SLACK = 1e-6


def whole_slots(minutes: float, slot: int) -> int:
    """So many minutes in whole slots, one at the least. Minutes."""
    return max(1, ceil(minutes / slot - SLACK)) * slot


def stretches(minutes: int, longest: int) -> list[int]:
    """So many minutes in stretches of the longest, and the rest."""
    whole, rest = divmod(minutes, longest)
    return [longest] * whole + ([rest] if rest else [])


def given_minutes(steps: Sequence[Step], slot: int) -> dict[str, int]:
    """The whole slots that each step of hand work that may be left is given, in minutes, by the step's id. The steps are those of
    a student in their order.

    What a step is given beyond what it takes is there for the next one at the same station, where that comes right behind it: so
    many slots for all of them as they take together. What is ahead is less than a slot, so that no step loses a whole one.
    """
    given: dict[str, int] = {}
    station, ahead = "", 0.0
    for step in steps:
        if step.one_go or step.station != station:
            ahead = 0.0
        station = "" if step.one_go else step.station
        if not step.one_go:
            takes = step.minutes + step.set_up_minutes
            given[step.id] = whole_slots(takes - ahead, slot)
            ahead = min(ahead + given[step.id] - takes, slot - 1)
    return given
