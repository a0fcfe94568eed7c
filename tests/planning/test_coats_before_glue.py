"""A finish before gluing goes on parts by name, and it is said where the last cleaning would take it off for good."""

from __future__ import annotations

from dataclasses import replace

from sequencer.model.job import Finish, Job
from sequencer.planning.planner import make_plan
from sequencer.planning.unplannable import job_findings
from tests.made import job, knowledge, workshop

WAX = Finish("wax", parts=("long-piece",), before_glue=True)


def _warned(drawn: Job) -> list[str]:
    return [each.what for each in job_findings(drawn, 3.0) if each.code == "coat-cleaned-off"]


def test_a_coat_that_the_last_cleaning_takes_off_is_warned_of_at_its_part() -> None:
    drawn = replace(job("picture-frame"), finish=(WAX,))
    (found,) = [each for each in job_findings(drawn, 3.0) if each.code == "coat-cleaned-off"]
    assert (found.level, found.place) == ("warning", drawn.parts["long-piece"].place)
    assert found.what == "The wax goes on before gluing, and no finish goes on the long-piece later."


def test_where_the_outside_gets_a_finish_later_nothing_is_said() -> None:
    drawn = job("picture-frame")
    assert _warned(replace(drawn, finish=(WAX, Finish("wax")))) == []
    assert _warned(replace(drawn, finish=(WAX, Finish("wax", parts=("short-piece",))))) != []


def test_a_coat_before_gluing_names_its_parts() -> None:
    drawn = replace(job("picture-frame"), finish=(WAX, Finish("wax")))
    titles = [step.title for step in make_plan(drawn, workshop(), knowledge()).steps]
    coats = [title for title in titles if title.startswith("Put on")]
    assert coats == ["Put on wax polish, coat 1: long piece (A)", "Put on wax polish, coat 1: the whole"]
    glued = next(at for at, title in enumerate(titles) if title.startswith("Glue"))
    assert titles.index(coats[0]) < glued < titles.index(coats[1])
