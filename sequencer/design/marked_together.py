"""Parts that are worked together and have lines in common: they are laid side by side and marked out in one go. mm."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sequencer.features.base import NEAR
from sequencer.model.job import Job, Part
from sequencer.model.shapes import bounds_of

_ROUND = 3
"""Decimals by which two places are one, mm."""


@dataclass(frozen=True)
class Beside:
    """Parts that lie side by side while they are marked out, in the order of the file. `turned`: the second of two lies turned
    end for end, since they mirror each other."""

    parts: tuple[str, ...]
    turned: bool = False

    @property
    def name(self) -> str:
        """A stable name: the names of the parts."""
        return "+".join(self.parts)


def marked_together(job: Job) -> Mapping[str, Beside]:
    """By part the parts that it is marked out with: those that the drawing says are worked together, as far as they have a line
    across in common when their first ends are level. Two of one length that mirror each other have it when one is turned."""
    found: dict[str, Beside] = {}
    for part in job.parts.values():
        if part.name in found:
            continue
        others = [
            each
            for each in job.parts.values()
            if each is not part and each.name not in found and (each.name in part.together or part.name in each.together)
        ]
        beside = _beside(part, others)
        found |= dict.fromkeys(beside.parts, beside) if len(beside.parts) > 1 else {}
    return found


def _beside(part: Part, others: list[Part]) -> Beside:
    flat = [each for each in others if _lies_flat(each)] if _lies_flat(part) else []
    level = [each for each in flat if _lines(part) & _lines(each)]
    if len(flat) == 1 and abs(flat[0].length - part.length) < NEAR:
        turned = _lines(part) & _lines(flat[0], turned=True)
        if len(turned) > len(_lines(part) & _lines(flat[0])):
            return Beside((part.name, flat[0].name), turned=True)
    return Beside((part.name, *(each.name for each in level)))


def shared_lines(parts: Sequence[Part], *, turned: bool = False) -> frozenset[float]:
    """The places of the lines that all of these parts have in common, from the first end of the first, mm."""
    first, *others = parts
    return _lines(first).intersection(*(_lines(each, turned=turned) for each in others))


def _lies_flat(part: Part) -> bool:
    """Whether it lies beside others by its faces, alike in all its pieces."""
    return part.section == "rectangular" and not part.handed


def _lines(part: Part, *, turned: bool = False) -> frozenset[float]:
    """Where lines are squared across a part, from its first end, or from its other end if it lies `turned`: where what is cut
    begins and ends, and through the middle of what is bored."""
    block = part.block
    places: list[float] = []
    for feature in part.features.values():
        if feature.when != "loose":
            continue
        if feature.nature == "bored":
            places += [sum(bounds_of((shape,)).span("x")) / 2 for shape in feature.removes(block)]
        else:
            places += bounds_of(feature.removes(block)).span("x")
    within = (place for place in places if NEAR < place < block.length - NEAR)
    return frozenset(round(block.length - place if turned else place, _ROUND) for place in within)
