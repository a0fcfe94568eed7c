"""The plan whose sheets are looked at: the herb caddy in the full workshop, its floor grooves sawn by staff as a teacher may
decide. It has work of staff and of students, set-ups, waits, a pair of hands and a decision."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from sequencer.model.job import Decision, Job
from sequencer.model.plan import Plan
from sequencer.planning.planner import make_plan
from sequencer.proving.making import Making, carry_out
from sequencer.proving.record import with_record
from tests.made import job, knowledge, workshop

WHY = "Only one plough plane is left."


@cache
def make() -> tuple[Plan, Job, Making]:
    """The plan with the record of its proof, the job it is of, and the plan carried out."""
    sides = Decision("side/floor-groove", "Head of technology", WHY, way="groove-on-saw")
    drawn = replace(job("herb-caddy"), decisions=(sides, replace(sides, about="end/floor-groove")))
    plan = make_plan(drawn, workshop(), knowledge())
    making = carry_out(plan, drawn)
    return with_record(plan, making), drawn, making
