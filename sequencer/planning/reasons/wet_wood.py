"""Why nothing is taken up while its glue sets or its finish dries: what the other reasons leave open is done before, or waits."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence

from sequencer.model.plan import Reason
from sequencer.model.work import NO_WOOD
from sequencer.planning.groups import Group
from sequencer.planning.loose import SPLINE_CURE
from sequencer.planning.reasons.grounds import TRADE, WET
from sequencer.planning.reasons.group_tasks import fixing_task, last_task
from sequencer.planning.work import Work

MARRED = "Fingers, cramps and other parts mark a finish that is not dry."
LEFT = ("Parts are left alone until their glue has set.", "Parts are left alone until their finish is dry.")
FIRST = (
    "Either could come first; this is done while nothing is wet, and the glue is then left alone until it has set.",
    "Either could come first; this is done before the finish goes on, which is then left alone until it is dry.",
)


def wet_reasons(groups: Sequence[Group], works: Mapping[str, Work], kept: Sequence[Reason]) -> Iterator[Reason]:
    """What is added to the reasons that there are: where nothing orders work against a gluing or a coat of the same parts, or of
    what hangs on to them, the plan does it before; what comes after the glue or the coat comes after the wait too."""
    follow: dict[str, set[str]] = {}
    for reason in kept:
        follow.setdefault(reason.before, set()).add(reason.after)
    coats = [work.id for work in works.values() if work.kind == "coat"]
    wet = [(fixing_task(group), last_task(group), False) for group in groups if group.fixing == "glue"]
    wet += [(work.id, f"{work.id.split('/')[0]}/{SPLINE_CURE}/wait", False) for work in works.values() if work.kind == "spline"]
    wet += [(coat, coat.rpartition("/")[0] + "/wait", True) for coat in coats]
    for task, wait, finish in wet:
        if task not in works or wait not in works:
            continue
        taken = _hanging_together(task, groups, works, follow)
        for work in works.values():
            if work.id in (task, wait) or work.kind in NO_WOOD or taken.isdisjoint(_parts(work)):
                continue
            late, early = reached(follow, task), reached(follow, work.id)
            if work.id in late and wait not in early and work.id not in reached(follow, wait):
                new = Reason(wait, work.id, "cure", LEFT[finish], TRADE, MARRED if finish else WET)
            elif work.id not in late and task not in early:
                new = Reason(work.id, task, "choice", FIRST[finish], TRADE)
            else:
                continue
            follow.setdefault(new.before, set()).add(new.after)
            yield new


def _parts(work: Work) -> set[str]:
    return {name for name, _ in work.parts}


def _hanging_together(
    task: str, groups: Sequence[Group], works: Mapping[str, Work], follow: Mapping[str, Collection[str]]
) -> set[str]:
    """The parts of a task, and what is joined to them before."""
    done = [_parts(works[name]) for name in map(fixing_task, groups) if name in works and task in reached(follow, name)]
    found = _parts(works[task])
    while more := {part for each in done if each & found for part in each} - found:
        found |= more
    return found


def reached(follow: Mapping[str, Collection[str]], start: str) -> set[str]:
    """Everything that comes after a task, given what follows directly on each."""
    seen, todo = set[str](), [start]
    while todo:
        new = set(follow.get(todo.pop(), ())) - seen
        seen |= new
        todo.extend(new)
    return seen
