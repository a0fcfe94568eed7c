"""Flawed jobs: the flaw is named with its figures and a remedy, nothing else is said, and the corrected job is sound.

`flawed/expected.yaml` says what; its head explains the keys.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from sequencer.design.checking import check_design
from sequencer.findings import Finding, Refused
from sequencer.model.job import Job
from sequencer.planning.planner import make_plan
from sequencer.reading.job import read_job
from tests.made import ROOT, WORKSHOPS, knowledge, workshop

FLAWED = ROOT / "tests" / "cases" / "flawed"
EXPECTED: dict[str, dict[str, Any]] = yaml.safe_load((FLAWED / "expected.yaml").read_text(encoding="utf-8"))


def found(job: Job, shop: str) -> tuple[list[Finding], list[Finding]]:
    """What the design checks say, and what planning refuses; notes and, in planning, warnings left out."""
    design = [finding for finding in check_design(job, knowledge()) if finding.level != "note"]
    try:
        make_plan(job, workshop(shop), knowledge())
    except Refused as refused:
        return design, [finding for finding in refused.findings if finding.level == "error"]
    return design, []


def test_every_flawed_job_has_its_expectation() -> None:
    assert {file.stem for file in FLAWED.glob("s*.yaml")} == set(EXPECTED)


@pytest.mark.parametrize("name", EXPECTED)
def test_the_flaw_is_named_and_nothing_else(name: str) -> None:
    asked = EXPECTED[name]
    design, planning = found(read_job(FLAWED / f"{name}.yaml")[0], "full")
    said = design if asked["found_by"] == "design" else planning
    assert said
    assert {finding.subject for finding in said} <= set(asked["about"])
    if asked["found_by"] == "planning":
        assert design == []
    text = "\n".join(f"{finding.what} {finding.why} {finding.remedy}" for finding in said)
    for must in asked["must_say"]:
        missing = [word for word in must["words"] if str(word) not in text]
        assert not missing, f"{must['says']}: {missing} not in\n{text}"


@pytest.mark.parametrize(
    ("name", "shop"), [(name, shop) for name, asked in EXPECTED.items() for shop in asked.get("sound_in", WORKSHOPS)]
)
def test_the_corrected_job_is_sound(name: str, shop: str, tmp_path: Path) -> None:
    text = (FLAWED / f"{name}.yaml").read_text(encoding="utf-8")
    for swap in EXPECTED[name]["sound"]:
        assert swap["from"] in text
        text = text.replace(swap["from"], swap["to"])
    file = tmp_path / "corrected.yaml"
    file.write_text(text, encoding="utf-8")
    design, planning = found(read_job(file)[0], shop)
    assert [str(each) for each in design if each.subject in EXPECTED[name]["about"]] == []
    assert [str(each) for each in planning] == []
