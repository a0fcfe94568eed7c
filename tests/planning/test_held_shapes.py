"""A piece that stock or an earlier cut has left round, tapered, curved or bevelled is gripped by what fits that shape."""

from __future__ import annotations

from dataclasses import replace
from random import Random
from typing import Any

import pytest

from sequencer.features import feature_kinds
from sequencer.features.base import Feature
from sequencer.findings import Refused
from sequencer.model.frame import Block
from sequencer.model.job import Decision, Job, Stock
from sequencer.model.plan import Plan, Step
from sequencer.model.workshop import Counted, Workshop
from sequencer.planning.planner import make_plan, ways_of
from sequencer.planning.ways import Way
from sequencer.proving.making import carry_out
from tests.design.jobs import job, part
from tests.features.legal import KINDS, filled, make
from tests.made import knowledge, workshop
from tests.outside.bench import board
from tests.planning.test_jigs import without

SHAPES: dict[str, Feature] = {
    "tapered": make("taper", name="slope", edge="top", **{"from": "left"}, amount=20),
    "curved": make(
        "outline",
        name="slope",
        edge="top",
        points=[{"at": {"left": 0, "top": 12}}, {"at": {"left": 200, "top": 0}}, {"at": {"right": 0, "top": 8}}],
    ),
    "bevelled": make("bevel", name="slope", edge="top", low="outside", angle=20),
}
GRIPS = {"tapered": "tapered-packing", "curved": "shaped-block", "bevelled": "bevelled-packing"}
REFUSED = {
    "tapered": "The taper comes before it and leaves the top face tapered: it slides out of jaws that are parallel, towards its "
    "thin end. The tapered packing is not at hand at pillar-drill.",
    "curved": "The outline comes before it and leaves the top face curved: it touches straight jaws at one place and tips about "
    "it. The shaped block is not at hand at pillar-drill.",
    "bevelled": "The bevel comes before it and leaves the top face bevelled: it is pushed up or down by the jaw that meets its "
    "slope. The bevelled packing is not at hand at pillar-drill.",
}
BORE = make("hole", name="bore", face="inside", at={"left": 100, "bottom": 30}, diameter=10)
RAIL: dict[str, Any] = {"length": 450}


def shaped_first(shape: Feature, cut: Feature = BORE) -> Job:
    """A rail of which a teacher has decided that the shape comes before the cut."""
    decision = Decision(f"rail/{shape.name}", "teacher", "it is shaped in the lesson before", before=f"rail/{cut.name}")
    return replace(board(shape, cut, **RAIL), decisions=(decision,))


def step_of(plan: Plan, task: str) -> Step:
    return next(step for step in plan.steps if step.kind == "work" and task in step.tasks)


def with_at_hand(shop: Workshop, name: str) -> Workshop:
    return replace(shop, counted={**shop.counted, name: Counted(name, 2)})


def drilled(drawn: Job, shop: Workshop) -> list[Way]:
    """The ways of boring the hole at the pillar drill."""
    return [way for _, ways, _ in ways_of("rail/bore", drawn, shop, knowledge()) for way in ways if way.station == "pillar-drill"]


def not_packed(plan: Plan) -> Plan:
    return replace(plan, tasks=tuple(replace(task, grips=()) for task in plan.tasks))


@pytest.mark.parametrize("left", SHAPES)
@pytest.mark.parametrize("shop", ["well-equipped", "hand-tools"])
def test_what_a_later_cut_needs_is_made_named_and_proved(left: str, shop: str) -> None:
    drawn = shaped_first(SHAPES[left])
    plan = make_plan(drawn, workshop(shop), knowledge())
    order = [task.id for task in plan.tasks]
    assert order.index("rail/slope/cut") < order.index("rail/bore/cut")
    step = step_of(plan, "rail/bore/cut")
    assert GRIPS[left] in {each.name for each in step.holding}
    assert knowledge().holding[GRIPS[left]].line in step.guard_line
    (jig,) = (each for each in plan.jigs if each.name == GRIPS[left])
    assert jig.tasks == ("rail/bore/cut",)
    assert jig.steps == (step.number,)
    assert max(piece.length for piece in jig.pieces) == pytest.approx(450)
    assert carry_out(plan, drawn).proof.held
    # Without it the piece is not gripped, and the proof says so.
    failed = {
        (record.task, look.check)
        for record in carry_out(not_packed(plan), drawn).proof.tasks
        for look in record.looked
        if not look.held
    }
    assert failed == {("rail/bore/cut", "held")}


@pytest.mark.parametrize("left", SHAPES)
def test_at_a_machine_it_must_be_in_the_workshop_file(left: str) -> None:
    drawn, shop = shaped_first(SHAPES[left]), workshop("well-equipped")
    ways = [way for way in drilled(drawn, shop) if way.meant]
    assert ways
    for way in ways:
        (obstacle,) = (each for each in way.obstacles if each.what == REFUSED[left])
        assert obstacle.kind == "holding"
        name = GRIPS[left].replace("-", " ")
        assert obstacle.remedy == f"Provide the {name}, then name it in the workshop file, or use another way."
    assert any(way.possible for way in drilled(drawn, with_at_hand(shop, GRIPS[left])))


@pytest.mark.parametrize("left", SHAPES)
def test_square_work_comes_first_where_nobody_decided_otherwise(left: str) -> None:
    plan = make_plan(board(SHAPES[left], BORE, **RAIL), workshop("well-equipped"), knowledge())
    order = [task.id for task in plan.tasks]
    assert order.index("rail/bore/cut") < order.index("rail/slope/cut")
    assert not any(task.packed for task in plan.tasks)
    assert not {jig.name for jig in plan.jigs} & set(GRIPS.values())


def test_no_decision_undoes_what_a_cut_is_measured_from() -> None:
    from_top = make("hole", name="bore", face="inside", at={"left": 100, "top": 30}, diameter=10)
    with pytest.raises(Refused) as refused:
        make_plan(shaped_first(SHAPES["tapered"], from_top), workshop("hand-tools"), knowledge())
    assert {finding.code for finding in refused.value.findings if finding.level == "error"} == {"circle"}


def rod() -> Job:
    stock = Stock("rod", "beech", "round", 0.0, 20.0, (2400.0,), hardness="hardwood")
    return job([replace(part("rail", "rod", 300, 20, 20, BORE_IN_ROD), section="round")], [], stock=(stock,))


BORE_IN_ROD = make("hole", name="bore", face="inside", at={"left": 100, "bottom": 10}, diameter=6)


def test_round_stock_is_bored_in_a_v() -> None:
    bare = without(workshop("hand-tools"), "v-block")
    for shop, made in ((workshop("hand-tools"), False), (bare, True)):
        plan = make_plan(rod(), shop, knowledge())
        assert "v-block" in {each.name for each in step_of(plan, "rail/bore/cut").holding}
        assert ("v-block" in {jig.name for jig in plan.jigs}) is made


def test_round_stock_is_not_drilled_by_a_machine_without_its_v() -> None:
    shop = without(workshop("well-equipped"), "v-block")
    ways = [way for way in drilled(rod(), shop) if way.meant]
    assert ways
    says = {
        "The V-block is not at hand at pillar-drill.",
        "The stock is round: it rolls under the tool and turns in jaws that touch it along two lines. The V-block is not at hand "
        "at pillar-drill.",
    }
    assert all(says & {each.what.replace("v-block", "V-block") for each in way.obstacles} for way in ways)


@pytest.mark.parametrize("kind", [name for name, kind in feature_kinds().items() if kind.shape_left is None])
def test_what_leaves_no_shape_spoils_no_face(kind: str) -> None:
    from hypothesis import given, settings
    from hypothesis import strategies as some

    @settings(max_examples=5, deadline=None, derandomize=True, database=None)
    @given(some.data())
    def look(data: some.DataObject) -> None:
        block = Block(300, 60, 20)
        assert make(kind, **filled(data.draw(some.composite(lambda draw: KINDS[kind](draw, block))()))).spoils() == ()

    look()


def test_every_shape_that_a_feature_leaves_can_be_gripped() -> None:
    known = knowledge()
    assert {kind.shape_left for kind in feature_kinds().values()} - {None} <= set(known.shapes)
    jigs = {jig.serves_as for jig in known.jigs.values()}
    for shape in known.shapes.values():
        assert set(shape.holding) & jigs, "a school can make it"


def _some(random: Random) -> tuple[Feature, Feature]:
    """A shape on the top edge and a cut that is measured from the others."""
    shape = random.choice(
        [
            make(
                "taper",
                name="slope",
                edge="top",
                **{"from": "left"},
                start=random.choice([0, 100, 300]),
                amount=random.choice([8, 25]),
            ),
            make("bevel", name="slope", edge="top", low=random.choice(["inside", "outside"]), angle=random.choice([10, 30])),
            SHAPES["curved"],
        ]
    )
    along = random.randint(30, 350)
    cut = random.choice(
        [
            make("hole", name="bore", face="inside", at={"left": along, "bottom": 20}, diameter=random.choice([6, 8, 20])),
            make("housing", name="seat", face="inside", **{"from": "left"}, distance=along, width=12, depth=5),
            make("mortise", name="seat", face="inside", at={"left": along, "bottom": 20}, length=30, width=10),
            make("groove", name="seat", face="inside", **{"from": "bottom"}, distance=10, width=6, depth=5),
        ]
    )
    return shape, cut


def test_no_later_cut_is_gripped_by_a_shape_without_what_fits_it() -> None:
    """Looked at on solids: what is not held without the packing has it on its card, and with it the proof holds."""
    random, planned, packed = Random(4), 0, 0
    fits = {name for shape in knowledge().shapes.values() for name in (*shape.holding, *shape.enough)}
    for _ in range(24):
        shape, cut = _some(random)
        drawn = shaped_first(shape, cut)
        try:
            plan = make_plan(drawn, workshop(random.choice(["well-equipped", "hand-tools"])), knowledge())
        except Refused:
            continue
        planned += 1
        assert carry_out(plan, drawn).proof.held, (shape, cut)
        for record in carry_out(not_packed(plan), drawn).proof.tasks:
            if any(not look.held for look in record.looked):
                packed += 1
                assert fits & {each.name for each in step_of(plan, record.task).holding}
    assert planned >= 12
    assert packed >= 6
