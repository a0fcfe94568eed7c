"""Plain text for the terminal, at most 80 columns: findings, the order of work, ways, answers to why."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from difflib import get_close_matches
from math import floor
from textwrap import fill
from typing import TYPE_CHECKING

from sequencer.findings import LEVELS, Finding, Unusable
from sequencer.model.plan import Changing, Plan, Step, Task
from sequencer.model.proof import Proof
from sequencer.reading.words import so_many

if TYPE_CHECKING:
    from sequencer.planning.planner import AskedWays

WIDTH = 79


def wrapped(text: str, indent: int = 0, hang: int = 0) -> str:
    """One paragraph, wrapped; `hang` indents the lines after the first further. What a terminal would obey is taken out."""
    text = "".join(letter if letter.isprintable() else " " for letter in text)
    return fill(
        text,
        WIDTH,
        initial_indent=" " * indent,
        subsequent_indent=" " * (indent + hang),
        break_long_words=False,
        break_on_hyphens=False,
    )


def findings_text(findings: Iterable[Finding]) -> str:
    """Findings, errors first, each with place, what, why and remedy."""
    ordered = sorted(findings, key=lambda finding: LEVELS.index(finding.level))
    blocks = []
    for finding in ordered:
        head = str(finding.place) if finding.place else finding.subject
        if finding.place and finding.subject and finding.subject not in str(finding.place):
            head = f"{head} ({finding.subject})"
        lines = [wrapped(f"{finding.level}: {head}" if head else finding.level), wrapped(finding.what, 2)]
        if finding.why:
            lines.append(wrapped(finding.why, 2))
        if finding.remedy:
            lines.append(wrapped(f"-> {finding.remedy}", 2, 3))
        blocks.append("\n".join(lines))
    return "\n".join(blocks)


def close_names(name: str, names: Sequence[str]) -> str:
    """What a person may have meant, as a remedy."""
    near = get_close_matches(name, names, n=3, cutoff=0.5)
    if near:
        return f"Did you mean {' or '.join(near)}?"
    return "`sequencer plan JOB` shows the names of all tasks in its JSON form; parts and features stand in the job file."


def _minutes(value: float) -> str:
    if value >= 24 * 60:
        return f"{_whole(value / 60 / 24)} d"
    if value >= 180:
        return f"{_whole(value / 60)} h"
    return f"{_whole(value)} min"


def _whole(value: float) -> int:
    """To the next whole number, halves up: 104.5 is 105, and 17 more is 122."""
    return floor(value + 0.5)


def plan_text(plan: Plan) -> str:
    """The order of work: a line a step, then the findings."""
    steps, students = so_many(len(plan.steps), "step"), so_many(plan.class_.students, "student")
    head = f"{plan.job}: {steps} for {students} ({plan.class_.year}) in {plan.class_.workshop}"
    lines = [wrapped(head), "", "step  by       station           what"]
    for step in plan.steps:
        by = {"set-up": "staff", "guards-back": "staff", "wait": "wait"}.get(step.kind, step.card)
        text = f"{step.number:>4}  {by:<8} {step.station[:16]:<17} {step.title} ({_minutes(step.minutes + step.set_up_minutes)})"
        lines.append(fill(text, WIDTH, subsequent_indent=" " * 33, break_long_words=False, break_on_hyphens=False))
    if plan.changing is not None:
        lines += ["", wrapped(_changing(plan.changing))]
    if decided := [f"{each.about}: {each.text} (decided by {each.by}). It {each.cost}." for each in plan.decisions if each.cost]:
        together = [f"All together: this {plan.together}."] if plan.together else []
        lines += ["", "Decisions:", *(wrapped(text, 2, 2) for text in (*decided, *together))]
    if plan.findings:
        lines += ["", findings_text(plan.findings)]
    if plan.proof is not None:
        lines += ["", wrapped(_proved(plan.proof))]
    return "\n".join(lines)


def _changing(changing: Changing) -> str:
    taken = (
        f"Going from one set-up to the next takes about {_whole(changing.minutes)} min in this order ({changing.changes} set-ups)"
    )
    if changing.least >= changing.minutes:
        return f"{taken}; no order that the reasons allow takes less."
    return f"{taken}; the best possible is at least {_whole(changing.least)} min."


def _proved(proof: Proof) -> str:
    if proof.failures:
        failed = len(proof.failures)
        fail = "1 check does not hold" if failed == 1 else f"{failed} checks do not hold"
        return f"Made on solids, the plan is NOT proved: {fail}. Its sheets are drafts."
    checks = len(proof.assembled) + sum(len(task.looked) for task in proof.tasks)
    return f"Made on solids as the cards say, the thing comes out as drawn: all {checks} checks hold."


def proof_text(plan: Plan) -> str:
    """The record of a proof: what was checked at each step, what each part came out as, and what the reasons rest on."""
    proof = plan.proof
    assert proof is not None
    titles = {step.number: step.title for step in plan.steps}
    lines = [wrapped(f"{plan.job}: made on solids as the cards say, step by step."), ""]
    last = 0
    for task in proof.tasks:
        if task.step != last:
            lines.append(wrapped(f"step {task.step}: {titles.get(task.step, '')}", 0, 8))
            last = task.step
        lines.append(wrapped(f"{task.task}, on {task.piece}", 2, 4))
        for look in task.looked:
            lines.append(wrapped(f"{look.check + ':':<11}{'' if look.held else 'DOES NOT HOLD: '}{look.says}", 6, 11))
    lines += ["", wrapped("Parts at the end, against the drawing:")]
    for part in proof.parts:
        rest = "".join(f"; accepted: {what}, {volume:.1f} mm3" for what, volume in part.residue)
        says = f"{part.piece}: {part.volume:.0f} mm3, differs by {part.difference:.2f} mm3{rest}"
        lines.append(wrapped(says, 2, 4))
    lines += ["", wrapped("The whole:")]
    lines += [wrapped(f"{'' if look.held else 'DOES NOT HOLD: '}{look.says}", 2, 4) for look in proof.assembled]
    named = sum(1 for reason in plan.reasons if reason.harm)
    asked = sum(1 for reason in plan.reasons if reason.kind in ("drawing", "decision"))
    chosen = sum(1 for reason in plan.reasons if reason.kind == "choice")
    shown = len(plan.reasons) - named - asked - chosen
    lines += [
        "",
        wrapped(
            f"Of {len(plan.reasons)} reasons for the order, {shown} rest on these checks, {named} name a harm that solids cannot "
            f"show, {asked} are asked for by drawing or decision, {chosen} are the plan's own choice."
        ),
    ]
    lines += ["", wrapped(f"{_proved(proof)} What solids cannot show, such as skill and care, is not proved.")]
    return "\n".join(lines)


def tasks_named(plan: Plan, name: str) -> list[Task]:
    """The tasks a name means: a step number, a task, all tasks that start with it, or those of a joint. Unusable if there is
    none."""
    by_number = name.removeprefix("-").isdecimal()
    if by_number:
        numbered = next((step for step in plan.steps if str(step.number) == name), None)
        wanted: Sequence[str] = numbered.tasks if numbered else ()
        found = [task for task in plan.tasks if task.id in wanted]
    else:
        found = [
            task
            for task in plan.tasks
            if task.id == name or task.id.startswith(f"{name}/") or name in (*task.joints, *task.folded)
        ]
    if not found:
        names = sorted({each for task in plan.tasks for each in (task.id, task.id.rpartition("/")[0], *task.joints)})
        called = f"called {name}" if name.strip() else "without a name"
        what = f"The plan has no step {name}." if by_number else f"The plan has no task {called}."
        remedy = f"Steps run from 1 to {len(plan.steps)}." if by_number else close_names(name, names)
        raise Unusable([Finding("error", "unknown-task", name, what, remedy=remedy)])
    return found


def step_of(plan: Plan, task: Task) -> Step:
    """The step in which a task is done, or waited for."""
    return next(step for step in plan.steps if step.kind in ("work", "wait") and task.id in step.tasks)


def step_named(plan: Plan, name: str) -> Step:
    """The step a name means: its number, or a task in it. Unusable if there is none, or if it means several."""
    numbered = next((step for step in plan.steps if str(step.number) == name), None)
    if numbered is not None:
        return numbered
    found = {step.number: step for step in (step_of(plan, task) for task in tasks_named(plan, name))}
    if len(found) > 1:
        numbers = ", ".join(str(number) for number in sorted(found))
        raise Unusable(
            [
                Finding(
                    "error", "several-steps", name, f"{name} is worked in steps {numbers}.", remedy="Name one step by its number."
                )
            ]
        )
    return next(iter(found.values()))


def ways_text(found: Sequence[AskedWays]) -> str:
    """Every way of each work, possible ones first, with who, settings and why it is planned or not, or what stands against it."""
    from sequencer.planning.who import in_words
    from sequencer.planning.why_taken import is_taken

    blocks = []
    for asked in found:
        lines = [wrapped(f"{asked.work.id}: {asked.work.title}")]
        told = zip(asked.ways, asked.why, strict=True)
        for way, why in sorted(told, key=lambda each: (not each[0].possible, not each[0].meant)):
            place = way.station or way.kind
            long = ", in the long" if way.in_the_long else ""
            mark = "planned" if is_taken(way, asked.taken) else "possible" if way.possible else "not possible"
            lines.append(wrapped(f"{mark}: {way.title} ({way.operation}, {place}{long}); {in_words(way.who)}", 2, 4))
            if way.possible and way.settings:
                lines.append(wrapped("; ".join(f"{setting.label}: {setting.text}" for setting in way.settings), 6))
            if why:
                lines.append(wrapped(why, 6))
            for obstacle in way.obstacles:
                lines.append(wrapped(f"{obstacle.what} -> {obstacle.remedy}", 6, 3))
        blocks.append("\n".join(lines))
    return "\n\n".join(blocks)
