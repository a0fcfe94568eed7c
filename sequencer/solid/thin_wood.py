"""Wood that a cut leaves too thin to stand: walls, slices and tongues between a cut and a face or between two cuts, seen where
the finished part is sliced. mm.

Boxes say how far a cut is from a face. Here the part is looked at as it is left, so that a taper beside a groove, a wall in sheet
and what several cuts leave between them are seen alike.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from sequencer.design.bodies import Body
from sequencer.design.joining import stock_is_solid
from sequencer.features.base import NEAR, Feature, mm
from sequencer.findings import Finding
from sequencer.knowledge.working import Working
from sequencer.model.frame import AXES, Axis, Block, FaceName, face_at, others
from sequencer.model.job import Job, Part
from sequencer.model.shapes import Bounds
from sequencer.solid.parts import part_solid
from sequencer.solid.small_bores import joined_features, stands_between_bores
from sequencer.solid.solids import Section, Spot, section

STRETCH = 50.0
"""Across the grain a section is drawn so much wider when only what is short along the grain is looked for."""
LEAST_SLICE = 0.5
"""Cuts no further apart than this along an axis are not looked at between, mm: what lies there is a slip of the drawing."""
BESIDE = 0.1
"""A cut no further from a thin place than this has made it, mm."""
SOURCE = "from memory"
LOW_STEP = 0.5
"""What stands up by less than this share of how thick it is is a low step and no wall."""
HALVINGS = 7
"""How often the range of a thickness is halved to find it: from 4 mm to a thirtieth of one."""
HALVED = 0.05
"""A thickness found so is known within this, mm."""


@dataclass(frozen=True)
class Thin:
    """A thin place of a part: how thick it is, whether that is along the grain, what made it, the boxes of that beside it, and
    the face beyond it."""

    thick: float
    along_grain: bool
    made_by: tuple[Feature, ...]
    beside: tuple[Bounds, ...]
    beyond: FaceName | None


def thin_wood(job: Job, working: Working) -> Iterator[Finding]:
    """An error for each wall that is thinner than `least-wall`, and in solid wood shorter along the grain than
    `least-end-wall`; a warning where that stands between small bores. Of kinds whose own check says how thin their wood may be
    only that is heard."""
    for part in job.parts.values():
        said: set[frozenset[str]] = set()
        stands: list[Thin] = []
        joined = joined_features(job, part)
        for body in {piece.hand: Body(piece, part) for piece in part.pieces}.values():
            for thin in _thin_places(body, working, stock_is_solid(job, part)):
                short = thin.along_grain and thin.beyond is None and thin.thick > working.least_wall - HALVED
                if short and stands_between_bores(body, thin.made_by, thin.beside, part.grain, joined, working):
                    stands.append(thin)
                    continue
                names = frozenset(each.name for each in thin.made_by)
                if names not in said:
                    said.add(names)
                    yield _finding(part, thin, working)
        if stands:
            yield _between_bores(part, min(stands, key=lambda thin: thin.thick), working)


def _thin_places(body: Body, working: Working, solid_wood: bool) -> Iterator[Thin]:
    part = body.part
    boxes = [(each, body.boxes(each)) for each in part.features_of(body.piece.hand)]
    if not any(each.nature in ("bored", "cut") and not each.own_walls for each, _ in boxes):
        return
    whole = part_solid(body)
    for axis in AXES:
        for low, high in _between_cuts(part.block, axis, [box for _, own in boxes for box in own]):
            at = (low + high) / 2
            here = [(each, [box for box in own if box.span(axis)[0] < at < box.span(axis)[1]]) for each, own in boxes]
            here = [(each, own) for each, own in here if own]
            if here:
                grain = part.grain if solid_wood and part.grain != axis else None
                flat = section(whole, axis, at)
                found = _in_section(part.block, flat, axis, here, grain, working)
                yield from (thin for thin in found if high - low >= thin.thick * LOW_STEP)


def _between_cuts(block: Block, axis: Axis, boxes: Iterable[Bounds]) -> Iterator[tuple[float, float]]:
    """From where to where along an axis a part is alike as far as boxes say: between any two places where a cut begins or ends.
    It is sliced halfway."""
    levels = sorted({round(level, 3) for box in boxes for level in box.span(axis)} | {0.0, round(block.size(axis), 3)})
    yield from ((low, high) for low, high in pairwise(levels) if high - low >= LEAST_SLICE)


def _in_section(
    block: Block,
    flat: Section,
    axis: Axis,
    here: list[tuple[Feature, list[Bounds]]],
    grain: Axis | None,
    working: Working,
) -> Iterator[Thin]:
    across = others(axis)
    looked = [(None, working.least_wall)] if grain is None else [(grain, working.least_end_wall), (None, working.least_wall)]
    for along, least in looked:
        if any(block.size(each) <= least + NEAR for each in (across if along is None else (along,))):
            continue
        first, second = (1.0 if along in (None, each) else STRETCH for each in across)
        stretch = (first, second)
        for place in flat.thin_places(least - NEAR, stretch):
            near = tuple(box for _, own in here for box in own if _beside(place, box, across))
            made_by = tuple(each for each, own in here if any(_beside(place, box, across) for box in own))
            if not any(each.nature in ("bored", "cut") and not each.own_walls for each in made_by):
                continue
            if any(each.own_walls for each in made_by):
                continue
            low, high = 0.0, least
            for _ in range(HALVINGS):
                middle = (low + high) / 2
                if any(_overlap(place, other) for other in flat.thin_places(middle, stretch)):
                    high = middle
                else:
                    low = middle
            if place.area >= high * high * LOW_STEP:
                yield Thin(high, along is not None, made_by, near, _beyond(block, place, across, along))


def _beside(place: Spot, box: Bounds, across: tuple[Axis, Axis]) -> bool:
    return all(
        box.span(axis)[0] <= place.high[side] + BESIDE and place.low[side] <= box.span(axis)[1] + BESIDE
        for side, axis in enumerate(across)
    )


def _overlap(one: Spot, other: Spot) -> bool:
    return all(one.low[side] < other.high[side] and other.low[side] < one.high[side] for side in (0, 1))


def _beyond(block: Block, place: Spot, across: tuple[Axis, Axis], along: Axis | None) -> FaceName | None:
    """The face of the part that the thin place reaches, if it is the one it is thin towards."""
    sides = sorted((0, 1), key=lambda side: place.high[side] - place.low[side])
    thin = across[sides[0]] if along is None else along
    side = across.index(thin)
    if place.low[side] < BESIDE:
        return face_at(thin, False)
    return face_at(thin, True) if place.high[side] > block.size(thin) - BESIDE else None


def _between_bores(part: Part, thin: Thin, working: Working) -> Finding:
    """What is said of bores close together along the grain, in the middle of a board, by the least wood between two."""
    first, second = (thin.made_by[0].name, thin.made_by[-1].name)
    between = f"Between {first} and {second}" if first != second else f"Between two holes of {first}"
    return Finding(
        "warning",
        "thin-between-bores",
        f"{part.name}/{first}",
        f"{between} the wood is only {mm(thin.thick)} mm long along the grain.",
        "The wood at both sides holds it, but a dull bit or one that wanders breaks through, and pegs driven in tight split it.",
        f"Leave {mm(working.least_end_wall)} mm or more, or bore with a sharp bit that has a point, and let pegs go in by hand.",
        part.place_of(first),
        SOURCE,
    )


def _finding(part: Part, thin: Thin, working: Working) -> Finding:
    made_by = sorted(thin.made_by, key=lambda each: each.nature not in ("bored", "cut"))
    first, *more = made_by
    least = working.least_end_wall if thin.along_grain else working.least_wall
    thick = mm(max(thin.thick, 0.1))
    if thin.beyond is not None and not more:
        between = f"Between {first.name} and the {thin.beyond} face"
        move = f"carry the cut out to the {thin.beyond} face"
    elif more:
        between = f"Between {first.name} and {more[0].name}"
        move = "make one cut of the two"
    else:
        between, move = f"At {first.name}", "change its sizes"
    if thin.along_grain:
        what = f"{between} the wood is only {thick} mm long along the grain."
        why = "Such short grain shears off: it breaks away as the cut is made, or as a joint is tapped home."
        remedy = f"Leave 10 mm or more, {mm(least)} mm at the least, or {move}."
    else:
        what = f"{between} only {thick} mm of wood is left."
        why = "So thin a wall breaks out as the cut is made or at the first knock."
        remedy = f"Leave 3 mm or more, {mm(least)} mm at the least, or {move}."
    return Finding("error", "thin-wall", f"{part.name}/{first.name}", what, why, remedy, part.place_of(first.name), SOURCE)
