"""Rims, spindles, marks, riving knives and band-saw blades: exact values, and what is refused."""

from __future__ import annotations

import pytest

from sequencer.knowledge.loading import load_knowledge
from sequencer.knowledge.settings.saws import knife_fault, smallest_radius
from sequencer.knowledge.settings.speeds import cutting_speed, most_turns, over_mark, rim_speed, step_at_or_below, turns_for

BLADES = load_knowledge().band_blades


def test_speed_and_turns_are_each_other_s_inverse() -> None:
    assert cutting_speed(100, 10) == pytest.approx(3.1416, abs=0.0001)
    assert turns_for(cutting_speed(12, 900), 12) == pytest.approx(900)
    assert most_turns(rim_speed(250, 2850), 250) == pytest.approx(2850)


def test_no_turns_without_a_diameter() -> None:
    with pytest.raises(ValueError, match="more than 0"):
        turns_for(30, 0)


def test_a_step_is_never_above_the_speed() -> None:
    steps = (500.0, 750.0, 1000.0)
    assert [step_at_or_below(speed, steps) for speed in (499, 500, 999, 5000)] == [None, 500, 750, 1000]
    assert step_at_or_below(800, ()) is None


def test_a_spindle_may_turn_at_its_mark_and_no_faster() -> None:
    assert over_mark(4000, 4000) == 0
    assert over_mark(4000.5, 4000) == 0.5
    assert over_mark(2850, 6000) == 0


@pytest.mark.parametrize(
    ("plate", "knife", "kerf", "fault"),
    [
        (2.0, 2.2, 3.0, ""),
        (2.0, 2.9, 3.0, ""),
        (2.0, 2.1, 3.0, "the riving knife of 2.1 mm is too thin for a blade of 2 mm"),
        (2.0, 2.0, 3.0, "the riving knife of 2 mm is too thin for a blade of 2 mm"),
        (2.0, 3.0, 3.0, "the riving knife of 3 mm is too thick for a kerf of 3 mm"),
        (2.0, 3.5, 3.0, "the riving knife of 3.5 mm is too thick for a kerf of 3 mm"),
        (2.2, 2.4, 2.2, "the riving knife of 2.4 mm is too thick for a kerf of 2.2 mm"),
    ],
)
def test_a_riving_knife_lies_between_plate_and_kerf(plate: float, knife: float, kerf: float, fault: str) -> None:
    assert knife_fault(plate, knife, kerf) == fault


def test_a_blade_between_two_listed_takes_the_wider_curve() -> None:
    assert smallest_radius(6.0, BLADES) == smallest_radius(6.4, BLADES) == 16
    assert smallest_radius(6.5, BLADES) == smallest_radius(9.5, BLADES) == 39
    assert smallest_radius(30, BLADES) is None
    assert smallest_radius(6, ()) is None


def test_wider_blades_never_follow_tighter_curves() -> None:
    rows = [(row.up_to, row.radius) for row in BLADES]
    assert rows == sorted(rows)
    assert len({radius for _, radius in rows}) == len(rows)
