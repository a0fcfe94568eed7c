"""The checker on each seat's own work: what is left half done, cut into crumbs, or done by seats that there are not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from sequencer.classroom.checking import class_plan_faults
from sequencer.classroom.course import Class
from sequencer.classroom.lessons import make_class_plan
from sequencer.model.class_plan import ClassPlan, Span, Stint
from tests.classroom.classes import class_planned, the_class

BOX = "box/glue/glue"


@pytest.fixture
def good() -> tuple[Class, ClassPlan]:
    """A plan with nothing wrong with it."""
    job = "herb-caddy", "well-equipped", 4
    return the_class(*job), class_planned(*job)


def _faults(class_: Class, planned: ClassPlan) -> list[str]:
    return class_plan_faults(planned, class_.plan, class_.job, class_.workshop, class_.knowledge)


def _of(planned: ClassPlan, step: str, seat: str = "1") -> list[Stint]:
    """The stints of a seat at a step."""
    return [stint for stint in planned.stints if (stint.kind, stint.step, stint.seats) == ("step", step, (seat,))]


def _instead(planned: ClassPlan, old: Sequence[Stint], spans: Sequence[Span]) -> ClassPlan:
    """With a seat's stints at a step replaced by parts at these spans."""
    parts = tuple(replace(old[0], spans=(span,), piece=piece, of=len(spans)) for piece, span in enumerate(spans, 1))
    return replace(planned, stints=(*(stint for stint in planned.stints if stint not in old), *parts))


def test_one_box_glued_in_two_goes_is_noticed(good: tuple[Class, ClassPlan]) -> None:
    """Its joints have pieces in common: it is one thing, however many joints it has."""
    class_, planned = good
    (whole,) = _of(planned, BOX)
    (span,) = whole.spans
    half = (span.start + span.stop) // 2
    two = (replace(span, stop=half), Span(span.session, half + 1, span.stop + 5))
    assert any(fault.startswith("Seat 1 leaves step") for fault in _faults(class_, _instead(planned, [whole], two)))
    long = _instead(planned, [whole], [replace(span, start=span.start - 10)])
    assert not any("half done" in fault for fault in _faults(class_, long))


def test_two_frames_may_be_glued_one_after_the_other_each_with_its_own_setting_out() -> None:
    """Two frames with no piece in common are two things."""
    class_, planned = (made("step-stool", "well-equipped", 2) for made in (the_class, class_planned))
    assert isinstance(class_, Class)
    assert isinstance(planned, ClassPlan)
    (step,) = [step for step in class_.plan.steps if step.id == "end-frame/glue/glue"]
    each = round(step.minutes / 2 + step.set_up_minutes)
    whole = _of(planned, step.id)
    session = whole[0].spans[0].session
    apart = _instead(planned, whole, [Span(session, 0, each), Span(session + 1, 0, each)])
    assert not any("half done" in fault or "and needs" in fault for fault in _faults(class_, apart) if str(step.title) in fault)
    short = _instead(planned, whole, [Span(session, 0, each), Span(session + 1, 0, each - 4)])
    assert f"Seat 1 leaves step {step.number}, {step.title}, half done." in _faults(class_, short)


def test_hand_work_in_crumbs_is_noticed(good: tuple[Class, ClassPlan]) -> None:
    class_, planned = good
    step = next(step for step in class_.plan.steps if step.station_kind == "marking-out" and step.minutes > 10)
    old = _of(planned, step.id)
    minutes = [(span.session, minute) for stint in old for span in stint.spans for minute in range(span.start, span.stop)]
    crumbs = _instead(planned, old, [Span(session, minute, minute + 1) for session, minute in minutes])
    words = f"Seat 1 has 1 minutes in one go for step {step.number}, {step.title}"
    assert any(fault.startswith(words) for fault in _faults(class_, crumbs))


@pytest.mark.parametrize(
    ("kind", "seats", "words"),
    [
        ("sign-off", ("1", "2"), "which each does alone"),
        ("step", ("1", "2"), "which each does alone"),
        ("sign-off", (), "Nobody does step"),
        ("demonstration", (), "Nobody does step"),
        ("step", ("77",), "There is no seat 77"),
    ],
)
def test_seats_that_are_not_as_they_should_be_are_noticed(
    good: tuple[Class, ClassPlan], kind: str, seats: tuple[str, ...], words: str
) -> None:
    class_, planned = good
    stint = next(stint for stint in planned.stints if stint.kind == kind)
    damaged = replace(planned, stints=tuple(replace(each, seats=seats) if each is stint else each for each in planned.stints))
    assert any(words in fault for fault in _faults(class_, damaged))


def test_oily_rags_are_put_away_right_behind_the_coat(good: tuple[Class, ClassPlan]) -> None:
    """Left until the next lesson, or for some minutes, they can take fire."""
    class_, planned = good
    (coat,), (rags,) = _of(planned, "whole/coat-1/coat"), _of(planned, "whole/coat-1/put-away")
    (on,), (away,) = coat.spans, rags.spans
    assert (on.session, on.stop) == (away.session, away.start)
    for later in (Span(away.session + 1, 0, 5), Span(away.session, away.start + 5, away.stop + 5)):
        assert any("leaves oily rags lying" in fault for fault in _faults(class_, _instead(planned, [rags], [later])))


def test_what_is_one_box_by_then_is_glued_in_one_go(good: tuple[Class, ClassPlan]) -> None:
    """The divider and the handle have no piece in common, and the box that both go into is glued before."""
    _, planned = good
    assert all(len(_of(planned, "whole/glue/glue", seat)) == 1 for seat in planned.seats)


def test_work_that_begins_between_two_slots_is_noticed(good: tuple[Class, ClassPlan]) -> None:
    class_, planned = good
    (whole,) = _of(planned, BOX)
    (span,) = whole.spans
    moved = _instead(planned, [whole], [replace(span, start=span.start + 1)])
    assert any("between two slots of 5 minutes" in fault for fault in _faults(class_, moved))


def test_a_plane_is_shown_before_it_is_used_beside_a_saw(good: tuple[Class, ClassPlan]) -> None:
    """Sheet is ripped and planed to width at the bench of hand saws; planes are shown at their own."""
    class_, planned = good
    step = next(step for step in class_.plan.steps if step.id == "divider/width/cut")
    assert step.station_kind == "hand-sawing"
    assert "jack plane" in step.tools
    shown = [stint for stint in planned.stints if stint.kind == "demonstration" and stint.place == "hand-planing"]
    first = min((span.session, span.start) for stint in _of(planned, step.id) for span in stint.spans)
    assert min((stint.spans[0].session, stint.spans[0].stop) for stint in shown if "1" in stint.seats) <= first
    working = class_.knowledge.working
    assert all(stint.attention >= 1 / working.watched_edge_tools - 0.001 for stint in _of(planned, step.id))
    without = replace(planned, stints=tuple(stint for stint in planned.stints if stint not in shown))
    assert any("before the hand planes have been shown" in fault for fault in _faults(class_, without))


def test_an_adult_who_may_watch_some_benches_only_helps_at_those() -> None:
    """Twelve with a teacher for all and an assistant for saws: nothing else is the assistant's, and the plan is no longer than
    with the teacher alone."""
    alone = the_class("herb-caddy", "well-equipped", 12)
    teacher = alone.workshop.adults[0]
    assistant = replace(alone.workshop.adults[1], authorised=("hand-sawing", "marking-out"), in_lessons=True)
    found = {}
    for name, adults in {"both": (teacher, assistant), "one": (teacher, replace(assistant, in_lessons=False))}.items():
        class_ = replace(alone, workshop=replace(alone.workshop, adults=adults))
        planned = make_class_plan(class_, effort=0.02, solve=False)
        found[name] = planned
        assert not _faults(class_, planned)
    assert len(found["both"].lessons) <= len(found["one"].lessons)
    assert found["both"].least <= found["one"].least
    assert found["both"].at_benches == ("Teacher", assistant.role)
