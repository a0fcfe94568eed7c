"""What students do while they wait: the job's own tasks, with the steps to be done before, then seated work of the list."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sequencer.findings import Finding
from sequencer.model.job import MADE, Extension
from sequencer.model.plan import Step, WaitingTask, WaitingWhen
from sequencer.planning.shop import Shop
from sequencer.planning.work import Work

BY_HAND = ("hand", "bench")


def waiting_tasks(shop: Shop, steps: Sequence[Step], works: Sequence[Work]) -> tuple[WaitingTask, ...]:
    """The tasks for whoever waits, the job's own first. What is to come after something that nobody here works on comes last of
    all, when the whole is made."""
    own = [_own(each, steps, works) for each in shop.job.extension]
    listed = [
        WaitingTask(" ".join(each.does), each.minutes, each.when, own=False) for each in shop.knowledge.waiting_work.values()
    ]
    return (*own, *listed)


def _own(task: Extension, steps: Sequence[Step], works: Sequence[Work]) -> WaitingTask:
    meant = {work.id for work in works if task.after and work.is_meant_by(task.after)}
    after = tuple(step.id for step in steps if step.kind == "work" and not meant.isdisjoint(step.tasks))
    when: WaitingWhen = "made" if task.after and not after else "any-time"
    return WaitingTask(task.task, task.minutes or 0.0, when, task.stations, after, task.lay_out)


def waiting_findings(shop: Shop, steps: Sequence[Step]) -> Iterator[Finding]:
    """What stands against the job's own tasks for whoever waits."""
    enough = {kind for kind in {step.station_kind for step in steps} if in_the_room(kind, steps)}
    for task in shop.job.extension:
        for kind in task.stations:
            known = shop.knowledge.stations.get(kind)
            if known is None or known.power not in BY_HAND:
                yield _no_bench(task, kind, shop)
            elif kind not in enough:
                yield _watched(task, known.name, enough, shop)
        if task.after == MADE and not task.stations:
            yield Finding(
                "note", "waiting-work-not-stated", "extension",
                f"'{task.task}' does not say what it needs; only those who have finished are given it.",
                "Nobody counts a place, a tool or an adult for it.",
                "Write `stations` with it if it is done at a bench, or `after: start` if a pencil and paper are enough.",
                task.place,
            )  # fmt: skip


def in_the_room(kind: str, steps: Sequence[Step]) -> bool:
    """Whether all that students do at a kind of station in a plan needs no more than an adult in the room, and no sign-off."""
    there = [step.who for step in steps if step.kind == "work" and step.station_kind == kind and step.who.operator == "student"]
    return bool(there) and all(who.supervision == "room" and who.gate != "signed-off" for who in there)


def _no_bench(task: Extension, kind: str, shop: Shop) -> Finding:
    benches = sorted(name for name, each in shop.knowledge.stations.items() if each.power in BY_HAND)
    return Finding(
        "error", "waiting-work-no-bench", "extension",
        f"'{task.task}' is to be done at '{kind}', which is no bench for work by hand.",
        "Who waits takes no machine and no powered tool: others need them, and nobody watches.",
        f"Name some of: {', '.join(benches)}.",
        task.place,
    )  # fmt: skip


def _watched(task: Extension, name: str, enough: set[str], shop: Shop) -> Finding:
    names = ", ".join(sorted(enough & {kind for kind, each in shop.knowledge.stations.items() if each.power in BY_HAND}))
    return Finding(
        "warning", "waiting-work-watched", "extension",
        f"'{task.task}' is to be done at the {name}, where an adult in the room is not enough for this class, or where the job "
        "has no work. No lesson plans it.",
        "Who waits has nobody to watch.",
        f"Name stations where an adult in the room is enough ({names or 'none here'}), or write a task for pencil and paper.",
        task.place,
    )  # fmt: skip
