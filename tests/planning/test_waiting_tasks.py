"""The job's tasks for whoever waits, as the plan has them, and what is said of those that no lesson can give."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.findings import Refused
from sequencer.model.job import MADE, Extension
from sequencer.model.plan import Plan
from sequencer.planning.planner import make_plan
from tests import made


def _plan(*tasks: Extension) -> Plan:
    return make_plan(replace(made.job("picture-frame"), extension=tasks), made.workshop("hand-tools"), made.knowledge())


def _said(plan: Plan) -> list[str]:
    return [finding.code for finding in plan.findings if finding.code.startswith("waiting-work")]


def test_a_task_after_a_part_comes_after_every_step_of_it_and_others_at_any_time() -> None:
    plan = _plan(
        Extension("Measure the backing.", after="backing", minutes=15), Extension("Draw it."), Extension("Show it.", after=MADE)
    )
    first, second, third = (task for task in plan.waiting if task.own)
    tasks = {task.id: task.part for task in plan.tasks}
    wanted = {step.id for step in plan.steps if step.kind == "work" and any(tasks[name] == "backing" for name in step.tasks)}
    assert wanted <= set(first.after)
    assert (first.when, first.minutes) == ("any-time", 15)
    assert (second.when, second.after) == ("any-time", ())
    assert (third.when, third.after) == ("made", ())
    assert plan.extension == "Measure the backing. Draw it. Show it."
    assert _said(plan) == ["waiting-work-not-stated"]


def test_seated_work_of_the_list_follows_for_every_job() -> None:
    plan = _plan()
    listed = [task for task in plan.waiting if not task.own]
    assert len(listed) == len(made.knowledge().waiting_work) == len(plan.waiting)
    assert any(task.when == "any-time" for task in listed)
    assert not any(task.stations for task in listed)
    assert _said(plan) == []


def test_a_task_where_somebody_must_watch_is_warned_of_and_one_at_a_machine_refused() -> None:
    plan = _plan(Extension("Saw an offcut.", ("hand-sawing",)))
    (finding,) = [finding for finding in plan.findings if finding.code == "waiting-work-watched"]
    assert finding.level == "warning"
    assert "abrasive" in finding.remedy
    assert _said(_plan(Extension("Sand an offcut.", ("abrasive",)))) == []
    for kind in ("band-saw", "hand-saw"):
        with pytest.raises(Refused) as error:
            _plan(Extension("Saw an offcut.", (kind,)))
        assert [finding.code for finding in error.value.findings if finding.level == "error"] == ["waiting-work-no-bench"]
