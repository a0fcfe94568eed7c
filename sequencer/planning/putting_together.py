"""What the cards of joining steps say of each group of joints: its pieces in order, its cramps, the next one alike. mm."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Sequence

from sequencer.design.placement import Placement
from sequencer.design.placing import place
from sequencer.knowledge.wording import MOST_WORDS, words_in
from sequencer.knowledge.working import Working
from sequencer.model.job import Job
from sequencer.model.work import WORK_KINDS
from sequencer.planning.bringing import Told, alike, order_lines
from sequencer.planning.choice import Choice
from sequencer.planning.closing import Closing
from sequencer.planning.going_together import cramp_lines, label
from sequencer.planning.rolled_up import roll_lines, row_lines, row_of
from sequencer.planning.shop import Shop
from sequencer.reading.words import listed

TOLD = ("glue", "screw", "nail", "fit-dry")
"""Kinds of work that bring pieces together; a key is only driven in."""
_NEXT = ("second", "third", "fourth", "fifth", "sixth")
_CRAMP = re.compile(r"Put (?P<many>\w+) cramps? from (?P<over>.+?)(?:, at (?P<at>.+))?\.")


def together_lines(
    job: Job, closings: Sequence[Closing], working: Working, rolled: Collection[str] = ()
) -> Mapping[str, tuple[Told, ...]]:
    """By task, how the pieces of its group come together, one action a line: what stands first, what goes in next and how,
    where cramps press; and for each further one that is made alike, its own pieces. Of tasks that are `rolled` up, how the row
    lies, where it is tried, and how it is rolled."""
    placement = place(job)
    lines: dict[str, list[Told]] = {}
    for closing in closings:
        for name, told in ((_task(closing, "dry-fit"), row_lines), (_task(closing, closing.group.fixing), roll_lines)):
            if name in rolled and row_of(job, closing, placement):
                lines.setdefault(name, []).extend(map(Told, told(job, closing, placement)))
    firsts: dict[str, list[Closing]] = {}
    for closing in closings:
        kind = closing.group.fixing
        name = _task(closing, kind)
        if kind not in TOLD or not closing.told or name in rolled:
            continue
        before = firsts.setdefault(name, [])
        pieces = alike(job, before[0], closing) if before else ()
        if pieces and len(before) <= len(_NEXT):
            lines[name] += map(Told, _again(job, pieces, _NEXT[len(before) - 1]))
        else:
            lines.setdefault(name, []).extend(_told(job, closing, placement, working))
        before.append(closing)
    return {name: tuple(said) for name, said in lines.items()}


def rolled_up(choice: Choice, shop: Shop) -> frozenset[str]:
    """The tasks whose pieces are rolled up in the way that is taken for them."""
    kinds = shop.knowledge.stations
    return frozenset(task for task, way in choice.ways.items() if kinds[way.kind].operations[way.operation].rolled_up)


def _task(closing: Closing, kind: str) -> str:
    return f"{closing.group.name}/{kind}/{WORK_KINDS[kind].act}"


def _told(job: Job, closing: Closing, placement: Placement, working: Working) -> Iterator[Told]:
    yield from order_lines(job, closing, placement)
    for line in cramp_lines(job, closing, placement, working):
        yield from map(Told, _shorter(line))


def _again(job: Job, pieces: Sequence[str], which: str) -> Iterator[str]:
    """That another one is made as the first, of which pieces, in the same order."""
    names = [label(job, piece) for piece in pieces]
    whole = f"Make the {which} the same way: {', '.join(names)}."
    if words_in(whole) <= MOST_WORDS:
        yield whole
        return
    yield f"Make the {which} the same way."
    while names:
        many = max(number for number in range(1, len(names) + 1) if number == 1 or words_in(_take(names[:number])) <= MOST_WORDS)
        yield _take(names[:many])
        del names[:many]


def _take(names: Sequence[str]) -> str:
    return f"Take {listed(names)} for it."


def _shorter(line: str) -> Iterator[str]:
    """A line about cramps as it is, or as two where it has more words than a sentence may have."""
    found = _CRAMP.fullmatch(line)
    if found is None or words_in(line) <= MOST_WORDS:
        yield line
    elif found["at"] is None:
        yield f"Cramp {found['over']}."
    else:
        yield f"Put {found['many']} cramp{'' if found['many'] == 'one' else 's'} at {found['at']}."
        yield f"Tighten from {found['over']}."
