"""The shipped examples are sound; a figure changed in one gets the finding that names it."""

from dataclasses import replace
from pathlib import Path

import pytest

from sequencer.data import data_folder
from sequencer.design.checking import check_design
from sequencer.findings import Finding
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.loading import load_knowledge
from sequencer.model.job import Job
from sequencer.reading.job import read_job

EXAMPLES = ("herb-caddy", "nest-box", "picture-frame", "step-stool", "starter")


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return load_knowledge(None, ())


def example(name: str) -> Job:
    return read_job(data_folder("examples") / name / "job.yaml")[0]


def errors(job: Job, knowledge: Knowledge) -> list[Finding]:
    return [finding for finding in check_design(job, knowledge) if finding.level == "error"]


@pytest.mark.parametrize("name", EXAMPLES)
def test_no_example_has_a_design_error(name: str, knowledge: Knowledge) -> None:
    assert errors(example(name), knowledge) == []


@pytest.mark.parametrize(
    ("name", "part", "longer", "code", "subject", "words"),
    [
        ("herb-caddy", "floor", 5, "panel-too-long", "floor", "290 + 5 + 5 = 300 mm; the length of the part is 305 mm"),
        ("herb-caddy", "divider", -10, "joint-open", "divider-2", "10 mm open"),
        ("picture-frame", "short-piece", 4, "overall-wrong", "high", "4 mm too large"),
    ],
)
def test_a_part_of_another_length_is_found(
    name: str, part: str, longer: float, code: str, subject: str, words: str, knowledge: Knowledge
) -> None:
    job = example(name)
    changed = replace(job.parts[part], length=job.parts[part].length + longer)
    found = errors(replace(job, parts={**job.parts, part: changed}), knowledge)
    (named,) = [each for each in found if (each.code, each.subject) == (code, subject)]
    assert words in named.what
    assert named.place is not None
    assert named.place.file.endswith("job.yaml")


def test_a_feature_is_found_at_its_own_line(tmp_path: Path, knowledge: Knowledge) -> None:
    text = (data_folder("examples") / "herb-caddy" / "job.yaml").read_text(encoding="utf-8")
    housing = "distance: board + 170, width: board, depth: "
    deep = text.replace(f"{housing}cut", f"{housing}board - 1")
    line = next(number for number, each in enumerate(deep.splitlines(), 1) if each.lstrip().startswith("divider-housing:"))
    path = tmp_path / "job.yaml"
    path.write_text(deep, encoding="utf-8")
    found = next(each for each in check_design(read_job(path)[0], knowledge) if each.subject == "side/divider-housing")
    assert found.code == "thin-under-cut"
    assert found.place is not None
    assert found.place.line == line
    assert "parts.side.features.divider-housing" in str(found)
