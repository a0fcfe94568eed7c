"""Two groups of joints that meet: where the shapes allow one order only it is demanded; where they allow both either can be had,
and what is glued first has set before the other is joined to it. All drawings are invented.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sequencer.asking.orders import why_before
from sequencer.asking.supposing import suppose
from sequencer.cli import main
from sequencer.findings import Refused
from sequencer.model.job import Decision
from sequencer.model.plan import Plan
from sequencer.pipeline import check
from sequencer.planning.assembling import assembled
from sequencer.planning.either_first import is_choice
from sequencer.planning.planner import make_plan
from sequencer.proving.making import carry_out
from sequencer.talk import tasks_named
from tests.made import ROOT, job, knowledge, plan, workshop

FULL = ROOT / "examples" / "workshops" / "full.yaml"
HIDDEN, BLOCKS, CAPPED, FOLDED = (
    f"tests/assemblies/{name}.yaml" for name in ("hidden-shelf", "two-blocks", "capped-frame", "folded-shelf")
)


def _decided(name: str, about: str, before: str, *, rough_inside: bool = False) -> Plan:
    decision = Decision(about, "Head of technology", "a trial", before=before)
    drawn = replace(job(name), decisions=(decision,), rough_inside=rough_inside or job(name).rough_inside)
    made = make_plan(drawn, workshop(), knowledge())
    assert carry_out(made, drawn).proof.failures == ()
    return made


def _place(made: Plan, task: str) -> int:
    return [each.id for each in made.tasks].index(task)


def test_a_shelf_in_stopped_housings_is_in_before_the_boards_close_the_sides() -> None:
    (_, carcase) = assembled(job(HIDDEN)).groups
    assert (carcase.name, carcase.captures) == ("carcase", ("inside-h",))
    said = " ".join(why_before(plan(HIDDEN), knowledge(), "inside-h", "carcase/screw").split())
    assert "[capture]: When carcase is made first, shelf cannot go in any more." in said
    assert "Either" not in said


def test_a_decision_for_the_order_that_cannot_be_put_together_is_refused_where_it_stands(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "job.yaml"
    text = (ROOT / HIDDEN).read_text(encoding="utf-8").rstrip("\n")
    line = len(text.splitlines()) + 2
    file.write_text(
        f"{text}\ndecisions:\n  - {{about: carcase, before: inside-h, by: Teacher, why: a trial}}\n", encoding="utf-8"
    )
    assert main(["plan", str(file), "--workshop", str(FULL)]) == 1
    said = " ".join(capsys.readouterr().err.split())
    assert f"error: {file}:{line}:5: decisions.1" in said
    assert "When carcase is made first, shelf cannot go in any more." in said
    assert "-> Take back the decision that carcase comes before inside-h." in said
    assert "fault of the tool" not in said


def test_the_handle_of_the_caddy_is_no_choice_either() -> None:
    (_, whole) = assembled(job("herb-caddy")).groups
    assert (whole.name, whole.captures) == ("whole", ("box",))
    said = " ".join(why_before(plan("herb-caddy"), knowledge(), "corner-1", "handle-1").split())
    assert "[capture]: When whole is made first, box cannot be put together any more." in said


def test_two_blocks_on_one_base_may_be_glued_in_either_order() -> None:
    one, two = assembled(job(BLOCKS)).groups
    assert (one.name, two.name) == ("one", "two")
    assert is_choice(two, "one")


@pytest.mark.parametrize(
    ("about", "before"), [("two/glue", "one/glue"), ("two/glue/glue", "one/glue/glue"), ("two", "one"), ("b", "a")]
)
def test_what_is_decided_to_be_glued_first_sets_before_the_other_is_glued(about: str, before: str) -> None:
    made = _decided(BLOCKS, about, before)
    assert _place(made, "two/cure/wait") < _place(made, "one/glue/glue")
    pair = ("two/cure/wait", "one/glue/glue")
    (wait,) = (each for each in made.reasons if (each.before, each.after) == pair and each.kind == "cure")
    assert "it is decided that two is made first" in wait.sentence
    assert _place(plan(BLOCKS), "one/cure/wait") < _place(plan(BLOCKS), "two/glue/glue")


def test_a_wait_is_kept_where_a_decision_turns_the_two_round_by_way_of_other_work() -> None:
    made = _decided(BLOCKS, "two/glue", "wall/length", rough_inside=True)
    assert _place(made, "two/cure/wait") < _place(made, "one/glue/glue")


def test_what_a_cap_closes_over_is_cleaned_before_whichever_comes_first() -> None:
    made = _decided(CAPPED, "e1", "c1")
    ends = next(task for task in made.tasks if task.id == "end-in-place/clean-inside/clean")
    assert "end" in ends.parts
    assert _place(made, ends.id) < _place(made, "end-in-place/screw/screw") < _place(made, "cap-in-place/glue/glue")


def test_an_order_of_two_glue_ups_is_asked_for_as_it_would_be_written() -> None:
    answer = suppose(check(ROOT / BLOCKS, FULL), "two", "one", lambda _: None)
    assert answer.possible
    assert "inner corners" not in answer.text
    assert "{about: two, before: one, by: ..., why: ...}" in answer.text


def test_a_sub_assembly_that_is_glued_with_another_is_found_by_its_name() -> None:
    (group,) = assembled(job(FOLDED)).groups
    assert (group.name, group.folded) == ("carcase", ("inside-h",))
    decided = replace(job(FOLDED), decisions=(Decision("inside-h", "Head of technology", "a trial", minutes=3),))
    made = make_plan(decided, workshop(), knowledge())
    joined = [task for task in made.tasks if task.id.startswith("carcase/") and task.kind != "cure"]
    assert {task.minutes for task in joined} == {3}
    assert tasks_named(made, "inside-h") == tasks_named(made, "carcase")


def test_a_decision_between_two_that_are_glued_in_one_go_says_so() -> None:
    decision = Decision("carcase", "Head of technology", "a trial", before="inside-h")
    with pytest.raises(Refused) as refused:
        make_plan(replace(job(FOLDED), decisions=(decision,)), workshop(), knowledge())
    (finding,) = (each for each in refused.value.findings if each.level == "error")
    assert finding.what == "A decision puts carcase before inside-h, which is joined in the same go."


@pytest.mark.parametrize("name", ["whole-glue", "whole-glue-2", "floor-in-place"])
def test_a_name_that_a_glue_up_no_longer_has_is_answered_with_those_of_this_drawing(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "job.yaml"
    text = (ROOT / "examples" / "herb-caddy" / "job.yaml").read_text(encoding="utf-8").rstrip("\n")
    file.write_text(f"{text}\ndecisions:\n  - {{about: {name}, minutes: 9, by: Teacher, why: a trial}}\n", encoding="utf-8")
    assert main(["plan", str(file), "--workshop", str(FULL)]) == 1
    said = " ".join(capsys.readouterr().err.split())
    assert f"A decision names {name}, and the job has no such feature, joint or task." in said
    assert "What is joined in one go here is called: box (corner-1, " in said
    assert "whole (divider-1, divider-2, divider-3, handle-1, handle-2). A joint means it by a name that stays." in said
    assert ("Did you mean whole?" in said) == name.startswith("whole")
