"""A region looked up: what is held to there, from when, whose it is, and what to check by name."""

from __future__ import annotations

import pytest

from sequencer.asking.answers import answer
from sequencer.knowledge.regions import held, region_named
from tests.made import knowledge


def flat(text: str) -> str:
    return " ".join(text.split())


def test_the_list_names_every_region_and_its_codes() -> None:
    said = answer("regions", knowledge())
    assert said.startswith(f"{len(knowledge().regions)} regions\n")
    for name in knowledge().regions:
        assert f"\n{name} " in said
    assert "GB, UK" in said


@pytest.mark.parametrize("name", list(knowledge().regions))
def test_a_region_in_full_says_what_is_recorded_and_whom_to_ask(name: str) -> None:
    region, said = knowledge().regions[name], flat(answer(name, knowledge()))
    for text in (region.regulator, *region.laws, *region.record, *region.sign_off, *region.review):
        assert text in said
    for each in held(region, knowledge(), None):
        assert each.measure.name in said


@pytest.mark.parametrize("asked", ["australia", "AU", "Australia"])
def test_the_day_on_which_a_figure_changes_stands_beside_it(asked: str) -> None:
    said = flat(answer(asked, knowledge()))
    assert "dust of hardwood, mean of 8 hours: 1 mg/m3 (AU" in said
    assert "From 2026-12-01 0.5 mg/m3 (AU; not verified" in said
    assert "stands in: not known there" in said
    assert "saw-bench: watching, signed-off" in said


def test_generic_says_whose_is_the_strictest_and_what_else_is_on_record() -> None:
    said = flat(answer("generic", knowledge()))
    assert "noise over a day, limit: 85 dB(A) (AU" in said
    assert "Also on record: GB 87" in said
    assert region_named("generic", knowledge()).counts == ()
