"""Noise, vibration and dust over a day from what is met in parts of it. Times in minutes, levels in dB(A), vibration in
m/s2, dust in mg/m3. Levels below which a law does not count are counted too: the cautious side."""

from __future__ import annotations

from collections.abc import Iterable
from math import log10, sqrt

DAY = 480.0
"""The working day that every figure is referred to, min."""

Part = tuple[float, float]
"""What is met (a level, an acceleration, a concentration) and for how many minutes."""


def allowed_minutes(level: float, limit: float, exchange: float) -> float:
    """How long a level may last where `limit` may last 8 hours and `exchange` dB more halve the time.

    29 CFR 1910.95, Appendix A: T = 8 / 2^((L - 90) / 5) hours; with 3 dB NIOSH 98-126 and the equal-energy rule of ISO 1999.
    """
    return float(DAY / 2 ** ((level - limit) / exchange))


def dose(parts: Iterable[Part], limit: float, exchange: float) -> float:
    """The noise dose, per cent of what the limit allows in a day: 100 times the sum of C / T. 29 CFR 1910.95, Appendix A."""
    return 100.0 * sum(minutes / allowed_minutes(level, limit, exchange) for level, minutes in _checked(parts))


def daily_level(parts: Iterable[Part]) -> float:
    """L_EX,8h = 10 log10(1/480 sum of t 10^(L/10)), dB(A): Directive 2003/10/EC, ISO 1999. ValueError without any noise."""
    energy = sum(minutes * 10 ** (level / 10) for level, minutes in _checked(parts))
    if energy <= 0:
        raise ValueError("there is nothing to work out a level from")
    return 10.0 * log10(energy / DAY)


def daily_vibration(parts: Iterable[Part]) -> float:
    """A(8) = square root of 1/480 sum of t a^2, m/s2: Directive 2002/44/EC, ISO 5349-1."""
    return sqrt(sum(minutes * size**2 for size, minutes in _checked(parts)) / DAY)


def trigger_minutes(size: float, limit: float) -> float:
    """How long a tool may shake the hand by `size`, m/s2, until a day of it alone comes to `limit`: t = 480 (limit / a)^2,
    the formula of A(8) turned round."""
    return DAY * (limit / size) ** 2


def mean_dust(parts: Iterable[Part]) -> float:
    """The mean over 8 hours, mg/m3: 1/480 sum of t c. What is not said to be dusty counts as clean air."""
    return sum(minutes * amount for amount, minutes in _checked(parts)) / DAY


def _checked(parts: Iterable[Part]) -> list[Part]:
    """ValueError for a time under zero."""
    found = list(parts)
    if any(not minutes >= 0 for _, minutes in found):
        raise ValueError("a time is under zero")
    return found
