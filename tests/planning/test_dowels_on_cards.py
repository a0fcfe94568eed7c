"""What cards say of a dowelled joint: tried with its dowels, which part these are glued into, and where the glue goes then."""

from __future__ import annotations

from sequencer.knowledge.wording import imperative_faults, words_in
from sequencer.model.job import Job
from sequencer.model.plan import Step
from sequencer.planning.loose import dowelled_words
from sequencer.planning.planner import make_plan
from tests.design.jobs import feature, joint, part
from tests.design.jobs import job as drawing
from tests.loose import WOOD, dowelled
from tests.made import knowledge, plan, workshop

RAIL = "tests/assemblies/dowelled-rail.yaml"


def steps(task: str) -> list[Step]:
    """The step of the dowelled rail and of a small box that does a task."""
    plans = (plan(RAIL), make_plan(dowelled(), workshop("hand-tools"), knowledge()))
    found = [step for made in plans for step in made.steps if step.kind == "work" and step.id.endswith(task)]
    assert len(found) == 2
    return found


def test_the_dry_trial_is_made_with_the_dowels_loose_in_what_enters() -> None:
    for step in steps("/dry-fit/try"):
        said = list(step.instructions)
        put = said.index("Put a dowel loosely into each hole of B.")
        assert put < next(number for number, line in enumerate(said) if line.startswith("Press joints home"))
        assert "Pull the dowels out again." in step.method


def test_dowels_are_glued_into_the_part_that_enters_and_the_step_is_about_that_part_alone() -> None:
    for step in steps("/dowel/dowel"):
        assert "Brush a little glue inside each hole of B." in step.instructions
        assert [each.letter for each in step.parts] == ["B"]
        marked = next(line for line in step.instructions if line.startswith("Mark "))
        assert step.instructions.index(marked) < step.instructions.index("Tap each dowel in straight, down to its mark.")


def test_glue_goes_round_the_dowels_and_into_the_holes_of_the_other_part_before_the_faces() -> None:
    for step in steps("/glue/glue"):
        said = step.instructions
        holes = said.index("Brush glue round dowels and inside holes of A.")
        assert holes < said.index("Brush glue thinly on both faces that meet.")
        whole = step.method
        assert whole.index("Brush glue inside each hole of A.") < whole.index("Brush glue round each dowel.")
        assert whole.index("Brush glue round each dowel.") < whole.index("Brush glue thinly on both faces that meet.")


def test_joints_without_dowels_hear_nothing_of_them() -> None:
    joined = [
        step for step in plan("step-stool").steps if "joint" in " ".join(step.tasks) or step.together or "dry-fit" in step.id
    ]
    assert joined
    assert not [line for step in joined for line in (*step.instructions, *step.method) if "dowel" in line]


def test_every_sentence_about_dowels_is_one_short_imperative() -> None:
    verbs = {verb.lower() for verb in knowledge().verbs}
    said = [
        line
        for task in ("/dry-fit/try", "/dowel/dowel", "/glue/glue")
        for step in steps(task)
        for line in (*step.instructions, *step.method)
        if "dowel" in line
    ]
    assert said
    assert [(line, fault) for line in said for fault in imperative_faults(line, verbs)] == []
    assert max(map(words_in, said)) <= 12


def test_of_alike_boards_edge_to_edge_those_are_named_that_enter() -> None:
    holes = {
        edge: feature(f"{edge}-holes", "dowel-holes", face=edge, diameter=8, dowel=40, at=({"left": 50, "inside": 9},))
        for edge in ("bottom", "top")
    }
    drawn: Job = drawing(
        [part("board", "board", 300, 90, 18, *holes.values(), count=3)],
        [
            joint(f"edge-{number}", f"board.{number + 1}/bottom", f"board.{number}/top", fixed=("glue", "dowels"))
            for number in (1, 2)
        ],
        stock=[WOOD],
    )
    assert dowelled_words(drawn, [*drawn.joints.values()]) == {"enters": "A 2, A 3", "takes": "A 1, A 2"}
