"""What would help a class, and why one does not fit: told truly, so that what is named as enough is enough."""

from __future__ import annotations

from dataclasses import replace
from math import ceil

import pytest

from sequencer.classroom.cannot_hold import clash
from sequencer.classroom.course import Class
from sequencer.classroom.helping import (
    MUCH_WAITING,
    QUICK,
    at_once,
    both,
    changes,
    longer,
    looked_for,
    more_of,
    quick_course,
    remedies,
)
from sequencer.classroom.holding_up import TOGETHER
from sequencer.classroom.lessons import make_class_plan
from sequencer.findings import Refused
from tests.classroom.classes import class_planned, the_class

EFFORT = 0.07


@pytest.fixture(scope="module")
def tight() -> Class:
    """A class with one place to mark out and one to saw at, and one scroll saw."""
    class_ = the_class("herb-caddy", "well-equipped", 7)
    one = {
        name: replace(station, count=1) if name in ("hand-sawing", "scroll-saw") else station
        for name, station in class_.workshop.stations.items()
    }
    return replace(class_, workshop=replace(class_.workshop, stations=one))


def test_one_more_of_the_bottleneck_helps_and_only_what_saves_is_told(tight: Class) -> None:
    planned = make_class_plan(tight, effort=EFFORT, solve=False)
    told = remedies(tight, planned, lambda _: None, effort=EFFORT / QUICK)
    waited_for = [each.name for each in planned.bottlenecks if each.queue]
    assert tight.knowledge.stations[tight.workshop.stations[waited_for[0]].kind].power in ("hand", "bench")
    place = f"one more place for {waited_for[0].replace('-', ' ')}"
    assert any(each.change == place for each in told), (planned.bottlenecks, told)
    assert all(each.saves > 0 and each.least <= each.lessons == len(planned.lessons) - each.saves for each in told)
    assert [each.saves for each in told] == sorted((each.saves for each in told), reverse=True)


def test_what_is_tried_and_saves_nothing_is_named_once() -> None:
    class_, planned = the_class(students=8), class_planned(students=8)
    short = replace(planned, lessons=planned.lessons[:1], bottlenecks=planned.bottlenecks[:1])
    looked = looked_for(class_, short, lambda _: None, effort=EFFORT)
    assert looked.helps == []
    assert looked.in_vain == [each.says for each in changes(class_, short, lambda _: None)]
    assert len(looked.in_vain) > 2


def test_a_station_may_be_shown_to_the_whole_class_at_once() -> None:
    class_, planned = the_class(), class_planned()
    groups = {len(each.seats) for each in planned.stints if each.kind == "demonstration"}
    change = at_once(class_)
    assert change.class_.workshop.shown_in == class_.workshop.students
    assert change.says.endswith("where all of them see it")
    tried = [each.says for each in changes(class_, planned, lambda _: None)]
    assert (change.says in tried) == (min(groups) < len(planned.seats))
    whole = tuple(replace(each, seats=planned.seats) for each in planned.stints)
    assert change.says not in [each.says for each in changes(class_, replace(planned, stints=whole), lambda _: None)]


def test_a_machine_is_called_by_its_name_and_a_bench_by_its_places(tight: Class) -> None:
    assert more_of(tight, "scroll-saw").says == "one more scroll saw"
    assert more_of(tight, "hand-sawing").says == "one more place for hand sawing"
    assert more_of(tight, "gluing", 2).says == "2 more places for gluing"


def test_where_much_is_waited_two_changes_at_a_time_are_tried(tight: Class) -> None:
    planned = make_class_plan(tight, effort=EFFORT, solve=False)
    assert planned.waiting > MUCH_WAITING
    told = remedies(tight, planned, lambda _: None, effort=EFFORT)
    pairs = [each for each in told if ", and " in each.change]
    alone = [each for each in told if each not in pairs]
    assert len(pairs) == 1
    assert pairs[0].lessons < min(each.lessons for each in alone)
    assert all(
        name in {each.says for each in changes(tight, planned, lambda _: None)} for name in pairs[0].change.split(", and ")
    )


def test_two_changes_are_made_one_after_the_other(tight: Class) -> None:
    pair = both(more_of(tight, "scroll-saw"), longer(tight, 10))
    assert pair.class_.workshop.stations["scroll-saw"].count == 2
    assert pair.class_.workshop.time.lesson == tight.workshop.time.lesson + 10
    assert pair.to(tight) == pair.class_


def test_the_job_is_planned_again_without_a_machine_that_holds_it_up() -> None:
    class_ = the_class("herb-caddy", "well-equipped", 5)
    planned = make_class_plan(class_, effort=EFFORT, solve=False)
    first = replace(planned.bottlenecks[0], name="scroll-saw")
    asked: list[str] = []

    def by_hand(kind: str) -> Class | None:
        asked.append(kind)
        return None

    remedies(class_, replace(planned, bottlenecks=(first,)), by_hand, effort=EFFORT)
    assert asked == ["scroll-saw"]


def test_relaxing_what_is_named_makes_a_class_fit(tight: Class) -> None:
    planned = make_class_plan(tight, effort=EFFORT, solve=False)
    within = len(planned.lessons) - 2
    found = clash(tight, planned, within, effort=EFFORT / QUICK)
    assert found.enough
    for change in found.enough:
        course = quick_course(change.class_, fewer_than=within + 1, effort=EFFORT / QUICK)
        assert course is not None, change.says
        assert course[1] <= within, change.says
        assert len(make_class_plan(change.class_, within=within, effort=EFFORT, solve=False).lessons) <= within
    with pytest.raises(Refused) as error:
        make_class_plan(tight, within=within, effort=EFFORT, solve=False)
    (refused,) = error.value.findings
    assert ("These cannot all hold" if found.proved else "No plan was found in which all of these hold") in refused.why
    assert f"{within} lessons; {'; '.join(found.held)}." in refused.why
    assert "enough by itself" in refused.remedy


def test_fewer_lessons_than_one_student_needs_alone_are_never_enough(tight: Class) -> None:
    planned = make_class_plan(tight, effort=EFFORT, solve=False)
    found = clash(tight, planned, 2, effort=EFFORT)
    assert found.proved
    assert found.enough == ()


def test_it_is_said_why_work_that_is_soon_done_asks_for_many_lessons() -> None:
    planned = class_planned("herb-caddy", "hand-tools", 12)
    usable = planned.lessons[0].minutes
    others = [each for each in planned.bottlenecks if each.name not in ("one student's own work", TOGETHER)]
    together = [each for each in planned.bottlenecks if each.name == TOGETHER]
    assert all(each.says.endswith("; to have more of one alone may not help.") for each in together)
    soon_done = [each for each in others if each.least > ceil(each.load / usable)]
    assert soon_done
    assert all("; it comes la" in each.says or "; much comes after it" in each.says for each in soon_done)
    assert not any("; it comes" in each.says for each in others if each not in soon_done)
    says = {each.name: each.says for each in soon_done}
    assert "it comes last, after drying" in says["finishing"]


def test_an_interrupt_ends_the_looking_for_remedies_with_what_is_found() -> None:
    """Whoever presses Ctrl-C at the third change keeps what the first two save, and the plan."""
    class_, planned = the_class(students=8), class_planned(students=8)
    said: list[str] = []

    def say(text: str) -> None:
        said.append(text)
        if len(said) == 3:
            raise KeyboardInterrupt

    found = remedies(class_, planned, lambda _: None, effort=EFFORT, say=say)
    assert len(said) == 3
    assert all(f"what would help: {each.change}" in said[:2] for each in found)
