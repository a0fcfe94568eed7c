"""The proof follows a strip: one stick, worked whole, with room for every piece and kerf."""

from __future__ import annotations

from dataclasses import replace

from sequencer.model.plan import Plan, StationCard, Task
from sequencer.model.stock_lists import Strip, StripPiece
from sequencer.proving.making import carry_out
from tests.made import job, making, plan
from tests.planning.test_strips import grooved_by_staff
from tests.proving.damage import delayed

NAME = "picture-frame"


def failures(damaged: Plan) -> list[tuple[str, str]]:
    return [(look.check, look.says) for look in carry_out(damaged, job(NAME)).proof.failures]


def laid(*pieces: StripPiece, **changed: float) -> Plan:
    (strip,) = plan(NAME).strips
    return replace(plan(NAME), strips=(replace(strip, pieces=pieces or strip.pieces, **changed),))  # type: ignore[arg-type]


def moved(number: int, by: float) -> tuple[StripPiece, ...]:
    """The pieces, from one of them on, shifted along the strip."""
    (strip,) = plan(NAME).strips
    return tuple(replace(each, start=each.start + (by if n >= number else 0.0)) for n, each in enumerate(strip.pieces))


def stations(name: str, **figures: float) -> Plan:
    """The plan with other figures on the card of a station."""

    def changed(card: StationCard) -> StationCard:
        return replace(card, figures={**card.figures, **figures}) if card.station == name else card

    return replace(plan(NAME), stations=tuple(changed(card) for card in plan(NAME).stations))


def test_the_strip_of_the_frame_is_looked_at_when_it_is_first_cut() -> None:
    first = next(task for task in making(NAME).proof.tasks if task.task == "long-piece/left-mitre/cut")
    assert [look.says for look in first.looked if look.check == "strip"] == [
        "the strip holds 2 of long-piece, 2 of short-piece",
        "the strip is 949 mm long, and ploughing takes 1200 mm",
        "the setting of ploughing is tried on 150 mm; it asks at least 150 mm",
        "long-piece and short-piece are one stick with one section",
        "with kerfs of 1.4 mm B 2 ends 924 mm along the strip; there are 949 mm",
    ]


def test_a_piece_laid_over_another_is_noticed() -> None:
    """A 2 is to begin at 276, 5 behind A 1; 10 nearer it lies on it."""
    assert failures(laid(*moved(1, -10.0))) == [("strip", "A 2 begins before A 1 ends")]


def test_a_piece_beyond_the_end_of_the_strip_is_noticed() -> None:
    """B 2 ends at 924; moved by 30 it would end at 954, and the strip is 949 long."""
    (found,) = failures(laid(*moved(3, 30.0)))
    assert found == ("strip", "with kerfs of 1.4 mm B 2 ends 954 mm along the strip; there are 949 mm")


def test_a_wider_kerf_pushes_the_pieces_on_until_the_last_has_no_wood() -> None:
    """A kerf of 10 at 45 degrees is 14.1 along the strip where 5 are left: three times 9.1 more is 27.4, and 25 are spare."""
    found = failures(stations("hand-sawing", kerf=10.0))
    assert ("strip", "with kerfs of 14.1 mm B 2 ends 951.4 mm along the strip; there are 949 mm") in found
    assert not failures(stations("hand-sawing", kerf=8.0))


def test_a_strip_longer_than_a_station_takes_is_noticed() -> None:
    assert failures(stations("ploughing", longest=900.0)) == [("strip", "the strip is 949 mm long, and ploughing takes 900 mm")]


def test_a_piece_too_few_is_noticed() -> None:
    (strip,) = plan(NAME).strips
    (found,) = failures(laid(*strip.pieces[:3]))
    assert found == ("strip", "the strip holds 1 of short-piece, and the list of blanks says other numbers")


def test_a_strip_cut_before_it_is_worked_all_along_is_noticed() -> None:
    found = failures(delayed(plan(NAME), "short-piece/rebate/cut", "long-piece/right-mitre/cut"))
    assert ("strip", "the strip has been cut apart already") in found
    assert any(says.startswith("the stick is not worked alike where long-piece and short-piece lie") for _, says in found)


def test_a_strip_with_another_profile_for_one_part_is_noticed() -> None:
    """Part B's rebate 1 mm less deep on its card: 8 mm2 of section differ, 8 mm3 in each millimetre."""

    def shallower(task: Task) -> Task:
        if task.id != "short-piece/rebate/cut":
            return task
        changed = (replace(each, value=9.0) if each.value == 10.0 else each for each in task.settings)
        return replace(task, settings=tuple(changed))

    damaged = replace(plan(NAME), tasks=tuple(shallower(task) for task in plan(NAME).tasks))
    says = "the stick is not worked alike where long-piece and short-piece lie: 8 mm3 in each millimetre of it"
    assert ("strip", says) in failures(damaged)


def test_strips_name_their_parts_in_order() -> None:
    (strip,) = plan(NAME).strips
    assert isinstance(strip, Strip)
    assert strip.parts == ("long-piece", "short-piece")


def test_a_trial_piece_too_short_for_the_machine_is_noticed() -> None:
    made, drawn = grooved_by_staff()
    damaged = replace(made, strips=(replace(made.strips[0], trial=200.0),))
    found = [(look.check, look.says) for look in carry_out(damaged, drawn).proof.failures]
    assert found == [("strip", "the setting of saw-bench is tried on 200 mm; it asks at least 300 mm")]


def test_a_test_piece_too_short_for_the_plane_is_noticed() -> None:
    made = plan(NAME)
    damaged = replace(made, strips=(replace(made.strips[0], trial=0.0),))
    assert failures(damaged) == [("strip", "the setting of ploughing is tried on 0 mm; it asks at least 150 mm")]


def test_the_last_piece_of_a_strip_too_short_to_hold_under_a_hand_saw_is_noticed() -> None:
    """Of 230 behind the first end four splines, 3 between each and a kerf take 130: 100 are left to hold."""
    splines = "tests/assemblies/splined-frame.yaml"

    def failing(shortest: float) -> list[tuple[str, str]]:
        made = plan(splines)
        cards = (
            replace(card, figures={**card.figures, "shortest": shortest}) if card.station == "hand-sawing" else card
            for card in made.stations
        )
        damaged = replace(made, stations=tuple(cards))
        return [(look.check, look.says) for look in carry_out(damaged, job(splines)).proof.failures]

    assert failing(100.0) == []
    says = "what stays behind the last part is held beside the cut, 100 mm; at least 101 mm is asked"
    assert failing(101.0) == [("remnant", says)]


PEG = "tests/assemblies/turned-peg.yaml"


def test_a_peg_sawn_off_before_its_stick_is_round_is_noticed() -> None:
    """On the stick the round is set out for 165 mm, and a square does not lie in the V."""
    damaged = delayed(plan(PEG), "peg/shape/cut", "peg/length/cut")
    found = {look.check for look in carry_out(damaged, job(PEG)).proof.failures}
    assert {"lies", "piece"} <= found


def test_a_rod_gripped_as_a_rod_that_is_none_is_noticed() -> None:
    """Without its rounding the stick is still square when it is sawn in the V."""
    made = plan(PEG)
    kept = tuple(task for task in made.tasks if task.id != "peg/shape/cut")
    proof = carry_out(replace(made, tasks=kept), job(PEG)).proof
    assert any(
        look.check == "lies"
        for record in proof.tasks
        if record.task == "peg/length/cut"
        for look in record.looked
        if not look.held
    )
