"""The technician's list and the register: all that staff do stands where it is done, and the boxes to fill in are empty."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from datetime import date
from functools import cache

import pytest

from sequencer.model.class_plan import Span
from sequencer.paper.course_words import Lessons
from sequencer.paper.laying_out import laid_out
from sequencer.paper.lesson_sheets import lesson_kinds
from sequencer.paper.pages import PageSize
from sequencer.paper.sign_off_register import RegisterPage, register_stations, sign_off_register
from sequencer.paper.technician_list import NEVER_ALONE, TechnicianLine, TechnicianPage, technician_list
from sequencer.paper.wording import heading
from sequencer.paper.writing import render
from tests.classroom.classes import class_planned
from tests.made import plan

DAY = date(2027, 1, 11)
JOBS = [("picture-frame", "well-equipped"), ("herb-caddy", "well-equipped")]


@cache
def _course(job: str = "herb-caddy", shop: str = "well-equipped") -> Lessons:
    return Lessons(class_planned(job, shop), plan(job, shop))


def _lines(course: Lessons, title: str) -> dict[str, list[TechnicianLine]]:
    """The lines under lists of that title, by lesson."""
    found: dict[str, list[TechnicianLine]] = {}
    for page in technician_list(course, "a4"):
        shown = page.entries[0]
        assert isinstance(shown, TechnicianPage)
        for lesson in shown.lessons:
            for block in lesson.blocks:
                if block.title.startswith(title):
                    found.setdefault(lesson.title, []).extend(block.lines)
    return found


@pytest.mark.parametrize(("job", "shop"), JOBS)
def test_every_stretch_of_staff_work_stands_under_the_lesson_it_is_for(job: str, shop: str) -> None:
    course = _course(job, shop)
    told = {
        lesson: Counter(line.lead.split(" ")[0] for line in lines) for lesson, lines in _lines(course, "Set and prepare").items()
    }
    expected: dict[str, Counter[str]] = {}
    for each in course.classes.staff_jobs:
        for span in each.spans:
            if not each.in_lesson:
                before = course.classes.staff_sessions[span.session - 1].before
                name = f"Before lesson {before}" if before else "After the last lesson"
                expected.setdefault(name, Counter())[str(each.number)] += 1
    assert told == expected


def test_a_job_tells_who_when_where_with_what_set_and_how_many() -> None:
    course = _course()
    job = next(job for job in course.classes.staff_jobs if job.kind == "work" and not job.in_lesson)
    step = course.steps[job.step]
    session = course.classes.staff_sessions[job.spans[0].session - 1]
    lines = _lines(course, "Set and prepare")[f"Before lesson {session.before}"]
    line = next(line for line in lines if line.lead == f"{job.number} {job.title}.")
    assert line.text.startswith(f"{job.adult}, {course.short_day(session)} {course.during(session, job.spans[0])}, ")
    for work in step.parts:
        assert f"{work.letter}\u00a0×\u00a0{work.quantity * len(course.classes.seats)}" in line.text
    for setting in step.settings:
        assert f"{setting.label} {setting.text}" in line.text


@pytest.mark.parametrize(("job", "shop"), JOBS)
def test_what_was_taken_is_counted_in_again_before_the_first_lesson_it_is_free_in(job: str, shop: str) -> None:
    course = _course(job, shop)
    told: Counter[tuple[str, str]] = Counter()
    for lesson, lines in _lines(course, "Take out of cramps").items():
        for line in lines:
            count, _, thing = line.lead.removesuffix(".").partition(" × ")
            told[lesson, thing] += int(count)
    expected: Counter[tuple[str, str]] = Counter()
    for each in course.classes.taken:
        lesson = f"Before lesson {each.until_lesson}" if each.until_lesson else "After the last lesson"
        if each.seat and each.span.session != each.until_lesson:
            expected[lesson, each.thing.replace("-", " ")] += each.count
    assert sum(expected.values()) > 0
    assert told == expected


def test_of_times_of_one_day_the_later_is_told_though_it_begins_with_a_smaller_figure() -> None:
    course = _course("picture-frame")
    first, second, *_ = [each for each in course.classes.taken if each.seat and each.until_lesson > each.span.session]
    same = replace(second, step=first.step, span=first.span, thing=first.thing, until_lesson=first.until_lesson)
    taken = (replace(first, until="2027-03-02 9:50"), replace(same, until="2027-03-02 11:50"))
    (lines,) = _lines(Lessons(replace(course.classes, taken=taken), course.plan), "Take out of cramps").values()
    assert [line.text.rpartition("Not before ")[2] for line in lines] == ["2 March 2027, 11:50."]


def test_machines_that_students_use_are_checked_before_each_lesson_with_their_settings() -> None:
    course = _course()
    told = _lines(course, "Check before the class comes")
    motors = {card.station for card in course.plan.stations if card.machine}
    used = 0
    for lesson in course.classes.lessons:
        lines = {line.lead: line.text for line in told.get(f"Before lesson {lesson.number}", [])}
        due = set()
        for stint, _ in course.stints(lesson.number):
            step = course.steps[stint.step]
            if step.station in motors:
                lead = f"{heading(course.place(stint.step, stint.place))}:"
                due.add(lead)
                if stint.kind == "step":
                    assert f"(step {step.number})" in lines[lead]
                    assert all(f"{setting.label} {setting.text}" in lines[lead] for setting in step.settings)
        assert set(lines) == due
        used += len(due)
    assert used


def test_nobody_is_alone_at_a_machine_and_who_is_there_too_is_named() -> None:
    course = _course()
    motors = {card.station for card in course.plan.stations if card.machine}
    jobs = {(job.number, job.adult): job for job in course.classes.staff_jobs if course.steps[job.step].station in motors}
    lines = [line for some in _lines(course, "Set and prepare").values() for line in some]
    at_machines = [line for line in lines if " there: ____" in line.text]
    assert len(at_machines) == sum(len(job.spans) for job in course.classes.staff_jobs if (job.number, job.adult) in jobs) > 0
    for line in at_machines:
        adult = line.text.partition(",")[0]
        (other,) = [each for each in course.classes.adults if each != adult]
        assert f"With {other} there: ____" in line.text
    alone = Lessons(replace(course.classes, adults=("Teacher",)), course.plan)
    job = next(job for job in course.classes.staff_jobs if course.steps[job.step].station in motors)
    only = replace(alone.classes, staff_jobs=(replace(job, adult="Teacher"),))
    lines = [line for some in _lines(Lessons(only, course.plan), "Set and prepare").values() for line in some]
    assert len(lines) == len(job.spans)
    assert all("With a second adult: ________" in line.text for line in lines)


def test_tools_are_ticked_out_and_in_with_one_number_for_cramps() -> None:
    course = _course()
    cramps = 0
    for lesson in course.classes.lessons:
        tools = laid_out(course, lesson)
        (title, lines), *_ = [
            (block.title, block.lines)
            for page in technician_list(course, "a4")
            for shown in page.entries
            if isinstance(shown, TechnicianPage)
            for each in shown.lessons
            if each.title == f"Before lesson {lesson.number}"
            for block in each.blocks
            if block.title.startswith("Lay out")
        ]
        assert title.startswith(f"Lay out, {sum(tool.count for tool in tools if tool.given_back)} to count.")
        assert [line.lead for line in lines] == [tool.said for tool in tools]
        taken = sum(each.count for each in course.classes.taken if each.span.session == lesson.number and "cramp" in each.thing)
        for tool in tools:
            if tool.reaches:
                cramps += 1
                assert tool.count >= sum(count for _, count in tool.reaches)
        assert sum(count for tool in tools for _, count in tool.reaches) == taken
    assert cramps


def test_a_machine_set_while_the_class_is_there_stands_under_its_lesson_with_the_time() -> None:
    course = _course()
    job = next(job for job in course.classes.staff_jobs if job.kind == "set-up" and course.steps[job.step].settings)
    there = replace(job, in_lesson=True, spans=(Span(3, 5, 9),))
    lines = _lines(Lessons(replace(course.classes, staff_jobs=(there,)), course.plan), "While the class is there")
    assert list(lines) == ["Before lesson 3"]
    (line,) = lines["Before lesson 3"]
    assert line.lead == f"{job.number} {job.title}."
    assert f"{course.during(course.classes.lessons[2], there.spans[0])}, 4 min, at the " in line.text


def test_a_lesson_stands_whole_on_a_page() -> None:
    titles = [
        (lesson.title, lesson.goes_on)
        for page in technician_list(_course(), "a4")
        for shown in page.entries
        if isinstance(shown, TechnicianPage)
        for lesson in shown.lessons
    ]
    assert len(titles) >= len(_course().classes.lessons)
    assert not [title for title, goes_on in titles if goes_on]


@pytest.mark.parametrize("size", ["a4", "letter"])
@pytest.mark.parametrize("name", ["technician-list", "sign-off-register"])
def test_every_page_says_what_it_must(name: str, size: PageSize) -> None:
    course = _course()
    html = render(lesson_kinds(course)[name], course.plan, DAY, size)
    pages = html.count("<section ")
    assert pages > 1
    said = NEVER_ALONE if name == "technician-list" else "deletes it as its policy says"
    assert html.count(said) == pages
    assert "compliant" not in html


@pytest.mark.parametrize(("job", "shop"), JOBS)
def test_the_register_has_a_box_for_each_seat_at_each_station_and_fills_in_none(job: str, shop: str) -> None:
    course = _course(job, shop)
    stations = register_stations(course)
    columns = {stint.shows for stint in course.classes.stints if stint.kind == "demonstration"}
    assert len(stations) == len(columns)
    signed = {course.steps[stint.step].station_kind for stint in course.classes.stints if stint.kind == "sign-off"}
    assert signed <= {name for names in columns for name in names}
    boxes: Counter[tuple[str, str]] = Counter()
    for page in sign_off_register(course, "a4"):
        shown = page.entries[0]
        assert isinstance(shown, RegisterPage)
        boxes.update((seat, station.title) for seat in shown.seats for station in shown.stations)
    assert boxes == Counter((seat, station.title) for seat in course.classes.seats for station in stations)
    html = render(lesson_kinds(course)["sign-off-register"], course.plan, DAY, "a4")
    filled = re.findall(r"<td[^>]*>([^<]+)</td>", html.partition('<table class="grid">')[2].split("</table>")[0])
    assert all(each.isdigit() for each in filled), "only the lesson of a sign-off is printed"


def test_the_register_prints_what_is_seen_before_a_sign_off_and_only_there() -> None:
    course = _course()
    html = re.sub(r"</?b>", "", render(lesson_kinds(course)["sign-off-register"], course.plan, DAY, "a4"))
    cards = {card.title: card for card in course.plan.stations}
    signed = [station for station in register_stations(course) if station.signed_off]
    assert signed
    for station in register_stations(course):
        seen = cards[station.title.partition(", with ")[0]].seen_at_sign_off if station.signed_off else ()
        assert station.seen == (tuple(f"{number} {text}" for number, text in enumerate(seen, 1)) if station.signed_off else ())
        assert all(text in html for text in station.seen)
        assert len(station.seen) == (3 if station.signed_off else 0)


def test_tools_shown_at_another_bench_stand_in_the_register_by_their_own_name() -> None:
    course = _course("picture-frame")
    shown = [stint for stint in course.classes.stints if "hand-planing" in stint.shows]
    assert {stint.title for stint in shown} == {"hand saws: hand planes, with the shooting board"}
    (planes,) = [station for station in register_stations(course) if station.title == "hand planes, with the shooting board"]
    said = [text for text in planes.shown if "shown again" not in text]
    assert said == [f"{course.seats(each.seats)}: lesson {each.spans[0].session}, {each.adult}" for each in shown]


def test_the_register_says_who_shows_which_group_in_which_lesson() -> None:
    course = _course()
    told = [text for station in register_stations(course) for text in station.shown]
    said = [text for text in told if "shown again" not in text]
    shown = [stint for stint in course.classes.stints if stint.kind == "demonstration"]
    again = {
        (lesson.number, care.seats, shows)
        for lesson in course.classes.lessons
        for care in lesson.cautions
        for shows in {stint.shows for stint in shown}
        if care.kind == "show-again" and care.shown in shows
    }
    assert sum("shown again" in text for text in told) == len(again) > 0
    assert all(len(set(station.shown)) == len(station.shown) for station in register_stations(course))
    assert sorted(said) == sorted(f"{course.seats(each.seats)}: lesson {each.spans[0].session}, {each.adult}" for each in shown)
    for station in register_stations(course):
        assert set(station.planned) in (set(), set(course.classes.seats))
        assert station.signed_off == bool(station.planned)
