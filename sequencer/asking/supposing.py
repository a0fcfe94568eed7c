"""What if one piece of work came before another: the job is planned and made on solids with that order decided."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from sequencer.asking.differences import differences
from sequencer.asking.naming import called, deciding_names, sentence
from sequencer.asking.orders import why_before
from sequencer.findings import Refused
from sequencer.model.job import Decision
from sequencer.model.plan import Plan
from sequencer.pipeline import Checked, Say, plan, prove
from sequencer.planning.deciding import Outcome, cost_words
from sequencer.talk import findings_text, tasks_named, wrapped

MOST = 12
"""Lines of what would change; more are counted only."""
ASKED = "whoever asks"


@dataclass(frozen=True)
class Supposed:
    """The answer in words, and whether the order can be had."""

    text: str
    possible: bool


def suppose(checked: Checked, later: str, earlier: str, say: Say) -> Supposed:
    """What happens when `later` is done before `earlier`. Raises Refused if the job cannot be planned as it is, Unusable if a
    name means nothing."""
    made = plan(checked, say)
    first, second = tasks_named(made, later), tasks_named(made, earlier)
    if {task.id for task in first} & {task.id for task in second}:
        return Supposed(wrapped(f"{later} and {earlier} mean the same work, which cannot come before itself."), False)
    place = {task.id: number for number, task in enumerate(made.tasks)}
    if max(place[task.id] for task in first) < min(place[task.id] for task in second):
        return Supposed(wrapped(f"It is so already: {called(made, first)} comes before {called(made, second)}."), True)
    one, other = sentence(called(made, first)), called(made, second)
    pairs = tuple(
        (about, before) for about in deciding_names(made, later, first) for before in deciding_names(made, earlier, second)
    )
    asked = tuple(Decision(about=a.id, before=b.id, by=ASKED, why="to see what comes of it") for a in first for b in second)
    job = replace(checked.job, decisions=(*checked.job.decisions, *asked))
    try:
        then = plan(replace(checked, job=job), say)
    except Refused as refused:
        errors = [finding for finding in refused.findings if finding.level == "error"]
        lines = [wrapped(f"{one} cannot come before {other}."), ""]
        if any(finding.code == "circle" for finding in errors):
            lines += [why_before(made, checked.knowledge, earlier, later), "", wrapped("No decision can undo all of these.")]
        else:
            lines.append(findings_text(errors))
        return Supposed("\n".join(lines), False)
    proved, making = prove(then, job, say)
    if not making.proof.held:
        failures = [look.says for look in making.proof.failures]
        lines = [wrapped(f"{one} can be put before {other}, but made on solids the order breaks:"), ""]
        lines += [wrapped(f"- {text}", 0, 2) for text in dict.fromkeys(failures[:MOST])]
        return Supposed("\n".join(lines), False)
    return Supposed("\n".join(_possible(made, proved, f"{one} can come before {other}", pairs)), True)


def _possible(made: Plan, then: Plan, can: str, pairs: Sequence[tuple[str, str]]) -> Iterator[str]:
    assert made.changing is not None
    assert then.changing is not None
    cost = cost_words(Outcome(then.tasks, then.reasons, then.changing), Outcome(made.tasks, made.reasons, made.changing))
    yield wrapped(f"{can}: made on solids, all checks hold. It {cost}.")
    given_up = {(reason.before, reason.after) for reason in made.reasons} - {
        (reason.before, reason.after) for reason in then.reasons
    }
    harms = [reason.harm for reason in made.reasons if reason.harm and (reason.before, reason.after) in given_up]
    for harm in dict.fromkeys(harms):
        yield wrapped(f"What may come of it: {harm}")
    lines = differences(made, then)
    if lines:
        yield ""
        yield from (wrapped(f"- {line}", 0, 2) for line in lines[:MOST])
        if len(lines) > MOST:
            yield wrapped(f"and {len(lines) - MOST} more.")
    yield ""
    yield wrapped("To settle it, write under `decisions:` in the job file, with the role of who decides and the reason:")
    yield from (f"  - {{about: {about}, before: {before}, by: ..., why: ...}}" for about, before in pairs)
