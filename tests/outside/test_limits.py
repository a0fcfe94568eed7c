"""Noise and dust limits as dated records, levels of machines, what is worn: against regulators' pages."""

from __future__ import annotations

from datetime import date
from math import log10

import pytest

from sequencer.knowledge.forms.regions import DatedLimit
from tests.made import EXAMPLES, knowledge, plan, workshop


def in_force(region: str, about: str, day: str) -> list[DatedLimit]:
    """The records of a region that are true on a day; first and last day count."""
    return [
        each
        for each in knowledge().limits
        if (each.region, each.about) == (region, about) and (each.starts or "0000") <= day <= (each.ends or "9999")
    ]


def values(region: str, about: str, day: str = "2026-11-24") -> list[float]:
    return sorted(each.value for each in in_force(region, about, day))


DAILY = ("noise-action", "noise-upper-action", "noise-limit")
PEAK = ("peak-action", "peak-upper-action", "peak-limit")


def levels(region: str, abouts: tuple[str, ...]) -> list[list[float]]:
    """First action value, upper action value, limit, as far as a region has them."""
    return [values(region, about) for about in abouts]


def test_every_date_is_a_date_and_no_record_ends_before_it_starts() -> None:
    for each in knowledge().limits:
        for day in filter(None, (each.starts, each.ends)):
            assert date.fromisoformat(day).isoformat() == day
        assert not (each.starts and each.ends) or each.starts <= each.ends
        assert each.source


# Control of Noise at Work Regulations 2005 (Great Britain), in HSE Woodworking Information Sheet 13: lower and upper
# action values and limit. Read in a copy.
def test_noise_in_great_britain() -> None:
    assert levels("GB", DAILY) == [[80], [85], [87]]
    assert levels("GB", PEAK) == [[135], [137], [140]]


# Model Work Health and Safety Regulations, exposure standard for noise, and Western Australia reg. 3.45. Read in a copy.
def test_noise_in_australia() -> None:
    assert levels("AU", DAILY) == [[], [], [85]]
    assert levels("AU", PEAK) == [[], [], [140]]


# 29 CFR 1910.95: permissible 90 dBA; action level at half the dose, which its formula TWA = 16.61 log10(D / 100) + 90
# makes 85. Read in a copy that restates it. NIOSH 98-126: 85. Read in a copy that restates it.
def test_noise_in_the_united_states() -> None:
    assert levels("US", DAILY) == [[round(16.61 * log10(0.5) + 90)], [], [90]]
    found = [each for about in DAILY for each in in_force("US", about, "2026-11-24")]
    assert all("exchange rate 5" in each.note and each.exchange == 5 for each in found)
    assert values("US-NIOSH", "noise-limit") == [85]


# National Joint Council of Canada, directive d7, noise table: 87 dBA over 8 h. Read in a copy.
def test_noise_in_canada() -> None:
    assert values("CA", "noise-limit") == [87]


# HSE wood dust page: hardwood 3, softwood 5, mixtures 3 mg/m3. Read in a copy.
def test_dust_in_great_britain_and_that_mixtures_count_as_hardwood() -> None:
    assert values("GB", "dust-hardwood") == [3]
    assert values("GB", "dust-softwood") == [5]
    (hard,) = in_force("GB", "dust-hardwood", "2026-11-24")
    assert "mixtures" in hard.note


# Directive 2004/37/EC as amended by (EU) 2017/2398: 3 until 17 January 2023, then 2. Read in a copy that restates it; the
# exact day from memory.
@pytest.mark.parametrize(("day", "value"), [("2020-06-01", 3), ("2023-01-16", 3), ("2023-01-18", 2), ("2026-11-24", 2)])
def test_dust_in_the_european_union_changes_in_january_2023(day: str, value: float) -> None:
    assert values("EU", "dust-hardwood", day) == [value]
    assert all("mixtures" in each.note for each in in_force("EU", "dust-hardwood", day))


# Australian occupational hygiene page, hardwood 1, softwood 5; Safe Work Australia, workplace exposure standards until
# 30 November 2026. Read in a copy. What follows was not found in print, so nothing may be called verified.
def test_dust_in_australia_ends_with_november_2026() -> None:
    assert values("AU", "dust-hardwood", "2026-11-30") == [1]
    assert values("AU", "dust-softwood", "2026-11-30") == [5]
    for about in ("dust-hardwood", "dust-softwood"):
        for each in in_force("AU", about, "2026-12-01"):
            assert each.starts == "2026-12-01"
            assert each.note.startswith("not verified")
            assert "check locally" in each.source


# OSHA wood dust page, NIOSH Pocket Guide 0667 (2019), ACGIH as OSHA quotes it. Read in a copy.
def test_dust_in_the_united_states() -> None:
    assert values("US", "dust-wood") == [15]
    assert values("US-NIOSH", "dust-wood") == [1]
    assert values("US-ACGIH", "dust-wood") == [1]
    (acgih,) = in_force("US-ACGIH", "dust-wood", "2026-11-24")
    assert "cedar 0.5" in acgih.note


# SER (Netherlands), limits for wood dust, table of 2018: France 1, Norway 1 total. Read in a copy.
def test_dust_elsewhere() -> None:
    assert values("FR", "dust-wood") == [1]
    assert values("NO", "dust-wood") == [1]


# HSE woodworking noise page: circular saws 97 to 102 dB(A), vertical spindle moulders 95 to 100. Read in a copy. Where a
# school has measured nothing, the louder end is taken.
@pytest.mark.parametrize(("kind", "low", "high"), [("saw-bench", 97, 102), ("mitre-saw", 97, 102), ("router-table", 95, 100)])
def test_the_level_assumed_is_the_loudest_published(kind: str, low: float, high: float) -> None:
    noise = knowledge().stations[kind].noise
    assert noise is not None
    assert noise.default is not None
    assert low < noise.default == high


# Control of Noise at Work Regulations 2005, lower action value 80 dB(A): ear protection at hand; worn from 85. Values read in a
# copy. Those who are taught have it on from the lower one.
def test_ear_protection_is_worn_wherever_the_lower_action_value_is_reached() -> None:
    loud = 0
    for name in EXAMPLES:
        for step in plan(name).steps:
            if step.kind != "work" or not step.station:
                continue
            usual = knowledge().stations[step.station_kind].noise
            level = workshop().stations[step.station].noise or (usual.default if usual else None) or 0
            if level >= 80:
                loud += 1
                assert "ear-protection" in {each.name for each in step.wear}, step.id
    assert loud


# ISO 7010: M003 ear, M004 eye protection, M009 gloves worn, P028 gloves not worn. Read in public copies of its list, not
# in the standard.
def test_signs_printed_are_those_of_the_standard() -> None:
    printed = {(each.title, each.code) for name in EXAMPLES for step in plan(name).steps for each in step.wear if each.code}
    assert {("Wear eye protection.", "M004"), ("Wear ear protection.", "M003"), ("Take gloves off.", "P028")} <= printed
    assert {each for each in printed if "gloves" in each[0]} <= {("Take gloves off.", "P028"), ("Wear gloves.", "M009")}


# ACGIH marks as OSHA quotes them: A1 for oak and beech, A2 for birch. American Woodturner, June 1990: western red cedar a
# strong sensitiser of the airways (+++). Read in a copy.
def test_dust_of_marked_woods_says_so() -> None:
    materials = knowledge().materials
    for name in ("oak", "beech"):
        assert "marked as a cause of nasal cancer" in materials[name].dust
        assert "A1" in materials[name].source
    assert "suspected as a cause of nasal cancer" in materials["birch"].dust
    assert materials["western-red-cedar"].dust.startswith("Strong sensitiser of the airways")
