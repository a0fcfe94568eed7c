"""Sizes that students may choose: each is tried in the workshop, and what it cannot make, or makes otherwise, is said."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from sequencer.findings import Finding
from sequencer.model.workshop import Workshop
from sequencer.planning.offered_sizes import offered_findings
from sequencer.reading.job import read_job
from sequencer.reading.offered import offered_jobs
from tests.made import ROOT, knowledge, workshop

NEST = ROOT / "examples/nest-box/job.yaml"


def found(path: Path, shop: Workshop) -> list[Finding]:
    drawn, _ = read_job(path)
    offered = ((each.name, each.value, each.job) for each in offered_jobs(path, drawn))
    return list(offered_findings(drawn, offered, shop, knowledge()))


def without(*stations: str) -> Workshop:
    shop = workshop()
    return replace(shop, stations={name: each for name, each in shop.stations.items() if name not in stations})


def test_the_job_is_read_with_each_size_offered() -> None:
    drawn, _ = read_job(NEST)
    others = list(offered_jobs(NEST, drawn))
    assert {each.value for each in others} == {28.0, 32.0, 45.0} - {drawn.sizes["entrance"]}
    for each in others:
        assert each.job is not None
        hole = each.job.parts["front"].features["entrance-hole"]
        assert hole.figures(each.job.parts["front"].block)["feature.diameter"] == each.value


# The largest bit of the drill is 35: a hole of 45 has to be sawn, which is another card.
def test_a_size_that_is_made_in_another_way_is_said() -> None:
    (only,) = found(NEST, workshop())
    assert only.level == "warning"
    assert only.what.startswith("Students may choose entrance 45 mm")
    assert "“Drill a large hole right through in a wide board”" in only.what
    assert "“Saw a large round hole”" in only.what


def test_a_size_that_nothing_here_makes_is_said_with_what_is_against_it() -> None:
    (only,) = found(NEST, without("shaping", "scroll-saw", "band-saw", "rasps-and-files"))
    assert "entrance 45 mm, which cannot be made here" in only.what
    assert "Take it off the list of choices" in only.remedy


def test_a_size_that_is_no_drawing_is_said(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    path.write_text(NEST.read_text().replace("options: [28, 32, 45]", "options: [28, 32, 400]"))
    assert all("400 mm" in each.what for each in found(path, workshop()))
    assert found(path, workshop())
