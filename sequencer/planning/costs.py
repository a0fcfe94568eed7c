"""What the teacher's decisions cost: the job is planned without each of them, and without all."""

from __future__ import annotations

from dataclasses import replace

from sequencer.findings import has_errors
from sequencer.model.job import Decision
from sequencer.planning.agreeing import Agreed, agree, works_of
from sequencer.planning.deciding import Outcome, cost_words
from sequencer.planning.either_first import in_decided_order
from sequencer.planning.groups import Group
from sequencer.planning.shop import Shop


def costs_of_decisions(undecided: tuple[Group, ...], shop: Shop, agreed: Agreed) -> tuple[list[str], str]:
    """What each decision costs against the plan without it, and what all of them cost together where there are several: of two
    that ask for nearly the same, each may seem to cost nothing. `undecided`: the groups in the order nobody has decided."""

    def against(kept: tuple[Decision, ...], needed: str) -> str:
        groups = in_decided_order(undecided, kept)
        without = agree(works_of(groups, shop), groups, replace(shop, job=replace(shop.job, decisions=kept)))
        if without.circle is not None or has_errors(without.choice.findings):
            return needed
        return cost_words(_outcome(agreed), _outcome(without))

    every = shop.job.decisions
    each = [
        against(tuple(other for other in every if other is not one), "is needed: without it there is no plan") for one in every
    ]
    return each, against((), "is needed: without any of them there is no plan") if len(every) > 1 else ""


def _outcome(agreed: Agreed) -> Outcome:
    return Outcome(tuple(agreed.tasks.values()), agreed.reasons, agreed.arranged.changing)
