"""Sound plans of every example, damaged in one place: each damage is noticed, and by the check that is there for it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest

from sequencer.features.hole import Hole
from sequencer.findings import Refused
from sequencer.model.job import Decision, Job
from sequencer.model.marks import Level
from sequencer.model.plan import Plan, Task
from sequencer.planning.planner import make_plan
from sequencer.proving.making import Making, carry_out
from sequencer.proving.outcome import SAME
from tests.made import EXAMPLES, job, knowledge, making, plan, workshop
from tests.proving import damage

ORDERED = ("reference", "support", "holding", "reach", "datum", "capture")
NOT_DEMANDED = ("choice", "drawing", "decision")
"""Reasons that rest on nothing but a wish: the plan's own, the drawing's, the teacher's."""
SEEN_BY = {
    "reference": {"reference", "piece", "marks", "there"},
    "support": {"piece", "reference", "strip"},
    "holding": {"held", "lies"},
    "reach": {"approach", "clash", "piece"},
    "datum": {"reference", "held"},
    # A group that captures another comes after the setting of its glue, and what is a little too soon for that is wet.
    "capture": {"way-in", "piece", "reference", "clash", "wet"},
    "fit": {"clash", "piece", "there", "reference"},
    "sequence": {"piece", "reference"},
    "splitting": {"approach", "piece"},
}
"""For each kind of reason: the checks of which at least one must notice that it is broken."""


def sound(name: str) -> Making:
    """The plan of an example carried out."""
    return making(name)


def carried_out(damaged: Plan, drawn: Job) -> Making:
    """A damaged plan carried out, from what the damage changes on where it is of an example."""
    name = next((name for name in EXAMPLES if job(name) is drawn), None)
    return carry_out(damaged, drawn, sound(name) if name is not None else None)


def failing(damaged: Plan, drawn: Job) -> set[str]:
    """The names of the checks that do not hold."""
    return failed(carried_out(damaged, drawn))


def failed(made: Making) -> set[str]:
    return {look.check for look in made.proof.failures}


def comes_out_alike(made: Making, name: str) -> bool:
    """Whether every piece comes out as it should all the same: then it was no damage."""
    return all(
        (made.pieces[key].body - piece.body).volume + (piece.body - made.pieces[key].body).volume <= SAME
        for key, piece in sound(name).pieces.items()
    )


@pytest.mark.parametrize("shop", ["full", "hand-tools"])
@pytest.mark.parametrize("name", EXAMPLES)
def test_every_example_is_proved(name: str, shop: str) -> None:
    made = making(name, shop)
    assert [look.says for look in made.proof.failures] == []
    assert made.proof.held
    assert max(part.difference for part in made.proof.parts) <= SAME


BOOKS = [
    "tests/cases/s01-bench-hook.yaml",
    "tests/cases/s02-flower-pot-cross.yaml",
    "tests/cases/s03-chopping-board.yaml",
    "tests/cases/s04-bird-house.yaml",
    "tests/cases/s05-knife-box.yaml",
    "tests/cases/s06-table-drawer.yaml",
    "tests/cases/s07-glass-door-frame.yaml",
    "tests/cases/s08-keyed-tabouret.yaml",
    "examples/starter/job.yaml",
]


@pytest.mark.parametrize("name", BOOKS)
def test_projects_out_of_books_are_proved(name: str) -> None:
    """E. W. Foster, Carpentry and Woodwork, 1911, ch. XIV, XXIV and XXV; John D. Sutcliffe, Hand-Craft, 1890, models no. 11 and
    18; H. H. Windsor, Mission Furniture, 1909, p. 17; W. Noyes, Handwork in Wood, 1910, ch. VIII; our starter."""
    made = making(name)
    assert [look.says for look in made.proof.failures] == []
    assert made.proof.held


@pytest.mark.parametrize("cope", ["stile/top-cut-back", "top-rail/left-cope", "bottom-rail/right-cope"])
def test_a_cope_one_millimetre_off_is_noticed(cope: str) -> None:
    name = "tests/cases/s07-glass-door-frame.yaml"
    given = plan(name)
    task = next(task for task in given.tasks if task.id == f"{cope}/cut")
    changed = damage.shifted_marks(task)
    assert changed is not None
    assert "drawing" in failing(damage.with_task(given, changed), job(name))
    assert failing(damage.without(given, task.id), job(name)) >= {"drawing", "clash"}


def test_stock_as_short_as_the_part_is_refused() -> None:
    drawn = job("herb-caddy")
    short = replace(drawn.stock["board"], lengths=(320.0,))
    with pytest.raises(Refused) as refused:
        make_plan(replace(drawn, stock={**drawn.stock, "board": short}), workshop(), knowledge())
    (found,) = [each for each in refused.value.findings if each.code == "stock-too-short"]
    assert found.what == "The side is cut from a blank 345 mm long, and board is bought 320 mm long at most."
    assert found.remedy == "Buy board at least 345 mm long (`lengths`), or make the part shorter."


@pytest.mark.parametrize("name", EXAMPLES)
@pytest.mark.parametrize("kind", ORDERED)
def test_two_tasks_in_the_wrong_order_are_noticed(name: str, kind: str) -> None:
    given = plan(name)
    for reason in given.reasons:
        if reason.kind == kind and not reason.harm:
            swapped = failing(damage.swapped(given, reason.before, reason.after), job(name))
            assert swapped, f"swapped: {reason.sentence} ({reason.before}, {reason.after})"


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_reason_rests_on_a_check_or_names_its_harm(name: str) -> None:
    """Done just too late, and just too early: both break the reason, and a check made for its kind says so."""
    given, drawn = plan(name), job(name)
    for reason in given.reasons:
        if reason.harm or reason.kind in NOT_DEMANDED:
            continue
        for damaged in (
            damage.moved_before(given, reason.after, reason.before),
            damage.delayed(given, reason.before, reason.after),
        ):
            found = failing(damaged, drawn)
            assert found & SEEN_BY[reason.kind], f"{reason.kind}: {reason.sentence} ({reason.before}, {reason.after}): {found}"


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_harm_that_is_named_has_a_source(name: str) -> None:
    for reason in plan(name).reasons:
        if reason.kind in ("surface", "splitting", "break-out", "cure"):
            assert reason.harm.endswith(".")
            assert reason.source


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_task_left_out_is_noticed(name: str) -> None:
    given = plan(name)
    cutting = [task for task in given.tasks if task.layouts]
    joining = [task for task in given.tasks if task.kind in ("glue", "screw", "nail", "fit-dry")]
    for task in cutting:
        assert failing(damage.without(given, task.id), job(name)) & {"drawing", "piece", "reference"}, task.id
    for task in joining:
        assert "joined" in failing(damage.without(given, task.id), job(name)), task.id


def _placed(given: Plan) -> Iterator[Task]:
    """Tasks that cut to a size: a blank is only sawn near to it."""
    return (task for task in given.tasks if task.layouts and task.kind != "rough-length")


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_setting_one_millimetre_off_is_noticed(name: str) -> None:
    given = plan(name)
    for task in _placed(given):
        for setting, changed in damage.shifted_settings(task):
            found = failing(damage.with_task(given, changed), job(name))
            assert found & {"drawing", "setting"}, f"{task.id}: {setting} ({task.operation})"


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_mark_one_millimetre_off_is_noticed(name: str) -> None:
    given = plan(name)
    for task in _placed(given):
        changed = damage.shifted_marks(task)
        if changed is None:
            continue
        made = carried_out(damage.with_task(given, changed), job(name))
        # Where a fence, a stop or a depth is set by its own figure the mark does not say where the cut comes.
        assert "drawing" in failed(made) or comes_out_alike(made, name), task.id
        if not any(setting.name in damage.POSITION for setting in task.settings):
            assert "drawing" in failed(made), task.id


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_piece_laid_the_other_face_down_is_noticed(name: str) -> None:
    given = plan(name)
    for task in _placed(given):
        sized = {layout.marks.face for layout in task.layouts if isinstance(layout.marks, Level)}
        if task.kind in ("tenon", "trim") or (
            task.kind in damage.STOCK and not sized & {layout.lie.down for layout in task.layouts}
        ):
            continue  # sawn square through, and marked all round: it comes out alike
        found = failing(damage.with_task(given, damage.turned_over(task)), job(name))
        assert found & {"marks", "drawing"}, f"{task.id} ({task.operation})"


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_cut_measured_from_the_other_edge_is_noticed(name: str) -> None:
    given, noticed = plan(name), 0
    for task in _placed(given):
        changed = damage.other_edge(task)
        if changed == task:
            continue
        made = carried_out(damage.with_task(given, changed), job(name))
        found = failed(made)
        noticed += bool(found)
        assert found or comes_out_alike(made, name), f"{task.id} ({task.operation})"
    assert noticed


@pytest.mark.parametrize(
    ("name", "part"), [(name, part.name) for name in EXAMPLES for part in job(name).parts.values() if part.handed]
)
def test_a_handed_part_made_twice_the_same_hand_is_noticed(name: str, part: str) -> None:
    made = carried_out(damage.mirrored_twice(plan(name), part), job(name))
    wrong = [look.says for look in made.proof.failures if look.check == "drawing"]
    assert any(says.startswith(f"{part}.right is not as drawn") for says in wrong)


@pytest.mark.parametrize("name", EXAMPLES)
def test_joining_before_the_joint_is_cut_is_noticed(name: str) -> None:
    given, drawn = plan(name), job(name)
    fixing = next(task for task in given.tasks if task.kind in ("glue", "screw"))
    seats = {
        f"{drawn.part_of(drawn.joints[each].seat.piece).name}/{drawn.joints[each].seat.feature}/cut" for each in fixing.joints
    }
    first = next((task.id for task in given.tasks if task.id in seats), None)
    if first is None:
        # Nothing is let in: the pieces meet face to face, and have no size yet.
        first = next(task.id for task in given.tasks if task.part in fixing.parts and task.layouts)
    assert failing(damage.moved_before(given, fixing.id, first), drawn) & {"clash", "piece"}


def grooved_on_the_saw() -> tuple[Plan, Job]:
    """The caddy with its floor grooves sawn in two passes, as a teacher may decide."""
    decided = Decision("side/floor-groove", "Head of technology", "Shown to the class.", way="groove-on-saw")
    drawn = replace(job("herb-caddy"), decisions=(decided, replace(decided, about="end/floor-groove")))
    return make_plan(drawn, workshop(), knowledge()), drawn


def test_a_blade_of_another_kerf_is_noticed() -> None:
    given, drawn = grooved_on_the_saw()
    assert carry_out(given, drawn).proof.held
    for kerf in (2.0, 4.0):
        assert "drawing" in failing(damage.other_kerf(given, kerf), drawn)


def test_the_passes_of_a_saw_one_millimetre_off_are_noticed() -> None:
    given, drawn = grooved_on_the_saw()
    task = next(task for task in given.tasks if task.id == "side/floor-groove/cut")
    assert {setting.name for setting in task.settings} == {"passes", "fence", "shift", "height"}
    for setting, changed in damage.shifted_settings(task):
        assert "drawing" in failing(damage.with_task(given, changed), drawn), setting
    for changed in (damage.turned_over(task), damage.other_edge(task)):
        assert "drawing" in failing(damage.with_task(given, changed), drawn)


def test_a_saw_that_takes_more_leaves_a_long_piece_too_short() -> None:
    """Three parts out of one long piece, with room for kerfs of 3 mm; a kerf of 30 mm eats the last one."""
    given, drawn = grooved_on_the_saw()
    assert any(task.kind == "separate" for task in given.tasks)
    assert "there" in failing(damage.other_kerf(given, 40.0), drawn)


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_figure_left_off_the_card_is_noticed(name: str) -> None:
    given = plan(name)
    for task in _placed(given):
        for missing in task.sets:
            settings = tuple(setting for setting in task.settings if setting.name != missing)
            assert "setting" in failing(damage.with_task(given, replace(task, settings=settings)), job(name)), (
                f"{task.id}: {missing}"
            )


@pytest.mark.parametrize("line", ["shoulder", "thickness", "cheek", "tenon-width", "edge"])
def test_a_line_of_a_tenon_left_off_the_card_is_not_cut(line: str) -> None:
    """The rail is 70 wide and its tenon 45: a card that says no width gives a tenon of 70, which no mortise takes."""
    given, drawn = plan("step-stool"), job("step-stool")
    task = next(task for task in given.tasks if task.kind == "tenon")
    assert {setting.name: setting.value for setting in task.settings} == {
        "shoulder": 26, "thickness": 8, "cheek": 7, "tenon-width": 45, "edge": 5
    }  # fmt: skip
    silent = replace(task, settings=tuple(setting for setting in task.settings if setting.name != line))
    found = failing(damage.with_task(given, silent), drawn)
    assert found & {"setting", "drawing"}
    assert "drawing" in found or line in task.sets


@pytest.mark.parametrize("name", EXAMPLES)
def test_cards_that_print_something_else_are_noticed(name: str) -> None:
    given, drawn = plan(name), job(name)
    step = next(step for step in given.steps if step.kind == "work" and step.settings)
    wrong = tuple(replace(setting, value=(setting.value or 0.0) + 10.0) for setting in step.settings)
    steps = tuple(replace(each, settings=wrong) if each.id == step.id else each for each in given.steps)
    assert failing(replace(given, steps=steps), drawn) == {"setting"}
    assert failing(replace(given, steps=given.steps[::-1]), drawn) == {"order"}
    assert failing(replace(given, steps=given.steps[:-3]), drawn) == {"order"}


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_station_without_a_card_is_noticed(name: str) -> None:
    assert "setting" in failing(replace(plan(name), stations=()), job(name))


@pytest.mark.parametrize("name", ["herb-caddy", "nest-box", "step-stool"])
@pytest.mark.parametrize(("figure", "asked"), [("shortest", 5000.0), ("narrowest", 500.0), ("thinnest", 100.0)])
def test_a_piece_too_small_for_the_machine_is_noticed(name: str, figure: str, asked: float) -> None:
    given = plan(name)
    stations = tuple(replace(each, figures={**each.figures, figure: asked}) for each in given.stations)
    assert "piece" in failing(replace(given, stations=stations), job(name))


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_card_for_another_piece_is_noticed(name: str) -> None:
    given = plan(name)
    for task in _placed(given):
        for piece in (None, (9999.0, 999.0, 99.0)):
            assert "piece" in failing(damage.with_task(given, replace(task, piece=piece)), job(name)), task.id


def test_a_bit_that_comes_through_with_its_point_is_noticed() -> None:
    """15 mm of wood, a hole 12 deep, and a point of half its diameter: it stands 7 mm out on the other side."""
    hole = Hole(name="peg", face="inside", diameter=20.0, at=({"left": 100.0, "bottom": 45.0},), depth=12.0)
    drawn = job("herb-caddy")
    end = drawn.parts["end"]
    drawn = replace(drawn, parts={**drawn.parts, "end": replace(end, features={**end.features, "peg": hole})})
    given = make_plan(drawn, workshop(), knowledge())
    task = next(task for task in given.tasks if task.id == "end/peg/cut")
    assert "thickness" not in failing(given, drawn)
    assert "thickness" in failing(damage.with_task(given, replace(task, point=0.5)), drawn)


def test_what_is_done_to_a_joint_before_its_glue_has_set_is_noticed() -> None:
    made = plan("step-stool", "full")
    for task, late in (("spine-in-place/glue/glue", "end-frame/cure/wait"), ("leg/right-allowance/trim", "end-frame/cure/wait")):
        wet = damage.moved_before(made, task, late)
        assert "wet" in {look.check for look in carry_out(wet, job("step-stool")).proof.failures}


@pytest.mark.parametrize("name", ["herb-caddy", "picture-frame"])
def test_what_is_remembered_of_the_sound_plan_changes_nothing_that_is_seen(name: str) -> None:
    given = plan(name)
    cutting = [task for task in given.tasks if task.layouts]
    damaged = [
        given,
        *(damage.without(given, task.id) for task in cutting[::7]),
        *(damage.with_task(given, damage.turned_over(task)) for task in cutting[2::7]),
        damage.moved_before(given, given.tasks[-1].id, given.tasks[len(given.tasks) // 2].id),
    ]
    for each in damaged:
        assert carry_out(each, job(name), sound(name)).proof == carry_out(each, job(name)).proof


def test_what_is_remembered_of_other_parts_counts_for_nothing() -> None:
    given, drawn = plan("herb-caddy"), job("herb-caddy")
    side = drawn.parts["side"]
    deeper = replace(side.features["floor-groove"], depth=8.0)  # type: ignore[call-arg]
    other = replace(drawn, parts={**drawn.parts, "side": replace(side, features={**side.features, "floor-groove": deeper})})
    assert "drawing" in failed(carry_out(given, other, sound("herb-caddy")))
