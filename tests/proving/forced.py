"""A way that a decision asks for, planned in the well-equipped workshop, carried out on solids and drawn."""

from __future__ import annotations

from dataclasses import replace

from sequencer.model.job import Decision, Job
from sequencer.model.plan import Plan, Task
from sequencer.paper.drawing import picture
from sequencer.paper.pictured import Pictured
from sequencer.planning.planner import make_plan
from sequencer.proving.making import carry_out
from sequencer.proving.record import with_record
from tests.made import knowledge, workshop


def forced(way: str, about: str, drawn: Job) -> tuple[Job, Plan, Task]:
    """The job with the decision, its plan and the task; the proof holds, the step is of that way and its picture readable."""
    drawn = replace(drawn, decisions=(Decision(about, "Head of technology", "for this check", way=way),))
    plan = make_plan(drawn, workshop("well-equipped"), knowledge())
    making = carry_out(plan, drawn)
    proof = with_record(plan, making).proof
    assert proof is not None
    assert proof.held, proof.failures
    task = next(task for task in plan.tasks if task.id.startswith(f"{about}/"))
    step = next(step for step in plan.steps if task.id in step.tasks and step.kind == "work")
    assert step.operation == next(each.operations[way].name for each in knowledge().stations.values() if way in each.operations)
    assert picture(step, Pictured(plan, drawn, making)).readable
    return drawn, plan, task
