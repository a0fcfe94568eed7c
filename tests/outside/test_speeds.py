"""Drill and cutter speeds the tool prints against published tables; numbers in rev/min, diameters in mm."""

from __future__ import annotations

from itertools import pairwise, product
from math import pi

import pytest

from sequencer.knowledge.settings import STAFF_DECIDE
from tests.design.jobs import feature
from tests.made import knowledge
from tests.outside.bench import board, set_to, with_speeds, worked

BITS = sorted(name for name, bit in knowledge().drill_bits.items() if bit.speeds)


def speed(bit: str, diameter: float, hardness: str, *steps: float) -> float | None:
    return worked("drill", {"feature.diameter": diameter, "feature.depth": 20}, hardness, *steps, bit=bit)["speed"].value


# Web article on drilling speed for different kinds of wood: rows of 1/4 to 3/8 in and 7/16 to 5/8 in; Wood magazine,
# drilling and boring tools: hardwood rows to 1/2 in. Both read in a copy.
@pytest.mark.parametrize(
    ("diameter", "softwood", "hardwood"),
    [(5, None, 3000), (6, 3000, 1500), (8, 3000, 1500), (9.5, 3000, 1500), (11, 1500, 750), (12.7, 1500, 750), (16, 1500, 750)],
)
def test_twist_bits_turn_as_the_published_rows_say(diameter: float, softwood: float | None, hardwood: float) -> None:
    assert speed("twist", diameter, "hardwood") == hardwood
    if softwood is not None:
        assert speed("twist", diameter, "softwood") == softwood


# The same rows, seen through a job, a workshop and the way found: 8 mm by a twist bit, with steps on and beside the row.
@pytest.mark.parametrize(
    ("hardness", "material", "steps", "printed"),
    [
        ("softwood", "radiata pine", (400, 1500, 3000), 3000),
        ("hardwood", "oak", (400, 1500, 3000), 1500),
        ("hardwood", "oak", (400, 1400, 3000), 1400),
    ],
)
def test_the_card_of_a_drilled_hole_shows_the_row_or_the_step_below(
    hardness: str, material: str, steps: tuple[float, ...], printed: float
) -> None:
    hole = feature("hole", "hole", face="inside", at=({"left": 50, "bottom": 40},), diameter=8)
    made = board(hole, material=material, hardness=hardness)
    found = set_to(made, "rail/hole", "drill-hole-by-cordless", with_speeds("cordless-drill", *steps))
    assert found["speed"].value == printed
    assert "twist" in found["bit"].text


# A published speed is the most: a machine's step above it is never printed. Common practice, no source.
@pytest.mark.parametrize("bit", BITS)
def test_no_step_above_the_advised_speed_is_printed(bit: str) -> None:
    steps = (250, 400, 620, 1100, 1900, 2900)
    for row, hardness in product(knowledge().drill_bits[bit].speeds, ("softwood", "hardwood")):
        advised = getattr(row, hardness)
        assert speed(bit, row.up_to, hardness) == advised
        below = [step for step in steps if step <= advised]
        assert speed(bit, row.up_to, hardness, *steps) == max(below)
    fastest = worked("drill", {"feature.diameter": row.up_to}, "hardwood", 5000, bit=bit)["speed"]
    assert (fastest.value, fastest.text) == (None, STAFF_DECIDE)


# Wood magazine, drilling and boring tools, and Woodworker's Journal, when to use a slow drill press: larger is slower,
# harder is slower, Forstner bits slower than twist bits of the same size. Read in a copy; the trend only.
@pytest.mark.parametrize("bit", BITS)
def test_larger_and_harder_is_never_faster(bit: str) -> None:
    sizes = [row.up_to for row in knowledge().drill_bits[bit].speeds]
    for hardness in ("softwood", "hardwood"):
        found = [speed(bit, size, hardness) or 0 for size in sizes]
        assert found == sorted(found, reverse=True)
    assert found[0] > found[-1]
    assert all((speed(bit, size, "hardwood") or 0) <= (speed(bit, size, "softwood") or 0) for size in sizes)


def test_forstner_bits_are_no_faster_than_twist_bits() -> None:
    for diameter, hardness in product((8, 10, 12, 16, 20, 25), ("softwood", "hardwood")):
        heavy, light = speed("forstner", diameter, hardness), speed("twist", diameter, hardness)
        assert heavy is not None
        assert light is not None
        assert heavy <= light
        assert hardness == "softwood" or diameter > 16 or heavy < light


# Wood of unknown hardness is drilled as the slower of the two. Common practice, no source.
def test_unknown_wood_is_drilled_slowly() -> None:
    for diameter in (8, 12):
        assert speed("twist", diameter, "unknown") == speed("twist", diameter, "hardwood")


def fastest(cutter: float) -> float | None:
    """What the text of a cutter names as its highest speed, rev/min; None where staff decide."""
    figures = {"feature.width": cutter, "feature.distance": 8.0, "feature.depth": 5.0}
    text = worked("router-passes", figures, deepest_pass=3)["cutter"].text
    return None if "staff decide" in text else float(text.partition("at most ")[2].partition(" rev/min")[0])


# HowStuffWorks, choosing router bits, and About.com woodworking, router bit speeds: to 1 in 24 000, 1 to 2 in 18 000,
# 2 to 2 1/2 in 16 000, to 3 1/2 in 12 000. Read in two copies that agree (the last row in both from 3 in).
@pytest.mark.parametrize(
    ("cutter", "most"), [(6, 24000), (25, 24000), (26, 18000), (50, 18000), (51, 16000), (64, 16000), (76, 12000), (89, 12000)]
)
def test_router_cutters_turn_at_most_as_published(cutter: float, most: float) -> None:
    assert fastest(cutter) == most


def test_a_cutter_larger_than_the_published_table_is_for_staff() -> None:
    assert fastest(90) is None


# Woodwiki, router bit speed chart, 2026: starting speeds, said to follow two makers. Read in a copy. A starting speed lies
# under the highest.
@pytest.mark.parametrize(
    ("cutter", "start"),
    [(6, 24000), (13, 22000), (19, 18000), (25, 16000), (32, 14000), (38, 12000), (50, 10000), (64, 9000), (76, 8000)],
)
def test_the_highest_speed_is_not_under_a_published_starting_speed(cutter: float, start: float) -> None:
    assert (fastest(cutter) or 0) >= start


def test_the_card_says_that_the_mark_on_the_cutter_wins() -> None:
    groove = board(feature("slot", "groove", face="inside", from_="bottom", distance=8, width=6, depth=5))
    assert set_to(groove, "rail/slot", "rout-groove")["cutter"].text.endswith("at most 24000 rev/min, and no more than its mark")


def rim(diameter: float, turns: float) -> float:
    """Rim speed, m/s: v = pi d n / 60 000, d in mm. Plain geometry; form read in a copy (boat-building wiki)."""
    return pi * diameter * turns / 60_000


# Worked values of the formula (worked out here): 12.7 mm at 22 000 is 14.6 m/s, 50.8 mm at 18 000 is 47.9, 88.9 mm at
# 12 000 is 55.9. The tool's own table keeps every cutter under 60 m/s, the low end of what a German accident insurer's
# guidance calls usual for machines (read second-hand); the larger the cutter, the slower it turns.
def test_the_rim_of_a_cutter_stays_under_sixty_metres_a_second() -> None:
    for diameter, turns, metres in ((12.7, 22_000, 14.6), (50.8, 18_000, 47.9), (88.9, 12_000, 55.9)):
        assert rim(diameter, turns) == pytest.approx(metres, abs=0.05)
    for tenth in range(30, 890, 5):
        most = fastest(tenth / 10)
        assert most is not None
        assert rim(tenth / 10, most) < 60
    table = knowledge().cutter_speeds
    assert all(small.up_to < large.up_to and small.most > large.most for small, large in pairwise(table))


# Where a school states nothing, a router of unknown speed takes no cutter that would have to turn slower than its 24 000.
# HowStuffWorks as above.
def test_the_largest_cutter_by_default_is_one_that_may_turn_at_full_speed() -> None:
    limit = knowledge().stations["router-table"].figures["largest-diameter"].default
    assert limit is not None
    assert fastest(limit) == 24000
    assert (fastest(limit + 1) or 0) < 24000
