"""The table of a class held against RFC 4180 (comma-separated values, 2005), by a small reader of its own, and against what
spreadsheets take for formulas.

RFC 4180, section 2, was read in copies that restate it. The signs that begin a formula are those of the Open Worldwide
Application Security Project's page on formulas in such files, read in copies that restate it.
"""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from sequencer.findings import Finding
from sequencer.model.class_plan import ClassPlan
from sequencer.table_file import HEADINGS, guarded, table_bytes
from tests.classroom.classes import class_planned

FIELD = re.compile(r'"(?P<quoted>(?:[^"]|"")*)"|(?P<plain>[^",\r\n]*)')


def read(file: bytes) -> list[list[str]]:
    """The records (RFC 4180, section 2)."""
    text = file.decode().removeprefix("\ufeff")
    records: list[list[str]] = []
    at, record = 0, list[str]()
    while at < len(text):
        found = FIELD.match(text, at)
        assert found
        record.append(found["quoted"].replace('""', '"') if found["quoted"] is not None else found["plain"])
        at = found.end()
        if text.startswith(",", at):
            at += 1
            continue
        assert text.startswith("\r\n", at), f"a record ends in both signs: {text[at : at + 10]!r}"
        at += 2
        records.append(record)
        record = []
    assert not record
    return records


@pytest.fixture(scope="module")
def planned() -> ClassPlan:
    """A class plan with its days stated."""
    return class_planned()


def test_every_record_has_a_cell_for_each_heading(planned: ClassPlan) -> None:
    """RFC 4180, 2.3 and 2.4."""
    headings, *records = read(table_bytes(planned))
    assert tuple(headings) == HEADINGS
    assert {len(record) for record in records} == {len(HEADINGS)}


def test_every_stretch_of_every_seat_and_of_staff_has_its_record(planned: ClassPlan) -> None:
    headings, *records = read(table_bytes(planned))
    rows = [dict(zip(headings, record, strict=True)) for record in records]
    own = sum(len(stint.seats) * len(stint.spans) for stint in planned.stints)
    staff = sum(len(job.spans) for job in planned.staff_jobs)
    assert len(rows) == own + staff
    assert sum(bool(row["seat"]) for row in rows) == own
    for row in rows:
        if row["time"] == "lesson":
            lesson = planned.lessons[int(row["lesson"]) - 1]
            assert row["date"] == str(lesson.day)
            assert (row["start"], row["stop"]) == (lesson.at(int(row["minute from"])), lesson.at(int(row["minute until"])))
    first = next(row for row in rows if row["time"] == "staff")
    assert first["kind"].startswith("staff ")
    number = min(span.session for job in planned.staff_jobs for span in job.spans)
    session = next(each for each in planned.staff_sessions if each.number == number)
    assert first["lesson"] == str(session.before)
    assert first["date"] == str(session.day)
    assert session.day is not None
    assert session.day < (planned.lessons[session.before - 1].day or session.day)


def test_quotes_commas_and_ends_of_lines_come_back(planned: ClassPlan) -> None:
    """RFC 4180, 2.5 to 2.7."""
    title = 'Cut "A", then\r\nB'
    _, *records = read(table_bytes(replace(planned, stints=(replace(planned.stints[0], title=title),))))
    assert records[0][HEADINGS.index("title")] == title


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", "\n", "\uff1d"])
def test_no_cell_begins_as_a_formula(planned: ClassPlan, start: str) -> None:
    formula = start + 'HYPERLINK("//x","y")'
    assert guarded(formula) == "'" + formula
    stint = replace(planned.stints[0], title=formula, place=formula, adult=formula, seats=(formula,))
    job = replace(planned.staff_jobs[0], title=formula, place=formula, adult=formula)
    _, *records = read(table_bytes(replace(planned, stints=(stint,), staff_jobs=(job,), seats=(formula,))))
    assert not [cell for record in records for cell in record if cell.startswith(start)]


def test_without_a_stated_timetable_no_day_and_no_clock_is_told(planned: ClassPlan) -> None:
    assumed = replace(planned, findings=(Finding("note", "timetable-not-stated", "time", "Assumed."),))
    headings, *records = read(table_bytes(assumed))
    for record in records:
        row = dict(zip(headings, record, strict=True))
        assert row["date"] == row["start"] == row["stop"] == ""
        assert int(row["minute from"]) < int(row["minute until"])
