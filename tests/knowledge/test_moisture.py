"""How damp wood becomes and how much it moves: exact values, and what the functions refuse."""

from __future__ import annotations

import pytest

from sequencer.knowledge.settings.moisture import (
    Air,
    equilibrium_moisture,
    movement,
    panel_room,
)


@pytest.mark.parametrize(("humidity", "moisture"), [(35, 6.96), (50, 9.27), (65, 12.00), (80, 16.04)])
def test_wood_in_a_room_of_twenty_degrees(humidity: float, moisture: float) -> None:
    assert equilibrium_moisture(humidity, 20) == pytest.approx(moisture, abs=0.006)


def test_damper_air_makes_damper_wood_and_dry_air_takes_all() -> None:
    row = [equilibrium_moisture(humidity, 20) for humidity in range(0, 101, 5)]
    assert row == sorted(set(row))
    assert row[0] == 0


@pytest.mark.parametrize(("humidity", "temperature"), [(-1, 20), (101, 20), (50, -5), (50, 60)])
def test_air_outside_the_table_is_refused(humidity: float, temperature: float) -> None:
    with pytest.raises(ValueError, match=r"percent|degrees"):
        equilibrium_moisture(humidity, temperature)


def test_the_swing_of_a_room() -> None:
    air = Air(35, 65, 20)
    assert air.moisture == pytest.approx((6.96, 12.00), abs=0.006)
    assert air.swing == pytest.approx(5.04, abs=0.01)


def test_a_panel_moves_by_its_size_its_coefficient_and_the_swing() -> None:
    assert panel_room(300, 0.00234, Air(35, 65, 20).swing) == pytest.approx(300 * 0.00234 * 5.04, abs=0.01)
    assert panel_room(300, 0.00234, -4) == panel_room(300, 0.00234, 4) == -movement(300, 0.00234, -4)


def test_air_that_never_changes_needs_no_gap() -> None:
    assert panel_room(300, 0.00234, Air(50, 50).swing) == 0
