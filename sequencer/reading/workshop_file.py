"""The keys of the workshop file, as it is written. `workshop.py` makes the model of it. Descriptions go into the schema."""

from __future__ import annotations

import re
from datetime import date, timedelta
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BeforeValidator, Field, WithJsonSchema
from pydantic_core import PydanticCustomError

from sequencer.model.fields import ONE_OR_MORE, AnswerIfGiven, Length, Plain
from sequencer.model.quantities import QUANTITIES
from sequencer.model.workshop import Gate, Operator, Supervision
from sequencer.reading.forms import Count, Form, Format, Name, Texts, Words

Minutes = Annotated[Plain, Field(ge=0, le=600)]

FIGURES = {name.removeprefix("station."): each for name, each in QUANTITIES.items() if name.startswith("station.")}
"""What may be stated of a station, by short name."""

_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
LONGEST_HOLIDAY = 120
"""Days."""


def _day(value: Any) -> Any:
    try:
        if isinstance(value, str) and _DAY.fullmatch(value):
            return date.fromisoformat(value)
    except ValueError:
        pass
    raise PydanticCustomError("date", "{says}", {"says": "Write a date as year-month-day, such as 2027-02-01."})


def _days(value: Any) -> Any:
    """Single days and stretches of days (`2027-02-15 to 2027-02-19`) as days."""
    days: list[Any] = []
    for item in value if isinstance(value, (list, tuple)) else (value,):
        first, to, last = item.partition(" to ") if isinstance(item, str) else (item, "", "")
        start = _day(first)
        stop = _day(last) if to else start
        if not timedelta(0) <= stop - start <= timedelta(LONGEST_HOLIDAY):
            says = f"A holiday runs from its first to its last day, {LONGEST_HOLIDAY} days at most; this is '{item}'."
            raise PydanticCustomError("date", "{says}", {"says": says})
        days.extend(start + timedelta(number) for number in range((stop - start).days + 1))
    return tuple(days)


_CLOCK = re.compile(r"([01]?\d|2[0-3])[:.]([0-5]\d)")
WEEK = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


def _clock(value: Any) -> Any:
    """A time of the day, such as 13:30, as the minute of the day."""
    if isinstance(value, str) and (found := _CLOCK.fullmatch(value.strip())):
        return int(found[1]) * 60 + int(found[2])
    raise PydanticCustomError("clock", "{says}", {"says": "Write a time of the day as hours and minutes, such as 13:30."})


def _weekday(value: Any) -> Any:
    """A day of the week, written out or by its first three letters, as a number from Monday 0."""
    if isinstance(value, str):
        for number, name in enumerate(WEEK):
            if value.strip().lower() in (name, name[:3]):
                return number
    raise PydanticCustomError("weekday", "{says}", {"says": "Write a day of the week, such as Tuesday or Tue."})


Clock = Annotated[int, BeforeValidator(_clock), WithJsonSchema({"type": "string", "pattern": r"^([01]?\d|2[0-3])[:.][0-5]\d$"})]
Weekday = Annotated[int, BeforeValidator(_weekday), WithJsonSchema({"type": "string"})]
Day = Annotated[date, BeforeValidator(_day), WithJsonSchema({"type": "string", "format": "date"})]
Days = Annotated[
    tuple[date, ...],
    BeforeValidator(_days),
    WithJsonSchema({"anyOf": [{"type": "string"}, {"type": "array", "items": {"type": "string"}}]}),
]

_NUMBER = {"anyOf": [{"type": "number"}, {"type": "string"}]}
Figures = Annotated[
    dict[str, str],
    WithJsonSchema(
        {
            "type": "object",
            "properties": {name: {**_NUMBER, "description": f"{each.meaning}, {each.unit}"} for name, each in FIGURES.items()},
            "additionalProperties": False,
        }
    ),
]

Lengths = Annotated[tuple[Length, ...], ONE_OR_MORE, Field(min_length=1)]


class StationForm(Form):
    """One or several alike stations."""

    kind: Words = Field(description="the kind of station, by the knowledge's name")
    count: Count = Field(1, description="how many of it there are")
    guards: Texts = Field((), description="guards fitted; what is not named is not fitted")
    holding: Texts = Field((), description="work-holding at hand there")
    extraction: bool = Field(False, description="dust extraction in working order")
    brake: bool = Field(False, description="braked run-down")
    emergency_stop: bool = Field(False, description="emergency stop in reach")
    figures: Figures = Field(default_factory=dict, description="its own figures; they win over shipped defaults")
    sizes: dict[Name, Lengths] = Field(default_factory=dict, description="sizes at hand of bits, chisels, plough irons, cutters")
    speeds: Annotated[tuple[Annotated[Plain, Field(gt=0)], ...], ONE_OR_MORE] = Field((), description="spindle speeds, rev/min")
    noise: Annotated[Plain, Field(gt=0, le=150)] | None = Field(None, description="measured at the operator, dB(A)")
    vibration: Annotated[Plain, Field(gt=0, le=100)] | None = Field(
        None, description="at the hands, m/s2: as measured, else the maker's figure with its uncertainty added"
    )
    dust: Annotated[Plain, Field(ge=0, le=1000)] | None = Field(
        None, description="measured in the air the operator breathes while it works, mg/m3"
    )
    out_of_service: str = Field("", description="the reason, while it must not be used")
    away: Days = Field((), description="days on which it is not there or must not be used: dates, or 2027-03-01 to 2027-03-05")
    note: str = Field("", description="words for staff")
    by: AnswerIfGiven = Field(
        "", description="the role that decided a figure which the school chooses; needed to loosen the shipped one"
    )
    why: AnswerIfGiven = Field("", description="the reason; needed to loosen a figure which the school chooses")


class CountedForm(Form):
    """Things counted out and in."""

    count: Count = Field(description="how many there are")
    reach: Length | None = Field(None, description="how far a cramp reaches")
    kind: str = Field("", description="the work-holding it serves as; its own name if left out")


def _rising(pair: tuple[float, float]) -> tuple[float, float]:
    if pair[0] > pair[1]:
        raise PydanticCustomError("order", "{says}", {"says": "The driest season comes first, such as [35, 65]."})
    return pair


_Percent = Annotated[Plain, Field(ge=5, le=95)]
Humidity = Annotated[tuple[_Percent, _Percent], AfterValidator(_rising)]
"""Relative humidity in the driest and in the dampest season, percent."""


class RoomForm(Form):
    """The room."""

    places: Annotated[int, Field(ge=1, le=200)] | None = Field(default=None, description="places to work at")
    temperature: Annotated[Plain, Field(ge=-20, le=50)] | None = Field(
        default=None, description="usual temperature, degrees Celsius"
    )
    humidity: Humidity | None = Field(default=None, description="relative humidity, driest and dampest season, percent")


class AdultForm(Form):
    """An adult by role, never by name."""

    role: Words = Field(description="the role")
    authorised: Texts = Field(
        (), description="kinds of station to operate and supervise, `benches` for all without a motor that students use, or `all`"
    )
    in_lessons: bool = Field(True, description="in the room while the class is; else in staff's own time only")
    teaches: bool | None = Field(None, description="shows stations to students and signs them off; the first adult, unless said")


class PeopleForm(Form):
    """Who is there."""

    students: Annotated[int, Field(ge=1, le=60)] = Field(description="students in the class")
    year: Words = Field(description="the school year, as the school calls it")
    age: Annotated[int, Field(ge=5, le=99)] = Field(description="age of the youngest")
    pairs: bool = Field(False, description="students work in pairs: two make one thing, and one of them operates")
    shown_in: Annotated[int, Field(ge=1, le=60)] | None = Field(
        None, description="students at a demonstration at most; without it as many as the knowledge says"
    )
    instructed: Texts = Field(
        (), description="kinds of station, and ways of work there, that every student has been shown, as the school's record says"
    )
    signed_off: Texts = Field(
        (), description="kinds of station that every student is signed off for, as the school's record says"
    )
    all_ready: Texts = Field((), description="kinds of station at which nobody starts before the whole class is ready to")
    adults: Annotated[tuple[AdultForm, ...], Field(min_length=1)] = Field(description="the adults in the room")


class WeeklyForm(Form):
    """A lesson that comes every week."""

    day: Weekday = Field(description="the day of the week")
    at: Clock = Field(description="when it starts, such as 13:30")


class StaffTimeForm(WeeklyForm):
    """Time in which staff prepare, every week, two of them at least."""

    minutes: Annotated[Plain, Field(gt=0, le=600)] = Field(description="how long")


class TimeForm(Form):
    """Lessons as they are."""

    lesson: Annotated[Plain, Field(gt=0, le=600)] = Field(description="length of a lesson, minutes")
    settling_in: Minutes = Field(10.0, description="minutes before work starts")
    clearing_up: Minutes = Field(10.0, description="minutes after work stops")
    lessons_a_week: Annotated[int, Field(ge=1, le=20)] | None = Field(
        None, description="lessons a week; without it as many as `week` lists, else one"
    )
    first_date: Day | None = Field(None, description="the first lesson")
    holidays: Days = Field((), description="days without lessons: dates, or 2027-02-15 to 2027-02-19")
    week: tuple[WeeklyForm, ...] = Field((), description="the lessons of a week; needed for lessons with dates and for drying")
    staff_time: tuple[StaffTimeForm, ...] = Field((), description="when staff prepare, two adults at least")


class RuleForm(Form):
    """The school's own answer to who may do it."""

    operator: Operator | None = Field(None, description="who may operate it")
    supervision: Supervision | None = Field(None, description="how a student is supervised")
    gate: Gate | None = Field(None, description="what a student needs before")
    by: AnswerIfGiven = Field("", description="the role that decided; needed to loosen a shipped default")
    why: AnswerIfGiven = Field("", description="the reason; needed to loosen a shipped default")


class WorkshopForm(Form):
    """One school workshop."""

    format: Format = Field("1", description="version of this file format")
    workshop: Words = Field(description="its name")
    units: Literal["mm", "in"] = Field("mm", description="what plain lengths are: millimetres or inches")
    region: Words = Field("generic", description="whose limits hold, by the knowledge's name")
    limits: dict[Name, Plain] = Field(default_factory=dict, description="the school's own, stricter limits, by measure")
    note: str = Field("", description="words for staff")
    stations: dict[Name, Any] = Field(min_length=1, description="the stations, by name")
    counted: dict[Name, Any] = Field(default_factory=dict, description="cramps, vices, tool sets … by name")
    room: RoomForm = Field(RoomForm(), description="the room")
    people: PeopleForm = Field(description="class and adults")
    time: TimeForm = Field(description="the timetable")
    policy: dict[Name, RuleForm] = Field(default_factory=dict, description="by kind of station or operation")
    switched_off: Texts = Field((), description="operations, station kinds, glues, finishes the school does without")
    knowledge: str = Field("", description="folder of own operations/ and hazards/, seen from this file")
