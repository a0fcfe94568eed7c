"""The picture of a strip names every piece and says where it begins."""

from __future__ import annotations

import re

import pytest

from sequencer.paper.strip_pictures import strip_picture
from tests.made import plan
from tests.planning.test_strips import grooved_by_staff


def texts(svg: str, kind: str) -> list[str]:
    return re.findall(rf'<text class="{kind}"[^>]*>([^<]*)</text>', svg)


def test_pieces_are_named_with_their_lengths_and_begin_where_the_plan_lays_them() -> None:
    (strip,) = plan("picture-frame").strips
    drawn = strip_picture(strip, 160.0)
    assert drawn.readable
    assert texts(drawn.svg, "piece") == ["A 1: 246", "A 2: 246", "B 1: 196", "B 2: 196"]
    assert texts(drawn.svg, "size") == ["25", "276", "527", "728", "949"]


@pytest.mark.parametrize("width", [60.0, 90.0, 160.0])
def test_no_word_lies_over_another_and_all_stay_inside(width: float) -> None:
    for strip in (*plan("picture-frame").strips, *grooved_by_staff()[0].strips):
        drawn = strip_picture(strip, width)
        for number, one in enumerate(drawn.texts):
            assert one.left >= 0
            assert one.right <= width
            assert one.top >= 0
            assert one.bottom <= drawn.height
            assert not any(one.overlaps(other) for other in drawn.texts[number + 1 :])


def test_the_waste_is_hatched_within_its_bounds() -> None:
    (strip,) = plan("picture-frame").strips
    drawn = strip_picture(strip, 160.0)
    paths = re.findall(r'<path class="waste" d="([^"]*)"', drawn.svg)
    assert len(paths) == len(strip.pieces) + 1
    for path in paths:
        numbers = [(float(x), float(y)) for x, y in re.findall(r"[ML]([\d.]+) ([\d.]+)", path)]
        assert all(0.5 - 0.01 <= y <= 7.5 + 0.01 for _, y in numbers)
