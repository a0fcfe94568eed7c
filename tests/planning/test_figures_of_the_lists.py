"""Figures of the trade stand in the lists: a school that changes one there gets other plans, cards and proofs."""

from __future__ import annotations

import re
from dataclasses import fields, replace

import pytest

from sequencer.design.checking import check_design
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.working import Working
from sequencer.model.job import Stock
from sequencer.model.plan import Bench, Plan
from sequencer.planning.blanks import bought_length
from sequencer.planning.planner import make_plan
from sequencer.planning.worth_a_strip import slender
from sequencer.proving.making import carry_out
from tests.loose import biscuited, dowelled, wedged
from tests.made import ROOT, job, knowledge, plan, workshop

SOURCE = "\n".join(file.read_text(encoding="utf-8") for file in sorted((ROOT / "sequencer").rglob("*.py")))
HOOK = "tests/cases/s01-bench-hook.yaml"


def working(**changed: float) -> Knowledge:
    figures = dict(knowledge().working_figures)
    for name, value in changed.items():
        key = name.replace("_", "-")
        figures[key] = replace(figures[key], value=value)  # type: ignore[index]
    return replace(knowledge(), working_figures=figures)


def bench(**changed: float) -> Knowledge:
    figures = dict(knowledge().bench_figures)
    for name, value in changed.items():
        key = name.replace("_", "-")
        figures[key] = replace(figures[key], value=value)  # type: ignore[index]
    return replace(knowledge(), bench_figures=figures)


def loose_looks(made: Plan, drawn: object) -> list[bool]:
    return [look.held for task in carry_out(made, drawn).proof.tasks for look in task.looked if look.check == "loose"]  # type: ignore[arg-type]


@pytest.mark.parametrize("name", [each.name for form in (Working, Bench) for each in fields(form)])
def test_every_figure_of_the_lists_is_used(name: str) -> None:
    assert re.search(rf"\.{name}\b", SOURCE)


def test_wedges_are_sawn_from_an_offcut_as_long_as_the_list_says() -> None:
    made = make_plan(wedged(), workshop("hand-tools"), working(wedge_offcut=180.0))
    assert [thing.name for thing in made.hardware] == ["offcut with straight grain, planed 10 mm thick, 180 mm long"]
    said = [line for step in made.steps for line in (*step.instructions, *step.method) if "offcut at least" in line]
    assert said
    assert {*said} == {"Use an offcut at least 180 mm long."}


def test_a_board_of_which_nobody_says_how_long_it_is_counts_as_so_much_longer_than_the_blank() -> None:
    unsaid = Stock("board", "radiata pine", "board", 90, 18, ())
    assert bought_length(unsaid, 325.0, knowledge().bench.unsaid_board) == 1325.0
    assert bought_length(replace(unsaid, lengths=(900, 2400)), 325.0, knowledge().bench.unsaid_board) == 2400.0


def test_so_many_pieces_beside_each_other_are_told_as_the_list_says() -> None:
    """Five blocks of the bench hook lie beside each other in its board."""
    told = [each.subject for each in plan(HOOK).findings if each.code == "stock-wide"]
    fewer = make_plan(job(HOOK), workshop(), working(many_beside=6.0))
    assert (told, [each.subject for each in fewer.findings if each.code == "stock-wide"]) == (["block"], [])


def test_pilot_holes_are_as_deep_as_the_list_says() -> None:
    def depths(known: Knowledge) -> set[float]:
        made = make_plan(job(HOOK), workshop(), known)
        tasks = (task for task in made.tasks if task.kind == "screw")
        return {setting.value or 0.0 for task in tasks for setting in task.settings if setting.name == "depth"}

    (usual,), (less,) = depths(knowledge()), depths(working(pilot_share=0.5))
    assert less == pytest.approx(usual * 3 / 4, abs=1)


def test_so_many_things_are_seen_at_a_sign_off_as_the_list_says() -> None:
    """Of a station that has none of its own: the first it says before starting."""
    unlisted = [
        name for name, kind in knowledge().stations.items() if not kind.seen_at_sign_off and len(kind.before_starting) > 2
    ]
    for number, known in ((3, knowledge()), (2, working(seen_at_sign_off=2.0))):
        made = make_plan(job("herb-caddy"), workshop(), known)
        cards = [card for card in made.stations if card.kind in unlisted]
        assert cards
        assert {len(card.seen_at_sign_off) for card in cards} == {number}


def test_a_biscuit_thicker_than_its_slot_does_not_go_home() -> None:
    drawn = biscuited()
    assert all(loose_looks(make_plan(drawn, workshop("well-equipped"), knowledge()), drawn))
    assert not any(loose_looks(make_plan(drawn, workshop("well-equipped"), bench(biscuit_thickness=5.0)), drawn))


def test_glue_that_fills_more_asks_for_wood_further_out() -> None:
    """Of a ring of 40 mm round a dowel in boards of 18 x 90 less than half is wood."""
    drawn = dowelled()
    assert all(loose_looks(make_plan(drawn, workshop("hand-tools"), knowledge()), drawn))
    assert not all(loose_looks(make_plan(drawn, workshop("hand-tools"), bench(glue_fills=40.0)), drawn))


def test_a_dowel_has_as_much_room_under_it_as_the_list_says() -> None:
    """The proof tries each dowel with half of it to spare in either hole."""
    made = plan_of_dowels(1.5)
    held = loose_looks(made, dowelled())
    assert held
    assert all(held)
    assert not all(loose_looks(plan_of_dowels(12.0), dowelled()))
    said = [each.code for each in check_design(dowelled(), bench(dowel_room=12.0))]
    assert "dowel-too-long" in said
    assert "dowel-too-long" not in [each.code for each in check_design(dowelled(), knowledge())]


def plan_of_dowels(room: float) -> Plan:
    return make_plan(dowelled(), workshop(), bench(dowel_room=room))


def test_what_is_a_stick_is_said_by_the_list() -> None:
    """A key of 125 x 44 mm is 0.36 as broad as long."""
    key = job("tests/cases/s08-keyed-tabouret.yaml").parts["key"]
    drawn = replace(key, length=125.0, width=44.0)
    assert slender(drawn, knowledge().working)
    assert not slender(drawn, working(stick_slender=0.35).working)
