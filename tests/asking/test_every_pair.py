"""Every question about an order of a small job is answered, whatever circles the reasons go round in."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path

import pytest

from sequencer.asking.supposing import suppose
from sequencer.pipeline import Checked
from sequencer.planning.planner import make_plan
from sequencer.reading.job import read_job
from tests.asking.test_another_way import RAILS
from tests.made import knowledge, workshop

SPLINED = Path(__file__).parents[1] / "assemblies" / "sawn-splines.yaml"


def asked(file: Path, later: str, earlier: str) -> str:
    drawn, findings = read_job(file)
    answer = suppose(Checked(drawn, workshop(), knowledge(), tuple(findings)), later, earlier, lambda _: None)
    assert not answer.possible
    return " ".join(answer.text.split())


def test_each_of_two_pieces_of_work_may_be_asked_for_before_the_other(tmp_path: Path) -> None:
    """The plan of a strip has no marking out of single pieces, of which the plan piece by piece speaks."""
    file = tmp_path / "job.yaml"
    file.write_text(RAILS.replace("length: 120", "length: 150"), encoding="utf-8")
    drawn, findings = read_job(file)
    checked = Checked(drawn, workshop(), knowledge(), tuple(findings))
    tasks = [task.id for task in make_plan(drawn, checked.workshop, checked.knowledge).tasks]
    assert len(tasks) == 6
    answers = {(one, two): suppose(checked, two, one, lambda _: None) for one, two in combinations(tasks, 2)}
    assert len({answer.text for answer in answers.values()}) == len(answers)
    assert {answer.possible for answer in answers.values()} == {True, False}
    told = " ".join(answers["rail/face-marks/mark", "rail/furrow/cut"].text.split())
    assert "before mark out: rail [reference]" in told


@pytest.mark.parametrize(
    ("later", "earlier", "reason"),
    [
        ("long-piece/left-slot", "long-piece/left-mitre", "the corner is glued and has set before"),
        ("short-piece/left-slot", "frame/dry-fit", "the corner is glued and has set before"),
    ],
)
def test_what_is_sawn_after_the_glue_is_told_with_the_reasons_no_decision_undoes(later: str, earlier: str, reason: str) -> None:
    told = asked(SPLINED, later, earlier)
    assert "These reasons stand against it:" in told
    assert reason in told
