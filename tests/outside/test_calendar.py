"""The calendar file held against RFC 5545 (iCalendar, 2009), by a small reader of its own.

Section 3.1 (lines and folding) was read in a copy; 3.3.5, 3.3.11, 3.6, 3.6.1, 3.8.4.7, 3.8.7.2 and RFC 7986, 5.3 are from memory.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import NamedTuple
from uuid import UUID

import pytest

from sequencer.calendar_file import calendar_bytes, escaped, folded, refuse_without_days
from sequencer.classroom.lessons import make_class_plan
from sequencer.findings import Unusable
from sequencer.model.class_plan import ClassPlan
from tests import made
from tests.classroom.classes import class_planned, the_class

MADE = date(2027, 1, 10)
LINE = re.compile(r"(?P<name>[A-Z0-9-]+)(?P<parameters>(;[A-Z0-9-]+=[^;:]*)*):(?P<value>.*)")


class Event(NamedTuple):
    """An event: its properties by name, each with its value as written."""

    properties: dict[str, str]

    def text(self, name: str) -> str:
        """A text, with what is escaped in it taken back (RFC 5545, 3.3.11)."""
        found, letters = "", iter(self.properties[name])
        for letter in letters:
            assert letter not in ",;", "commas and semicolons stand behind a backslash"
            if letter == "\\":
                letter = next(letters)
                assert letter in "\\;,Nn", f"nothing else is escaped: {letter}"
                letter = "\n" if letter in "Nn" else letter
            found += letter
        return found

    def moment(self, name: str) -> datetime:
        """A time of the day without a zone (RFC 5545, 3.3.5, form 1)."""
        value = self.properties[name]
        assert re.fullmatch(r"\d{8}T\d{6}", value), f"local time that floats: {value}"
        return datetime.strptime(value, "%Y%m%dT%H%M%S")


def lines_of(file: bytes) -> list[str]:
    """The lines, unfolded (RFC 5545, 3.1)."""
    assert file.endswith(b"\r\n")
    physical = file.split(b"\r\n")[:-1]
    for line in physical:
        assert not re.search(rb"[\r\n]", line), "every line ends in both"
        assert len(line) <= 75
        line.decode()  # no letter is torn apart
    return file.replace(b"\r\n ", b"").replace(b"\r\n\t", b"").decode().split("\r\n")[:-1]


def read(file: bytes) -> tuple[dict[str, str], list[Event]]:
    """The properties of the calendar, and its events (RFC 5545, 3.4, 3.6, 3.6.1)."""
    lines = lines_of(file)
    assert [lines[0], lines[-1]] == ["BEGIN:VCALENDAR", "END:VCALENDAR"]
    own: dict[str, str] = {}
    events: list[Event] = []
    into = own
    for line in lines[1:-1]:
        found = LINE.fullmatch(line)
        assert found, line
        if line == "BEGIN:VEVENT":
            assert into is own
            into = {}
        elif line == "END:VEVENT":
            events.append(Event(into))
            into = own
        else:
            assert found["name"] not in into, "each property stands once"
            into[found["name"]] = found["value"]
    assert into is own
    return own, events


@pytest.fixture(scope="module")
def planned() -> ClassPlan:
    """A class plan with its days stated."""
    return class_planned()


def test_the_calendar_says_its_version_and_what_made_it(planned: ClassPlan) -> None:
    """RFC 5545, 3.6: both are asked for; 3.7.2: without a METHOD nothing is asked of whoever reads it."""
    own, _ = read(calendar_bytes(planned, MADE))
    assert own.keys() == {"VERSION", "PRODID"}
    assert own["VERSION"] == "2.0"


def test_every_event_has_what_an_event_must_have(planned: ClassPlan) -> None:
    """RFC 5545, 3.6.1: UID and DTSTAMP must be there, DTSTART where there is no METHOD; 3.8.7.2: DTSTAMP is in UTC."""
    _, events = read(calendar_bytes(planned, MADE))
    for event in events:
        assert event.properties.keys() == {"UID", "DTSTAMP", "SEQUENCE", "DTSTART", "DTEND", "SUMMARY", "DESCRIPTION"}
        assert event.properties["DTSTAMP"] == "20270110T000000Z"
        assert event.moment("DTEND") > event.moment("DTSTART")


def test_an_event_for_each_lesson_from_bell_to_bell(planned: ClassPlan) -> None:
    _, events = read(calendar_bytes(planned, MADE))
    for lesson, event in zip(planned.lessons, events, strict=False):
        assert event.text("SUMMARY") == f"Picture frame: lesson {lesson.number} of {len(planned.lessons)}"
        start = event.moment("DTSTART")
        assert start.date() == lesson.day
        assert event.moment("DTEND") - start == timedelta(minutes=60)
        assert f"{start + timedelta(minutes=10):%-H:%M}" == lesson.clock
        assert f"{lesson.clock} to " in event.text("DESCRIPTION")
    assert {event.moment("DTSTART").strftime("%A %H:%M") for event in events[: len(planned.lessons)]} == {
        "Tuesday 10:15",
        "Thursday 13:30",
    }


def test_an_event_for_each_stretch_of_staff_time_that_is_used(planned: ClassPlan) -> None:
    _, events = read(calendar_bytes(planned, MADE))
    used = sorted({span.session for job in planned.staff_jobs if not job.in_lesson for span in job.spans})
    own = events[len(planned.lessons) :]
    assert len(own) == len(used) > 0
    for number, event in zip(used, own, strict=True):
        session = planned.staff_sessions[number - 1]
        spans = [span for job in planned.staff_jobs if not job.in_lesson for span in job.spans if span.session == number]
        start = datetime.combine(session.day or MADE, datetime.strptime(session.clock, "%H:%M").time())
        assert event.moment("DTSTART") == start + timedelta(minutes=min(span.start for span in spans))
        assert event.moment("DTEND") == start + timedelta(minutes=max(span.stop for span in spans))
        assert "a second adult is there" in event.text("DESCRIPTION")


def test_identifiers_are_there_once_and_name_nobody(planned: ClassPlan) -> None:
    """RFC 5545, 3.8.4.7: one for each, everywhere; RFC 7986, 5.3: a UUID, without user or host."""
    _, events = read(calendar_bytes(planned, MADE))
    found = [UUID(event.properties["UID"]) for event in events]
    assert len(set(found)) == len(found)


def test_a_lesson_keeps_its_identifier_when_lessons_are_planned_anew(planned: ClassPlan) -> None:
    """RFC 5545, 3.8.4.7: it stays with the event, so that a calendar knows it again."""
    again = make_class_plan(the_class(students=10), effort=0.03, solve=False)
    assert again.stints != planned.stints
    before = read(calendar_bytes(planned, MADE))[1][: len(planned.lessons)]
    after = read(calendar_bytes(again, date(2027, 3, 1)))[1][: len(again.lessons)]
    both = min(len(before), len(after))
    assert [event.properties["UID"] for event in before[:both]] == [event.properties["UID"] for event in after[:both]]
    for other in (replace(planned, job="Other job"), replace(planned, workshop_file="other.yaml")):
        others = {event.properties["UID"] for event in read(calendar_bytes(other, MADE))[1]}
        assert not others & {event.properties["UID"] for event in before}


def test_two_groups_at_one_job_share_no_identifier(planned: ClassPlan) -> None:
    """RFC 5545, 3.8.4.7: no two events have one, also where both groups are planned from one workshop file."""
    later = replace(planned, lessons=tuple(replace(each, day=each.day + timedelta(1)) for each in planned.lessons if each.day))
    mine, others = ({event.properties["UID"] for event in read(calendar_bytes(each, MADE))[1]} for each in (planned, later))
    assert len(mine) > len(planned.lessons)
    assert not mine & others


def test_what_is_made_later_has_a_higher_number(planned: ClassPlan) -> None:
    """RFC 5545, 3.8.7.4 (from memory): a whole number from 0 that rises as an event is changed."""
    numbers = [
        {int(event.properties["SEQUENCE"]) for event in read(calendar_bytes(planned, day))[1]}
        for day in (date(2019, 1, 1), MADE, MADE + timedelta(1))
    ]
    assert numbers[0] == {0}
    assert max(numbers[1]) < min(numbers[2])


def test_a_soft_hyphen_leaves_no_gap_in_a_word() -> None:
    assert escaped("work\u00adshop\u200b; bench\x07") == "workshop\\; bench "


def test_texts_come_back_as_they_were(planned: ClassPlan) -> None:
    """RFC 5545, 3.3.11, and 3.1 with letters of two, three and four octets, so that folds fall into them."""
    name = "Kästchen; für Äpfel, Nüsse\\Öl: " + "é–木𝄞" * 30
    _, events = read(calendar_bytes(replace(planned, job=name), MADE))
    assert events[0].text("SUMMARY") == f"{name}: lesson 1 of {len(planned.lessons)}"
    assert events[0].text("DESCRIPTION").count("\n") >= 2


@pytest.mark.parametrize("length", [74, 75, 76, 149, 150, 300])
def test_lines_are_folded_at_75_octets(length: int) -> None:
    """RFC 5545, 3.1: 75 without the end of the line; the space in front of what goes on is one of them."""
    line = ("abc de " * 50)[:length]
    file = folded(line)
    assert [len(each) for each in file.split(b"\r\n")][:-1] == [
        *([75] * ((length - 2) // 74) if length > 75 else []),
        *([(length - 75 - 1) % 74 + 2] if length > 75 else [length]),
    ]
    assert lines_of(file) == [line]


def test_no_end_of_line_or_control_gets_into_a_value() -> None:
    """RFC 5545, 3.3.11: ends of lines are written out; 3.1: values hold no controls."""
    assert escaped("a\r\nb\nc\rd\x00e\x7f") == "a\\nb\\nc\\nd e "


def test_equal_plans_and_days_give_equal_bytes(planned: ClassPlan) -> None:
    assert calendar_bytes(planned, MADE) == calendar_bytes(planned, MADE)
    stamps = {event.properties["DTSTAMP"] for event in read(calendar_bytes(planned, date(2027, 9, 1)))[1]}
    assert stamps == {datetime(2027, 9, 1, tzinfo=UTC).strftime("%Y%m%dT%H%M%SZ")}


def test_nothing_is_put_on_a_day_that_nobody_stated(planned: ClassPlan) -> None:
    class_ = the_class()
    undated = replace(class_.workshop, time=replace(class_.workshop.time, first_date=None))
    assumed = replace(class_.workshop, time=replace(class_.workshop.time, week=()))
    for workshop in (undated, assumed):
        with pytest.raises(Unusable) as error:
            refuse_without_days(workshop.time)
        assert [each.code for each in error.value.findings] == ["no-days-for-a-calendar"]
        without = make_class_plan(replace(class_, workshop=workshop), effort=0.02, solve=False)
        with pytest.raises(Unusable):
            calendar_bytes(without, MADE)
    refuse_without_days(made.workshop("well-equipped").time)


def test_staff_time_that_nobody_stated_is_no_event_but_told_of_in_the_lesson() -> None:
    class_ = the_class()
    unstated = replace(class_.workshop, time=replace(class_.workshop.time, staff_time=()))
    without = make_class_plan(replace(class_, workshop=unstated), effort=0.02, solve=False)
    _, events = read(calendar_bytes(without, MADE))
    assert len(events) == len(without.lessons)
    assert any("To be done by staff before: step 1, " in event.text("DESCRIPTION") for event in events)
