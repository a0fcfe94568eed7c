"""Pieces too short to be held beside a blade: cut off a longer piece that is held, and never caught between blade and stop."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest

from sequencer.findings import Refused
from sequencer.model.job import Decision, Job
from sequencer.model.plan import Plan, Setting
from sequencer.model.workshop import Workshop
from sequencer.planning.blanks import end_trim
from sequencer.planning.planner import make_plan, ways_of
from sequencer.planning.shop import Shop
from sequencer.proving.making import carry_out
from tests.made import knowledge, workshop
from tests.outside.bench import board

SHORT = "cut-short-piece-on-mitre-saw"
LENGTHS = [round(Random(seed).uniform(20, 500), 1) for seed in range(40)]


def rail(length: float) -> Job:
    """One rail of a length, of a board as wide as it."""
    drawn = board(length=length)
    return replace(drawn, stock={"board": replace(drawn.stock["board"], width=90.0)})


def by_the_mitre_saw(length: float, where: Workshop | None = None) -> tuple[Plan, Job]:
    """One rail of a length, its second end cut on the mitre saw as a short piece."""
    drawn = rail(length)
    decided = replace(drawn, decisions=(Decision("rail/length", "Technician", "for this check", way=SHORT),))
    return make_plan(decided, where or workshop(), knowledge()), decided


def test_a_short_piece_is_cut_off_a_blank_with_an_end_to_hold() -> None:
    plan, drawn = by_the_mitre_saw(80)
    (task,) = (task for task in plan.tasks if task.kind == "length")
    assert task.piece is not None
    # At least 300 mm are asked on the saw when 25 of the blank's waste have gone with the first end.
    assert task.piece[0] == 325
    assert {setting.name: setting.value for setting in task.settings} == {"stop": 80, "clear": 25}
    proof = carry_out(plan, drawn).proof
    assert proof.held, [look.says for look in proof.failures]
    (look,) = (look for task in proof.tasks for look in task.looked if look.check == "remnant")
    assert look.says == "what stays behind is held, 217.2 mm; at least 150 mm is asked"


def test_a_piece_caught_between_stop_and_blade_is_noticed_by_this_check_alone() -> None:
    plan, drawn = by_the_mitre_saw(80)

    def caught(settings: tuple[Setting, ...]) -> tuple[Setting, ...]:
        return tuple(replace(each, value=0.0) if each.name == "clear" else each for each in settings)

    damaged = replace(
        plan,
        tasks=tuple(replace(task, settings=caught(task.settings)) for task in plan.tasks),
        steps=tuple(replace(step, settings=caught(step.settings)) for step in plan.steps),
    )
    failures = carry_out(damaged, drawn).proof.failures
    assert [look.check for look in failures] == ["remnant"]
    assert failures[0].says == "it is held between stop and blade, 80 mm; at least 150 mm is asked"


def test_without_the_clearance_block_it_is_refused_with_the_remedy() -> None:
    school = workshop()
    saw = replace(school.stations["mitre-saw"], holding=("machine-clamp", "stop-block"))
    with pytest.raises(Refused) as refused:
        by_the_mitre_saw(80, replace(school, stations={**school.stations, "mitre-saw": saw}))
    (found,) = (each for each in refused.value.findings if each.code == "decision-refused")
    assert found.what.endswith("The clearance block is not at hand at mitre-saw.")
    assert found.remedy.startswith("Provide the clearance block, then name it in the workshop file.")


def test_a_piece_that_can_be_held_is_not_cut_off_as_a_short_one() -> None:
    with pytest.raises(Refused) as refused:
        by_the_mitre_saw(150)
    (found,) = (each for each in refused.value.findings if each.code == "decision-refused")
    assert "long enough to be held beside the blade" in found.what


def test_stock_too_short_for_the_end_to_hold_is_refused() -> None:
    drawn = rail(80)
    short = replace(drawn, stock={"board": replace(drawn.stock["board"], lengths=(320.0,))})
    (way,) = (
        way for _, ways, _ in ways_of("rail/length", short, workshop(), knowledge()) for way in ways if way.operation == SHORT
    )
    assert any("stock" in obstacle.what for obstacle in way.obstacles)


@pytest.mark.parametrize("length", LENGTHS)
def test_whatever_the_length_what_is_held_at_a_machine_is_within_its_limits(length: float) -> None:
    drawn, school = rail(length), workshop("well-equipped")
    shop, found = Shop(job=drawn, workshop=school, knowledge=knowledge()), 0
    for _, ways, _ in ways_of("rail/length", drawn, school, knowledge()):
        for way in ways:
            kind = knowledge().stations[way.kind]
            if kind.power != "machine" or not way.possible or way.piece is None or way.in_the_long:
                continue
            figures = shop.station_figures(kind, school.stations[way.station])
            worked = way.piece.length - end_trim(way.piece.waste, knowledge().bench.first_end_trim)
            rest = worked - length - figures["station.kerf"]
            least = figures["station.least-remnant"]
            free = any(setting.name == "clear" for setting in way.settings)
            assert (rest if free else length) >= least, way.operation
            assert worked >= figures["station.shortest"], way.operation
            # A piece too short to hold lies free; one that is held stands at the stop.
            assert free == (length < least), way.operation
            found += 1
    # Under 40 mm the blade can catch a piece, turn it and throw it: no machine saws it off.
    assert (found > 0) == (length >= 40)


BLANKS = ("rough-cut-on-mitre-saw", "rough-cut-on-pull-over-saw")


def blanks_cut(length: float, lengths: tuple[float, ...] = (2400.0,)) -> dict[str, list[str]]:
    """What stands against cutting the blank of a rail at each of the two saws."""
    drawn = rail(length)
    drawn = replace(drawn, stock={"board": replace(drawn.stock["board"], lengths=lengths)})
    return {
        way.operation: [obstacle.what for obstacle in way.obstacles]
        for _, ways, _ in ways_of("rail/rough-length", drawn, workshop("well-equipped"), knowledge())
        for way in ways
        if way.operation in BLANKS
    }


@pytest.mark.parametrize(("length", "goes"), [(124, False), (125, True)])
def test_a_blank_is_cut_off_only_where_it_is_long_enough_to_be_held(length: float, goes: bool) -> None:
    """A blank is 25 mm over length; 150 mm are held between stop and blade at the least."""
    found = blanks_cut(length)
    assert set(found) == set(BLANKS)
    for name, against in found.items():
        assert (not against) is goes, name
        assert goes or any("too short to be held between stop and blade" in each for each in against), name


@pytest.mark.parametrize(("bought", "goes"), [(525, True), (900, False), (930, True)])
def test_what_is_left_of_a_board_keeps_a_hand_out_of_the_zone(bought: float, goes: bool) -> None:
    """Beside a blank of 525 mm and a kerf of up to 3.2 mm, 400 mm must be left, unless the board is as long as the blank."""
    for name, against in blanks_cut(500, (bought,)).items():
        assert (not against) is goes, name
        assert goes or any("too little is left to keep a hand clear" in each for each in against), name


def test_a_blank_too_short_to_hold_is_noticed_on_solids() -> None:
    drawn = rail(300)
    decided = replace(drawn, decisions=(Decision("rail/rough-length", "Technician", "for this check", way=BLANKS[0]),))
    plan = make_plan(decided, workshop(), knowledge())
    assert carry_out(plan, decided).proof.held

    def shorter(settings: tuple[Setting, ...]) -> tuple[Setting, ...]:
        return tuple(replace(each, value=120.0) if each.name == "stop" else each for each in settings)

    damaged = replace(
        plan,
        tasks=tuple(
            replace(task, settings=shorter(task.settings)) if task.kind == "rough-length" else task for task in plan.tasks
        ),
    )
    found = [look.says for look in carry_out(damaged, decided).proof.failures if look.check == "remnant"]
    assert found[0] == "the blank is held between stop and blade, 120 mm; at least 150 mm is asked"
