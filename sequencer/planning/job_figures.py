"""What the job's glue, finishes and materials add to what is known of a work: figures, minutes, and whether staff do it."""

from __future__ import annotations

from sequencer.knowledge.forms.operations import Operation
from sequencer.knowledge.working import Working
from sequencer.model.quantities import Figures
from sequencer.planning.shop import Shop
from sequencer.planning.work import Work, finish_index

WITH_GLUE = ("glue", "dowel", "biscuit", "wedge", "spline")
"""Kinds of work with wet glue."""
GLUED = frozenset({*WITH_GLUE, "cure"})
"""Kinds of work that the times of the glue matter to."""


def staff_put_it_on(work: Work, shop: Shop) -> bool:
    """Whether the job's glue, or the finish of this coat, is one that only staff put on."""
    if work.kind in WITH_GLUE:
        glue = shop.knowledge.glues.get(shop.job.glue)
        return glue is not None and glue.staff
    if work.kind == "coat":
        finish = shop.knowledge.finishes.get(shop.job.finish[finish_index(work)].what)
        return finish is not None and finish.staff
    return False


def finish_figures(work: Work, shop: Shop) -> Figures:
    """What the job's finishes add to the figures of a work: the last paper that a finish on any of its parts asks for, the
    finest of them; coats, and how long each dries, for a coat and its drying."""
    if work.kind not in ("coat", "dry"):
        own = {name for name, _ in work.parts}
        reached = [finish.what for finish in shop.job.finish if not finish.parts or own & {*finish.parts}]
        papers = [shop.knowledge.finishes[name].sanded_to for name in reached if name in shop.knowledge.finishes]
        return {"finish.paper": max(papers)} if papers else {}
    finish = shop.job.finish[finish_index(work)]
    known = shop.knowledge.finishes.get(finish.what)
    figures = {"finish.coats": float(finish.coats)}
    return figures if known is None else figures | {"finish.dry-time": known.dry_time}


def laser_figures(work: Work, shop: Shop) -> Figures:
    """Whether the material of a part is marked for the laser cutter at the part's thickness. One that is not listed, or not
    marked, is not."""
    if not work.part:
        return {}
    part = shop.job.parts[work.part]
    material = shop.material(shop.job.stock[part.stock])
    mark = None if material is None else material.laser
    return {"part.laser": float(mark is not None and part.thickness <= mark.thickest)}


def marked_by(work: Work, working: Working) -> dict[str, float]:
    """Whether the width of a part is marked by a gauge or, further than its stem reaches, by rule and straight edge."""
    width = work.figures.get("part.width")
    if width is None:
        return {}
    return {"part.gauged": float(width <= working.gauge_reach), "part.past-gauge": float(width > working.gauge_reach)}


def minutes_of_work(work: Work, operation: Operation, shop: Shop) -> float:
    """Minutes for one piece: each cut its time; setting and drying take what glue and finish need."""
    if work.kind == "cure" and shop.glue_figures:
        return shop.glue_figures["station.cure-time"]
    if work.kind == "dry":
        return finish_figures(work, shop).get("finish.dry-time", operation.minutes.each)
    return operation.minutes.each * work.figures.get("feature.count", 1.0)
