"""The workshop file: what it becomes, and what is said when something is wrong with it."""

# ruff: noqa: E501 - a message stands on one line, as it is printed

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from sequencer.findings import Unusable
from sequencer.model.workshop import Adult, Counted, Rule, Timetable
from sequencer.reading.workshop import read_workshop

from .files import WORKSHOP, changed, workshop, workshop_errors

EXAMPLES = Path(__file__).resolve().parent.parent.parent / "examples" / "workshops"


def test_a_small_workshop() -> None:
    made = workshop(WORKSHOP)
    drill = made.stations["drill-1"]
    assert (drill.kind, drill.count, drill.guards, drill.extraction) == ("pillar-drill", 1, ("chuck-guard",), False)
    assert (drill.figures, drill.speeds) == ({"deepest": 80}, (500, 1000))  # speeds rise
    assert (made.students, made.year, made.age, made.region, made.file) == (24, "Year 8", 13, "generic", "workshop.yaml")
    assert made.adults == (Adult("Teacher", ("all",), teaches=True),)
    assert made.time == Timetable(60, 10, 10)


def test_everything_else() -> None:
    text = changed(
        WORKSHOP,
        ("speeds: [1000, 500]", "speeds: 500, brake: yes, emergency_stop: on, extraction: no, noise: 78.5, vibration: 2.5, dust: 0.8, out_of_service: belt, note: no"),
        ("time: {lesson: 60,", "time: {lesson: 60, lessons_a_week: 2, first_date: 2027-02-01, holidays: [2027-03-02, 2027-02-15 to 2027-02-17],"),
        ("people:", "counted: {cramp: {count: 12, reach: 10 in, kind: sash-cramps}}\nroom: {places: 20, temperature: 18.5}\n"
                    "policy: {pillar-drill: {operator: staff, supervision: beside, gate: signed-off, by: Head, why: new class}}\n"
                    "switched_off: [plough-groove]\npeople:"),
    )  # fmt: skip
    made = workshop(text)
    drill = made.stations["drill-1"]
    assert (drill.brake, drill.emergency_stop, drill.extraction, drill.noise) == (True, True, False, 78.5)
    assert (drill.vibration, drill.dust) == (2.5, 0.8)
    assert (drill.out_of_service, drill.note, drill.speeds) == ("belt", "no", (500,))
    assert made.time.first_date == date(2027, 2, 1)
    assert made.time.holidays == tuple(date(2027, *day) for day in [(2, 15), (2, 16), (2, 17), (3, 2)])
    assert made.counted == {"cramp": Counted("cramp", 12, 254, "sash-cramps")}
    assert (made.places, made.temperature, made.switched_off) == (20, 18.5, ("plough-groove",))
    assert made.rules == (Rule("pillar-drill", "staff", "beside", "signed-off", "Head", "new class"),)


def test_inches_turn_lengths_only() -> None:
    text = changed(
        WORKSHOP, ("workshop:", "units: in\nworkshop:"), ("{deepest: 80}", "{deepest: 3 1/8, open-time: 5, coldest: -5}")
    )
    figures = workshop(text).stations["drill-1"].figures
    assert figures == {"deepest": pytest.approx(79.375), "open-time": 5, "coldest": -5}


def case(name: str, change: tuple[str, str], *expected: str) -> Any:
    return pytest.param(change, [f"workshop.yaml:{text}" for text in expected], id=name)


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        case("unknown key", ("{lesson: 60", "{leson: 60"), "9:8: time.leson: 'leson' is no key here. Did you mean 'lesson'?"),
        case("missing key", ("  age: 13\n", ""), "4:1: people.age: 'age' is missing. Add 'age:', age of the youngest."),
        case("unknown figure", ("deepest: 80", "depest: 80"),
             "3:66: stations.drill-1.figures.depest: 'depest' is no figure of a station. Did you mean 'deepest'?"),
        case("figure of words", ("deepest: 80", "deepest: deep"), "3:66: stations.drill-1.figures.deepest: 'deepest' must be a number. 'deep' is no known size."),
        case("negative figure", ("deepest: 80", "deepest: -80"),
             "3:66: stations.drill-1.figures.deepest: 'deepest' is under zero: -80. Write what the machine's plate says."),
        case("no kind", ("kind: pillar-drill, ", ""),
             "3:3: stations.drill-1.kind: 'kind' is missing. Add 'kind:', the kind of station, by the knowledge's name."),
        case("speed", ("[1000, 500]", "[1000, fast]"),
             "3:95: stations.drill-1.speeds.2: Entry 2 of 'speeds' must be a number; this is 'fast'."),
        case("count", ("kind: pillar-drill", "count: 0, kind: pillar-drill"),
             "3:13: stations.drill-1.count: The count must be at least 1; this is 0."),
        case("no vibration", ("kind: pillar-drill", "vibration: 0, kind: pillar-drill"),
             "3:13: stations.drill-1.vibration: 'vibration' must be more than 0; this is '0'."),
        case("exponent", ("kind: pillar-drill", "noise: 1e3, kind: pillar-drill"),
             "3:13: stations.drill-1.noise: '1e3' is not written as a plain number. Write it out: 1000."),
        case("exponent in range", ("people:", "room: {temperature: 2e1}\npeople:"),
             "4:8: room.temperature: '2e1' is not written as a plain number. Write it out: 20."),
        case("exponent of a list", ("[1000, 500]", "[1_000, 500]"),
             "3:89: stations.drill-1.speeds.1: '1_000' is not written as a plain number. Write it out: 1000."),
        case("endless", ("kind: pillar-drill", "vibration: 1e200, kind: pillar-drill"),
             "3:13: stations.drill-1.vibration: '1e200' is not written as a plain number. Write its figures out, without an exponent."),
        case("exponent of a length", ("deepest: 80", "deepest: 8e1"),
             "3:66: stations.drill-1.figures.deepest: 'deepest' must be a number. '8e1' cannot be worked out: '8e1' is not written as a plain number. Write it out."),
        case("sum where none can be", ("kind: pillar-drill", "noise: 80 + 80, kind: pillar-drill"),
             "3:13: stations.drill-1.noise: 'noise' must be a number; this is '80 + 80'."),
        case("spaced", ("kind: pillar-drill", "noise: +999., kind: pillar-drill"),
             "3:13: stations.drill-1.noise: 'noise' must be at most 150; this is '+999.'."),
        case("students", ("students: 24", "students: 0"), "5:3: people.students: 'students' must be at least 1; this is '0'."),
        case("no adults", ("[{role: Teacher, authorised: all}]", "[]"), "8:3: people.adults: 'adults' must not be empty."),
        case("no time", ("clearing_up: 10", "clearing_up: 50"),
             "9:1: time: Settling in and clearing up take 60 minutes of a lesson of 60. No time is left to work. Correct the minutes."),
        case("date", ("{lesson: 60", "{first_date: 1.2.2027, lesson: 60"),
             "9:8: time.first_date: Write a date as year-month-day, such as 2027-02-01."),
        case("no such day", ("{lesson: 60", "{first_date: 2027-02-30, lesson: 60"),
             "9:8: time.first_date: Write a date as year-month-day, such as 2027-02-01."),
        case("holiday backwards", ("{lesson: 60", "{holidays: 2027-02-19 to 2027-02-15, lesson: 60"),
             "9:8: time.holidays: A holiday runs from its first to its last day, 120 days at most; this is '2027-02-19 to 2027-02-15'."),
        case("policy", ("people:", "policy: {pillar-drill: {operator: pupil}}\npeople:"),
             "4:25: policy.pillar-drill.operator: 'operator' cannot be 'pupil'. There are nobody, staff and student."),
        case("knowledge", ("people:", "knowledge: our-own\npeople:"),
             "4:1: knowledge: There is no folder 'our-own' beside this file. Check its name."),
        case("two adults of one role", ("[{role: Teacher, authorised: all}]", "[{role: Teacher, authorised: all}, {role: Teacher}]"),
             "8:47: people.adults.2.role: Two adults are called 'Teacher'. Who watches what, and who may, is told by the role. Call them 'Teacher 1' and 'Teacher 2'."),
        case("staff on a lesson that nobody stated", ("{lesson: 60", "{staff_time: [{day: Monday, at: 9:30, minutes: 60}], lesson: 60"),
             "9:8: time.staff_time: Staff's own time at Monday 9:30 lies on a lesson: without 'week' one is taken to start at Monday 9:00. Nobody can be in both. Write `week`: when the lessons of a week start."),
        case("lesson that nobody stated on staff", ("{lesson: 60", "{staff_time: [{day: Monday, at: 8:30, minutes: 60}], lesson: 60"),
             "9:8: time.staff_time: Staff's own time at Monday 8:30 lies on a lesson: without 'week' one is taken to start at Monday 9:00. Nobody can be in both. Write `week`: when the lessons of a week start."),
        case("over the end of the week", ("{lesson: 60", "{week: [{day: Monday, at: 0:15}, {day: Sunday, at: 23:30}], lesson: 60"),
             "9:8: time.week: One of these starts at Monday 0:15, before the one at Sunday 23:30 is over. Nobody can be in both. Correct days, times or minutes."),
        case("no room in a week", ("{lesson: 60", "{lessons_a_week: 20, lesson: 300"),
             "9:8: time.lessons_a_week: 20 lessons of 300 minutes have no room in a week, one after the other from nine o'clock. Nobody can be in two lessons. Correct one of them, or write `week`: when each lesson starts."),
        case("two at once", ("{lesson: 60", "{first_date: soon, lesson: long"),
             "9:8: time.first_date: Write a date as year-month-day, such as 2027-02-01.",
             "9:26: time.lesson: 'lesson' must be a number; this is 'long'."),
    ],
)  # fmt: skip
def test_what_is_said(change: tuple[str, str], expected: list[str]) -> None:
    assert workshop_errors(changed(WORKSHOP, change)) == expected


def test_a_job_file_given_as_workshop() -> None:
    said = workshop_errors("job: Box\nstock: {}\n")
    assert "workshop.yaml:1:1: job: 'job' is no key here." in said[-1] or any("'job' is no key here." in each for each in said)


def test_knowledge_is_a_folder_beside_the_file(tmp_path: Path) -> None:
    (tmp_path / "our-own").mkdir()
    path = tmp_path / "workshop.yaml"
    path.write_text(WORKSHOP + "knowledge: our-own\n", encoding="utf-8")
    assert read_workshop(path)[0].knowledge == (tmp_path / "our-own").as_posix()


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.yaml")), ids=lambda path: path.stem)
def test_every_example_is_read(path: Path) -> None:
    try:
        made, notes = read_workshop(path)
    except Unusable as error:
        pytest.fail(str(error))
    assert (notes, bool(made.stations)) == ((), True)
