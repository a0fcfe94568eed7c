"""What the teacher has decided about a piece of work, all decisions taken together: its way and station, its time; and decisions
that mean nothing, say a thing twice or cannot all hold."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from difflib import get_close_matches
from itertools import combinations

from sequencer.findings import Finding
from sequencer.model.job import Decision, Job
from sequencer.model.plan import Reason
from sequencer.model.work import WAITS
from sequencer.planning.groups import DRY
from sequencer.planning.order import Circle
from sequencer.planning.work import Work

Scope = frozenset[str]
"""The names of the work that a name in a decision means."""


def decisions_on_way(work: Work, job: Job) -> tuple[Decision, ...]:
    """The decisions on the way or the station of a work, in the order of the file."""
    return tuple(each for each in job.decisions if (each.way or each.station) and work.is_meant_by(each.about))


def way_decided(work: Work, job: Job) -> Decision | None:
    """The way and the station that the decisions about a work ask for, as one decision; None if none asks for any. Where two
    ask for different ways, `decision_findings` refuses them."""
    named = decisions_on_way(work, job)
    if not named:
        return None
    way = next((each.way for each in reversed(named) if each.way), "")
    station = next((each.station for each in reversed(named) if each.station), "")
    return replace(named[-1], way=way, station=station)


def time_decided(work: Work, job: Job, works: Iterable[Work]) -> Decision | None:
    """The decision on the time of a work, in min: of several the one whose name means least work. None if there is none, and
    for what glue and finish need to dry, which nobody can decide."""
    return next(iter(_on_time(work, job, list(works))), None)


def _on_time(work: Work, job: Job, works: Sequence[Work]) -> list[Decision]:
    """The decisions on the time of a work, the one that means least work first."""
    if work.kind in WAITS:
        return []
    named = [each for each in job.decisions if each.minutes is not None and work.is_meant_by(each.about)]
    return sorted(named, key=lambda each: len(_scope(each.about, works))) if len(named) > 1 else named


def _scope(name: str, works: Iterable[Work]) -> Scope:
    return frozenset(work.id for work in works if work.is_meant_by(name))


def decision_behind(reason: Reason, job: Job, works: Mapping[str, Work]) -> Decision | None:
    """The decision that a reason of kind `decision` comes from."""
    before, after = works[reason.before], works[reason.after]
    return next(
        (
            each
            for each in job.decisions
            if each.before
            and reason.source == decided_by(each.by)
            and reason.sentence == decided_words(each)
            and before.is_meant_by(each.about)
            and after.is_meant_by(each.before)
        ),
        None,
    )


def decided_by(who: str) -> str:
    """The source of a reason that somebody decided."""
    return f"decision of {who}"


def decided_words(decision: Decision) -> str:
    """The sentence of a reason that somebody decided."""
    return f"Decided by {decision.by}: {decision.why}."


def located(circle: Circle, job: Job, works: Mapping[str, Work]) -> Circle:
    """A circle of reasons with the decisions in it named as they are written: the place of the first, the lines of all."""
    behind = (decision_behind(each, job, works) for each in circle.reasons if each.kind == "decision")
    written = sorted({each.place.line: each for each in behind if each is not None and each.place is not None}.items())
    if not written:
        return circle
    (finding,) = circle.findings
    named = [f"the decision that {each.about} comes before {each.before}" for _, each in written]
    remedy = f"Take back {' or '.join(named)}."
    if len(written) > 1:
        remedy += f" The decisions stand in lines {' and '.join(str(line) for line, _ in written)}."
    return Circle(replace(finding, place=written[0][1].place, remedy=remedy), circle.reasons, circle.nor, circle.does)


def decision_findings(job: Job, works: Sequence[Work]) -> tuple[Finding, ...]:
    """Decisions about something that the job does not have, said twice, or against each other: nothing the teacher settled is
    dropped in silence."""
    return (
        *_ways_apart(job, works),
        *_times_apart(job, works),
        *_limits_undone(job, works),
        *_before_itself(job, works),
        *_twice(job, works),
        *_about_nothing(job, works),
    )


def _ways_apart(job: Job, works: Sequence[Work]) -> Iterator[Finding]:
    """Decisions that ask for two ways or two stations for one work."""
    for work in works:
        named = decisions_on_way(work, job)
        for asked in ({each.way: each for each in named if each.way}, {each.station: each for each in named if each.station}):
            if len(asked) > 1:
                yield Finding(
                    "error",
                    "decisions-contradict",
                    work.id,
                    f"Two decisions settle this in two ways: {', '.join(sorted(asked))}.",
                    remedy="Keep one of them.",
                    place=list(asked.values())[-1].place,
                )


def _times_apart(job: Job, works: Sequence[Work]) -> Iterator[Finding]:
    """Decisions that give one work two times: refused, unless one of them means less work than the other and is taken."""
    told: list[tuple[Decision, Decision]] = []
    for work in works:
        for taken, *rest in [named] if (named := _on_time(work, job, works)) else []:
            for other in rest:
                if taken.minutes == other.minutes or (taken, other) in told:
                    continue
                told.append((taken, other))
                times = f"{taken.minutes:g} min for {taken.about} and {other.minutes:g} min for {other.about}"
                if _scope(taken.about, works) < _scope(other.about, works):
                    yield Finding(
                        "note",
                        "narrower-decision",
                        work.id,
                        f"Decided are {times}: {taken.about} means less work, so its time is taken for that.",
                        remedy="Take one of the two out if this is not meant.",
                        place=taken.place,
                    )
                else:
                    yield Finding(
                        "error",
                        "decisions-contradict",
                        work.id,
                        f"Two decisions settle this in two ways: {times}.",
                        remedy="Keep one of them.",
                        place=other.place,
                    )


def _limits_undone(job: Job, works: Sequence[Work]) -> Iterator[Finding]:
    """Decisions for less or more time than glue and finish need."""
    for work in works:
        if work.kind not in WAITS:
            continue
        for decision in job.decisions:
            if decision.minutes is not None and decision.about in (work.id, work.id.rpartition("/")[0]):
                yield Finding(
                    "error",
                    "decision-refused",
                    work.id,
                    "The time for glue to set or a finish to dry cannot be decided; it is what the glue or finish needs.",
                    "No decision can undo a limit.",
                    "Take `minutes` out of the decision.",
                    decision.place,
                )


def _before_itself(job: Job, works: Sequence[Work]) -> Iterator[Finding]:
    for decision in job.decisions:
        if not decision.before:
            continue
        about = _scope(decision.about, works)
        if decision.before == decision.about or (about and about == _scope(decision.before, works)):
            same = "itself" if decision.before == decision.about else f"{decision.before}, which {_alike(decision, works)}"
            yield Finding(
                "error",
                "decision-about-nothing",
                decision.about,
                f"A decision puts {decision.about} before {same}.",
                remedy="Name two different things.",
                place=decision.place,
            )


def _alike(decision: Decision, works: Sequence[Work]) -> str:
    """In what way the two names of a decision are one."""
    together = any(work.joints and {decision.about, decision.before} & set(work.folded) for work in works)
    return "is joined in the same go" if together else "means the same work"


def _twice(job: Job, works: Sequence[Work]) -> Iterator[Finding]:
    """Decisions that say what another says already, be it by another name of the same work."""

    def says(decision: Decision) -> tuple[object, ...]:
        about, before = (_scope(name, works) or name for name in (decision.about, decision.before))
        return about, before, decision.way, decision.station, decision.minutes

    for one, other in combinations(job.decisions, 2):
        if says(one) == says(other):
            line = f" in line {one.place.line}" if one.place is not None and one.place.line else ""
            yield Finding(
                "error",
                "decision-twice",
                other.about,
                f"This decision about {other.about} says again what the one about {one.about}{line} says.",
                "What a decision costs is found by leaving it out: written twice, each would seem to cost nothing.",
                "Take one of the two out.",
                other.place,
            )


def _about_nothing(job: Job, works: Sequence[Work]) -> Iterator[Finding]:
    names = sorted({name for work in works for name in (work.id, work.id.rpartition("/")[0], *work.joints, *work.folded)})
    for decision in job.decisions:
        for name in (decision.about, decision.before):
            if name and not _scope(name, works):
                near = get_close_matches(name, names, n=1, cutoff=0.5)
                yield Finding(
                    "error",
                    "decision-about-nothing",
                    decision.about,
                    f"A decision names {name}, and the job has no such feature, joint or task.",
                    "A decision that means nothing would be lost in silence.",
                    _meant(name, near, job, works),
                    decision.place,
                )


def _meant(name: str, near: Sequence[str], job: Job, works: Sequence[Work]) -> str:
    """What a name that means nothing may have been meant for: of what is joined the names in this drawing, which the number of
    joints changes, and their joints, which stay."""
    joined = {work.id.partition("/")[0]: work.joints for work in works if work.kind == "dry-fit" or work.kind in DRY}
    head = name.partition("/")[0]
    ours = near and near[0].partition("/")[0] in joined
    if not joined or head in job.parts or (near and not ours and "/" in name):
        return f"Did you mean {near[0]}?" if near else "Name a part/feature, a joint or a task."
    told = "; ".join(f"{group} ({', '.join(joints)})" for group, joints in joined.items())
    close = get_close_matches(head, joined, n=1, cutoff=0.5)
    meant = f"Did you mean {close[0]}? " if close else ""
    return f"{meant}What is joined in one go here is called: {told}. A joint means it by a name that stays."
