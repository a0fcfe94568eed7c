"""What comes before the first use of a station, and who is by at it: demonstrations, ways of work that are shown by themselves,
sign-offs with the first piece, the first work with an edge tool or a saw.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from functools import cache

import pytest

from sequencer.classroom import mixed
from sequencer.classroom.checking import class_plan_faults
from sequencer.classroom.course import Class
from sequencer.classroom.hopeless import hopeless
from sequencer.classroom.lessons import make_class_plan
from sequencer.classroom.shown import asked_for
from sequencer.model.class_plan import Care, ClassPlan, Span, StaffJob, Stint, StintKind
from sequencer.model.plan import Step
from sequencer.model.workshop import Adult
from tests.classroom.classes import class_planned, the_class

STOOL = "step-stool", "well-equipped", 6
"""Mortises are chopped in the first step with chisels, tenons sawn long after the saws were first used."""
CADDY = "herb-caddy", "well-equipped", 4
NEST_BOX = "nest-box", "well-equipped", 4
MORTISES, TENONS = "chiselling/mortises", "hand-sawing/down-the-grain"


def _faults(class_: Class, planned: ClassPlan) -> list[str]:
    return class_plan_faults(planned, class_.plan, class_.job, class_.workshop, class_.knowledge)


def _steps(class_: Class, *operations: str) -> list[str]:
    """The steps of some operations."""
    own = {task.id for task in class_.plan.tasks if task.operation in operations}
    return [step.id for step in class_.plan.steps if step.kind == "work" and own & set(step.tasks)]


def _shown(planned: ClassPlan, name: str) -> list[Stint]:
    return [stint for stint in planned.stints if name in stint.shows]


def _first(planned: ClassPlan, steps: Iterable[str], seat: str) -> Stint:
    own = [stint for stint in planned.stints if stint.kind == "step" and stint.step in set(steps) and seat in stint.seats]
    return min(own, key=lambda stint: (stint.spans[0].session, stint.spans[0].start))


def _long(stint: Stint) -> int:
    return sum(span.stop - span.start for span in stint.spans)


def _over(stint: Stint) -> tuple[int, int]:
    return stint.spans[-1].session, stint.spans[-1].stop


def _begins(stint: Stint) -> tuple[int, int]:
    return stint.spans[0].session, stint.spans[0].start


# Ways of work that are shown by themselves


def test_a_way_of_work_is_shown_to_every_seat_before_its_own_first_use() -> None:
    class_, planned = the_class(*STOOL), class_planned(*STOOL)
    for name, operations in (
        (MORTISES, ("chop-blind-mortise", "chop-through-mortise", "bore-and-pare-mortise")),
        (TENONS, ("saw-tenon-by-hand",)),
    ):
        steps = _steps(class_, *operations)
        assert steps
        for seat in planned.seats:
            (shown,) = [stint for stint in _shown(planned, name) if seat in stint.seats]
            assert _over(shown) <= _begins(_first(planned, steps, seat))


def test_what_one_step_first_asks_for_is_shown_in_one_go_that_lasts_the_sum() -> None:
    """Eight minutes and five, in whole slots of five; the way alone five, after its station."""
    planned = class_planned(*STOOL)
    working = the_class(*STOOL).knowledge.working
    assert (working.demonstration, working.way_shown, working.slot) == (8, 5, 5)
    (chisels,) = _shown(planned, MORTISES)
    assert chisels.shows == ("chiselling", MORTISES)
    assert (_long(chisels), chisels.title) == (15, "chisels and router plane, with cutting a mortise or slot")
    (tenons,) = _shown(planned, TENONS)
    (saws,) = _shown(planned, "hand-sawing")
    assert (tenons.shows, saws.shows) == ((TENONS,), ("hand-sawing",))
    assert (_long(tenons), tenons.title) == (5, "hand saws: sawing down the grain")
    assert (_long(saws), saws.title) == (10, "hand saws")
    assert _over(saws) <= _begins(tenons)


@pytest.mark.parametrize(
    ("instructed", "shown"),
    [
        (("chiselling",), {(MORTISES,), (TENONS,)}),
        ((MORTISES,), {("chiselling",), (TENONS,)}),
        (("hand-sawing", TENONS), {("chiselling", MORTISES)}),
    ],
)
def test_a_record_of_the_station_is_none_of_a_way_of_work_there(instructed: tuple[str, ...], shown: set[tuple[str, ...]]) -> None:
    class_ = the_class(*STOOL)
    known = replace(class_, workshop=replace(class_.workshop, instructed=instructed))
    planned = make_class_plan(known, effort=0.02, solve=False)
    found = {stint.shows for stint in planned.stints if stint.shows and stint.shows[0].startswith(("chiselling", "hand-sawing"))}
    assert found - {("hand-sawing",)} == shown


def test_a_way_of_work_that_nobody_is_there_to_show_stands_in_the_way() -> None:
    class_ = the_class(*STOOL)
    kinds = tuple(dict.fromkeys(step.station_kind for step in class_.plan.steps if step.who.operator == "student"))
    adults = tuple(replace(adult, teaches=False) for adult in class_.workshop.adults)

    def against(*more: str) -> list[tuple[str, str]]:
        signed = tuple(kind for kind in kinds if class_.knowledge.stations[kind].power not in ("hand", "bench"))
        own = replace(class_.workshop, adults=adults, instructed=(*kinds, *more), signed_off=signed)
        return [(each.code, each.subject) for each in hopeless(class_.plan, class_.job, own, class_.knowledge)]

    steps = {step.id: step.number for step in class_.plan.steps}
    down_the_grain = _steps(class_, "saw-tenon-by-hand", "saw-and-plane-taper")
    assert len(down_the_grain) == 2
    assert against(MORTISES) == [("nobody-to-show", f"step {steps[step]}") for step in down_the_grain]
    assert not against(MORTISES, TENONS)
    signed_off = replace(class_.workshop, adults=adults, signed_off=kinds)
    assert not hopeless(class_.plan, class_.job, signed_off, class_.knowledge)


def _with(planned: ClassPlan, which: Callable[[Stint], bool], change: Callable[[Stint], Stint]) -> ClassPlan:
    return replace(planned, stints=tuple(change(stint) if which(stint) else stint for stint in planned.stints))


def test_the_checker_notices_what_is_not_shown_or_shown_too_soon_or_too_shortly() -> None:
    class_, planned = the_class(*STOOL), class_planned(*STOOL)
    assert not _faults(class_, planned)

    def named(name: str, change: Callable[[Stint], Stint], words: str) -> bool:
        return any(words in fault for fault in _faults(class_, _with(planned, lambda stint: name in stint.shows, change)))

    late = Span(len(planned.lessons), 0, 15)
    assert named(MORTISES, lambda each: replace(each, shows=("chiselling",)), "before cutting a mortise or slot has been shown")
    assert named(MORTISES, lambda each: replace(each, shows=(MORTISES,)), "before it has been shown")
    assert named(TENONS, lambda each: replace(each, spans=(late,)), "before sawing down the grain has been shown")
    assert named(TENONS, lambda each: replace(each, spans=(Span(1, 0, 5),)), f"is shown {TENONS} before the hand saws")
    assert named(TENONS, lambda each: replace(each, shows=()), "shows nothing")
    assert named(TENONS, lambda each: replace(each, shows=("chiselling/tenons",)), "which is not of its station")
    assert named(TENONS, lambda each: replace(each, title="hand saws"), "and it is called")
    short = Span(*_begins(_shown(planned, MORTISES)[0]), _over(_shown(planned, MORTISES)[0])[1] - 5)
    assert named(MORTISES, lambda each: replace(each, spans=(short,)), "is shown in 10 minutes, and 13 are needed in one go")


def test_a_tool_used_at_another_bench_is_used_and_need_not_be_shown_again() -> None:
    """The caddy's sheet is planed at the bench of saws; the bench of planes comes ten lessons later."""
    class_ = the_class(*CADDY)
    steps = [step for step in class_.plan.steps if step.kind == "work" and step.who.operator == "student"]
    at_planes = next(step for step in steps if step.station_kind == "hand-planing")
    elsewhere = next(step for step in steps if step.station_kind == "hand-sawing" and "jack plane" in step.tools)

    def stint(kind: StintKind, step: Step, lesson: int, *shows: str) -> Stint:
        span = Span(lesson, 0, 10)
        return Stint(kind, ("1",), step.id, step.number, "", step.station, "", 0.1, (span,), shows=shows)

    shown, late = stint("demonstration", at_planes, 1, "hand-planing"), stint("step", at_planes, 12)

    def said(*stints: Stint) -> list[str]:
        found = mixed.cautions(stints, class_.plan, (), ("1",), class_.knowledge)
        return [care.says for some in found.values() for care in some]

    assert said(shown, late) == ["Show the hand planes again to 1, in a few words: seen in lesson 1."]
    assert not said(shown, stint("step", elsewhere, 2), late)
    assert said(shown, stint("step", elsewhere, 8), late) == said(shown, late)


SHOOTING = "hand-planing/shooting-board"
FRAME = "picture-frame", "well-equipped", 12
"""Planes are used at the benches of saws and of assembly, and nobody stands at that of planes."""


def test_tools_of_a_bench_where_nobody_stands_are_shown_at_the_bench_that_uses_them() -> None:
    class_, planned = the_class(*FRAME), class_planned(*FRAME)
    using = [step for step in class_.plan.steps if step.who.operator == "student" and "jack plane" in step.tools]
    assert using
    assert {step.station_kind for step in using} == {"hand-sawing", "assembly"}
    for seat in planned.seats:
        (shown,) = [stint for stint in _shown(planned, "hand-planing") if seat in stint.seats]
        assert (shown.shows, shown.step) == (("hand-planing", SHOOTING), using[0].id)
        title = "hand saws: hand planes, with the shooting board"
        assert (shown.title, shown.place, _long(shown)) == (title, using[0].station, 15)
        assert _over(shown) <= _begins(_first(planned, [step.id for step in using], seat))


def test_a_class_whose_record_names_the_tools_of_such_a_bench_is_not_shown_them() -> None:
    class_ = the_class(*FRAME)
    known = replace(class_, workshop=replace(class_.workshop, instructed=("hand-planing", SHOOTING)))
    assert not _shown(make_class_plan(known, effort=0.02, solve=False), "hand-planing")


def test_the_checker_notices_tools_of_another_bench_that_are_not_shown_or_by_who_may_not() -> None:
    class_, planned = the_class(*FRAME), class_planned(*FRAME)
    assert not _faults(class_, planned)

    def named(change: Callable[[Stint], Stint], words: str, class_: Class = class_) -> bool:
        changed = _with(planned, lambda stint: "hand-planing" in stint.shows, change)
        return any(words in fault for fault in _faults(class_, changed))

    late = Span(len(planned.lessons), 0, 10)
    assert named(lambda each: replace(each, spans=(late,)), "before the hand planes have been shown")
    assert named(lambda each: replace(each, shows=("hand-planing",)), "before the shooting board has been shown")
    assert named(lambda each: replace(each, shows=("hand-sawing",)), "before the hand planes have been shown")
    assert named(lambda each: replace(each, shows=("chiselling",)), "which are not shown there")
    assert named(lambda each: replace(each, title="hand saws"), "and it is called")
    adults = tuple(replace(adult, authorised=("hand-sawing",)) for adult in class_.workshop.adults)
    fewer = replace(class_, workshop=replace(class_.workshop, adults=adults))
    assert named(lambda each: each, "who is not authorised for the hand planes", fewer)


def test_tools_that_nobody_is_there_to_show_stand_in_the_way_by_their_own_bench() -> None:
    class_ = the_class(*FRAME)
    kinds = {step.station_kind for step in class_.plan.steps if step.kind != "wait"}
    adults = tuple(replace(adult, authorised=tuple(sorted(kinds))) for adult in class_.workshop.adults)
    found = hopeless(class_.plan, class_.job, replace(class_.workshop, adults=adults), class_.knowledge)
    assert {each.code for each in found} == {"nobody-to-show"}
    assert all("authorised for the hand planes" in each.what for each in found)


def test_tools_of_another_bench_that_nobody_may_show_at_the_step_stand_in_the_way() -> None:
    """One adult may show the saws and another the planes; nobody both, and nobody stands at the bench of planes."""
    class_ = the_class(*FRAME)
    kinds = {step.station_kind for step in class_.plan.steps if step.kind != "wait"}
    one = replace(class_.workshop.adults[0], role="One", authorised=tuple(sorted(kinds)), teaches=True, in_lessons=True)
    other = replace(one, role="Other", authorised=("hand-planing",))

    def found(*adults: Adult) -> set[str]:
        own = replace(class_.workshop, adults=adults)
        return {each.what.partition(": ")[2] for each in hopeless(class_.plan, class_.job, own, class_.knowledge)}

    said = found(one, other)
    assert "no adult in lessons who teaches is authorised for both the hand planes and the hand saws." in {
        what[what.index("no adult") :] for what in said
    }
    assert not found(replace(one, authorised=(*one.authorised, "hand-planing")), other)


@pytest.mark.parametrize(
    ("job", "operation", "asked"),
    [
        ("picture-frame", "saw-mitre-in-box", {"hand-sawing", "hand-sawing/mitre-box", "hand-planing", SHOOTING}),
        ("picture-frame", "saw-thin-sheet-by-hand", {"hand-sawing", "hand-planing", SHOOTING}),
        ("herb-caddy", "rip-to-width-by-hand", {"hand-sawing", TENONS, "hand-planing"}),
        ("step-stool", "saw-and-plane-taper", {"hand-planing", "hand-sawing", TENONS}),
        ("nest-box", "saw-sloping-end-to-line", {"hand-sawing", "hand-sawing/tilted", "hand-planing"}),
    ],
)
def test_all_that_an_operation_needs_is_shown_of_its_own_station_and_of_others(job: str, operation: str, asked: set[str]) -> None:
    class_ = the_class(job)
    steps = _steps(class_, operation)
    assert steps
    found = asked_for(class_.plan, class_.knowledge)
    assert all(set(found[step]) == asked for step in steps)


# Sign-offs


@pytest.mark.parametrize("which", [CADDY, STOOL, NEST_BOX])
def test_a_sign_off_goes_straight_on_to_the_first_piece_with_the_same_adult_beside(which: tuple[str, str, int]) -> None:
    class_, planned = the_class(*which), class_planned(*which)
    kinds = {step.id: step.station_kind for step in class_.plan.steps}
    asked = {
        step.station_kind for step in class_.plan.steps if step.who == replace(step.who, operator="student", gate="signed-off")
    }
    signed = [stint for stint in planned.stints if stint.kind == "sign-off"]
    assert {(kinds[stint.step], stint.seats[0]) for stint in signed} == {(kind, seat) for kind in asked for seat in planned.seats}
    assert len(signed) == len(asked) * len(planned.seats) > 0
    for stint in signed:
        there = [step for step, kind in kinds.items() if kind == kinds[stint.step]]
        first = _first(planned, there, stint.seats[0])
        assert _begins(first) == _over(stint)
        assert (first.step, first.place, first.adult, first.attention) == (stint.step, stint.place, stint.adult, 1.0)


def test_the_adult_is_beside_for_the_first_piece_and_watches_the_others() -> None:
    """32 minutes of holes in several pieces at the drill, the first of 8: five for the sign-off before it, all in whole slots."""
    class_, planned = the_class(*NEST_BOX), class_planned(*NEST_BOX)
    (signed,) = [stint for stint in planned.stints if stint.kind == "sign-off" and stint.seats == ("1",)]
    own = [stint for stint in planned.stints if (stint.kind, stint.step, stint.seats) == ("step", signed.step, ("1",))]
    tasks = next(step for step in class_.plan.steps if step.id == signed.step).tasks
    assert next(task for task in class_.plan.tasks if task.id == tasks[0]).minutes == 8
    assert _long(own[0]) == 10
    assert [each.attention for each in own] == [1.0, *[0.5] * (len(own) - 1)]
    assert len(own) > 1


def test_the_checker_notices_a_sign_off_that_is_not_gone_on_from() -> None:
    class_, planned = the_class(*CADDY), class_planned(*CADDY)
    (signed, *_) = [stint for stint in planned.stints if stint.kind == "sign-off"]
    words = "does not go straight on to the first piece there, the same adult beside"

    def behind(stint: Stint) -> bool:
        return (stint.kind, stint.step, stint.seats, _begins(stint)) == ("step", signed.step, signed.seats, _over(signed))

    def named(changed: ClassPlan) -> bool:
        return any(words in fault for fault in _faults(class_, changed))

    earlier = Span(1, 0, 5)
    assert named(_with(planned, lambda stint: stint is signed, lambda each: replace(each, spans=(earlier,))))
    assert named(_with(planned, behind, lambda each: replace(each, adult="Technician")))
    assert named(_with(planned, behind, lambda each: replace(each, attention=0.5)))
    assert not named(planned)


# Edge tools and saws


def _cutting(class_: Class) -> list[Step]:
    known = class_.knowledge.stations
    steps = [step for step in class_.plan.steps if step.kind == "work" and step.who.operator == "student"]
    return [step for step in steps if known[step.station_kind].watched in ("edge-tools", "hand-saws")]


@pytest.mark.parametrize("which", [CADDY, STOOL])
def test_an_adult_who_teaches_watches_the_very_first_work_with_an_edge_tool_or_a_saw(which: tuple[str, str, int]) -> None:
    class_, planned = the_class(*which), class_planned(*which)
    teachers = {adult.role for adult in class_.workshop.adults if adult.teaches}
    assert len(teachers) < len([adult for adult in class_.workshop.adults if adult.in_lessons])
    for seat in planned.seats:
        first = _first(planned, [step.id for step in _cutting(class_)], seat)
        assert first.adult in teachers
        beside = [
            stint for stint in planned.stints if stint.adult == first.adult and stint.attention >= 1 and _meet(stint, first)
        ]
        assert not beside
    other = _with(planned, lambda stint: stint is _first(planned, [first.step], "1"), lambda each: replace(each, adult=""))
    assert any("cuts by hand for the first time" in fault for fault in _faults(class_, other))


def test_the_first_saw_is_watched_by_who_teaches_at_whichever_bench_it_is_used() -> None:
    """The marking-out of the caddy made to take a tenon saw: nothing else there cuts."""
    class_ = the_class(*CADDY)
    marking = next(step for step in class_.plan.steps if step.station_kind == "marking-out")
    sawing = replace(marking, tools=(*marking.tools, "tenon saw, fine"))
    plan = replace(class_.plan, steps=tuple(sawing if step is marking else step for step in class_.plan.steps))
    own = replace(class_, plan=plan)
    planned = make_class_plan(own, effort=0.02, solve=False)
    assert not _faults(own, planned)
    teachers = {adult.role for adult in own.workshop.adults if adult.teaches}
    for seat in planned.seats:
        first = _first(planned, [marking.id], seat)
        assert first.adult in teachers
        assert any(_over(shown) <= _begins(first) for shown in _shown(planned, "hand-sawing") if seat in shown.seats)
    other = _with(planned, lambda stint: stint is _first(planned, [marking.id], "1"), lambda each: replace(each, adult=""))
    assert any(f"cuts by hand for the first time at step {marking.number}" in fault for fault in _faults(own, other))


def _meet(one: Stint, other: Stint) -> bool:
    pairs = [(mine, its) for mine in one.spans for its in other.spans if mine.session == its.session]
    return any(mine.start < its.stop and its.start < mine.stop for mine, its in pairs)


def test_a_class_that_knows_such_tools_is_watched_by_whoever_may() -> None:
    class_ = the_class(*CADDY)
    planned = make_class_plan(
        replace(class_, workshop=replace(class_.workshop, instructed=("hand-sawing",))), effort=0.02, solve=False
    )
    steps = {step.id for step in _cutting(class_)}
    assert not any(
        stint.adult for stint in planned.stints if stint.kind == "step" and stint.step in steps and stint.attention < 1
    )


def test_a_new_kind_of_saw_or_edge_tool_is_said_with_who_uses_it_first() -> None:
    """The caddy's sheet is ripped and planed at the bench of saws, its housings are sawn and chopped, its grooves
    ploughed."""
    class_, planned = the_class(*CADDY), class_planned(*CADDY)

    def step(operation: str) -> Stint:
        return _first(planned, _steps(class_, operation), "1")

    def at(lesson: int, stint: Stint, *seats: str) -> list[Stint]:
        return [replace(stint, seats=(seat,), spans=(Span(lesson, 0, 20),)) for seat in seats]

    def said(*known: str) -> dict[tuple[int, str], tuple[str, ...]]:
        found = mixed.cautions(stints, class_.plan, (), ("1", "2", "3"), class_.knowledge, known=known)
        return {(lesson, care.shown): care.seats for lesson, some in found.items() for care in some if care.kind == "new-tool"}

    rip, chop, plough = step("rip-to-width-by-hand"), step("saw-and-chisel-housing"), step("plough-groove")
    stints = [*at(1, rip, "1", "2"), *at(2, chop, "3", "1"), *at(3, plough, "1"), *at(3, rip, "3"), *at(4, chop, "1", "2")]
    chisels, ploughs = {(2, "chiselling"): ("1",), (4, "chiselling"): ("2",)}, {(3, "ploughing"): ("1",)}
    late = {(3, "hand-planing"): ("3",)}
    assert said() == chisels | ploughs | late
    assert said("hand-sawing") == {(1, "hand-planing"): ("1", "2"), (2, "chiselling"): ("1", "3")} | ploughs | late | {
        (4, "chiselling"): ("2",)
    }
    assert said("hand-sawing", "chiselling", "ploughing", "hand-planing") == {}


# One adult at a machine and the benches


@cache
def _two_stints() -> tuple[Stint, Stint]:
    """One who is watched at a machine and one at a bench."""
    planned = class_planned(*NEST_BOX)
    machine = next(
        each for each in planned.stints if each.kind == "step" and each.adult and 0 < each.attention < 1 and "drill" in each.place
    )
    bench = next(each for each in planned.stints if each.kind == "step" and not each.adult and each.attention)
    return machine, bench


def test_one_adult_at_a_machine_and_the_benches_at_once_is_said_with_when() -> None:
    class_ = the_class(*NEST_BOX)
    machine, bench = _two_stints()
    teacher, technician = Adult("Teacher", ("all",), teaches=True), Adult("Technician", ("benches",))

    def said(*stints: Stint, adults: tuple[Adult, ...] = (teacher, technician), jobs: tuple[StaffJob, ...] = ()) -> list[Care]:
        found = mixed.cautions(stints, class_.plan, adults, ("1", "2"), class_.knowledge, jobs)
        return [care for care in found.get(1, ()) if care.kind == "motor-and-benches"]

    drilling = replace(machine, adult="Teacher", seats=("1",), spans=(Span(1, 0, 15),))
    sawing = replace(bench, seats=("2",), spans=(Span(1, 10, 30),))
    signing = replace(drilling, kind="sign-off", adult="Technician", attention=1.0, spans=(Span(1, 5, 12),))
    (care,) = said(drilling, sawing, adults=(teacher,))
    assert [(each.what, each.spans) for each in care.when] == [("Teacher", (Span(1, 10, 15),))]
    assert "Stop the motor before you turn to a bench." in care.says
    assert not said(drilling, sawing)
    (care,) = said(drilling, sawing, signing)
    assert [(each.what, each.spans) for each in care.when] == [("Teacher", (Span(1, 10, 12),))]
    setting = StaffJob("set-up", drilling.step, 1, "", drilling.place, "Technician", (Span(1, 13, 20),), in_lesson=True)
    (care,) = said(drilling, sawing, jobs=(setting,))
    assert [(each.what, each.spans) for each in care.when] == [("Teacher", (Span(1, 13, 15),))]
    assert not said(drilling, adults=(teacher,))
