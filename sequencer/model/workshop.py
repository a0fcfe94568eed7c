"""The school's own workshop: stations as fitted, counted things, room, people, time, policy. mm, min, dB(A), rev/min."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from math import ceil
from typing import Literal

Operator = Literal["student", "staff", "nobody"]
Supervision = Literal["room", "watching", "beside"]
Gate = Literal["none", "instructed", "signed-off"]

# From the loosest to the strictest, each of the three on its own.
OPERATORS: tuple[Operator, ...] = ("student", "staff", "nobody")
SUPERVISIONS: tuple[Supervision, ...] = ("room", "watching", "beside")
GATES: tuple[Gate, ...] = ("none", "instructed", "signed-off")

NINE = 9 * 60
"""When the first lesson of a day is taken to start where nobody has stated it: minute of the day."""
BELLS = 120
"""Minutes from one such lesson to the next of the day, at least."""


@dataclass(frozen=True)
class Who:
    """Who may do a step: three separate questions, never one ladder.

    Sign-off never lowers supervision; an adult beside never replaces instruction.
    """

    operator: Operator
    supervision: Supervision
    gate: Gate

    def stricter(self, other: Who) -> Who:
        """The stricter answer to each of the three questions."""
        return Who(
            max(self.operator, other.operator, key=OPERATORS.index),
            max(self.supervision, other.supervision, key=SUPERVISIONS.index),
            max(self.gate, other.gate, key=GATES.index),
        )

    def looser_than(self, other: Who) -> bool:
        """Whether any of the three answers is looser than the other's."""
        return self.stricter(other) != self


@dataclass(frozen=True)
class Station:
    """One or several alike stations.

    kind
        A station kind of the knowledge, such as `pillar-drill`.
    guards
        Guards fitted and in use, by the knowledge's names; a guard not named here is not fitted.
    holding
        Work-holding at hand there (drill vice, sled, bench hook), by the knowledge's names.
    figures
        The school's own figures by short name (`shortest`, `kerf`), mm; they win over shipped defaults.
    sizes
        Sizes at hand of tools that come in sizes (`bits`, `chisels`), mm, rising; what is not named is not stated.
    speeds
        Spindle speeds it can be set to, rev/min, rising; empty if not stated.
    by, why
        Who decided figures that the school chooses, by role, and why.
    noise, vibration, dust
        What the operator meets while it works: dB(A), m/s2 at the hands, mg/m3 in the air breathed; None if not stated.
    """

    name: str
    kind: str
    count: int = 1
    guards: tuple[str, ...] = ()
    holding: tuple[str, ...] = ()
    extraction: bool = False
    brake: bool = False
    emergency_stop: bool = False
    figures: Mapping[str, float] = field(default_factory=dict)
    sizes: Mapping[str, tuple[float, ...]] = field(default_factory=dict)
    speeds: tuple[float, ...] = ()
    noise: float | None = None
    vibration: float | None = None
    dust: float | None = None
    out_of_service: str = ""
    away: tuple[date, ...] = ()
    """Days on which it is not there or must not be used."""
    note: str = ""
    by: str = ""
    why: str = ""


@dataclass(frozen=True)
class Counted:
    """Things counted out and in: cramps by reach, vices, tool sets, drying places.

    kind
        What it serves as, by the knowledge's names for work-holding (`sash-cramps`, `bench-vice`); the name if empty.
    """

    name: str
    count: int
    reach: float | None = None
    kind: str = ""


@dataclass(frozen=True)
class Adult:
    """An adult by role, never by name."""

    role: str
    authorised: tuple[str, ...]
    """Station kinds the person may operate and supervise; `all` means every one, `benches` every one without a motor that
    students use."""
    in_lessons: bool = True
    """Whether the person is in the room while the class is; else only in staff's own time."""
    teaches: bool = False
    """Whether the person shows stations to students and signs them off."""


@dataclass(frozen=True)
class Rule:
    """A school's own answer to who may use a station or operation. Loosening a shipped default needs `by` and `why`."""

    about: str
    operator: Operator | None = None
    supervision: Supervision | None = None
    gate: Gate | None = None
    by: str = ""
    why: str = ""


@dataclass(frozen=True)
class Weekly:
    """What comes every week: the day, Monday 0, and the minute of the day; how long, where it says so. min."""

    day: int
    at: int
    minutes: float = 0.0


@dataclass(frozen=True)
class Timetable:
    """Lessons as they are, minutes.

    week
        When the lessons of a week start; empty where nobody has stated it.
    staff_time
        When staff prepare, two adults at least; empty where nobody has stated it.
    """

    lesson: float
    settling_in: float
    clearing_up: float
    lessons_a_week: int = 1
    first_date: date | None = None
    holidays: tuple[date, ...] = ()
    week: tuple[Weekly, ...] = ()
    staff_time: tuple[Weekly, ...] = ()

    @property
    def weekly(self) -> tuple[Weekly, ...]:
        """The lessons of a week as stated, else spread over the school days from the day of the first, the first of a day at nine
        o'clock and none before the one in front of it is over."""
        if self.week:
            return self.week
        first = self.first_date.weekday() if self.first_date else 0
        days = 5 if first < 5 else 7
        apart = max(BELLS, ceil(self.lesson))
        each = (divmod(number, 5) for number in range(self.lessons_a_week))
        spread = min(self.lessons_a_week, 5)
        found = (Weekly((first + day * 5 // spread) % days, NINE + apart * of_day) for of_day, day in each)
        return tuple(sorted(found, key=lambda at: (at.day, at.at)))


@dataclass(frozen=True)
class Workshop:
    """One school workshop."""

    name: str
    stations: Mapping[str, Station]
    counted: Mapping[str, Counted]
    students: int
    year: str
    age: int
    adults: tuple[Adult, ...]
    time: Timetable
    places: int | None = None
    """Places to work at in the room."""
    temperature: float | None = None
    humidity: tuple[float, float] | None = None
    """Relative humidity of the room in the driest and in the dampest season, percent."""
    pairs: bool = False
    """Students work in pairs: two make one thing, one of them operates."""
    shown_in: int = 0
    """Students at a demonstration, at most; 0 where nobody has stated it."""
    instructed: tuple[str, ...] = ()
    """Kinds of station that the whole class has been shown, this school year, as the school's record says."""
    signed_off: tuple[str, ...] = ()
    """Kinds of station that the whole class has been signed off for, as the school's record says."""
    all_ready: tuple[str, ...] = ()
    """Kinds of station at which nobody starts before the whole class is ready to."""
    rules: tuple[Rule, ...] = ()
    region: str = "generic"
    limits: Mapping[str, float] = field(default_factory=dict)
    """The school's own limits by measure of the knowledge; they count where they are stricter than the region's."""
    switched_off: tuple[str, ...] = ()
    """Operations of the knowledge the school does not use, by name."""
    knowledge: str = ""
    """A folder of the school's own operations and hazards laid over the shipped ones."""
    note: str = ""
    file: str = ""
