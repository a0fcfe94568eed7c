"""Settings of sanding: which papers, one after the other."""

from __future__ import annotations

from collections.abc import Sequence

from sequencer.knowledge.settings.base import Given, setting, settings
from sequencer.model.plan import Setting

LARGEST_STEP = 1.5
"""How many times the number of the last paper the next may be where a grade is passed over, so that its scratches take out
those of the last. Source: an abrasive maker's shop notes, 2009: at most one grade is passed over, which comes to this step
among the usual grades; from twice the number on scratches stay, common practice."""


def papers(first: float, last: float, grades: Sequence[float]) -> tuple[float, ...]:
    """The row of papers from the first grade to the last, passing over a grade wherever the step stays within 1.5 times the
    number, and never two.

    first
        The paper that takes out what the tool left: the coarsest that is needed and no coarser.
    grades
        The grades there are, rising (P grades of FEPA, ISO 6344).

    ValueError if the grades do not go from the first to the last.
    """
    row = [grade for grade in grades if first <= grade <= last]
    if first not in row or last not in row or first > last:
        raise ValueError(f"there is no row of papers from P{first:g} to P{last:g}")
    found = [first]
    place = 0
    while row[place] < last:
        farther = place + 2
        passes_one = farther < len(row) and row[farther] <= row[place] * LARGEST_STEP + 1e-9
        place = farther if passes_one else place + 1
        found.append(row[place])
    return tuple(found)


@settings("papers", gives=("papers",), figures={"first": None, "last": "finish.paper", "bare": 180.0})
def sanding(given: Given) -> tuple[Setting, ...]:
    """The papers in the order they are used, from the one that takes out what the tool before left to the one that the finish
    asks for (`bare` where there is none), by the grades of `lists/abrasives.yaml`; no number more than 1.5 times the one
    before. Staff decide where the list does not hold the first or the last.
    """
    first, last, grades = given.figures["first"], given.figures["last"] or given.figures["bare"], sorted(given.request.grades)
    if first is None or last is None or first not in grades or last not in grades:
        return (setting("papers", "papers", None, ""),)
    row = papers(min(first, last), last, grades)
    return (setting("papers", "papers", float(len(row)), "", ", then ".join(f"P{grade:g}" for grade in row)),)
