"""Why one task comes before another within one part."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import permutations

from sequencer.features.mitre import Mitre
from sequencer.features.revolved import Revolved
from sequencer.model.frame import FaceName, opposite
from sequencer.model.job import Job, Part
from sequencer.model.plan import Bench, Reason
from sequencer.planning.reasons.cuts import Cut, cut_of, face_called, held_by, verb
from sequencer.planning.reasons.grounds import TRADE
from sequencer.planning.reasons.marking_out import marking_reasons
from sequencer.planning.reasons.stock import stock_reasons
from sequencer.planning.reasons.two_cuts import pair_reasons
from sequencer.planning.start_holes import NEEDED
from sequencer.planning.turning import CENTRES, turning_of
from sequencer.planning.ways import Way
from sequencer.planning.work import Work, words


def part_reasons(job: Job, works: Mapping[str, Work], ways: Mapping[str, Way], bench: Bench) -> Iterator[Reason]:
    """Why the tasks on each part come in their order: sizing, marking out, cutting."""
    for part in job.parts.values():
        own = {work.feature: work for work in works.values() if work.part == part.name}
        yield from stock_reasons(own, ways)
        cuts = [cut_of(work, part, ways) for work in own.values() if work.drawn is not None]
        yield from marking_reasons(own, cuts, part, bench)
        loose = [cut for cut in cuts if cut.feature.when == "loose"]
        waiting = {(turned.work.id, late.work.id) for turned, late in _turned_first(loose, ways, part, bench)}
        starts = {work.start.id: work.id for work in own.values() if work.start is not None}
        yield from _started(own, ways)
        for first, second in permutations(loose, 2):
            if starts.get(first.work.id) == second.work.id or starts.get(second.work.id) == first.work.id:
                continue
            if (second.work.id, first.work.id) not in waiting:
                yield from pair_reasons(first, second, part, bench)
        for turned, late in _turned_first(loose, ways, part, bench):
            sentence = f"The {turned.name} is turned first: the {late.name} takes away wood that the centres or the balance need."
            yield Reason(turned.work.id, late.work.id, "support", sentence, TRADE)
        yield from _shortened(loose, part, bench)


def _started(own: Mapping[str, Work], ways: Mapping[str, Way]) -> Iterator[Reason]:
    """A blade that is threaded through needs its hole."""
    for work in own.values():
        if work.start is not None and work.start.feature in own and NEEDED in ways[work.id].needs:
            sentence = f"The blade needs a hole to be threaded through before the {words(work.feature)} is sawn."
            yield Reason(work.start.id, work.id, "reach", sentence, TRADE)


def _shortened(cuts: list[Cut], part: Part, bench: Bench) -> Iterator[Reason]:
    """Mitres that together leave too little of a long face come after what is measured from it or held by it."""
    mitres: dict[FaceName, list[Cut]] = {}
    for cut in cuts:
        if isinstance(cut.feature, Mitre):
            mitres.setdefault(opposite(cut.feature.long), []).append(cut)
    for face, shortening in mitres.items():
        lost = sum(cut.feature.waste(part.block) for cut in shortening if isinstance(cut.feature, Mitre))
        if lost <= (1 - bench.fence_share) * part.block.length:
            continue
        for first in cuts:
            if first.feature.ends_part() or first.feature.nature not in ("bored", "cut"):
                continue
            measured = face in {*first.feature.measured_from(), part.face_edge}
            if measured or face in held_by(first, part, bench):
                what = f"{verb(first.name)} measured from" if measured else "must be held by"
                for second in shortening:
                    sentence = f"The {second.name} takes away most of the {face_called(face)} that the {first.name} {what}."
                    yield Reason(first.work.id, second.work.id, "datum" if measured else "holding", sentence, TRADE)


def _turned_first(cuts: list[Cut], ways: Mapping[str, Way], part: Part, bench: Bench) -> Iterator[tuple[Cut, Cut]]:
    """Each turning between centres with each cut that waits for it."""
    for turned in cuts:
        figures = ways[turned.work.id].figures
        if isinstance(turned.feature, Revolved) and all(name in figures for name in CENTRES):
            late = turning_of(turned.feature, part, figures, bench).after
            yield from ((turned, cut) for cut in cuts if cut.feature in late)
