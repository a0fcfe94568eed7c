"""Blanks are marked out in whole steps, rounded up; the sizes of a part never are."""

from __future__ import annotations

from dataclasses import replace
from math import inf

import pytest

from sequencer.findings import Refused
from sequencer.model.job import Part, Stock
from sequencer.planning.blanks import finished, held, marked_out, rough, strip
from sequencer.planning.planner import make_plan
from tests.design.jobs import job as made_job
from tests.design.jobs import part as drawn_part
from tests.features.samples import make
from tests.made import knowledge, plan, workshop
from tests.outside.bench import board

WORKING = knowledge().working


def sawn(length: float, **stock: object) -> tuple[Part, Stock]:
    drawn = board(length=length, count=3)
    return drawn.parts["rail"], replace(drawn.stock["board"], **stock)  # type: ignore[arg-type]


@pytest.mark.parametrize(("length", "blank"), [(336.5, 362), (336.55, 362), (336.0, 361), (337.0, 362), (0.1 + 0.2 + 99.7, 125)])
def test_a_blank_is_rounded_up_to_a_whole_millimetre(length: float, blank: float) -> None:
    part, stock = sawn(length, lengths=())
    piece = rough(part, stock, WORKING)
    assert piece.length == blank
    assert piece.length - piece.waste == pytest.approx(length)
    assert finished(part).length == length


def test_the_step_is_the_lists() -> None:
    part, stock = sawn(336.5, lengths=())
    assert rough(part, stock, replace(WORKING, sawn_step=5.0)).length == 365


def test_no_blank_is_rounded_past_the_stock() -> None:
    part, stock = sawn(336.5, lengths=(361.6,))
    assert rough(part, stock, WORKING).length == 361.6
    part, stock = sawn(336.5, lengths=(350.2,))
    assert rough(part, stock, WORKING).length == pytest.approx(350.2)


def test_a_sheet_blank_is_rounded_in_width_too_and_never_past_the_sheet() -> None:
    part, stock = sawn(300, form="sheet", width=1220.0)
    part = replace(part, width=60.3)
    assert rough(part, stock, WORKING).width == 66
    assert rough(part, replace(stock, width=65.4), WORKING).width == 65.4
    assert finished(part).width == 60.3


def test_a_long_piece_is_rounded_up_and_keeps_what_is_added_as_waste() -> None:
    part, stock = sawn(100.3, lengths=())
    piece = strip(part, stock, WORKING)
    assert piece is not None
    asked = 2 * 25 + 3 * 100.3 + 2 * 3
    assert piece.length == 357
    assert piece.waste == pytest.approx(25 + piece.length - asked)
    just = strip(part, replace(stock, lengths=(asked,)), WORKING)
    assert just is not None
    assert (just.length, just.yields) == (pytest.approx(asked), 3)


def test_waste_makes_a_long_piece_of_short_stock_as_long_as_a_station_asks() -> None:
    """Three parts are 25 + 3 x 45 + 2 x 3 + 25 = 191. With what must stay held behind the last of four they are longer than the
    stock, so the 200 that are asked are made up with waste; on long stock with a fourth part."""
    part, stock = sawn(45, lengths=(260,))
    short = strip(part, stock, WORKING, 200)
    assert short is not None
    assert (short.length, short.yields, short.waste) == (200, 3, 25 + 9)
    assert strip(part, replace(stock, lengths=(199,)), WORKING, 200) is None
    long = strip(part, replace(stock, lengths=(2400,)), WORKING, 200)
    assert long is not None
    assert (long.yields, long.waste) == (4, 25)


def test_a_holding_end_is_rounded_with_its_blank() -> None:
    part, stock = sawn(100.3, lengths=())
    piece = marked_out(held(rough(part, stock, WORKING), 150), WORKING, inf)
    assert piece.length == 251
    assert piece.waste == pytest.approx(150.7)


def test_the_tabourets_stretchers_are_sawn_to_a_length_that_can_be_marked_out() -> None:
    made = plan("tests/cases/s08-keyed-tabouret.yaml", "full")
    lengths = {blank.part: blank.length for blank in made.blanks}
    assert {part: lengths[part] for part in ("upper-under", "upper-over", "lower-under", "leg")} == {
        "upper-under": 362,
        "upper-over": 362,
        "lower-under": 426,
        "leg": 495,
    }
    assert {part.name: part.length for part in made.parts}["upper-under"] == pytest.approx(13.25 * 25.4)


def test_stock_too_short_for_every_station_is_said_to_be_that_and_its_sizes_are_not_said_to_be_unknown() -> None:
    """A grooved block 45 mm long, from sticks of 170 mm: no saw can hold what such a stick gives."""
    groove = make("groove", name="groove", face="inside", from_="bottom", distance=8, width=6, depth=5)
    block = replace(drawn_part("block", "stick", 45, 40, 20, groove), count=2)
    stick = Stock("stick", "European beech", "board", 40, 20, (170,), hardness="hardwood")
    with pytest.raises(Refused) as refused:
        make_plan(made_job([block], [], stock=(stick,)), workshop(), knowledge())
    (length,) = [each.what for each in refused.value.findings if each.what.startswith("No way") and "Cut apart" in each.what]
    assert "The stock does not give a long piece that this station can take." in length
    assert "It is not known here" not in length
