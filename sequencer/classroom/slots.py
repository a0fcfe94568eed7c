"""Lessons are planned in whole slots of a few minutes: a class is not called by the minute."""

from __future__ import annotations

from math import ceil

SLACK = 1e-6


def whole_slots(minutes: float, slot: int) -> int:
    """So many minutes in whole slots, one at the least. Minutes."""
    return max(1, ceil(minutes / slot - SLACK)) * slot


def stretches(minutes: int, about: float, slot: int) -> list[int]:
    """So many minutes, whole slots, in stretches of about so many each, as equal as whole slots allow, the longer ones first."""
    count = max(1, round(minutes / about))
    slots, longer = divmod(minutes // slot, count)
    return [(slots + (at < longer)) * slot for at in range(count)]
