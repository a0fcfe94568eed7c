"""Sums behind the settings, against published tables: moisture of wood, rims and spindles, band-saw blades, riving knives, nails,
glue by temperature, grains of abrasive paper, passes of a groove."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from sequencer.knowledge.settings.abrasives import LARGEST_STEP, papers
from sequencer.knowledge.settings.fasteners import in_second, length_for
from sequencer.knowledge.settings.gluing import glue_times
from sequencer.knowledge.settings.moisture import Air, equilibrium_moisture, movement
from sequencer.knowledge.settings.saws import knife_fault, smallest_radius
from sequencer.knowledge.settings.speeds import cutting_speed, most_turns, rim_speed, turns_for
from tests.made import knowledge, workshop
from tests.outside.bench import board, possible, shop, worked

INCH = 25.4


# Wood Handbook Table 4-2 (equilibrium moisture content, percent), as a timber seller reprints it, columns of 30 to 100
# degrees Fahrenheit. Read in a copy that restates it. Equation 4-5, form after Simpson, FPL-RN-0268, 1998, read in the code of
# a public package, gives every cell within 0.06 points.
FAHRENHEIT = (30, 40, 50, 60, 70, 80, 90, 100)
CELLS = {
    20: (4.6, 4.6, 4.6, 4.6, 4.5, 4.4, 4.3, 4.2),
    30: (6.3, 6.3, 6.3, 6.2, 6.2, 6.1, 5.9, 5.8),
    40: (7.9, 7.9, 7.9, 7.8, 7.7, 7.6, 7.4, 7.2),
    50: (9.5, 9.5, 9.5, 9.4, 9.2, 9.1, 8.9, 8.7),
    60: (11.3, 11.3, 11.2, 11.1, 11.0, 10.8, 10.5, 10.3),
    65: (12.4, 12.3, 12.3, 12.1, 12.0, 11.7, 11.5, 11.2),
    70: (13.5, 13.5, 13.4, 13.3, 13.1, 12.9, 12.6, 12.3),
    80: (16.5, 16.5, 16.4, 16.2, 16.0, 15.7, 15.4, 15.1),
}


@pytest.mark.parametrize(("humidity", "column"), [(humidity, column) for humidity in CELLS for column in range(8)])
def test_cells_of_the_handbook_s_table(humidity: int, column: int) -> None:
    celsius = (FAHRENHEIT[column] - 32) / 1.8
    assert equilibrium_moisture(humidity, celsius) == pytest.approx(CELLS[humidity][column], abs=0.06)


# A column by a wood technologist in a trade magazine: 30, 50, 65, 80 % humidity come to about 6, 9, 12, 16 % moisture.
# Read in a copy.
@pytest.mark.parametrize(("humidity", "moisture"), [(30, 6), (50, 9), (65, 12), (80, 16)])
def test_the_magazine_s_rule_of_thumb(humidity: float, moisture: float) -> None:
    assert equilibrium_moisture(humidity, 21) == pytest.approx(moisture, abs=0.5)


# R. Porter, posts on drawer fit, August 2012: a flat-sawn hard maple drawer front 4 in high grows about 1/8 in from 35 to
# 80 % humidity, cherry about 3/32 in. Read in a copy; coefficients of Table 13-5, read in a copy.
@pytest.mark.parametrize(("coefficient", "inches"), [(0.00353, 1 / 8), (0.00248, 3 / 32)])
def test_drawer_fronts_from_dry_to_damp_air(coefficient: float, inches: float) -> None:
    assert movement(4, coefficient, Air(35, 80, 21).swing) == pytest.approx(inches, abs=0.005)


# v = pi d n / 60 000: form read in a copy (boat-building wiki, cutting speed); values worked out here.
@pytest.mark.parametrize(
    ("diameter", "turns", "speed"),
    [(250, 2850, 37.3), (250, 4000, 52.4), (305, 1725, 27.5), (12.7, 22000, 14.6), (63.5, 16000, 53.2), (350, 900, 16.5)],
)
def test_rim_speeds(diameter: float, turns: float, speed: float) -> None:
    assert rim_speed(diameter, turns) == pytest.approx(speed, abs=0.05)
    assert most_turns(speed, diameter) == pytest.approx(turns, rel=0.005)


# n = 1000 v / (pi d), 30 m/min: school formula from memory, values worked out here.
@pytest.mark.parametrize(("diameter", "turns"), [(6, 1592), (10, 955), (25, 382)])
def test_spindle_speeds_from_cutting_speed(diameter: float, turns: float) -> None:
    assert turns_for(30, diameter) == pytest.approx(turns, abs=0.5)


# A machinists' school, speeds for woods, 2011: begin at 300 ft/min in softwood and 180 in hardwood; a bit of 2 in at 500 rev/min
# in softwood and 250 in hardwood cuts at some 250 and 125 ft/min. Read in a copy. Flat bits, whose speeds are from memory, are
# run faster. The twist bit of 10 mm at the 3000 rev/min of the table it comes from is 3 % over.
def test_no_listed_speed_passes_the_published_cutting_speeds() -> None:
    soft, hard = 300 * 12 * INCH / 1000, 180 * 12 * INCH / 1000
    for name, bit in knowledge().drill_bits.items():
        for row in bit.speeds:
            if name != "spade":
                assert cutting_speed(row.up_to, row.softwood) <= soft * 1.035, (name, row.up_to)
                assert cutting_speed(row.up_to, row.hardwood) <= hard, (name, row.up_to)


def test_the_worked_cutting_speeds_of_a_large_bit() -> None:
    foot = 12 * INCH / 1000
    assert cutting_speed(2 * INCH, 500) / foot == pytest.approx(250, rel=0.05)
    assert cutting_speed(2 * INCH, 250) / foot == pytest.approx(125, rel=0.05)


# Woodworker's Journal, slow drill press: the larger and heavier the bit, the slower. Read in a copy, the trend only. Here: no
# bit of the list has a rim faster than the largest twist bit's in softwood, 75 m/min at 16 mm and 1500 rev/min (web article on
# drilling speed, read in a copy), but flat bits, whose speeds are from memory.
def test_no_heavy_bit_has_a_faster_rim_than_the_twist_bit() -> None:
    fastest = cutting_speed(16, 1500)
    for name, bit in knowledge().drill_bits.items():
        for row in bit.speeds:
            if name in ("forstner", "hole-saw", "lip-and-spur"):
                assert cutting_speed(row.up_to, row.hardwood) <= fastest, name


# Minimum radius by width of blade, inches. A: home-repair guide to band-saw blades. B, C: two band-saw makers' manuals. All
# read in copies. The tool must never call a curve open that one of them closes.
GUIDE_A = {1 / 8: 3 / 16, 3 / 16: 5 / 16, 1 / 4: 5 / 8, 3 / 8: 1.5, 1 / 2: 2.5, 3 / 4: 5.5, 1: 7}
MANUAL_B = {1 / 4: 5 / 8, 3 / 8: 1.375, 1 / 2: 2.5, 5 / 8: 4, 3 / 4: 5.5, 1: 7.625}
MANUAL_C = {3 / 16: 3 / 8, 1 / 4: 5 / 8, 3 / 8: 1.25, 1 / 2: 2.5, 5 / 8: 3.75}


@pytest.mark.parametrize("width", sorted({*GUIDE_A, *MANUAL_B, *MANUAL_C}))
def test_no_curve_is_tighter_than_any_published_table_allows(width: float) -> None:
    widest = max(table[width] for table in (GUIDE_A, MANUAL_B, MANUAL_C) if width in table)
    taken = smallest_radius(width * INCH, knowledge().band_blades)
    assert taken is not None
    assert widest * INCH <= taken < widest * INCH + 1


# EN 1870-1:2007+A1:2009, as quoted in a test report (read in a copy that restates it): knife at least 0.2 mm thicker than the
# plate, thinner than the kerf; HSE circular saw bench page (read in a copy): thicker than the plate, thinner than the kerf.
# A saw guide (read in a copy): kerfs of 3.2 and 2.4 mm; plates of 2.2 and 1.7 mm under them from memory.
@pytest.mark.parametrize(
    ("plate", "knife", "kerf", "fits"),
    [(2.2, 2.5, 3.2, True), (2.2, 2.2, 3.2, False), (2.2, 3.2, 3.2, False), (1.7, 2.0, 2.4, True), (1.7, 2.5, 2.4, False)],
)
def test_knives_for_the_usual_blades(plate: float, knife: float, kerf: float, fits: bool) -> None:
    assert (knife_fault(plate, knife, kerf) == "") == fits
    sawn = possible(board(), "rail/width", "rip-on-saw", shop("saw-bench", plate=plate, knife=knife, kerf=kerf))
    assert sawn == fits


# US Navy NAVEDTRA 14119, nails: at least three times as long as the wood it holds is thick, two thirds in the second piece.
# Read in a copy. Lengths of nails by penny size (naturalhandyman article, read in a copy): 2d 1 in, 6d 2 in, 8d 2 1/2 in.
@pytest.mark.parametrize("held", [8.0, 12.0, 15.0, 18.0, 25.0])
def test_nails_hold_two_thirds_in_the_second_piece(held: float) -> None:
    found = length_for(knowledge().fasteners["nails"], held, 200)
    assert found.take >= 3 * held
    assert in_second(found.wanted, held) / found.wanted == pytest.approx(2 / 3)


# Audel, carpenters' mathematics, nail rules: the point stops a quarter of an inch short of the far face. Read in a copy.
def test_nails_stop_short_of_the_far_face() -> None:
    for held, beyond in ((12, 20), (15, 40), (18, 18)):
        assert length_for(knowledge().fasteners["nails"], held, beyond).most <= held + beyond - 6


# Urea powder product page: 18 h in the cramps at 10 degrees, 7 h at 15, 3 h at 20. Read in a copy.
@pytest.mark.parametrize(("degrees", "hours"), [(10, 18), (15, 7), (20, 3)])
def test_urea_glue_by_temperature(degrees: float, hours: float) -> None:
    assert glue_times(knowledge().glues["urea-formaldehyde"], degrees, knowledge().working).cramped == hours * 60


# A home-repair column on glue and temperature: gluing in a cold workshop may take twice as long as at room temperature. Read in
# a copy; the lowest temperature, 50 degrees Fahrenheit, from NAVEDTRA 14119, read in a copy.
def test_glue_takes_up_to_twice_as_long_in_the_cold() -> None:
    pva = knowledge().glues["pva"]
    assert pva.coldest is not None
    assert pva.coldest == pytest.approx((50 - 32) / 1.8)
    working = knowledge().working
    assert glue_times(pva, pva.coldest, working).cramped == 2 * glue_times(pva, 20, working).cramped
    assert replace(workshop(), temperature=pva.coldest).temperature == 10


# Grain of FEPA P grades, micrometres: Sizes Inc., sandpaper (read in a copy) to P120; macrogrits end at 68 and microgrits begin
# at 58.4 (Reference.com, grit charts, read in a copy).
@pytest.mark.parametrize(
    ("grade", "grain"),
    [(24, 764), (36, 538), (40, 425), (50, 336), (60, 269), (80, 201), (100, 162), (120, 125), (220, 68), (240, 58.4)],
)
def test_grains_of_the_grades(grade: int, grain: float) -> None:
    assert knowledge().abrasives[grade].grain == pytest.approx(grain, abs=0.15)


# An abrasive maker's shop notes, 2009: skip at most one grit, stop at 180 to 220 under a finish. Read in a copy.
@pytest.mark.parametrize("first", [36, 40, 60, 80, 100, 120])
def test_at_most_one_grit_is_skipped_and_180_comes_last(first: int) -> None:
    grades = sorted(knowledge().abrasives)
    row = papers(first, 180, grades)
    assert row[-1] == 180
    for before, after in pairwise(row):
        assert grades.index(int(after)) - grades.index(int(before)) <= 2
        assert after / before <= LARGEST_STEP + 1e-9
    assert all(180 <= finish.sanded_to <= 220 for finish in knowledge().finishes.values())


# Plain geometry, n = ceil(w / k), s = (w - k) / (n - 1), F_i = a + (i - 1) s: the last pass ends on the far side of the groove.
@pytest.mark.parametrize(("width", "kerf", "passes", "shift"), [(6, 3.2, 2, 2.8), (12, 3.2, 4, 2.933), (18, 3.2, 6, 2.96)])
def test_offsets_of_the_saw_s_passes(width: float, kerf: float, passes: int, shift: float) -> None:
    figures = {"feature.width": width, "station.kerf": kerf, "feature.distance": 8.0, "feature.depth": 6.0}
    found = worked("saw-passes", figures)
    assert (found["passes"].value, found["shift"].value) == (passes, pytest.approx(shift, abs=0.001))
    assert 8 + (passes - 1) * shift + kerf == pytest.approx(8 + width, abs=0.01)
