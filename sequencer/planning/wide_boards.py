"""What becomes of boards that are wider than the parts cut from them: who brings them to width, and how much is left over. mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import ceil

from sequencer.features.base import mm
from sequencer.findings import Finding
from sequencer.model.plan import Step
from sequencer.planning.shop import Shop
from sequencer.planning.ways import Way
from sequencer.planning.work import words


def beside(board: float, piece: float, kerf: float) -> int:
    """How many pieces lie beside each other in a board, with a kerf between each and the next."""
    return int((board + kerf + 1e-6) / (piece + kerf))


def wide_findings(shop: Shop, ways: Mapping[str, Way], steps: Sequence[Step]) -> Iterator[Finding]:
    """A note for each part of which several would lie beside each other in its board: the step that brings the one that is
    planned for to its width, and how many there is room for."""
    working = shop.knowledge.working
    for part in shop.job.parts.values():
        stock, task = shop.job.stock[part.stock], f"{part.name}/width/cut"
        if stock.form != "board" or not stock.width or task not in ways:
            continue
        way = ways[task]
        figures = shop.station_figures(shop.knowledge.stations[way.kind], shop.workshop.stations[way.station])
        kerf, one = figures.get("station.kerf", working.strip_kerf), part.worked.width + working.over_width
        number = beside(stock.width, one, kerf)
        step = next((each for each in steps if each.kind == "work" and task in each.tasks), None)
        if number < working.many_beside or step is None:
            continue
        people = "students" if step.who.operator == "student" else "staff"
        yield Finding(
            "note",
            "stock-wide",
            part.name,
            f"The {words(part.name)} is {mm(part.worked.width)} mm wide and its stock {stock.name} {mm(stock.width)} mm: at step "
            f"{step.number} {people} bring each blank to width at {step.station_title}. {number} such pieces lie beside each "
            f"other in the board, with {mm(working.over_width)} mm over on each and {mm(kerf)} mm between them for the saw, and "
            "one is planned for.",
            "The rest of each blank is left over.",
            f"Let staff rip {stock.name} into strips {mm(ceil(one))} mm wide first and draw them as a stock of their own, or buy "
            "it narrower.",
            part.place,
            "common practice",
        )
