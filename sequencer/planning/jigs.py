"""Jigs to make before the lessons: which the plan needs, with the sizes that follow from the work they are for.

A jig that is a way of holding is not made where the workshop has that at hand (`Shop.made_holding` says where a plan may rest
on one that is made for it).
"""

from __future__ import annotations

from collections.abc import Sequence

from sequencer.knowledge.forms.jigs import Jig
from sequencer.knowledge.forms.jigs import JigPiece as PieceForm
from sequencer.model.jigs import JigBody, JigHole, JigLine, JigPiece
from sequencer.model.plan import Step
from sequencer.model.quantities import QUANTITIES, Figures
from sequencer.planning.choice import Choice
from sequencer.planning.shapes_left import grips_of
from sequencer.planning.shop import Shop, as_it_stands
from sequencer.planning.ways import Way
from sequencer.planning.work import Work, words
from sequencer.reading.expressions import parse


def jigs_of(way: Way, shop: Shop) -> tuple[tuple[str, Figures], ...]:
    """The jigs to be made for a way, each with the figures its sizes follow from: the one its operation names and those that hold
    the work and what shapes have left of it, but for what is at hand."""
    kind, station = shop.knowledge.stations[way.kind], shop.workshop.stations[way.station]
    operation = as_it_stands(kind.operations[way.operation], way.figures)
    held = dict.fromkeys((operation.jig,) if operation.jig else ())
    held |= dict.fromkeys(shop.jig_for[name] for name in shop.held_by(kind, operation, station) if name in shop.jig_for)
    # In the long it is the long piece that lies in the jig.
    lies = {"part.length": way.piece.length} if way.in_the_long and way.piece is not None else {}
    figures = {**way.figures, **lies}
    wanted = [(name, figures) for name in held]
    for left in way.left:
        grips = grips_of((left,), kind, operation, station, shop)
        wanted += [(shop.jig_for[name], {**figures, **left.figures()}) for name in grips if name in shop.jig_for]
    there = shop.holding(station)
    return tuple((name, figures) for name, figures in wanted if shop.knowledge.jigs[name].serves_as not in there)


def jig_lines(choice: Choice, steps: Sequence[Step], shop: Shop) -> tuple[JigLine, ...]:
    """Jigs to make before the lessons, in the order of the steps; one line for all work that takes the same jig in the same
    sizes."""
    numbers = {task: step.number for step in steps if step.kind == "work" for task in step.tasks}
    found: dict[tuple[str, tuple[JigPiece, ...]], list[str]] = {}
    for task in sorted(choice.works, key=lambda task: numbers.get(task, 0)):
        way = choice.ways[task]
        for name, figures in jigs_of(way, shop):
            tasks = found.setdefault((name, jig_pieces(shop.knowledge.jigs[name], figures)), [])
            if task not in tasks:
                tasks.append(task)
    return tuple(
        JigLine(
            name,
            jig.name,
            jig.what,
            tuple(tasks),
            tuple(sorted({numbers[task] for task in tasks if task in numbers})),
            tuple(dict.fromkeys(_use(choice.works[task]) for task in tasks)),
            pieces,
            jig.fastening,
            jig.checks,
            jig.source,
        )
        for (name, pieces), tasks in found.items()
        for jig in [shop.knowledge.jigs[name]]
    )


def _use(work: Work) -> str:
    """What a jig is for: `curve of the side`."""
    return f"{words(work.feature)} of the {words(work.part)}" if work.part else work.title.lower()


def jig_pieces(jig: Jig, figures: Figures) -> tuple[JigPiece, ...]:
    """The pieces of a jig in the sizes that these figures give, to a tenth of a millimetre. ExpressionError if one is not
    known; the loader sees to it that the work a jig is named for gives them all."""
    return tuple(_piece(name, form, figures) for name, form in jig.pieces.items())


def _piece(name: str, form: PieceForm, figures: Figures) -> JigPiece:
    def worked(text: str) -> float:
        return round(parse(text, QUANTITIES).value(figures), 1)

    x, y, z = (worked(text) for text in form.size)
    bodies = []
    for place in form.at:
        low = {axis: worked(text) for axis, text in zip("xyz", place, strict=True)}
        beside = [low[axis] for axis in "xyz" if axis != form.along]
        outline = tuple((beside[0] + worked(first), beside[1] + worked(second)) for first, second in form.outline)
        holes = []
        for hole in form.holes:
            one, two = (low[axis] + worked(text) for axis, text in zip(_others(hole.along), hole.at, strict=True))
            holes.append(JigHole(hole.along, (one, two), worked(hole.diameter)))
        bodies.append(JigBody((low["x"], low["y"], low["z"]), (x, y, z), form.along, outline, tuple(holes)))
    cut_from = (worked(text) for text in form.cut_from or form.size)
    length, width, thickness = sorted(cut_from, reverse=True)
    return JigPiece(name, len(bodies), length, width, thickness, form.stock, tuple(bodies))


def _others(axis: str) -> str:
    return "xyz".replace(axis, "")
