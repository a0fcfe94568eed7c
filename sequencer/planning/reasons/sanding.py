"""Why what no plane cleans is sanded after its cuts and before it is joined."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sequencer.model.job import Job
from sequencer.model.plan import Reason
from sequencer.planning.groups import Group
from sequencer.planning.reasons.before_joining import JOINED
from sequencer.planning.reasons.grounds import GRIT, TRADE
from sequencer.planning.reasons.group_tasks import fixing_task, trying_task
from sequencer.planning.sanding import CURVES, ROUND, SANDS, WHOLE_CLEANED, is_joined
from sequencer.planning.work import Work, words

LENGTHS = ("first-end", "length", "separate")
"""Work that makes the ends of a part."""
SHUT_IN = "Paper does not get round a rod close to what it stands in: marks stay there, and dust sticks to wet glue."
THINNER = "A rod that is sanded before it is tried is loose in its hole."
DIRT = "Pencil, saw marks and scratches show for good under a finish."


def sanding_reasons(job: Job, works: Mapping[str, Work], groups: tuple[Group, ...]) -> Iterator[Reason]:
    """Each sanding of one part by itself among the other work."""
    for work in works.values():
        if work.kind not in SANDS:
            continue
        yield from _after_cuts(works, work)
        own = [group for group in groups if work.part in {job.part_of(piece).name for piece in group.pieces}]
        for group in own:
            yield _before_joined(work, group)
        if own and work.kind == ROUND and (trial := trying_task(own[0], works)) != fixing_task(own[0]):
            sentence = "A rod is sanded after the dry fit, and not where it goes into a hole, so that it stays tight."
            yield Reason(trial, work.id, "surface", sentence, TRADE, THINNER)
        if WHOLE_CLEANED in works and not is_joined(job, work.part) and work.part in dict(works[WHOLE_CLEANED].parts):
            yield Reason(WHOLE_CLEANED, work.id, "surface", "Planing comes before sanding.", TRADE, GRIT)
        for coat in works.values():
            if coat.kind == "coat" and work.part in dict(coat.parts):
                yield Reason(work.id, coat.id, "surface", "The finish goes on clean wood.", TRADE, DIRT)


def _after_cuts(works: Mapping[str, Work], work: Work) -> Iterator[Reason]:
    """A part is sanded when it has its length and all that is cut into it."""
    for cut in works.values():
        if cut.part != work.part or (cut.kind not in LENGTHS and (cut.drawn is None or cut.drawn.when != "loose")):
            continue
        sentence = "No edge tool or saw works on a sanded face: grit left in it blunts the edge."
        yield Reason(cut.id, work.id, "surface", sentence, TRADE, GRIT)


def _before_joined(work: Work, group: Group) -> Reason:
    if work.kind == CURVES:
        sentence = f"No plane follows a curve: it is sanded while the {words(work.part)} is by itself and a vice holds it."
        return Reason(work.id, fixing_task(group), "holding", sentence, TRADE, JOINED)
    sentence = f"The {words(work.part)} is sanded before it is joined: afterwards nothing gets all round it at its ends."
    return Reason(work.id, fixing_task(group), "reach", sentence, TRADE, SHUT_IN)
