"""What if one piece of work came before another: the job is planned and made on solids with that order decided."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from sequencer.asking.another_way import OtherWay, by_another_way
from sequencer.asking.differences import differences
from sequencer.asking.naming import called, deciding_names, sentence, sets_up, small
from sequencer.asking.orders import reason_in_full
from sequencer.findings import Refused
from sequencer.model.job import Decision, Job
from sequencer.model.plan import Plan, Reason, Task
from sequencer.pipeline import Checked, Say, plan, prove
from sequencer.planning.decided import decided_by, decided_words
from sequencer.planning.deciding import Outcome, cost_words
from sequencer.planning.groups import FIXINGS
from sequencer.planning.order import Circle, chain_between, may_yield, reason_graph
from sequencer.reading.words import listed
from sequencer.talk import findings_text, tasks_named, wrapped

MOST = 12
"""Lines of what would change; more are counted only."""
FOREMOST = (": made by ", ": done by ")
"""Of what would change this is told first: another way, or other people."""
BY_WAY = frozenset({"reference", "support", "holding", "reach"})
"""Kinds of reasons that follow from the way in which a piece of work is done."""
ASKED, ALSO = "whoever asks", "what would be needed too"


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
        for_what = sets_up(made, later) + sets_up(made, earlier)
        same = for_what or [f"{later} and {earlier} mean the same work, which cannot come before itself."]
        return Supposed("\n".join(map(wrapped, same)), False)
    place = {task.id: number for number, task in enumerate(made.tasks)}
    if max(place[task.id] for task in first) < min(place[task.id] for task in second):
        return Supposed(wrapped(f"It is so already: {called(made, first)} comes before {called(made, second)}."), True)
    one, other = sentence(called(made, first)), called(made, second)
    pairs = tuple(
        (about, before) for about in deciding_names(made, later, first) for before in deciding_names(made, earlier, second)
    )
    asked = tuple(Decision(about=about, before=before, by=ASKED, why="to see what comes of it") for about, before in pairs)
    job = replace(checked.job, decisions=(*checked.job.decisions, *asked))
    try:
        then = plan(replace(checked, job=job), say)
    except Refused as refused:
        lines = [wrapped(f"{one} cannot come before {other}."), ""]
        errors = [finding for finding in refused.findings if finding.level == "error"]
        supposed = replace(checked, job=job)
        if isinstance(refused, Circle):
            if drawn := _drawn_so(made, first, second):
                lines += (*_listed(made, drawn, {}), _only_drawn_otherwise(made, checked.job, drawn))
            else:
                way = None if _never_by_way(refused) else by_another_way(checked, pairs, say)
                lines += _against(made, refused, supposed, say, way)
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


def _drawn_so(made: Plan, later: Sequence[Task], earlier: Sequence[Task]) -> list[Reason]:
    """What the drawing itself says of an order that is asked the other way round, be it by way of other joints; a joint is judged
    by the task that fixes it. Empty if it says nothing."""
    graph = reason_graph([task.id for task in made.tasks], [each for each in made.reasons if each.kind in ("drawing", "cure")])
    for before in _fixing(earlier):
        for after in _fixing(later):
            chain = chain_between(graph, before.id, after.id)
            if drawn := [reason for reason in chain if reason.kind == "drawing"]:
                return drawn
    return []


def _fixing(tasks: Sequence[Task]) -> Sequence[Task]:
    """Those of some tasks that fix joints for good; all where none does."""
    return [task for task in tasks if task.kind in (*FIXINGS.values(), "key")] or tasks


def _only_drawn_otherwise(made: Plan, job: Job, drawn: Sequence[Reason]) -> str:
    """That no decision undoes what the drawing says, and of what it would have to say otherwise."""
    named = next(task for task in made.tasks if task.id == drawn[-1].after)
    says_so = [name for name in named.joints if job.joints[name].after]
    what = f"{named.part}/{named.feature}" if named.part else listed(says_so) or named.id.partition("/")[0]
    these = "it" if len(drawn) == 1 else "these"
    return wrapped(f"No decision can undo {these}; the drawing or its joints would have to say otherwise of {what}.")


def _never_by_way(circle: Circle) -> bool:
    """Whether none of the reasons comes from how a piece is held, measured or worked, so that no other way can undo them."""
    return not {reason.kind for reason in _without(circle, ASKED)} & BY_WAY


def _against(made: Plan, circle: Circle, checked: Checked, say: Say, other: OtherWay | None) -> Iterator[str]:
    """The reasons that go round in a circle with the order that is asked for, and what else would have to be decided: where
    reasons that no decision can undo stand behind others, these. `checked`: the job with that order; `other`: another way of
    doing it that allows the order."""
    firm = {(reason.before, reason.after): reason for reason in reversed(made.reasons) if not may_yield(reason)}
    also: list[Decision] = []
    given_up: list[Reason] = []
    does = dict(circle.does)
    while True:
        against = [firm.get((reason.before, reason.after), reason) for reason in _without(circle, ASKED)]
        yielding = next((reason for reason in against if may_yield(reason)), None)
        if yielding is None or len(also) == MOST:
            break
        given_up += against
        also.append(Decision(yielding.after, ALSO, "to see what comes of it", before=yielding.before))
        try:
            then = plan(replace(checked, job=replace(checked.job, decisions=(*checked.job.decisions, *also))), say)
        except Circle as again:
            if any(reason.source == decided_by(ALSO) for reason in again.reasons):
                break
            circle = again
            does |= again.does
        except Refused:
            break
        else:
            if prove(then, checked.job, say)[1].proof.held:
                yield from _listed(made, given_up, does)
                needed = " and ".join(f"{each.about} comes before {each.before}" for each in also)
                yield wrapped(f"It can only be had if it is decided, too, that {needed}.")
                return
            against = given_up
            break
    decided = next((reason for reason in against if reason.kind == "decision"), None)
    drawn = [reason for reason in against if reason.kind == "drawing" and not decided and other is None]
    yield from _listed(made, drawn or against, does)
    yield from map(wrapped, circle.nor)
    if other is not None:
        yield from _told_other_way(made, other)
    elif decided:
        written = _as_written(checked.job.decisions, decided)
        yield wrapped(f"Only with the decision taken back that {written.about} comes before {written.before}.")
    elif drawn:
        yield _only_drawn_otherwise(made, checked.job, drawn)
    else:
        yield wrapped("No decision can undo it." if len(set(against)) == 1 else "No decision can undo all of these.")


def _told_other_way(made: Plan, other: OtherWay) -> Iterator[str]:
    """What would have to be decided about the way, and what that costs."""
    assert made.changing is not None
    assert other.plan.changing is not None
    then, now = (Outcome(each.tasks, each.reasons, each.changing) for each in (other.plan, made) if each.changing)
    yield wrapped(
        f"So it is with the way that is planned. Another way allows it: {other.title} instead of {other.instead_of}. Made on "
        f"solids, all checks hold. It {cost_words(then, now)}."
    )
    yield ""
    yield wrapped("To have it so, write under `decisions:` in the job file, with the role of who decides and the reason:")
    yield f"  - {{about: {other.about}, way: {other.way}, by: ..., why: ...}}"
    yield from (f"  - {{about: {about}, before: {before}, by: ..., why: ...}}" for about, before in other.orders)


def _as_written(decisions: Sequence[Decision], reason: Reason) -> Decision:
    """The decision of the job file that a reason comes from, by who and why and the beginnings of its names."""

    def means(name: str, task: str) -> bool:
        return task == name or task.startswith(f"{name}/")

    said = [each for each in decisions if each.before and reason.sentence == decided_words(each)]
    exact = [each for each in said if means(each.about, reason.before) and means(each.before, reason.after)]
    return (exact or said)[0]


def _without(circle: Circle, who: str) -> list[Reason]:
    """A circle's reasons without what somebody decided, from what follows on that."""
    asked = [number for number, reason in enumerate(circle.reasons) if reason.source == decided_by(who)]
    first = asked[0] + 1 if asked else 0
    return [reason for reason in (*circle.reasons[first:], *circle.reasons[:first]) if reason.source != decided_by(who)]


def _listed(made: Plan, reasons: Sequence[Reason], does: Mapping[str, str]) -> Iterator[str]:
    """Reasons in full. `does`: what work does that the plan in hand may not have, as it is done another way there."""
    steps = {task.id: called(made, [task]) for task in made.tasks}
    by_id = {**{name: small(what) for name, what in does.items()}, **steps}
    told = list(dict.fromkeys(reasons))
    yield wrapped("These reasons stand against it:" if len(told) > 1 else "This reason stands against it:")
    for reason in told:
        yield from reason_in_full(reason, by_id)
    yield ""


def _possible(made: Plan, then: Plan, can: str, pairs: Sequence[tuple[str, str]]) -> Iterator[str]:
    assert made.changing is not None
    assert then.changing is not None
    cost = cost_words(Outcome(then.tasks, then.reasons, then.changing), Outcome(made.tasks, made.reasons, made.changing))
    yield wrapped(f"{can}: made on solids, all checks hold. It {cost}.")
    place = {task.id: number for number, task in enumerate(then.tasks)}
    harms = [
        reason.harm
        for reason in made.reasons
        if reason.harm and {reason.before, reason.after} <= place.keys() and place[reason.after] < place[reason.before]
    ]
    for harm in dict.fromkeys(harms):
        yield wrapped(f"What may come of it: {harm}")
    lines = sorted(differences(made, then), key=lambda line: not any(said in line for said in FOREMOST))
    if lines:
        yield ""
        yield from (wrapped(f"- {line}", 0, 2) for line in lines[:MOST])
        if len(lines) > MOST:
            yield wrapped(f"and {len(lines) - MOST} more.")
    yield ""
    yield wrapped("To settle it, write under `decisions:` in the job file, with the role of who decides and the reason:")
    yield from (f"  - {{about: {about}, before: {before}, by: ..., why: ...}}" for about, before in pairs)
