"""The dry fit: the pieces as drawn, put where their joints place them, looked at as solids.

What boxes can say is said by the design checks; here is what only solids show: pieces that stand in each other, joints that
curves and other cuts have left without wood, tenons that meet, what is to slide and cannot, what no order puts together.
"""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.design.placement import Placement
from sequencer.design.placing import place
from sequencer.findings import Finding, has_errors
from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.job import Job
from sequencer.solid.bearing import bearing_findings, tenons_that_meet
from sequencer.solid.clashing import clash_findings, clashes
from sequencer.solid.locking import locked_findings
from sequencer.solid.parts import standing_solids
from sequencer.solid.sliding import sliding_findings


def dry_fit(job: Job, knowledge: Knowledge, placement: Placement | None = None) -> tuple[Finding, ...]:
    """Everything that is found, in a fixed order. Pieces without a place are left out.

    Knowledge gives the fit classes; without them no play is allowed for.
    """
    placed = placement or place(job)
    found = tuple(_all(job, knowledge, placed))
    # Pieces that stand in each other cannot come apart: that is said already.
    return found if has_errors(found) else (*found, *locked_findings(job, placed))


def _all(job: Job, knowledge: Knowledge, placement: Placement) -> Iterator[Finding]:
    standing = standing_solids(placement)
    yield from clash_findings(job, placement, knowledge, clashes(placement, standing))
    yield from bearing_findings(job, placement, knowledge, standing)
    yield from tenons_that_meet(job, placement, standing)
    yield from sliding_findings(job, placement, standing)
