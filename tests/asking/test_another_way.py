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


def test_an_order_that_asks_for_another_way_than_planned_is_planned_with_that_way(tmp_path: Path) -> None:
    """Ploughed in one strip, the groove comes before the rails are cut apart; asked for the other way round, it is chiselled rail
    by rail. What is told to decide does just that, and what it costs is told with it."""
    checked = rails(tmp_path, chiselled=False)
    assert suppose(checked, "rail/furrow", "rail/length", lambda _: None).text.startswith("It is so already")
    answer = suppose(checked, "rail/length", "rail/furrow", lambda _: None)
    said = " ".join(answer.text.split())
    assert answer.possible
    assert "made on solids, all checks hold" in said
    assert "min of work on each thing. - Step 6, Cut the furrow: rail: made by chisel-groove at chiselling, no longer by" in said
    assert said.endswith("- {about: rail/length, before: rail/furrow, by: ..., why: ...}")
    decided = (Decision("rail/length", "Head", "as told", before="rail/furrow"),)
    then = make_plan(replace(checked.job, decisions=decided), checked.workshop, checked.knowledge)
    order = [task.id for task in then.tasks]
    assert order.index("rail/length/cut") < order.index("rail/furrow/cut")


def test_an_order_that_the_way_planned_forbids_is_answered_with_the_way_that_allows_it(tmp_path: Path) -> None:
    """Where the fewest set-ups are asked for, the groove is chiselled rail by rail: it cannot come before they are cut apart but
    with the plough, and an order decided makes it so."""
    drawn = rails(tmp_path, chiselled=False)
    checked = replace(drawn, job=replace(drawn.job, aim="fewest-set-ups"))
    answer = suppose(checked, "rail/furrow", "rail/length", lambda _: None)
    said = " ".join(answer.text.split())
    assert answer.possible
    assert "made by plough-groove at ploughing, no longer by chisel-groove" in said


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


def test_what_staff_work_in_the_long_is_cut_apart_first_and_made_in_another_way(tmp_path: Path) -> None:
    """In the least time staff groove the strip on the router table; a piece of 120 mm is too short for that. The order told
    makes it so by itself: the groove is chiselled."""
    drawn = rails(tmp_path, chiselled=False)
    checked = replace(drawn, job=replace(drawn.job, aim="least-time"))
    answer = suppose(checked, "rail/length", "rail/furrow", lambda _: None)
    said = " ".join(answer.text.split())
    assert answer.possible
    assert "made by chisel-groove at chiselling, no longer by rout-groove" in said
    decided = (Decision("rail/length", "Head", "as told", before="rail/furrow"),)
    then = make_plan(replace(checked.job, decisions=decided), checked.workshop, checked.knowledge)
    order = [task.id for task in then.tasks]
    assert order.index("rail/length/cut") < order.index("rail/furrow/cut")
