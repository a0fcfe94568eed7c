"""What no plane cleans is sanded while the piece is by itself: round rods, and curves that are sawn and filed. mm."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from sequencer.features.base import Feature
from sequencer.model.frame import axis_of
from sequencer.model.job import Job, Part
from sequencer.model.work import WORK_KINDS
from sequencer.planning.cleaned_sizes import buried, sizes_of_parts
from sequencer.planning.shop import Shop
from sequencer.planning.ways import Way
from sequencer.planning.work import RANKS, Work, part_figures, words
from sequencer.reading.words import listed

ROUND, CURVES = "sand-round", "sand-curves"
SANDS = (ROUND, CURVES)
"""Kinds of work that sand one part before it is joined."""
WHOLE_CLEANED = "whole/clean-up/clean"
FEW = 2
"""So many curves are named in a title."""


def sanding_work(shop: Shop) -> list[Work]:
    """The sanding of every part that has what no plane cleans; nothing where the workshop has no station for it."""
    there = [shop.knowledge.stations[name] for name in {station.kind for station in shop.workshop.stations.values()}]
    made = {kind for station in there for operation in station.operations.values() for kind in operation.makes}
    return [work for part in shop.job.parts.values() for work in _of_part(shop.job, part) if work.kind in made]


def _of_part(job: Job, part: Part) -> list[Work]:
    if job.stock[part.stock].form == "bought" or job.rough_inside or buried(job, part):
        return []
    found, curves = [], curves_of(job, part)
    if part.section == "round" and all(feature.shape_left != "round" for feature in part.features.values()):
        found.append(_work(job, part, ROUND, "Sand smooth"))
    if curves:
        names = [f"the {words(each.name)}" for each in curves]
        found.append(_work(job, part, CURVES, f"Sand {listed(names) if len(names) <= FEW else 'the curves'}"))
    return found


def curves_of(job: Job, part: Part) -> list[Feature]:
    """The curves of a part that are sawn and filed while it is loose, and lie in no joint: of cut-outs those through its broad
    face, since a slot in an edge takes a spline."""
    seats = (seat for joint in job.joints.values() for seat in (joint.its, joint.seat))
    joined = {seat.feature for seat in seats if seat.feature and job.part_of(seat.piece) is part}
    return [
        each
        for each in part.features.values()
        if each.sawn_to_line
        and each.when == "loose"
        and each.name not in joined
        and (each.nature == "shape" or axis_of(each.opens()[0]) == "z")
    ]


def is_joined(job: Job, part: str) -> bool:
    """Whether any piece of a part is joined to another."""
    return any(
        part in {job.part_of(piece).name for piece in (each.enters_piece, each.seat.piece)} for each in job.joints.values()
    )


def _work(job: Job, part: Part, kind: str, doing: str) -> Work:
    figures = part_figures(part, job.stock[part.stock]) | sizes_of_parts(job, [part.name])
    title, act = f"{doing}: {words(part.name)}", WORK_KINDS[kind].act
    return Work(f"{part.name}/{kind}/{act}", kind, act, title, ((part.name, part.count),), figures, RANKS[kind], part.name, kind)


def sanded_anyway(works: Collection[Work], ways: Mapping[str, Way], shop: Shop) -> set[str]:
    """The sanding that needs no step of its own: of curves that were sanded to their line, and of what is sanded when all is
    joined, if the outside is cleaned by abrasive and not by plane. A rod that is joined cannot be reached all over then."""

    def abrasive(name: str) -> bool:
        way = ways.get(name)
        return way is not None and shop.knowledge.stations[way.kind].operations[way.operation].spoils_edge_tools

    cleaned = {name for work in works if work.id == WHOLE_CLEANED and abrasive(work.id) for name, _ in work.parts}
    found = set()
    for work in works:
        if work.kind == CURVES:
            curves = curves_of(shop.job, shop.job.parts[work.part])
            if work.part in cleaned or all(abrasive(f"{work.part}/{each.name}/cut") for each in curves):
                found.add(work.id)
        elif work.kind == ROUND and work.part in cleaned and not is_joined(shop.job, work.part):
            found.add(work.id)
    return found
