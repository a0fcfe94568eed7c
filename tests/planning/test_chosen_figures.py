"""A figure that no plate states and the school chooses: a looser one needs who decided it and why, and is printed."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sequencer.findings import Refused
from sequencer.model.plan import DecisionLine, Plan
from sequencer.planning.planner import make_plan
from tests.made import job, knowledge, workshop


def planned(figures: dict[str, float], **decided: Any) -> Plan:
    """The herb caddy in a workshop whose lathe states some figures."""
    school = workshop("well-equipped")
    lathe = replace(school.stations["lathe"], figures=figures, **decided)
    return make_plan(job("herb-caddy"), replace(school, stations={**school.stations, "lathe": lathe}), knowledge())


def own(plan: Plan) -> list[DecisionLine]:
    return [line for line in plan.decisions if line.about.startswith("lathe")]


@pytest.mark.parametrize("decided", [{}, {"by": "Head of technology"}, {"why": "heavy bed"}])
@pytest.mark.parametrize(("figure", "value", "shipped"), [("off-balance", 0.05, "0.02"), ("slenderness", 20, "15")])
def test_a_looser_figure_without_who_or_why_is_refused(figure: str, value: float, shipped: str, decided: dict[str, str]) -> None:
    with pytest.raises(Refused) as refused:
        planned({figure: value}, **decided)
    (error,) = [each for each in refused.value.findings if each.level == "error"]
    assert (error.code, error.subject) == ("unnamed-loosening", "lathe")
    assert f"{figure} {value:g} instead of {shipped}" in error.what
    assert error.remedy == f"Add `by` (a role) and `why` to the station, or write {shipped} or stricter."


def test_one_that_somebody_answers_for_is_printed_with_who_and_why() -> None:
    plan = planned({"off-balance": 0.05}, by="Head of technology", why="our lathe is bolted down")
    (line,) = own(plan)
    assert (line.about, line.by, line.why) == ("lathe, off-balance", "Head of technology", "our lathe is bolted down")
    assert line.text.startswith("off-balance 0.05 instead of 0.02, how far the middle of its weight")
    (note,) = [each for each in plan.findings if each.code == "loosened-figure"]
    assert note.level == "note"


@pytest.mark.parametrize("figures", [{"off-balance": 0.02}, {"off-balance": 0.01, "slenderness": 10}, {"swing": 400}])
def test_as_strict_a_figure_or_one_of_the_plate_needs_nobody(figures: dict[str, float]) -> None:
    assert own(planned(figures)) == []


def test_what_the_school_chooses_is_marked_in_the_knowledge() -> None:
    chosen = {
        (kind.station, name): figure.chosen
        for kind in knowledge().stations.values()
        for name, figure in kind.figures.items()
        if figure.chosen
    }
    assert chosen == {("lathe", "off-balance"): "lower", ("lathe", "slenderness"): "lower"}
    assert all(knowledge().stations[kind].figures[name].default is not None for kind, name in chosen)
