"""Every reason of a job, by the rules of the modules beside this one."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping

from sequencer.model.job import Job
from sequencer.model.plan import Bench, Reason, ReasonKind
from sequencer.planning.decided import decided_by, decided_words
from sequencer.planning.either_first import is_choice
from sequencer.planning.groups import Group
from sequencer.planning.order import yields
from sequencer.planning.reasons.finishing import finishing_reasons
from sequencer.planning.reasons.grounds import TRADE, WET
from sequencer.planning.reasons.group_tasks import cleaning_task, fixing_task, last_task, trying_task
from sequencer.planning.reasons.joining import joining_reasons, room_reasons
from sequencer.planning.reasons.marking_out import beside_reasons
from sequencer.planning.reasons.one_part import part_reasons
from sequencer.planning.reasons.sanding import sanding_reasons
from sequencer.planning.reasons.strips import strip_reasons
from sequencer.planning.reasons.trying import trying_reasons
from sequencer.planning.reasons.wet_wood import reached, wet_reasons
from sequencer.planning.ways import Way
from sequencer.planning.work import Work


def find_reasons(
    job: Job, works: Mapping[str, Work], ways: Mapping[str, Way], groups: tuple[Group, ...], bench: Bench
) -> tuple[Reason, ...]:
    """Every reason of a job, once for each pair and kind, in a fixed order."""
    found: dict[tuple[str, str, ReasonKind], Reason] = {}
    decisions = tuple(decided_reasons(job, works))
    decided = {(reason.before, reason.after) for reason in decisions}
    trials = tuple(trying_reasons(job, works, groups))
    for reason in (
        *part_reasons(job, works, ways, bench),
        *strip_reasons(works, ways),
        *beside_reasons(job, works),
        *joining_reasons(job, works, groups),
        *room_reasons(job, works, groups),
        *sanding_reasons(job, works, groups),
        *finishing_reasons(job, works, groups, bench.tool_room),
        *decisions,
        *trials,
    ):
        if reason.before != reason.after and not _overruled(reason, decided):
            found.setdefault((reason.before, reason.after, reason.kind), reason)
    kept = _without_idle(tuple(found.values()), {reason for reason in trials if reason.kind != "choice"})
    kept = (*kept, *_set_when_turned(groups, works, kept))
    return (*kept, *wet_reasons(groups, works, kept))


def _set_when_turned(groups: tuple[Group, ...], works: Mapping[str, Work], kept: tuple[Reason, ...]) -> Iterator[Reason]:
    """Where a choice between two groups has given way, the glue of the one that is now first sets before the other is joined, and
    before it is tried or cleaned if that comes after the gluing."""
    follow: dict[str, set[str]] = {}
    for reason in kept:
        follow.setdefault(reason.before, set()).add(reason.after)
    choices = {(reason.before, reason.after) for reason in kept if reason.kind == "choice"}
    named = {group.name: group for group in groups}
    for group in groups:
        for name, _, _ in group.after:
            earlier = named[name]
            if is_choice(group, name) and (last_task(earlier), fixing_task(group)) not in choices:
                title = name.replace("-", " ")
                sentence = f"What is joined here is left alone until it is one piece; then {title} is joined to it."
                late = reached(follow, fixing_task(group))
                for task in (trying_task(earlier, works), cleaning_task(earlier)):
                    if task in late:
                        yield Reason(last_task(group), task, "cure", sentence, TRADE, WET)
                yield Reason(last_task(group), fixing_task(earlier), "cure", sentence, TRADE, WET)


def _without_idle(every: tuple[Reason, ...], trials: Collection[Reason]) -> tuple[Reason, ...]:
    """The reasons without each choice, and each trial before the glue, that goes against what is demanded: a choice is no demand
    itself, and what can only be tried on what is glued is tried then. Of several that cannot all hold the first does, a trial
    before any choice."""
    after: dict[str, set[str]] = {}
    for reason in every:
        if reason.kind != "choice" and reason not in trials:
            after.setdefault(reason.before, set()).add(reason.after)

    def leads(start: str, to: str) -> bool:
        return start == to or to in reached(after, start)

    idle: set[Reason] = set()
    for reason in (*(each for each in every if each in trials), *(each for each in every if each.kind == "choice")):
        if leads(reason.after, reason.before):
            idle.add(reason)
        else:
            after.setdefault(reason.before, set()).add(reason.after)
    return tuple(reason for reason in every if reason not in idle)


def _overruled(reason: Reason, decided: set[tuple[str, str]]) -> bool:
    """Whether a decision asks for the other way round, and the reason may yield to one. Square work that comes after a shape then
    must be gripped by what the shape has left, which the way sees to (`shapes_left`)."""
    return yields(reason) and (reason.after, reason.before) in decided


def decided_reasons(job: Job, works: Mapping[str, Work]) -> Iterator[Reason]:
    """What comes before what because somebody decided it."""
    for decision in job.decisions:
        if not decision.before:
            continue
        meant = [work for work in works.values() if work.is_meant_by(decision.about)]
        later = [work for work in works.values() if work.is_meant_by(decision.before)]
        for before in meant:
            for after in later:
                yield Reason(before.id, after.id, "decision", decided_words(decision), decided_by(decision.by))
