"""Lessons are planned in whole slots of a few minutes: a class is not called by the minute."""

from __future__ import annotations

from math import ceil

SLACK = 1e-6


def whole_slots(minutes: float, slot: int) -> int:
    """So many minutes in whole slots, one at the least. Minutes."""
    return max(1, ceil(minutes / slot - SLACK)) * slot


def stretches(minutes: int, longest: int) -> list[int]:
    """So many minutes in stretches of the longest, and the rest."""
    whole, rest = divmod(minutes, longest)
    return [longest] * whole + ([rest] if rest else [])
