"""What leaves no order where parts are worked in long pieces, and what can be done about it: two parts that share a strip, though
something comes between their work, have one each; a part with something to be done first is worked piece by piece.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations

from sequencer.model.plan import Reason
from sequencer.planning.choice import Choice, KeptApart


def kept_apart(circle: Sequence[Reason], choice: Choice) -> Iterator[KeptApart]:
    """Each single thing that may take a circle of reasons apart, besides what is kept apart already: two of its parts that share
    a strip have one each, or a part is worked piece by piece."""
    kept = choice.long.kept
    for pair, why in _sharing(circle, choice).items():
        yield replace(kept, own_strips={**kept.own_strips, pair: why})
    for part, why in _too_early(circle, choice).items():
        yield replace(kept, by_the_piece={**kept.by_the_piece, part: why})


def kept_at_once(circle: Sequence[Reason], choice: Choice) -> Iterator[KeptApart]:
    """All at once that may take a circle apart: a strip for each part of every strip in it; where none is shared, all that is
    worked too early is worked piece by piece. Nothing where there is nothing more to be done."""
    kept = choice.long.kept
    pairs: dict[frozenset[str], str] = {}
    for pair, why in _sharing(circle, choice).items():
        strip = choice.blanks[next(iter(pair))].strip
        members = [part for part, blank in choice.blanks.items() if blank.strip == strip]
        pairs |= {frozenset(two): why for two in combinations(members, 2)}
    if pairs:
        yield replace(kept, own_strips={**kept.own_strips, **pairs})
    elif early := _too_early(circle, choice):
        yield replace(kept, by_the_piece={**kept.by_the_piece, **early})


def _sharing(circle: Sequence[Reason], choice: Choice) -> dict[frozenset[str], str]:
    """The pairs of parts that one strip holds and a reason of the circle orders for that, and what is against sharing it."""
    found: dict[frozenset[str], str] = {}
    for reason in circle:
        one, other = (choice.works[name].part for name in (reason.before, reason.after))
        strip = choice.blanks[one].strip if one and other and one != other else ""
        if strip and choice.blanks[other].strip == strip:
            found.setdefault(frozenset((one, other)), _against(reason.before, circle))
    return found


def _too_early(circle: Sequence[Reason], choice: Choice) -> dict[str, str]:
    """The parts that are worked in a strip though something comes before, and what that is."""
    found: dict[str, str] = {}
    for reason in circle:
        work, way = choice.works[reason.after], choice.ways[reason.after]
        if not way.in_the_long or not _may_be_by_the_piece(work.part, choice):
            continue
        found.setdefault(work.part, "In one strip it would come too early.")
        if work.lengthwise:
            found[work.part] = f"In one strip it would come too early. {reason.sentence}"
    return found


def _may_be_by_the_piece(part: str, choice: Choice) -> bool:
    """Whether anything right along a part is worked in the long that is not cut on a stick for its shortness."""
    long = (choice.works[name] for name, way in choice.ways.items() if way.in_the_long)
    return part not in choice.long.sticks and any(work.part == part and work.lengthwise for work in long)


def _against(task: str, circle: Sequence[Reason]) -> str:
    """What a circle has come before a task: what is decided, if anything is, else what leads to the task."""
    decided = (reason.sentence for reason in circle if reason.kind == "decision")
    return next(decided, None) or next(reason.sentence for reason in circle if reason.after == task)
