"""The sheets of a class plan: whatever a seat does stands on its card and on the page of the lesson, and nothing else does."""

from __future__ import annotations

import re
from collections import defaultdict
from dataclasses import replace
from datetime import date
from functools import cache
from html import unescape
from itertools import pairwise
from pathlib import Path

import pytest
from pypdf import PdfReader

from sequencer.classroom import mixed
from sequencer.findings import Finding, Unusable
from sequencer.model.class_plan import NO_TIMETABLE, Care, Remedy, Session, Span, Stint
from sequencer.model.plan import Step
from sequencer.model.workshop import Adult
from sequencer.paper.course_page import CoursePage
from sequencer.paper.course_words import Lessons
from sequencer.paper.laying_out import laid_out_tools
from sequencer.paper.lesson_aim import aims
from sequencer.paper.lesson_cautions import cautions, for_adults, worn
from sequencer.paper.lesson_plan import LessonBox, LessonPage, lesson_plan, where_rows
from sequencer.paper.lesson_sheets import LESSON_SHEETS, lesson_kinds, write_lesson_sheets
from sequencer.paper.lesson_staff import staff_lines
from sequencer.paper.pages import PAGE_SIZES
from sequencer.paper.pdf import make_pdf
from sequencer.paper.seat_cards import SeatCard, SeatPage, TasksPage, seat_cards
from sequencer.paper.seat_lines import BOX, GO_ON, NUMBERS, ON_THE_WALL, SHOW, WAIT, WATCH, SeatRow
from sequencer.paper.sign_off_register import register_stations
from sequencer.paper.wall_chart import ChartPage, chart_rows, slots, slots_of, wall_chart
from sequencer.paper.wording import CAUTION, heading, numbers_words, wear_words, within_sentence
from sequencer.paper.writing import render, stylesheet
from tests.classroom.classes import class_planned
from tests.made import knowledge, plan

DAY = date(2027, 1, 11)
JOB, SHOP = "picture-frame", "well-equipped"


@cache
def _course() -> Lessons:
    return Lessons(class_planned(JOB, SHOP), plan(JOB, SHOP))


def _signed(course: Lessons) -> Stint:
    """A sign-off made of a student's first work."""
    work = (each for each in course.classes.stints if each.kind == "step" and course.steps[each.step].station_kind == "ploughing")
    return replace(next(work), kind="sign-off")


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Every sheet of a class of twelve, written once."""
    out = tmp_path_factory.mktemp("lessons")
    course = _course()
    written = write_lesson_sheets(course.classes, course.plan, out, day=DAY)
    assert written.pdf
    return out


def _pages_of(lesson: Session, course: Lessons) -> list[LessonPage]:
    shown = [page.entries[0] for page in lesson_plan(course, "a4")]
    return [page for page in shown if isinstance(page, LessonPage) and page.head.number == lesson.number]


def _cards(course: Lessons) -> list[SeatCard]:
    pages = [page.entries[0] for page in seat_cards(course, "a4")]
    return [card for page in pages if isinstance(page, SeatPage) for row in page.rows for card in row]


def _seats(said: str, course: Lessons) -> set[str]:
    """The seats that a text such as `1 to 3, 9` names."""
    order = list(course.classes.seats)
    found: set[str] = set()
    for run in said.split(", "):
        first, _, last = run.partition(" to ")
        found |= set(order[order.index(first) : order.index(last or first) + 1])
    return found


def test_each_lesson_has_one_aim_with_its_test_and_is_learned_once() -> None:
    course = _course()
    found = aims(course)
    assert list(found) == [lesson.number for lesson in course.classes.lessons]
    had: set[str] = set()
    for lesson in course.classes.lessons:
        aim = found[lesson.number]
        done = [course.steps[stint.step] for stint, _ in course.stints(lesson.number) if stint.kind == "step"]
        if not done:
            assert aim.skill.startswith("Say how to use the ")
            assert not aim.numbers
            assert all(line.startswith("says unasked: ") for line in aim.good)
            continue
        of_it = [step for step in done if step.operation == aim.skill]
        assert {step.number for step in of_it} == set(aim.numbers) != set()
        first = min(of_it, key=lambda step: step.number)
        assert aim.good == tuple(f"{check.what}: {check.limit}" for check in first.checks[:2]) != ()
        assert aim.again == (aim.skill in had) or aim.again, "what nobody does for the first time is no new aim"
        had.add(aim.skill)
        head = _pages_of(lesson, course)[0].head
        assert aim.skill.lower() in head.aim.lower()
        assert first.checks[0].limit in head.good
    assert len(had) >= 5
    assert not found[1].again


def test_the_aim_is_what_is_done_for_the_first_time_and_never_clearing_up() -> None:
    course = Lessons(class_planned("herb-caddy", SHOP, 12), plan("herb-caddy", SHOP))
    found = aims(course)
    rags = {step.operation for step in course.plan.steps if any(course.tasks[task].kind == "rags" for task in step.tasks)}
    assert rags
    begun: dict[tuple[str, str], int] = {}
    for stint in course.classes.stints:
        if stint.kind == "step" and course.steps[stint.step].checks and course.steps[stint.step].operation not in rags:
            for seat in stint.seats:
                key, lesson = (course.steps[stint.step].operation, seat), stint.spans[0].session
                begun[key] = min(lesson, begun.get(key, lesson))
    had: set[str] = set()
    followed = 0
    for lesson in course.classes.lessons:
        aim = found[lesson.number]
        new = {
            skill: {seat for (each, seat), number in begun.items() if (each, number) == (skill, lesson.number)}
            for skill, _ in begun
        }
        fresh = {skill: seats for skill, seats in new.items() if seats and skill not in had}
        assert aim.skill not in rags
        if any(new.values()):
            assert set(aim.new) == new[aim.skill], lesson.number
            best = fresh or new
            assert len(aim.new) == max(len(seats) for seats in best.values())
            assert bool(fresh) == (aim.skill not in had)
        followed += aim.skill in had
        had.add(aim.skill)
    assert len(had) > 10
    assert followed, "a lesson in which only slower students come to what was an aim before"


def test_the_page_says_who_the_aim_is_new_to() -> None:
    course = _course()
    found = aims(course)
    told = set()
    for lesson in course.classes.lessons:
        aim, head = found[lesson.number], _pages_of(lesson, course)[0].head
        if not aim.new:
            assert head.aim.endswith(", again.")
        elif len(aim.new) < len(course.classes.seats):
            assert head.aim.endswith(f", new to {course.seat_words(aim.new)}.")
        else:
            assert " new to " not in head.aim
        told.add(0 < len(aim.new) < len(course.classes.seats))
    assert told == {True, False}


def test_a_lesson_in_which_stations_are_only_shown_has_an_aim_and_no_setting_yet() -> None:
    course = Lessons(class_planned("nest-box", SHOP, 8), plan("nest-box", SHOP))
    card = next(
        each for each in course.plan.stations if each.machine and any(each.station == step.station for step in _done(course))
    )
    step = next(step for step in _done(course) if step.station == card.station and step.settings)
    stint = next(each for each in course.classes.stints if each.kind == "step" and each.step == step.id)
    shown = replace(stint, kind="demonstration", seats=course.classes.seats, spans=(Span(1, 0, 10),))
    lesson = course.classes.lessons[0]
    only = Lessons(replace(course.classes, stints=(shown,), lessons=(lesson,)), course.plan)
    aim = aims(only)[1]
    assert (aim.skill, aim.numbers) == (f"Say how to use the {within_sentence(step.station_title)}", ())
    assert aim.good[0] == f"says unasked: {within_sentence(card.before_starting[0]).rstrip('.')}"
    (page,) = _pages_of(lesson, only)
    assert page.head.aim == f"{aim.skill}."
    assert page.says.startswith(f"{aim.skill}: by myself / with help / not yet")
    place = heading(within_sentence(course.place(step.id, stint.place)))
    (said,) = [line.text for box in _boxes(lesson, only) for line in box.lines if line.lead == f"{place}:"]
    assert said == "guards on; for showing and trying on waste, set as its station card says."
    assert f"(step {step.number})" not in said


def _done(course: Lessons) -> list[Step]:
    return [course.steps[stint.step] for stint in course.classes.stints if stint.kind == "step"]


def test_a_station_warns_of_itself_on_its_first_day_under_its_own_name() -> None:
    course = Lessons(class_planned("herb-caddy", SHOP, 12), plan("herb-caddy", SHOP))
    own = {card.kind: card.own_hazard for card in course.plan.stations}
    assert (own["chiselling"], own["hand-sawing"], own["pillar-drill"]) == ("edge-tool-cut", "hand-saw-cut", "entanglement")
    seen: set[str] = set()
    told = 0
    for lesson in course.classes.lessons:
        steps = [course.steps[stint.step] for stint, _ in course.stints(lesson.number)]
        found = cautions(course, lesson)
        new = {step.station_kind for step in steps} - seen
        for step in steps:
            short = next((line.short for line in step.hazards if line.name == own[step.station_kind]), "")
            if step.station_kind in new and short and len(new) <= 3:
                title = f"{within_sentence(step.station_title)} (new today)"
                assert any(title in within_sentence(each.lead) and each.text == short for each in found), (lesson.number, title)
                told += 1
        seen |= new
    assert told


def test_a_station_that_the_class_comes_to_together_stands_on_its_lesson_once() -> None:
    course = _course()
    together = Lessons(replace(course.classes, all_ready=("gluing", "lathe")), course.plan)
    said = [
        (lesson.number, line.text)
        for lesson in together.classes.lessons
        for box in _boxes(lesson, together)
        for line in box.lines
        if line.lead == "The whole class first:"
    ]
    first = min(stint.spans[0].session for stint in course.classes.stints if stint.kind == "step" and "gluing" in stint.place)
    assert [number for number, _ in said] == [first]
    assert said[0][1].startswith("nobody starts at the gluing bench before everyone is ready for step ")


@pytest.mark.parametrize(("job", "students"), [("nest-box", 8), ("herb-caddy", 12)])
def test_every_lesson_stands_on_one_page_of_a4(job: str, students: int) -> None:
    course = Lessons(class_planned(job, SHOP, students), plan(job, SHOP))
    shown = [page.entries[0] for page in lesson_plan(course, "a4")]
    lessons = [page.head.number for page in shown if isinstance(page, LessonPage)]
    assert lessons == [lesson.number for lesson in course.classes.lessons]


def test_seats_are_drawn_together_in_runs_and_read_back() -> None:
    course = _course()
    assert course.seats(("3", "1", "2", "9")) == "1 to 3, 9"
    assert course.seats(("10", "9")) == "9, 10"
    assert _seats("1 to 3, 9", course) == {"1", "2", "3", "9"}


def test_every_stint_stands_on_the_page_of_its_lesson() -> None:
    course = _course()
    for lesson in course.classes.lessons:
        told = {
            (row.what, row.place, stretch.time, seat)
            for row in where_rows(course, lesson)
            for stretch in row.stretches
            for seat in _seats(stretch.seats, course)
        }
        due = set()
        adults = {line.adult: line.does for line in staff_lines(course, lesson)}
        for stint, span in course.stints(lesson.number):
            time, place = course.slot(lesson, span.start), within_sentence(course.place(stint.step, stint.place))
            if stint.kind == "demonstration":
                shown = within_sentence(course.shown(stint))
                assert f"{shown} to {course.seats(stint.seats)} ({time})" in adults[stint.adult]
            else:
                due |= {(_said(stint, course), place, time, seat) for seat in stint.seats}
            if stint.adult:
                assert place in adults[stint.adult]
        assert told == due, lesson.number


def test_who_teaches_is_told_to_watch_the_first_work_with_an_edge_tool_or_a_saw() -> None:
    course = _course()
    motors = {card.station for card in course.plan.stations if card.machine}
    told: set[str] = set()
    for lesson in course.classes.lessons:
        adults = {line.adult: line.does for line in staff_lines(course, lesson)}
        for stint, _ in course.stints(lesson.number):
            if stint.kind == "step" and stint.adult and stint.attention < 1 and course.steps[stint.step].station not in motors:
                assert f"the first work at {within_sentence(course.place(stint.step, stint.place))}" in adults[stint.adult]
                told.update(stint.seats)
    assert told == set(course.classes.seats)


def _said(stint: Stint, course: Lessons) -> str:
    if stint.kind == "sign-off":
        return "Sign-off, then the first piece"
    return f"{stint.number} {course.short_name(stint.step)}"


def test_a_step_on_parts_that_stand_together_is_short_by_their_letters_too() -> None:
    course = _course()
    clean = next(
        step for step in course.plan.steps if step.title == "Clean the sight edges and rebates: long piece and short piece (A, B)"
    )
    assert not any(course.tasks[task].part for task in clean.tasks)
    assert course.short_name(clean.id) == "Clean the sight edges, A, B"


def test_rows_of_alike_steps_lose_no_seat_and_no_step() -> None:
    course = _course()
    for lesson in course.classes.lessons:
        rows, fewer = where_rows(course, lesson), where_rows(course, lesson, alike=True)
        assert len(fewer) <= len(rows)
        for told in (rows, fewer):
            seats = [seat for row in told for stretch in row.stretches for seat in _seats(stretch.seats, course)]
            stints = [stint for stint, _ in course.stints(lesson.number) if stint.kind != "demonstration"]
            assert set(seats) == {seat for stint in stints for seat in stint.seats}
            numbers = {str(stint.number) for stint in stints if stint.kind == "step"}
            assert all(any(number in _named(row.what) for row in told) for number in numbers)


def _named(what: str) -> set[str]:
    """The step numbers that a row such as `10 to 12, 14 Cut to length` names."""
    runs = re.findall(r"(\d+)(?: to (\d+))?", what)
    return {str(number) for first, last in runs for number in range(int(first), int(last or first) + 1)}


def test_times_are_told_as_they_are_also_where_a_lesson_begins_at_no_whole_five_minutes() -> None:
    course = _course()
    lesson = replace(course.classes.lessons[0], clock="9:07")
    assert course.slot(lesson, 0) == "9:07"
    assert course.slots(lesson, Span(1, 5, 15)) == "9:12 to 9:22"
    assert [_minutes(course.slot(lesson, minute)) - 547 for minute in range(lesson.minutes + 1)] == [*range(lesson.minutes + 1)]


def _minutes(clock: str) -> int:
    hours, minutes = clock.split(":")
    return int(hours) * 60 + int(minutes)


def _told(row: SeatRow) -> list[str]:
    """The steps by number that a row of a card names, or the places where something is watched or shown."""
    if row.what in ("Watch", "Show"):
        return [f"{row.what} {place}" for place in row.place.split(", then ")]
    return re.findall(r"(?:^|, then )(\d+)", row.what.removeprefix("Go on: "))


def test_every_stint_of_a_seat_stands_on_its_card_in_order_and_nothing_of_staff_does() -> None:
    course = _course()
    staff = {step.number for step in course.plan.steps if step.card == "staff"}
    assert staff
    for seat in course.classes.seats:
        cards = [card for card in _cards(course) if card.seat == seat]
        assert [card.number for card in cards] == list(range(1, len(cards) + 1))
        told = [(lesson.number, what) for card in cards for lesson in card.lessons for row in lesson.rows for what in _told(row)]
        due: list[tuple[int, str]] = []
        for lesson in course.classes.lessons:
            spans = [(span.start, stint) for stint, span in course.stints(lesson.number) if seat in stint.seats]
            here = ""
            for _, stint in sorted(spans, key=lambda each: each[0]):
                place = within_sentence(course.shown(stint, here))
                here = course.place(stint.step, stint.place) if stint.kind == "demonstration" else ""
                word = {"demonstration": f"Watch {place}", "sign-off": f"Show {place}"}.get(stint.kind, str(stint.number))
                if not due or due[-1] != (lesson.number, word):
                    due.append((lesson.number, word))
        assert told == due, seat
        assert not staff & {int(what) for _, what in told if what.isdigit()}


def test_what_is_shown_has_its_own_name_and_its_place_goes_without_saying_behind_another_there() -> None:
    course = _course()
    planes = next(stint for stint in course.classes.stints if "hand-planing" in stint.shows)
    box = next(stint for stint in course.classes.stints if stint.shows == ("hand-sawing/mitre-box",))
    saws = next(stint for stint in course.classes.stints if stint.shows == ("hand-sawing",))
    here = course.place(saws.step, saws.place)
    assert [course.shown(stint).lower() for stint in (saws, planes, box)] == [
        "hand saws",
        "hand planes, with the shooting board, at the hand saws",
        "the mitre box at the hand saws",
    ]
    assert [course.shown(stint, here).lower() for stint in (saws, planes, box)] == [
        "hand saws",
        "hand planes, with the shooting board",
        "the mitre box",
    ]
    rows = [row.place for card in _cards(course) for lesson in card.lessons for row in lesson.rows if row.what == "Watch"]
    assert any("hand planes, with the shooting board" in place for place in rows)
    assert not any(place.count("hand saws") > 1 or "hand saws:" in place for place in rows)


def test_a_step_is_named_and_placed_once_and_its_box_stands_where_it_gets_done() -> None:
    course = _course()
    went_on = 0
    for seat in course.classes.seats:
        own = [stint for stint in course.classes.stints if seat in stint.seats and stint.kind == "step"]
        ends: dict[str, int] = {}
        for stint in own:
            ends[str(stint.number)] = max(ends.get(str(stint.number), 0), stint.spans[-1].session)
        boxes: list[tuple[str, int]] = []
        begun: set[str] = set()
        for lesson in (lesson for card in _cards(course) if card.seat == seat for lesson in card.lessons):
            at = ""
            for row in lesson.rows:
                numbers = [what for what in _told(row) if what.isdigit()]
                assert row.what.startswith("Go on: ") == bool(numbers and begun >= set(numbers)), (seat, lesson.number, row)
                went_on += row.what.startswith("Go on: ")
                boxes += [(number, lesson.number) for number in numbers if row.tick]
                if numbers and not begun & set(numbers):
                    place = _place_of(numbers[0], seat, lesson.number, course)
                    assert row.place == place or (not row.place and at == place)
                begun |= set(numbers)
                at = _place_of(numbers[-1], seat, lesson.number, course) if numbers else row.place.split(", then ")[-1]
        assert sorted(boxes) == sorted(ends.items())
    assert went_on


def _place_of(number: str, seat: str, lesson: int, course: Lessons) -> str:
    found = [
        each for each, _ in course.stints(lesson) if seat in each.seats and str(each.number) == number and each.kind == "step"
    ]
    return within_sentence(course.place(found[0].step, found[0].place))


def test_a_seat_card_says_what_its_short_words_mean_and_no_time() -> None:
    course = _course()
    cards = _cards(course)
    own = [task.does for task in course.plan.waiting if task.own]
    for seat in course.classes.seats:
        mine = [card for card in cards if card.seat == seat]
        rows = [row.what for card in mine for lesson in card.lessons for row in lesson.rows]
        for text in (WATCH, SHOW, GO_ON):
            word = text.partition(":")[0]
            assert (text in mine[0].means) == any(what == word or what.startswith(f"{word}:") for what in rows)
        assert {NUMBERS, BOX} <= set(mine[0].means)
        assert (WAIT in mine[0].means) == any(lesson.waits for card in mine for lesson in card.lessons)
        assert not any(card.means for card in mine[1:])
        marks = {task.does: task.mark for task in mine[-1].tasks}
        assert mine[-1].when_done == " or ".join(marks[does] for does in own)
    html = render(lesson_kinds(course)["seat-cards"], course.plan, DAY, "a4")
    assert not re.search(r"\b\d{1,2}:\d\d\b", re.sub(r"<[^>]*>", " ", html[html.index("<body") :]))
    size = re.search(r'class="whole-card" style="font-size:([\d.]+)pt"', html)
    assert size is not None
    assert float(size.group(1)) >= 10.5


def test_the_task_of_whoever_waits_stands_on_the_card_in_its_lesson() -> None:
    course = _course()
    idle = course.classes.idle
    cards = _cards(course)
    assert idle
    for each in idle:
        mine = [card for card in cards if card.seat == each.seat]
        last = max(span.session for stint in course.classes.stints if each.seat in stint.seats for span in stint.spans)
        if each.span.session <= last:
            (lesson,) = [lesson for card in mine for lesson in card.lessons if lesson.number == each.span.session]
            named = {task.does for task in mine[-1].tasks if task.mark in lesson.waits.split(", ")}
            assert each.does in named


def test_the_cards_of_a_class_name_a_task_by_one_mark() -> None:
    course = _course()
    marks = {(task.mark, task.does) for card in _cards(course) for task in card.tasks}
    assert len(marks) == len({mark for mark, _ in marks}) == len({does for _, does in marks}) > 2


def test_the_seat_cards_of_a_class_fill_no_more_than_their_pages(folder: Path) -> None:
    assert len(PdfReader(folder / "seat-cards.pdf").pages) == len(_course().classes.seats)


def test_cards_of_a_short_course_share_a_page_in_large_letters() -> None:
    course = _course()
    first = course.classes.lessons[:6]
    stints = tuple(each for each in course.classes.stints if each.spans[-1].session <= len(first))
    short = Lessons(replace(course.classes, lessons=first, stints=stints, idle=()), course.plan)
    pages = seat_cards(short, "a4")
    assert len(pages) <= len(course.classes.seats) / 2
    html = render(lesson_kinds(short)["seat-cards"], course.plan, DAY, "a4")
    sizes = re.findall(r'class="cut" style="font-size:([\d.]+)pt"', html)
    assert len(sizes) == len(pages)
    assert min(map(float, sizes)) >= 12
    assert make_pdf(html, stylesheet(), DAY, lambda done, count: None)


@pytest.mark.parametrize("page", PAGE_SIZES)
def test_a_seat_of_a_long_job_has_one_page(page: str) -> None:
    course = Lessons(class_planned("herb-caddy", SHOP, 12), plan("herb-caddy", SHOP))
    size = next(known for known in PAGE_SIZES if known == page)
    shown = [each.entries[0] for each in seat_cards(course, size)]
    cards = [card for each in shown if isinstance(each, SeatPage) for row in each.rows for card in row]
    assert [card.seat for card in cards] == list(course.classes.seats)
    assert all(len(card.columns) == 2 and card.count == 1 for card in cards)
    wall = [each for each in shown if isinstance(each, TasksPage)]
    assert len(shown) - len(wall) == len(cards)
    listed = {task.mark for each in wall for task in each.tasks}
    for card in cards:
        used = {mark for lesson in card.lessons for mark in lesson.waits.split(", ") if mark}
        assert used <= (listed or {task.mark for task in card.tasks})
        assert (ON_THE_WALL in card.means) == bool(wall)


def test_pages_are_as_many_as_the_lessons_and_the_cards_ask_for(folder: Path) -> None:
    course = _course()
    shown = len(PdfReader(folder / "lesson-plan.pdf").pages)
    assert shown == 1 + len(course.classes.lessons), "the course, then a page a lesson"
    for name in LESSON_SHEETS:
        pages = PdfReader(folder / f"{name}.pdf").pages
        html = (folder / f"{name}.html").read_text(encoding="utf-8")
        assert html.count("<section ") == len(pages)
        for number, page in enumerate(pages, 1):
            text = " ".join(page.extract_text().split())
            assert f"page {number} of {len(pages)}" in text
            assert CAUTION in text
            assert f"Plan mark {course.mark}" in text
            assert "on 11 January 2027" in text


@pytest.mark.parametrize("page", PAGE_SIZES)
@pytest.mark.parametrize("name", LESSON_SHEETS)
def test_equal_input_gives_equal_bytes_black_on_white(name: str, page: str) -> None:
    course = _course()
    size = next(known for known in PAGE_SIZES if known == page)
    kind = lesson_kinds(course)[name]
    html = render(kind, course.plan, DAY, size)
    again = Lessons(replace(course.classes), course.plan)
    assert render(lesson_kinds(again)[name], course.plan, DAY, size) == html
    body = html[html.index("<body") :]
    assert set(re.findall(r"#[0-9a-fA-F]{3,6}\b", body)) <= {"#000", "#fff"}
    assert not re.search(r"\b(rgb|hsl|red|green|blue|gr[ae]y)\b", re.sub(r"(?<=>)[^<]*(?=<)", "", body))
    words = re.sub(r"<[^>]*>", " ", body)
    assert not re.search(r"\b(safe|safely|compliant|approved)\b", words, re.IGNORECASE)


def test_the_mark_changes_with_the_lessons() -> None:
    course = _course()
    first, *rest = course.classes.stints
    moved = replace(course.classes, stints=(replace(first, adult="Somebody else"), *rest))
    assert Lessons(moved, course.plan).mark != course.mark
    assert Lessons(replace(course.classes, remedies=()), course.plan).mark == course.mark


def test_tools_are_laid_out_for_those_who_use_them_at_one_time() -> None:
    course = _course()
    steps = [stint for stint in course.classes.stints if stint.kind == "step" and course.steps[stint.step].tools]
    one = steps[0]
    lesson = course.classes.lessons[0]
    span = replace(one.spans[0], session=1, start=0, stop=10)
    tool = course.steps[one.step].tools[0]
    each = next(known.each for known in course.plan.tools if known.name == tool)
    at_once = [replace(one, seats=(seat,), spans=(span,)) for seat in "123"]
    after = replace(one, seats=("4",), spans=(replace(span, start=10, stop=20),))
    classes = replace(course.classes, stints=(*at_once, after))
    assert f"{tool} × {3 * each}" in laid_out_tools(Lessons(classes, course.plan), lesson)


def test_what_was_glued_before_and_what_waits_stand_on_the_page() -> None:
    course = _course()
    for taken in course.classes.taken:
        if taken.until_lesson and taken.until_lesson > taken.span.session:
            lesson = course.classes.lessons[taken.until_lesson - 1]
            lines = _box("Must be set or dry by now", lesson, course)
            start = f"{course.steps[taken.step].number} {course.short_name(taken.step)}: seat"
            assert any(
                line.startswith(start) and taken.seat in _seats(line.removeprefix(start).strip("s ").partition(" (")[0], course)
                for line in lines
            )
    for idle in course.classes.idle:
        lesson = course.classes.lessons[idle.span.session - 1]
        leads = [line.lead for box in _boxes(lesson, course) if box.title == "Waiting work" for line in box.lines]
        assert any(idle.seat in _seats(re.sub(r"^Seats? |:$", "", lead), course) for lead in leads)


def _boxes(lesson: Session, course: Lessons) -> list[LessonBox]:
    found: list[LessonBox] = []
    for page in _pages_of(lesson, course):
        found += [*page.first, *page.below]
        found += [box for pair in page.abreast for box in (*pair.left, *pair.right)]
    return found


def _box(title: str, lesson: Session, course: Lessons) -> tuple[str, ...]:
    return tuple(line.text for box in _boxes(lesson, course) if box.title.startswith(title) for line in box.lines)


def test_every_staff_job_before_a_lesson_stands_on_one_page() -> None:
    course = _course()
    sessions = {each.number: each.before for each in course.classes.staff_sessions}
    said = {
        lesson.number: next(
            (line.text for box in _boxes(lesson, course) for line in box.lines if line.lead == "Staff, before:"), ""
        )
        for lesson in course.classes.lessons
    }
    jobs = [job for job in course.classes.staff_jobs if not job.in_lesson]
    assert jobs
    for job in jobs:
        lesson = sessions[job.spans[-1].session]
        assert str(job.number) in _named(said[lesson].partition(" done")[0])


def test_the_cautions_are_of_this_lesson_and_new_stations_come_first() -> None:
    course = _course()
    seen: set[str] = set()
    for lesson in course.classes.lessons:
        here = {course.steps[stint.step].station_title for stint, _ in course.stints(lesson.number)}
        shorts = {line.short for stint, _ in course.stints(lesson.number) for line in course.steps[stint.step].hazards}
        found = [each for each in cautions(course, lesson) if each.lead != "Dust and finish"]
        assert 1 <= len(found) <= 5
        assert all(each.text in shorts for each in found)
        assert len({each.text for each in found}) == len(found)
        new = [" (new today)" in each.lead for each in found[:-1]]
        assert new == sorted(new, reverse=True)
        for title in here - seen:
            at = [each for each in found if f"{within_sentence(title)} (new today)" in within_sentence(each.lead)]
            assert at or len(here - seen) > 4, (lesson.number, title)
        seen |= here


def test_a_lesson_in_which_some_sand_and_some_finish_says_so_first() -> None:
    course = _course()
    sand = next(step for step in course.plan.steps if any(course.tasks[task].cut == "sand" for task in step.tasks))
    coat = next(step for step in course.plan.steps if any(course.tasks[task].kind == "coat" for task in step.tasks))
    stint = next(each for each in course.classes.stints if each.kind == "step")

    def at(step: Step, start: int) -> Stint:
        return replace(stint, step=step.id, number=step.number, spans=(Span(1, start, start + 10),))

    def said(*stints: Stint) -> str:
        lesson = _careful(course, *stints)
        one = Lessons(replace(course.classes, lessons=(lesson,), stints=stints), course.plan)
        return next((each.text for each in cautions(one, lesson) if each.lead == "Dust and finish"), "")

    lesson = course.classes.lessons[0]

    def slots_of(start: int, stop: int) -> str:
        return f"{course.slot(lesson, start)} to {course.slot(lesson, stop)}"

    both = said(at(sand, 0), at(sand, 10), at(coat, 5))
    assert both.startswith(f"Sanding {slots_of(0, 20)}, finish {slots_of(5, 15)}. Both go on at one time: ")
    assert "far from the dust" in both
    assert "Leave the extraction on." in both
    assert "Sand first. Clear the dust away before a tin is opened" in said(at(sand, 0), at(coat, 10))
    assert "close the tins before anybody sands" in said(at(sand, 10), at(coat, 0))
    assert not said(at(coat, 0)) + said(at(sand, 0))


def _careful(course: Lessons, *stints: Stint, adults: tuple[Adult, ...] = ()) -> Session:
    """The first lesson with what a class that does this is to be careful of in it."""
    found = mixed.cautions(stints, course.plan, adults, course.classes.seats, knowledge())
    return replace(course.classes.lessons[0], cautions=found.get(1, ()))


def test_what_is_used_long_after_it_was_shown_is_shown_again_and_stands_in_the_register() -> None:
    course = _course()
    signed = _signed(course)
    kind = course.steps[signed.step].station_kind
    shown = replace(signed, kind="demonstration", seats=("1", "2", "3", "7"), shows=(kind,))
    step = replace(signed, kind="step")

    def at(lesson: int, stint: Stint, *seats: str) -> list[Stint]:
        return [replace(stint, seats=(seat,), spans=(Span(lesson, 0, 5),)) for seat in seats]

    stints = (
        *at(1, shown, "1", "2", "3", "7"),
        *at(5, signed, "1"),
        *at(6, signed, "2", "3", "7"),
        *at(7, step, "2"),
        *at(10, step, "1", "3"),
        *at(11, step, "7"),
    )
    found = mixed.cautions(stints, course.plan, (), course.classes.seats, knowledge())
    title = course.steps[signed.step].station_title
    assert {lesson: tuple(care.says for care in some) for lesson, some in found.items()} == {
        6: (f"Show the {title} again to 2, 3, 7, in a few words: seen in lesson 1.",),
    }
    assert [care.seats for care in found[6]] == [("2", "3", "7")]
    assert (found[6][0].since, found[6][0].step, found[6][0].shown) == (1, signed.step, kind)
    lessons = tuple(replace(each, cautions=found.get(each.number, ())) for each in course.classes.lessons)
    careful = Lessons(replace(course.classes, lessons=lessons, stints=stints), course.plan)
    (station,) = [each for each in register_stations(careful) if "again" in each.shown[-1]]
    assert course.steps[signed.step].station_kind == kind
    assert station.shown[-1] == "2, 3, 7: shown again, lesson 6"
    again = f"the {within_sentence(title)} to 2, 3, 7 (seen in lesson 1)."
    assert [(each.lead, each.text) for each in for_adults(careful, lessons[5])] == [("Show again, in a few words", again)]
    assert again in [line.text for box in _boxes(lessons[5], careful) for line in box.lines]


def test_who_uses_a_new_kind_of_saw_or_edge_tool_is_named_for_the_adults_and_not_in_the_register() -> None:
    course = _course()
    shown = {name for stint in course.classes.stints for name in stint.shows}
    assert {"hand-planing", "hand-sawing"} <= shown

    def new(kind: str, what: str, *seats: str) -> Care:
        return Care("new-tool", "", course.classes.stints[0].step, seats, shown=kind, what=what)

    cautions = (
        new("hand-planing", "the hand planes", "1", "2", "3"),
        new("hand-sawing", "the hand saws", "1", "2", "3"),
        new("chiselling", "the chisels", "7"),
    )
    lesson = replace(course.classes.lessons[0], cautions=cautions)
    text = "the hand planes and the hand saws: 1 to 3; the chisels: 7."
    assert [(each.lead, each.text) for each in for_adults(course, lesson)] == [("New today, watch the first cuts", text)]
    careful = Lessons(replace(course.classes, lessons=(lesson, *course.classes.lessons[1:])), course.plan)
    assert [station.shown for station in register_stations(careful)] == [station.shown for station in register_stations(course)]


def test_the_only_adult_who_teaches_is_not_held_for_long_without_a_word() -> None:
    course = _course()
    signed = _signed(course)
    worked = next(each for each in course.classes.stints if each.kind == "step" and not each.adult)
    teacher, technician = Adult("Teacher", ("all",), teaches=True), Adult("Technician", ("all",))

    def held(minutes: int, *adults: Adult, works: int = 0) -> str:
        signing = [
            replace(signed, seats=(seat,), adult="Teacher", attention=1.0, spans=(Span(1, start, min(start + 5, minutes)),))
            for seat, start in zip("12345678", range(0, minutes, 5), strict=False)
        ]
        other = replace(worked, seats=("9",), spans=(Span(1, works, works + 5),))
        lesson = _careful(course, *signing, other, adults=adults)
        one = Lessons(replace(course.classes, lessons=(lesson,), stints=(*signing, other)), course.plan)
        return "; ".join(f"{each.lead}: {each.text}" for each in for_adults(one, lesson))

    lesson = course.classes.lessons[0]
    when = f"Teacher {course.slot(lesson, 0)} to {course.slot(lesson, 40)}: "
    assert held(40, teacher, technician).startswith(f"{when}The only adult who teaches is held then.")
    assert "In the room with those who work: Technician." in held(40, teacher, technician)
    assert not held(10, teacher, technician)
    assert not held(40, teacher, replace(technician, teaches=True))
    assert not held(20, teacher, technician, works=25)
    assert not held(40, teacher, replace(technician, in_lessons=False))


def test_machines_that_students_use_are_checked_before_and_isolated_after_by_name() -> None:
    course = Lessons(class_planned("nest-box", SHOP, 8), plan("nest-box", SHOP))
    motors = {card.station for card in course.plan.stations if card.machine}
    used = 0
    for lesson in course.classes.lessons:
        steps = [(stint, course.steps[stint.step]) for stint, _ in course.stints(lesson.number)]
        start = {line.lead: line.text for box in _boxes(lesson, course) if box.title.startswith("Start") for line in box.lines}
        end = {line.lead: line.text for box in _boxes(lesson, course) if box.title.startswith("End") for line in box.lines}
        for stint, step in steps:
            if step.station in motors:
                used += 1
                place = within_sentence(course.place(stint.step, stint.place))
                assert place in end["Isolate:"]
                said = start[f"{heading(place)}:"]
                done = stint.kind == "step"
                assert not done or all(f"{setting.label} {setting.text}" in said for setting in step.settings)
        if not any(step.station in motors for _, step in steps):
            assert "Isolate:" not in end
    assert used
    bare = replace(course.plan, stations=tuple(card for card in course.plan.stations if not card.machine))
    room = Lessons(course.classes, bare)
    assert not any("Machines" in line.lead for box in _boxes(course.classes.lessons[0], room) for line in box.lines)


def test_what_is_worn_stands_on_the_page_and_gloves_stay_where_they_belong() -> None:
    course = _course()
    drilled = next(step for step in course.plan.steps if any(item.name == "gloves" and item.forbidden for item in step.wear))
    coated = next(step for step in course.plan.steps if any(item.name == "gloves" and not item.forbidden for item in step.wear))
    stint = next(each for each in course.classes.stints if each.kind == "step")
    both = tuple(replace(stint, step=step.id, spans=(Span(1, 0, 10),)) for step in (drilled, coated))
    said = worn(Lessons(replace(course.classes, stints=both), course.plan), course.classes.lessons[0])
    assert re.search(rf"Keep [^:]*gloves[^:]* off: {within_sentence(drilled.station_title)}\.", said)
    assert re.search(rf"Wear [^:]*gloves[^:]*: {within_sentence(coated.station_title)}\.", said)
    for lesson in course.classes.lessons:
        said = worn(course, lesson)
        for stint, _ in course.stints(lesson.number):
            for item in course.steps[stint.step].wear:
                assert wear_words([item]).split(" ")[1].rstrip(".") in said, (lesson.number, item.name)
        assert not re.search(r"Everyone: [^:]*gloves", said.partition(":")[0] + said.partition(":")[2].partition(":")[0])


def test_without_a_timetable_no_time_of_the_day_is_printed() -> None:
    course = _course()
    note = Finding("note", NO_TIMETABLE, "time", "The timetable is not stated.", "", "Write it.")
    bare = Lessons(replace(course.classes, findings=(note,)), course.plan)
    html = render(lesson_kinds(bare)["lesson-plan"], course.plan, DAY, "a4")
    body = re.sub(r"<[^>]*>", " ", html[html.index("<body") :])
    assert not re.search(r"\b\d{1,2}:\d\d\b", body)
    assert "The timetable is not stated. Write it." in body


def test_the_course_page_says_what_holds_the_class_up_what_would_help_and_what_would_not() -> None:
    course = _course()
    helped = replace(
        course.classes, remedies=(Remedy("one more place for gluing", 8, 11, 2),), in_vain=("longer lessons", "pairs")
    )
    (page,) = [
        each.entries[0]
        for each in lesson_plan(Lessons(helped, course.plan), "a4")
        if isinstance(each.entries[0], CoursePage) and each.entries[0].holds_up
    ]
    assert isinstance(page, CoursePage)
    assert page.holds_up == tuple(each.says for each in course.classes.bottlenecks) != ()
    assert page.helps == (
        "One more place for gluing: 11 lessons, 2 fewer.",
        "Tried, and no lesson fewer was found: longer lessons; pairs.",
    )
    html = render(lesson_kinds(Lessons(helped, course.plan))["lesson-plan"], course.plan, DAY, "a4")
    assert html.count("<h3>What holds the class up</h3>") == html.count("<h3>What would help</h3>") == 1
    assert all(heading(text) in unescape(html) for text in (*page.holds_up, *page.helps))
    bare = render(lesson_kinds(course)["lesson-plan"], course.plan, DAY, "a4")
    assert "<h3>What would help</h3>" not in bare


def test_an_unknown_sheet_or_page_is_refused_before_anything_is_written(tmp_path: Path) -> None:
    course = _course()
    with pytest.raises(Unusable, match="no sheet called 'poster'"):
        write_lesson_sheets(course.classes, course.plan, tmp_path / "out", day=DAY, only=("poster",))
    with pytest.raises(Unusable, match="page size"):
        write_lesson_sheets(course.classes, course.plan, tmp_path / "out", day=DAY, page="a5")
    assert not (tmp_path / "out").exists()


def test_the_wall_chart_has_every_seat_at_its_place_in_its_slots_in_lanes_that_do_not_overlap() -> None:
    course = _course()
    for lesson in course.classes.lessons:
        told: dict[tuple[str, str, str], set[int]] = defaultdict(set)
        steps: dict[tuple[str, str, int], set[int]] = defaultdict(set)
        for row in chart_rows(course, lesson):
            for lane in row.lanes:
                assert all(first.stop <= then.first for first, then in pairwise(lane))
                for bar in lane:
                    for seat in bar.seats:
                        told[row.place, bar.kind, seat] |= set(range(bar.first, bar.stop))
                    for number in bar.numbers:
                        steps[row.place, bar.kind, number] |= set(range(bar.first, bar.stop))
        due: dict[tuple[str, str, str], set[int]] = defaultdict(set)
        begun = _minutes(lesson.clock) // 5
        for stint, span in course.stints(lesson.number):
            first, last = (_minutes(course.slot(lesson, minute)) // 5 - begun for minute in (span.start, span.stop))
            place = course.place(stint.step, stint.place)
            for seat in stint.seats:
                due[place, stint.kind, seat] |= set(range(first, max(last, first + 1)))
            assert steps[place, stint.kind, stint.number] >= set(range(first, max(last, first + 1)))
        assert told == due, lesson.number


def test_the_slots_of_the_chart_are_those_of_the_clock() -> None:
    course = _course()
    lesson = replace(course.classes.lessons[0], clock="9:03", minutes=40)
    assert slots(course, lesson) == (3, 9)
    assert list(slots_of(course, lesson, Span(1, 0, 1))) == [0], "what is over in its slot has that one"
    assert list(slots_of(course, lesson, Span(1, 1, 7))) == [0, 1], "9:04 to 9:10"
    assert list(slots_of(course, lesson, Span(1, 7, 11))) == [2], "9:10 to 9:14 comes after it"


def test_the_wall_chart_prints_each_bar_with_its_seats_and_its_step() -> None:
    course = _course()
    pages = [page.entries[0] for page in wall_chart(course, "a4")]
    for lesson in course.classes.lessons:
        shown = [page for page in pages if isinstance(page, ChartPage) and page.title.startswith(f"Lesson {lesson.number} of ")]
        drawn = "".join(page.picture for page in shown)
        bars = [bar for row in chart_rows(course, lesson) for lane in row.lanes for bar in lane]
        assert drawn.count('class="bar"') == len(bars)
        assert drawn.count('class="hatch"') == sum(bar.kind != "step" for bar in bars)
        for bar in bars:
            for code in course.seats(bar.seats, "-").split(", "):
                assert re.search(rf"[ >]{code}[ <]", drawn), (lesson.number, code)
            if bar.kind == "step":
                assert f"step{'s' if len(bar.numbers) > 1 else ''} {numbers_words(bar.numbers)}<" in drawn
        sizes = [float(size) for size in re.findall(r'font-size="([\d.]+)"', drawn)]
        assert min(sizes) >= 2.0, "smaller letters cannot be read on paper at all"
        assert max(sizes) >= 6.0
    assert next(page.title for page in pages if isinstance(page, ChartPage)) == "The lessons"


def test_cramps_are_laid_out_as_the_class_plan_counts_them() -> None:
    course = _course()
    glued = next(taken for taken in course.classes.taken if "cramp" in taken.thing)
    stint = next(each for each in course.classes.stints if each.step == glued.step and each.kind == "step")
    span = replace(stint.spans[0], session=1, start=0, stop=10)
    taken = (replace(glued, count=3),)
    classes = replace(course.classes, stints=(replace(stint, seats=("1",), spans=(span,)),), taken=taken)
    assert "sash cramp × 3" in laid_out_tools(Lessons(classes, course.plan), course.classes.lessons[0])
