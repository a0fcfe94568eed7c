"""The plan of a class: who is where when, lesson by lesson. Frozen, complete, with a published JSON form. Minutes.

Students have seat codes, never names; adults have roles. Minutes of a lesson count from the start of its working time, when
everyone has settled in and tools are given out.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date
from math import ceil
from typing import Literal

from sequencer.findings import Finding

CLASS_PLAN_VERSION = "1"
"""Version of the class plan's published JSON form."""

NO_TIMETABLE = "timetable-not-stated"
"""The finding of a class plan whose days and times of the day are taken, not stated."""

CareKind = Literal["dust-and-finish", "teacher-held", "motor-and-benches", "new-tool", "show-again"]
StintKind = Literal["step", "demonstration", "sign-off"]
JobKind = Literal["set-up", "guards-back", "work"]


@dataclass(frozen=True)
class Span:
    """A stretch of a lesson or of staff's own time: its number, and from which minute of it until which."""

    session: int
    start: int
    stop: int


@dataclass(frozen=True)
class Stint:
    """What seats do without a break, and the adult who is taken up by it.

    kind
        `step`: a step of the plan; `demonstration`: seats are shown a station, or a way of work there; `sign-off`: a student
        shows that they can use a station, and goes straight on to the first piece there.
    seats
        Seat codes; one but for a demonstration.
    step
        The step of the plan by id; of a demonstration and a sign-off the first that it is for.
    piece, of
        The how manieth part of so many that the step falls into, where it goes on in the next lesson or by pieces.
    place
        The station by its name in the workshop file and, where alike machines are told apart, which of them: `pillar-drill 2`.
    adult
        The role of the adult who is beside or watching; empty at benches that are watched by all who may, whoever is not held
        elsewhere, and where one in the room is enough.
    attention
        How much of an adult it takes, as a share: 1 beside.
    spans
        One, or one for each lesson that it goes on in.
    shows
        Of a demonstration, what it shows: a kind of station, ways of work there that are taught by themselves, or both:
        `hand-sawing`, `hand-sawing/mitre-box`. The kind is that of its step, or a bench whose tools the step uses. Its title says
        it in words.
    """

    kind: StintKind
    seats: tuple[str, ...]
    step: str
    number: int
    title: str
    place: str
    adult: str
    attention: float
    spans: tuple[Span, ...]
    piece: int = 1
    of: int = 1
    shows: tuple[str, ...] = ()


@dataclass(frozen=True)
class StaffJob:
    """A step that staff do: for the whole class before or between lessons, or setting a machine while the class is there.

    in_lesson
        Whether its spans are of lessons; else of staff's own time.
    """

    kind: JobKind
    step: str
    number: int
    title: str
    place: str
    adult: str
    spans: tuple[Span, ...]
    in_lesson: bool = False
    pieces: int = 1
    """For how many things it is done."""


@dataclass(frozen=True)
class Taken:
    """A counted thing that stays taken after a stint: cramps, a drying place. From the session and minute until a real time."""

    thing: str
    count: int
    seat: str
    step: str
    span: Span
    until: str
    """Day and time at which it is free again; as text, `2027-02-04 9:40`; where days are not stated `day 3, 9:40`, from the
    Monday of the first week."""
    until_lesson: int = 0
    """The first lesson in which it is free; 0 where it is free after the last."""


@dataclass(frozen=True)
class Meanwhile:
    """What goes on in a lesson, and from when until when."""

    what: str
    spans: tuple[Span, ...]


@dataclass(frozen=True)
class Care:
    """What to be careful of in a lesson because of who works at the same time, or of what was seen long ago.

    kind
        `dust-and-finish`: some sand and some put finish on; `teacher-held`: the only adult who teaches is held for long while
        others work; `motor-and-benches`: one adult watches work with a motor and the benches at once; `new-tool`: some use a kind
        of saws or edge tools for the first time; `show-again`: a station or a way of work is first used long after it was shown.
    step, seats, since, shown, what
        Of the last two: the step of first use, who, of the last the lesson in which it was shown, its name as under `shows` of
        its demonstration, and the same in words.
    when
        Of the others: what goes on when.
    """

    kind: CareKind
    says: str
    step: str = ""
    seats: tuple[str, ...] = ()
    since: int = 0
    shown: str = ""
    what: str = ""
    when: tuple[Meanwhile, ...] = ()


@dataclass(frozen=True)
class Session:
    """A lesson, or a stretch of staff's own time before one. `minutes`: working time, settling in and clearing up left out.

    starts
        When it starts: minutes of real time from midnight before the Monday of the first week, also where days are not stated.
    """

    number: int
    clock: str
    minutes: int
    day: date | None = None
    """None where the workshop file does not say from which day on the lessons are. The JSON form leaves it out then, and where
    days are taken and not stated."""
    starts: int = 0
    before: int = 0
    """Of staff's own time: the lesson that comes next; 0 where none does, and of lessons."""
    cautions: tuple[Care, ...] = ()
    """Of a lesson, what to be careful of because of who works at the same time, or of what was seen long ago."""

    def at(self, minute: int) -> str:
        """The time of the day at a minute of it, `9:05`."""
        hours, minutes = self.clock.split(":")
        real = int(hours) * 60 + int(minutes) + minute
        return f"{real // 60 % 24}:{real % 60:02}"


@dataclass(frozen=True)
class Idle:
    """A stretch in which a seat has no step that is free: what it does meanwhile."""

    seat: str
    span: Span
    does: str


@dataclass(frozen=True)
class Bottleneck:
    """What holds the class up: a station, a thing, the adults, or the way of one student.

    least
        Lessons that it alone asks for.
    load
        Minutes of work at it, for one of it.
    queue
        The most students who wait for it at one moment of the plan.
    """

    name: str
    least: int
    load: float
    queue: int
    says: str


@dataclass(frozen=True)
class Remedy:
    """What would help: the change, the lessons it would then take at the least, those of the plan found for it, and those
    saved."""

    change: str
    least: int
    lessons: int
    saves: int


@dataclass(frozen=True)
class ChainLink:
    """A link of the critical chain: what was done, by whom, and what it waited for before."""

    says: str
    lesson: int


@dataclass(frozen=True)
class ClassPlan:
    """A checked plan of lessons.

    least
        The lessons that no plan can go below which sets each machine once for each step and gives each step whole slots of time.
    effort
        What the plan was looked for with: schedules tried, and the solver's deterministic seconds.
    """

    version: str
    job: str
    job_file: str
    workshop_file: str
    plan: str
    """Fingerprint of the plan it is made from."""
    seats: tuple[str, ...]
    pairs: bool
    adults: tuple[str, ...]
    lesson: float
    settling_in: float
    clearing_up: float
    lessons: tuple[Session, ...]
    staff_sessions: tuple[Session, ...]
    staff_time_stated: bool
    stints: tuple[Stint, ...]
    staff_jobs: tuple[StaffJob, ...]
    taken: tuple[Taken, ...]
    idle: tuple[Idle, ...]
    least: int
    bottlenecks: tuple[Bottleneck, ...]
    chain: tuple[ChainLink, ...]
    remedies: tuple[Remedy, ...]
    findings: tuple[Finding, ...]
    effort: tuple[int, float] = (0, 0.0)
    all_ready: tuple[str, ...] = ()
    """Kinds of station at which nobody starts before the whole class is ready to."""
    checked: tuple[str, ...] = field(default_factory=tuple)
    """What the independent checker looked at, one line each."""
    at_benches: tuple[str, ...] = ()
    """The adults who watch the benches together, whoever of them is not held elsewhere."""
    done: tuple[int, ...] = ()
    """The lesson in which each seat gets done, in the order of the seats."""
    in_vain: tuple[str, ...] = ()
    """Changes that were tried alone and save no lesson."""

    def done_by(self, share: float) -> int:
        """The lesson by which so much of the class, as a share, is done."""
        return sorted(self.done)[ceil(share * len(self.done)) - 1]

    @property
    def waiting(self) -> float:
        """The share of all students' time at work, of all lessons, in which they have no step of the plan."""
        whole = len(self.seats) * sum(session.minutes for session in self.lessons)
        busy = sum(len(stint.seats) * (span.stop - span.start) for stint in self.stints for span in stint.spans)
        return 1 - busy / whole if whole else 0.0


_MOST_IN_WORDS = 2


def seat_runs(codes: Iterable[str], seats: Sequence[str], joined: str = " to ") -> str:
    """Seats with runs drawn together, in the order of the class: `1 to 6, 9`."""
    order = {seat: at for at, seat in enumerate(seats)}
    runs: list[list[str]] = []
    for seat in sorted(set(codes), key=order.__getitem__):
        if runs and order[seat] == order[runs[-1][-1]] + 1:
            runs[-1].append(seat)
        else:
            runs.append([seat])
    return ", ".join(", ".join(run) if len(run) <= _MOST_IN_WORDS else f"{run[0]}{joined}{run[-1]}" for run in runs)
