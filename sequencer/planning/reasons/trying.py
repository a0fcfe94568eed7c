"""Why the whole is tried dry before any of it is glued, and before it gets its finish."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from sequencer.model.job import Job
from sequencer.model.plan import Reason
from sequencer.planning.groups import Group, after_finish
from sequencer.planning.reasons.grounds import TRADE
from sequencer.planning.reasons.group_tasks import fixing_task, trying_task
from sequencer.planning.tried_dry import glued_before
from sequencer.planning.work import Work, finish_index

STUCK = "A joint that does not close is found when its pieces can no longer be turned or eased."
SHOWS = "A part that is tried with its finish on is rubbed and marked, and where it is eased the finish is gone."
ALONE = "What is tried without the pieces it goes on to shows nothing of how they meet."


def trying_reasons(job: Job, works: Mapping[str, Work], groups: Sequence[Group]) -> Iterator[Reason]:
    """The order of the dry trials, and what is glued only after them. None of it holds where a joint can only be tried on what is
    glued already: waste that has to come off first stands in its way, or it is cut when the parts are joined. What goes in when
    the finish is dry is cut to the opening that the glued frame has."""
    named = {group.name: group for group in groups}
    for group in groups:
        trying = trying_task(group, works)
        if trying == fixing_task(group):
            continue
        for glued in () if after_finish(job, group) else glued_before(group, groups):
            sentence = "The whole set is tried dry before any of it is glued."
            yield Reason(trying, fixing_task(glued), "fit", sentence, TRADE, STUCK)
        taken = {name for name, _ in works[trying].parts}
        for coat in _first_coats(works):
            if not taken.isdisjoint(name for name, _ in coat.parts):
                sentence = "What is joined is tried before any of it gets its finish."
                yield Reason(trying, coat.id, "surface", sentence, TRADE, SHOWS)
        for name, _, asked in group.after:
            before = trying_task(named[name], works)
            if before == fixing_task(named[name]):
                continue
            if asked:
                sentence = "What the rest goes on to is tried first."
                yield Reason(before, trying, "sequence", sentence, TRADE, ALONE)
            else:
                sentence = "Either could be tried first; they are tried in the order in which they are joined."
                yield Reason(before, trying, "choice", sentence, TRADE)


def _first_coats(works: Mapping[str, Work]) -> tuple[Work, ...]:
    """The first coat of each finish."""
    coats = [work for work in works.values() if work.kind == "coat"]
    return tuple({finish_index(work): work for work in reversed(coats)}.values())
