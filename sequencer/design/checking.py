"""Every design check, in one list: what the drawing says against itself, its stock and the trade's rules."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sequencer.design.beside_splines import closed_by_splines, wood_beside_slots
from sequencer.design.closing import joints_that_do_not_close, outside_measures, what_was_not_measured
from sequencer.design.cuts import close_cuts, nothing_left, walls_beside
from sequencer.design.fitting import halvings_together, panels_between, sections_by_fit, tenons_in_mortises
from sequencer.design.fixing import fasteners, wood_that_cannot_move
from sequencer.design.interlocking import corners_that_interlock, slopes_for_the_wood
from sequencer.design.joining import stock_is_solid
from sequencer.design.loose_pieces import loose_pieces_fit
from sequencer.design.material import parts_against_stock
from sequencer.design.placing import place
from sequencer.design.rebates import rebates_that_hold, rebates_that_leave_room
from sequencer.design.splines import splines_fit
from sequencer.design.unplanned import format_only_findings
from sequencer.findings import Finding
from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.job import Job

__all__ = ["check_design", "format_only_findings"]

OF_THE_GRAIN = ("short-grain", "across-the-grain", "along-the-grain")
"""What features find about the grain: sheet has none that breaks or tears."""


def check_design(job: Job, knowledge: Knowledge) -> tuple[Finding, ...]:
    """Everything that does not hold together, in a fixed order; parts alone first, then how they go together.

    Knowledge gives the fit classes and how much each timber moves. What it lacks is not checked.
    """
    placement = place(job)
    return (
        *features_alone(job),
        *nothing_left(job),
        *close_cuts(job),
        *walls_beside(job, knowledge.working),
        *parts_against_stock(job),
        *slopes_for_the_wood(job),
        *placement.findings,
        *joints_that_do_not_close(job, placement),
        *outside_measures(job, placement),
        *halvings_together(job, placement),
        *corners_that_interlock(job),
        *tenons_in_mortises(job, placement, knowledge.working),
        *sections_by_fit(job, placement, knowledge),
        *panels_between(job, placement, knowledge),
        *rebates_that_hold(job, placement, knowledge.working),
        *rebates_that_leave_room(job, placement),
        *fasteners(job, placement, knowledge),
        *loose_pieces_fit(job, placement, knowledge.bench),
        *splines_fit(job, placement),
        *wood_beside_slots(job, knowledge.working),
        *closed_by_splines(job),
        *wood_that_cannot_move(job, placement, knowledge),
        *what_was_not_measured(job, placement),
    )


def features_alone(job: Job) -> Iterator[Finding]:
    """What each feature finds about itself, under its full name. What it says of the grain means nothing in sheet."""
    for part in job.parts.values():
        for feature in part.features.values():
            for found in feature.check(part.block, part.grain):
                if found.code in OF_THE_GRAIN and not stock_is_solid(job, part):
                    continue
                yield replace(found, subject=f"{part.name}/{feature.name}", place=found.place or part.place_of(feature.name))
