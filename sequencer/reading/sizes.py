"""The named sizes of a job: worked out in whatever order they need, loops spelled out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter

from sequencer.reading.expressions import Expression, ExpressionError, Unit, parse
from sequencer.reading.words import meant


@dataclass(frozen=True)
class Sizes:
    """What names stand for, in the file's unit, and what is wrong with the rest.

    broken
        Names without a value: each with its sentence, or an empty one where it only follows from another's error.
    """

    values: Mapping[str, float]
    broken: Mapping[str, str]
    used: frozenset[str]


def work_out(texts: Mapping[str, str], unit: Unit) -> Sizes:
    """Works out sums that may name each other, in any order."""
    read: dict[str, Expression] = {}
    broken: dict[str, str] = {}
    for name, text in texts.items():
        try:
            read[name] = parse(text, texts, unit)
        except ExpressionError as error:
            broken[name] = str(error)
    for name, each in read.items():
        if unknown := [other for other in each.names if other not in texts]:
            broken[name] = f"'{unknown[0]}' is no known size. {meant(unknown[0], texts)}"
    needs = {name: [other for other in each.names if other in read] for name, each in read.items()}
    for loop in _loops(needs):
        chain = " -> ".join((*loop, loop[0]))
        broken[loop[0]] = f"'{loop[0]}' is worked out from itself: {chain}."
        broken.update(dict.fromkeys(loop[1:], ""))
    values: dict[str, float] = {}
    for name in TopologicalSorter({name: those for name, those in needs.items() if name not in broken}).static_order():
        if name in broken:
            continue
        if any(other in broken for other in read[name].names):
            broken[name] = ""
            continue
        try:
            values[name] = read[name].value(values)
        except ExpressionError as error:
            broken[name] = str(error)
    used = frozenset(other for each in read.values() for other in each.names)
    return Sizes({name: values[name] for name in texts if name in values}, broken, used)


def _loops(needs: Mapping[str, Iterable[str]]) -> list[list[str]]:
    """Every loop that shares no name with an earlier one, each starting with its first name in the file."""
    left = {name: list(those) for name, those in needs.items()}
    order = list(left)
    loops: list[list[str]] = []
    while True:
        try:
            TopologicalSorter(left).prepare()
        except CycleError as error:
            # The sorter lists a loop from what is needed to what needs it, the first name again at the end.
            loop = error.args[1][:0:-1]
            start = loop.index(min(loop, key=order.index))
            loops.append(loop[start:] + loop[:start])
            left = {name: [other for other in those if other not in loop] for name, those in left.items() if name not in loop}
        else:
            return loops
