"""What an activity of a class is: a student's step or a part of it, a demonstration, staff's work; and the problem of scheduling
that all of them are.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sequencer.classroom.sessions import Sessions
from sequencer.classroom.things import Thing
from sequencer.model.plan import Step
from sequencer.scheduling.problem import Problem

LESSONS, STAFF = 0, 1
"""The two calendars."""
STAFF_SEAT = -1
"""Stands for the staff where seats are meant."""

DutyKind = Literal["step", "demonstration", "work", "set-up", "guards-back"]


@dataclass(frozen=True)
class Then:
    """A step that is done at once behind another at the same place, in the last so many minutes of it: oily rags are put away
    as soon as the oil is on."""

    step: Step
    minutes: int


@dataclass(frozen=True)
class Duty:
    """What an activity of the problem is: the seats that do it (none: staff), its step, the part of it, and how much of an adult
    it takes."""

    kind: DutyKind
    seats: tuple[int, ...]
    step: Step
    piece: int = 1
    of: int = 1
    attention: int = 0
    group: int = 0
    """Of a demonstration, which group it is for."""
    shows: tuple[str, ...] = ()
    """Of a demonstration, what it shows, by the names of `shown.py`."""
    sign_off: int = 0
    """So many minutes at its start the student shows that they can use the machine; the adult stays beside until it is over."""
    then: Then | None = None
    """What is done right behind it, before anything else."""


@dataclass(frozen=True)
class ClassWork:
    """The problem, what its activities and things are, and the calendar."""

    problem: Problem
    duties: tuple[Duty, ...]
    things: tuple[Thing, ...]
    sessions: Sessions
    whole: int
    """The whole of an adult, in parts."""
    at_benches: frozenset[int]
    """The adults who watch the benches together, by thing."""


@dataclass(frozen=True)
class Course:
    """What is free to choose: how many lessons there may be, and whether every one of alike machines is set for a step or one of
    them."""

    lessons: int
    all_machines: bool = False
    for_bounds: bool = False
    """What no course can go below is asked of a looser problem, where adults who watch unlike benches may do the same."""
