"""A plan for one becomes a plan of lessons for a class: looked for, written down, and gone over by a checker that knows nothing
of how it was found.
"""

from __future__ import annotations

from dataclasses import replace

from sequencer.classroom.cannot_hold import Clash, clash
from sequencer.classroom.checking import class_plan_faults, looked_at
from sequencer.classroom.course import Class, Say, best_course, lessons_text
from sequencer.classroom.hopeless import hopeless
from sequencer.classroom.no_time import no_course, no_time
from sequencer.classroom.not_stated import many_for_teachers, none_there, not_stated
from sequencer.classroom.telling import class_plan
from sequencer.findings import Finding, Refused
from sequencer.model.class_plan import ClassPlan
from sequencer.scheduling.checked import faults


def make_class_plan(
    class_: Class, *, within: int | None = None, effort: float = 1.0, solve: bool = True, say: Say | None = None
) -> ClassPlan:
    """The plan of lessons. `within`: how many lessons there are. `effort`: how much is looked for, counted in schedules and in
    the solver's deterministic time, so that equal input gives equal output. Raises Refused with findings if there is none, or if
    it takes more lessons than there are."""
    against = hopeless(class_.plan, class_.job, class_.workshop, class_.knowledge)
    if against or (against := [*none_there(class_), *no_time(class_)]):
        raise Refused(against)
    found = best_course(class_, effort=effort, solve=solve, say=say)
    if found is None:
        raise Refused([no_course(class_)])
    if wrong := faults(found.work.problem, found.schedule):
        raise Refused([_fault(text) for text in wrong[:5]])
    plan = class_plan(class_, found)
    if wrong := class_plan_faults(plan, class_.plan, class_.job, class_.workshop, class_.knowledge):
        raise Refused([_fault(text) for text in wrong[:5]])
    if within is not None and found.lessons > within:
        raise Refused([_too_long(plan, within, clash(class_, plan, within, effort=effort, say=say))])
    return replace(plan, checked=looked_at(), findings=(*many_for_teachers(class_), *plan.findings, *not_stated(class_)))


def _fault(text: str) -> Finding:
    return Finding("error", "course-wrong", "the class", text, "The plan of lessons contradicts itself.", "Please report it.")


def _too_long(plan: ClassPlan, within: int, clash: Clash) -> Finding:
    least = f"No plan in whole slots that sets each machine once for a step takes fewer than {lessons_text(plan.least)}"
    proved = f"{least}: {plan.bottlenecks[0].says} " if plan.bottlenecks else ""
    found = f"The shortest that was found takes {len(plan.lessons)}, and {within} were asked for."
    held = "; ".join((lessons_text(within), *clash.held))
    enough = "; ".join((*(change.says for change in clash.enough), lessons_text(len(plan.lessons))))
    cannot = "These cannot all hold" if clash.proved else "No plan was found in which all of these hold"
    why = f"{proved}{cannot}: {held}."
    return Finding("error", "does-not-fit", "the class", found, why, f"Each of these is enough by itself: {enough}.")
