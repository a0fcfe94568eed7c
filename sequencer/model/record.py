"""What a plan puts on record for the school: decisions and changes, the class, the figures of its region, what a day brings."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class DecisionLine:
    """A decision of the teacher's as printed on the risk assessment. `cost`: what it costs or saves, and what it overrules."""

    about: str
    text: str
    by: str
    why: str
    cost: str = ""


@dataclass(frozen=True)
class ChangeLine:
    """What the school has changed in the shipped knowledge, as printed on the risk assessment. `looser` says what it asks
    for less; `by` and `why` are empty where they are not recorded."""

    about: str
    text: str
    looser: str
    by: str
    why: str


@dataclass(frozen=True)
class ClassLine:
    """The class the plan is for."""

    workshop: str
    students: int
    year: str
    age: int
    lesson: float
    region: str


@dataclass(frozen=True)
class DayLine:
    """What a person's work brings with it (noise, vibration, dust) as if it fell on one day: whose work, what is worked out in
    words, and where it is not known."""

    who: str
    text: str
    measure: str = ""


@dataclass(frozen=True)
class FigureLine:
    """A figure the region is held to: what it measures, the figure with its unit, whose it is, its source. `own` is false
    where none was read for the region and the strictest on record stands in. `stations`: the kinds it is about; none: all."""

    group: str
    name: str
    value: str
    whose: str
    own: bool
    note: str
    source: str
    stations: tuple[str, ...] = ()


@dataclass(frozen=True)
class RegionLine:
    """What holds in the school's region on the day of the plan, and what its risk assessment must hold.

    day
        The date whose figures these are, as year-month-day; empty where no day is given, and the strictest of all days is taken.
    """

    name: str
    what: str
    day: str
    looked_up: str
    regulator: str
    laws: tuple[str, ...]
    record: tuple[str, ...]
    sign_off: tuple[str, ...]
    review: tuple[str, ...]
    figures: tuple[FigureLine, ...]
    sources: tuple[str, ...]
