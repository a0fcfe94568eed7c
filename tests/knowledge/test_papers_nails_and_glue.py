"""Rows of abrasive papers, lengths of nails and screws, times of glue by temperature: exact values, and what is refused."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.knowledge.loading import load_knowledge
from sequencer.knowledge.settings import SETTINGS, STAFF_DECIDE, Request
from sequencer.knowledge.settings.abrasives import papers
from sequencer.knowledge.settings.fasteners import in_second, length_for
from sequencer.knowledge.settings.gluing import GlueTimes, glue_times
from tests.made import knowledge

KNOWLEDGE = load_knowledge()
GRADES = sorted(KNOWLEDGE.abrasives)


@pytest.mark.parametrize(
    ("first", "last", "row"),
    [
        (120, 180, (120, 180)),
        (80, 180, (80, 120, 180)),
        (60, 180, (60, 80, 120, 180)),
        (120, 240, (120, 180, 240)),
        (100, 220, (100, 150, 220)),
        (180, 180, (180,)),
    ],
)
def test_rows_of_papers(first: float, last: float, row: tuple[float, ...]) -> None:
    assert papers(first, last, GRADES) == row


@pytest.mark.parametrize(("first", "last"), [(180, 120), (70, 180), (120, 2000)])
def test_no_row_to_a_paper_that_is_not_there(first: float, last: float) -> None:
    with pytest.raises(ValueError, match="no row of papers"):
        papers(first, last, GRADES)


def row_for(last: float | None, grades: tuple[float, ...] = (80, 120, 180, 240)) -> str:
    figures = {} if last is None else {"finish.paper": last}
    (found,) = SETTINGS["papers"].work(Request(figures, {"first": 120}, grades=grades))
    return found.text


def test_the_finish_says_which_paper_is_the_last() -> None:
    assert row_for(240) == "P120, then P180, then P240"
    assert row_for(None) == "P120, then P180"
    assert row_for(80) == "P80"
    assert row_for(220) == STAFF_DECIDE  # this school keeps none


@pytest.mark.parametrize(
    ("held", "beyond", "take", "short"),
    [
        (12, 90, 40, False),  # 3 x 12 = 36, the next nail sold
        (15, 100, 50, False),
        (15, 30, 30, True),  # 45 asked, 39 at most before the point is near the face
        (10, 8, 0, True),  # nothing sold stays in and holds
    ],
)
def test_nails(held: float, beyond: float, take: float, short: bool) -> None:
    found = length_for(knowledge().fasteners["nails"], held, beyond)
    assert (found.take, found.short) == (take, short)
    assert found.wanted == 3 * held
    assert not found.take or held < found.take <= held + beyond - 6


def test_screws_stop_three_millimetres_short() -> None:
    assert length_for(knowledge().fasteners["screws"], 16, 100).take == 50  # 3 x 16 = 48, the next screw sold
    assert length_for(knowledge().fasteners["screws"], 16, 18).take == 30  # 31 at most
    assert in_second(40, 16) == 24
    assert in_second(10, 16) == -6


@pytest.mark.parametrize("kind", ["nails", "screws"])
def test_no_length_for_a_piece_without_thickness(kind: str) -> None:
    for held, beyond in ((0, 20), (20, 0)):
        with pytest.raises(ValueError, match="thicker than 0"):
            length_for(knowledge().fasteners[kind], held, beyond)
    assert length_for(knowledge().fasteners[kind], 2, 1).most == 0


def test_a_card_says_how_long_nails_are_and_how_much_of_them_holds() -> None:
    (found,) = SETTINGS["nails"].work(Request({"joint.fastener": 40.0, "joint.held": 12.0}, {}))
    assert (found.value, found.text) == (40, "40 mm long, 28 mm in the second piece")
    assert SETTINGS["nails"].work(Request({"joint.held": 12.0}, {})) == ()


@pytest.mark.parametrize(
    ("temperature", "times"),
    [
        (None, GlueTimes(5, 60, 1440)),
        (18, GlueTimes(5, 60, 1440)),
        (24, GlueTimes(5, 60, 1440)),
        (14, GlueTimes(5, 85, 2040)),  # 2^(4/8) times as long
        (10, GlueTimes(5, 120, 2880)),  # twice as long
        (32, GlueTimes(2, 60, 1440)),  # half as long to close it
    ],
)
def test_pva_by_temperature(temperature: float | None, times: GlueTimes) -> None:
    assert glue_times(KNOWLEDGE.glues["pva"], temperature, KNOWLEDGE.working) == times


def test_stated_times_by_temperature_win() -> None:
    urea = KNOWLEDGE.glues["urea-formaldehyde"]
    cramped = {degrees: glue_times(urea, degrees, KNOWLEDGE.working).cramped for degrees in (10, 14.9, 15, 19, 20, 30)}
    assert cramped == {10: 1080, 14.9: 1080, 15: 420, 19: 420, 20: 180, 30: 180}
    assert glue_times(urea, None, KNOWLEDGE.working).cramped == 1080
    assert glue_times(replace(urea, cramp_times=()), 20, KNOWLEDGE.working).cramped == 1080


def test_no_glue_ever_sets_sooner_or_stays_open_longer_than_stated() -> None:
    for glue in KNOWLEDGE.glues.values():
        for degrees in range(5, 40):
            times = glue_times(glue, degrees, KNOWLEDGE.working)
            assert min(1, glue.open_time) <= times.open <= glue.open_time
            assert times.cured >= glue.cure_time
            assert glue.cramp_times or times.cramped >= glue.cramp_time
