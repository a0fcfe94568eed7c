"""Printed steps, numbered after ordering: work, with its set-up before it at a machine and the guards back after it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import groupby
from types import MappingProxyType
from typing import Literal

from sequencer.features.base import mm
from sequencer.knowledge.forms.operations import CHECKS_ON_A_CARD, CheckLine, Operation
from sequencer.knowledge.settings import filled
from sequencer.model.job import Job
from sequencer.model.plan import Card, Check, Piecework, Step, StepKind, Task
from sequencer.model.work import WAITS
from sequencer.model.workshop import Who
from sequencer.planning.bringing import Told
from sequencer.planning.choice import Choice
from sequencer.planning.loudness import EAR_PROTECTION, NOISE, acted_on_from, is_loud
from sequencer.planning.protecting import (
    brought_hazards,
    card_hazards,
    guards_of,
    hazard_lines,
    hazard_names,
    holding_of,
    in_use,
    wear_of,
    worn_against,
)
from sequencer.planning.runs import Run, cut_off_strip, in_a_long_piece, marked_in_strip, on_a_whole_stick, run_of
from sequencer.planning.shop import EXTRACTION, Shop
from sequencer.planning.step_words import (
    checks_for,
    guard_sentences,
    notes_of,
    rubbed_only,
    said_first,
    said_last,
    sentences_of,
    settings_of,
    stop_line,
    title_of,
    with_faces,
    wrong_line,
)
from sequencer.planning.strips import WASTE, cuts_apart
from sequencer.planning.tool_sizes import laid_out
from sequencer.planning.ways import Way
from sequencer.reading.words import listed

GLUE = "wood glue"
"""What the tools of an operation call the job's glue, whichever it is."""
LEAVE_WHOLE = "Leave the stick whole; do not cut it up yet."
"""What the job card says first of work on a long piece that is cut apart later."""
LEAVE_EACH = "Leave each stick whole; do not cut it up yet."
"""The same where it is done to several."""
SET_UP_WHO = Who("staff", "beside", "signed-off")


def make_steps(
    order: Sequence[str],
    tasks: Mapping[str, Task],
    choice: Choice,
    shop: Shop,
    together: Mapping[str, Sequence[Told]] = MappingProxyType({}),
) -> tuple[Step, ...]:
    """The steps in order, numbered from 1: work, with its set-up before it at a machine and the guards back after it where
    they came off. `together`: by task, how its pieces come together."""
    steps: list[Step] = []
    for run in _runs(order, tasks, choice, shop, together):
        if run.kind.power == "machine" and run.kind.set_up_by == "staff":
            steps.append(_set_up_step(run, shop, len(steps) + 1))
        steps.append(_work_step(run, shop, len(steps) + 1))
        if run.operation.guards_off:
            steps.append(_guards_back_step(run, shop, len(steps) + 1))
    return tuple(steps)


def _runs(
    order: Sequence[str], tasks: Mapping[str, Task], choice: Choice, shop: Shop, together: Mapping[str, Sequence[Told]]
) -> list[Run]:
    """The runs of tasks with one set-up, each with what is known of its long pieces from those before and after it."""
    runs: list[Run] = []
    apart: set[str] = set()
    squared: set[str] = set()
    for _, group in groupby((tasks[name] for name in order), key=lambda task: task.set_up):
        run = run_of(tuple(group), choice, shop, together)
        runs.append(replace(run, whole=on_a_whole_stick(run, apart), squared=all(work.part in squared for work in run.works)))
        squared |= {
            work.part for work, way in zip(run.works, run.ways, strict=True) if way.in_the_long and work.kind == "first-end"
        }
        apart |= {work.part for work, way in zip(run.works, run.ways, strict=True) if way.in_the_long and cuts_apart(work)}
    marked = frozenset(work.part for run in runs if marked_in_strip(run) for work in run.works)
    off = [cut_off_strip(run) and not marked & {work.part for work in run.works} for run in runs]
    later = marked | {work.part for run, here in zip(runs, off, strict=True) if here for work in run.works}
    return [replace(run, numbered_later=later, numbered_here=here) for run, here in zip(runs, off, strict=True)]


def _piecework(run: Run, job: Job) -> tuple[Piecework, ...]:
    counts: dict[str, int] = {}
    for work in run.works:
        for name, count in work.parts:
            counts[name] = max(counts.get(name, 0), count)
    return tuple(Piecework(name, job.parts[name].letter, count) for name, count in counts.items())


def _work_step(run: Run, shop: Shop, number: int) -> Step:
    first, operation, kind = run.tasks[0], run.operation, run.kind
    who = first.who
    card: Card = "staff" if who.operator == "staff" else "student"
    step_kind: StepKind = "wait" if run.works[0].kind in WAITS else "work"
    guards, holding = guards_of(operation, run.way, shop), holding_of(operation, run.way, shop)
    brought = brought_hazards(run, shop)
    names = hazard_names(run, brought, shop.knowledge)
    loud = step_kind == "work" and is_loud(kind, shop.workshop.stations[first.station], acted_on_from(shop))
    if loud and NOISE in shop.knowledge.hazards:
        names = tuple(dict.fromkeys((*names, NOISE)))
    by_hand = kind.power in ("hand", "bench") and operation.cut not in ("none", "sand")  # shavings and chips, little dust
    # While glue cures or a coat dries nobody handles it.
    worn = () if by_hand or step_kind == "wait" else worn_against(brought, shop.knowledge)
    ears = (EAR_PROTECTION,) if loud else ()
    wear = wear_of((*operation.wear, *kind.wear, *ears, *worn), names, shop.knowledge)
    checks = checks_for(operation, run.works, run.ways)
    tools = _laid_out(run, checks, shop)
    hazards = hazard_lines(names, in_use(guards, holding, tools, wear), shop.knowledge)
    unsaid = {EXTRACTION, *(name for thing in holding for name in shop.knowledge.holding[thing.name].line_for)}
    held = () if rubbed_only(run) else holding
    lines = [thing.line for thing in (*guards, *held) if thing.name not in unsaid]
    if kind.power in ("hand", "bench") and (not lines or any(shop.knowledge.holding[each.name].hands_near for each in held)):
        lines += guard_sentences(run)
    lines = lines or [kind.hands]
    pieces = _piecework(run, shop.job)
    staff_sets = kind.power == "machine" and kind.set_up_by == "staff"
    instructions, method = sentences_of(run, staff_sets)
    if card == "student":
        instructions = (*said_first(run, shop), *with_faces(run, shop.job, instructions), *said_last(run, shop))
    if run.whole and card == "student":
        sticks = {run.blanks[work.part].strip or work.part for work in run.works if in_a_long_piece(run.blanks[work.part])}
        instructions = (LEAVE_EACH if len(sticks) > 1 else LEAVE_WHOLE, *instructions)
    return Step(
        id=first.id,
        number=number,
        kind=step_kind,
        card=card,
        title=title_of(run, shop.job),
        station=first.station,
        station_kind=kind.station,
        station_title=kind.name,
        operation=operation.name,
        tasks=tuple(task.id for task in run.tasks),
        parts=pieces,
        who=who,
        guards=guards,
        guard_line=" ".join(lines),
        holding=holding,
        hazards=hazards,
        hazard_line=card_hazards(names, shop.knowledge),
        wear=wear,
        settings=settings_of(run, shop.job),
        instructions=instructions,
        method=method,
        checks=tuple(
            Check(
                filled(check.what, run.values),
                filled(check.how, run.values),
                filled(check.limit, run.values),
                check.card or number < CHECKS_ON_A_CARD,
            )
            for number, check in enumerate(checks)
        ),
        stop=stop_line(run, shop),
        if_wrong=wrong_line(run),
        feed=operation.feed,
        minutes=_minutes(run, step_kind),
        set_up_minutes=0.0 if staff_sets else operation.minutes.set_up,
        tools=tools,
        sources=(*operation.sources, operation.minutes.source),
        notes=tuple(dict.fromkeys(notes_of(run, shop))),
        together=tuple(each.line for each in run.together),
        one_go=operation.one_go
        or kind.power not in ("hand", "bench")
        # A sheet that lies loose falls out of a frame that is put away.
        or any(way.figures.get("joint.lies-in") for way in run.ways),
    )


def _laid_out(run: Run, checks: Sequence[CheckLine], shop: Shop) -> tuple[str, ...]:
    """The tools of a step, and what its checks are made with."""
    own = (tool for way in run.ways for tool in _tools(run.operation, way, shop))
    return tuple(dict.fromkeys((*own, *(tool for check in checks for tool in check.tools))))


def _tools(operation: Operation, way: Way, shop: Shop) -> tuple[str, ...]:
    """The tools to lay out, the glue among them as what it is in this job."""
    glue = shop.knowledge.glues.get(shop.job.glue)
    station = shop.workshop.stations[way.station]
    tools = laid_out(operation, way.settings, station, shop)
    named = {GLUE: glue.name} if glue is not None else {}
    if WASTE in operation.tools and way.piece is not None:
        least = shop.station_figures(shop.knowledge.stations[way.kind], station).get("station.shortest", 0.0)
        size = f"{mm(way.piece.width)} x {mm(way.piece.thickness)} mm"
        named[WASTE] = f"{WASTE}, {size}" + (f", at least {mm(least)} mm long" if least else "")
    return tuple(named.get(tool, tool) for tool in tools)


def _minutes(run: Run, kind: StepKind) -> float:
    """Work on pieces takes its time for each; joining, coating and waiting take it once for the whole."""
    if kind == "wait" or not run.works[0].part:
        return max(task.minutes for task in run.tasks)
    return sum(task.minutes_in_all for task in run.tasks)


def _set_up_step(run: Run, shop: Shop, number: int) -> Step:
    """Staff set the machine with students away, guard it before it turns, try it on a test piece, and call back students only
    where these work there next."""
    work = _work_step(run, shop, number)
    said = tuple(filled(sentence, run.values) for sentence in run.operation.instructions.set)
    said = said or tuple(f"Set the {setting.label}: {setting.text}." for setting in work.settings)
    title = f"Set the {run.kind.name}: {run.operation.name[:1].lower()}{run.operation.name[1:]}"
    return _staff_step(work, number, "set-up", title, said, run.operation.minutes.set_up, shop)


def _guards_back_step(run: Run, shop: Shop, number: int) -> Step:
    names = listed([shop.knowledge.guards[name].name.lower() for name in run.operation.guards_off])
    title = f"Put back on the {run.kind.name}: {names}"
    minutes = shop.knowledge.staff_steps["guards-back"].minutes
    return _staff_step(_work_step(run, shop, number), number, "guards-back", title, (), minutes, shop)


def _staff_step(
    work: Step,
    number: int,
    kind: Literal["set-up", "guards-back"],
    title: str,
    said: tuple[str, ...],
    minutes: float,
    shop: Shop,
) -> Step:
    staff = shop.knowledge.staff_steps[kind]
    next_there: Literal["student", "staff"] = "student" if work.who.operator == "student" else "staff"
    said = (*staff.first, *said, *staff.last, *staff.last_for.get(next_there, ()))
    names = [name for name in staff.hazards if name in shop.knowledge.hazards] or [hazard.name for hazard in work.hazards]
    hazards = hazard_lines(names, in_use(work.guards, work.holding, (), work.wear), shop.knowledge)
    return replace(
        work,
        id=f"{work.id}/{kind}",
        number=number,
        kind=kind,
        card="staff",
        title=title,
        who=SET_UP_WHO,
        guard_line=f"{staff.guard_line} {work.guard_line}",
        hazards=hazards,
        hazard_line=card_hazards(names, shop.knowledge),
        settings=work.settings if kind == "set-up" else (),
        instructions=said,
        method=said,
        checks=(),
        stop="",
        if_wrong=staff.if_wrong,
        feed="",
        minutes=minutes,
        set_up_minutes=0.0,
        tools=(),
        sources=(staff.source,),
        notes=(),
    )
