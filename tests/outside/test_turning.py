"""Lathe speeds, the octagon of a round stick and turned volumes against published rules and school geometry. mm, rev/min."""

from __future__ import annotations

from dataclasses import replace
from math import pi, sqrt, tan

import pytest

from sequencer.model.frame import Block
from sequencer.model.job import Job
from tests.features.samples import make, removed
from tests.made import knowledge, workshop
from tests.outside.bench import against, board, possible, set_to, worked

IN = 25.4
TURNS = ("turn-to-round", "turn-profile")


def speeds(operation: str, across: float, *steps: float) -> tuple[float | None, float | None]:
    """Until it is round, and to shape it."""
    use = knowledge().stations["lathe"].operations[operation].use
    found = worked("turning", {"blank.width": across, "feature.diameter": across}, "unknown", *steps, **use)
    return found["roughing"].value, found["speed"].value


def stick(*, length: float = 400, square: float = 40) -> Job:
    """A square stick that is made round."""
    return board(make("rounding", name="round"), length=length, width=square, thick=square, stock=square)


# A lathe maker's turning course, its speed chart by size of stock: rounding 950, 850, 750, 700 and shaping 1300, 1150, 1050,
# 750 rev/min up to 2 in, 4 in, 6 in and over. Read in a copy.
@pytest.mark.parametrize("operation", TURNS)
@pytest.mark.parametrize(
    ("inches", "rounding", "shaping"),
    [(1, 950, 1300), (1.5, 950, 1300), (2, 950, 1300), (2.5, 850, 1150), (3, 850, 1150), (4, 850, 1150), (6, 750, 1050)],
)
def test_no_stick_turns_faster_than_the_published_chart(operation: str, inches: float, rounding: float, shaping: float) -> None:
    rough, shape = speeds(operation, inches * IN)
    assert rough is not None
    assert shape is not None
    assert rough <= rounding
    assert shape <= shaping
    assert rough < shape


# The top row of the same chart, to the figure.
def test_a_stick_of_an_inch_turns_as_fast_as_the_chart_says() -> None:
    assert speeds("turn-to-round", IN) == (950, 1300)


# Woodturners' rule: diameter in inches times rev/min is 6000 to 9000. Read in a copy, a turners' forum; the lower end.
@pytest.mark.parametrize("inches", [1, 2, 3, 4, 5, 6, 8, 10])
def test_diameter_times_speed_stays_under_the_turners_rule(inches: float) -> None:
    for each in speeds("turn-profile", inches * IN):
        assert each is not None
        assert inches * each <= 6000


# The same rule's table, 9000 over the diameter: 2250 at 4 in, 1500 at 6, 1125 at 8, 900 at 10. Read in a copy.
@pytest.mark.parametrize(("inches", "fastest"), [(4, 2250), (6, 1500), (8, 1125), (10, 900)])
def test_no_stick_turns_faster_than_the_table_of_that_rule(inches: float, fastest: float) -> None:
    _, shape = speeds("turn-profile", inches * IN)
    assert shape is not None
    assert shape < fastest


# Rim speed v = pi d n / 60 000, m/s. Worked out here: at 60 mm the chart's most no longer counts, the rim speed does.
def test_thick_stock_runs_at_one_rim_speed() -> None:
    for across in (60, 80, 100):
        rough, shape = speeds("turn-profile", across)
        assert rough is not None
        assert shape is not None
        assert 2.23 < pi * across * rough / 60_000 <= 2.25
        assert 2.98 < pi * across * shape / 60_000 <= 3.0


# Common practice, no source: the nearest slower step of the pulley; where there is none, staff decide.
def test_the_step_of_the_pulley_is_never_above_the_advised_speed() -> None:
    assert speeds("turn-to-round", 40, 450, 750, 1100, 1800) == (750, 1100)
    assert speeds("turn-to-round", 40, 1100, 1800) == (None, 1100)


# A spar gauge's pins and pencils stand 7, 10 and 7 parts apart; boat-building pages, read in two copies that agree.
@pytest.mark.parametrize("square", [12.0, 24.0, 40.0, 60.0])
def test_the_octagon_is_gauged_as_a_spar_gauge_does(square: float) -> None:
    gauge = set_to(stick(square=square), "rail/round", "plane-stick-round")["gauge"].value
    assert gauge is not None
    assert gauge == pytest.approx(7 / 24 * square, rel=0.005)
    assert square - 2 * gauge == pytest.approx(10 / 24 * square, rel=0.006)


# The regular octagon about a circle: side = d (sqrt 2 - 1) = 0.4142 d. School geometry.
def test_the_eight_sides_are_equal() -> None:
    gauge = set_to(stick(), "rail/round", "plane-stick-round")["gauge"].value
    assert gauge is not None
    flat, corner = 40 - 2 * gauge, gauge * sqrt(2)
    assert flat == pytest.approx(corner, abs=1e-9)
    assert flat == pytest.approx(40 * tan(pi / 8), abs=1e-9)
    assert flat == pytest.approx(0.4142 * 40, abs=0.001)


# Cylinder pi d2 / 4 l; frustum pi l / 12 (D2 + D d + d2). School geometry.
def test_turned_volumes_are_those_of_cylinder_and_frustum() -> None:
    bar = Block(300, 40, 40)
    cylinder = 40 * 40 * 300 - removed(make("rounding"), bar)
    assert cylinder == pytest.approx(pi / 4 * 40**2 * 300)
    cone = make("turned-profile", stations=[{"left": 0, "diameter": 36}, {"left": 300, "diameter": 20}])
    assert 40 * 40 * 300 - removed(cone, bar) == pytest.approx(pi * 300 / 12 * (36**2 + 36 * 20 + 20**2))


# Guldin's second rule: volume = 2 pi x distance of the centre of area x area. Worked out here for the same cone.
def test_a_turned_volume_agrees_with_guldins_rule() -> None:
    cone = make("turned-profile", stations=[{"left": 0, "diameter": 36}, {"left": 300, "diameter": 20}])
    area = (18 + 10) / 2 * 300
    away = (18**2 + 18 * 10 + 10**2) / (3 * (18 + 10))
    assert 40 * 40 * 300 - removed(cone, Block(300, 40, 40)) == pytest.approx(2 * pi * away * area)


# California Title 8 s.4319(c): a curved guard over long work between centres, from the hazard's sources. Read in a copy.
def test_nothing_is_turned_without_the_shield() -> None:
    lathe = knowledge().stations["lathe"]
    assert all("lathe-shield" in operation.guards.all_of for operation in lathe.operations.values())
    assert all("face-shield" in {*lathe.wear, *operation.wear} for operation in lathe.operations.values())


# Common practice, no source: beyond 10 to 15 times its diameter a stick whips; it is then held by a steady, by staff.
def test_a_slender_stick_is_not_turned_without_a_steady() -> None:
    shop = workshop("well-equipped")
    assert possible(stick(length=590), "rail/round", "turn-to-round", shop)
    assert "whips" in against(stick(length=620), "rail/round", "turn-to-round", shop)


# Plain geometry: across its corners a square of 40 is 56.6 wide.
@pytest.mark.parametrize(("swing", "clears"), [(56, False), (57, True)])
def test_the_corners_of_the_square_clear_the_bed(swing: float, clears: bool) -> None:
    assert clears is (40 * sqrt(2) < swing)
    shop = workshop("well-equipped")
    lathe = replace(shop.stations["lathe"], figures={**shop.stations["lathe"].figures, "swing": swing})
    smaller = replace(shop, stations={**shop.stations, "lathe": lathe})
    assert possible(stick(), "rail/round", "turn-to-round", smaller) is clears
