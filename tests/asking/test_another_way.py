"""An order that the way planned forbids, and another way allows, is not called impossible."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from sequencer.asking.another_way import by_another_way
from sequencer.asking.supposing import suppose
from sequencer.model.job import Decision
from sequencer.pipeline import Checked
from sequencer.planning.planner import make_plan
from sequencer.reading.job import read_job
from tests.made import knowledge, workshop

RAILS = """format: 1
job: Short rails
stock:
  strip: {material: Scots pine, hardness: softwood, form: board, width: 30, thickness: 20, lengths: [2400], surface: planed}
parts:
  rail:
    count: 4
    stock: strip
    length: 120
    features:
      furrow: {kind: groove, face: inside, from: bottom, distance: 10, width: 6, depth: 6}
"""


def rails(folder: Path, chiselled: bool) -> Checked:
    file = folder / "job.yaml"
    file.write_text(RAILS, encoding="utf-8")
    drawn, findings = read_job(file)
    asked = (Decision("rail/furrow", "Head", "to see", way="chisel-groove"),) if chiselled else ()
    return Checked(replace(drawn, decisions=asked), workshop(), knowledge(), tuple(findings))


def test_a_groove_in_short_rails_comes_before_they_are_cut_apart_where_it_is_ploughed(tmp_path: Path) -> None:
    """Chiselled, it is cut rail by rail; ploughed in the long, it comes first by itself, and the decision told does that."""
    checked = rails(tmp_path, chiselled=False)
    answer = suppose(checked, "rail/furrow", "rail/length", lambda _: None)
    said = " ".join(answer.text.split())
    assert "No decision can undo" not in said
    assert "Another way allows it: Plough the groove instead of Chisel the groove. Made on solids, all checks hold." in said
    assert said.endswith("- {about: rail/furrow, way: plough-groove, by: ..., why: ...}")
    decided = (Decision("rail/furrow", "Head", "as told", way="plough-groove"),)
    then = make_plan(replace(checked.job, decisions=decided), checked.workshop, checked.knowledge)
    order = [task.id for task in then.tasks]
    assert order.index("rail/furrow/cut") < order.index("rail/length/cut")


def test_where_the_way_is_decided_no_other_is_offered(tmp_path: Path) -> None:
    checked = rails(tmp_path, chiselled=True)
    assert (
        by_another_way(
            checked,
            (("rail/furrow", "rail/length"),),
            lambda _: None,
        )
        is None
    )
