"""Random jobs in random workshops: whatever is asked for, a plan keeps its promises or the job is refused with remedies."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from random import Random
from string import ascii_uppercase
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as some

from sequencer.features.base import Feature
from sequencer.findings import Refused
from sequencer.knowledge.forms.operations import Limit
from sequencer.model.frame import Block, FaceName, axis_of
from sequencer.model.job import Allowance, Decision, Finish, Hardware, Job, Joint, Part, Seat, Stock
from sequencer.model.plan import Plan
from sequencer.model.quantities import Figures
from sequencer.model.workshop import Adult, Workshop
from sequencer.planning.choice import Choice
from sequencer.planning.choosing import choose_ways
from sequencer.planning.group_work import group_work
from sequencer.planning.grouping import joint_groups
from sequencer.planning.order import chain_between, reason_graph
from sequencer.planning.planner import make_plan, ways_of
from sequencer.planning.shop import Shop
from sequencer.planning.work import part_work
from sequencer.reading.expressions import parse
from tests.features.legal import KINDS, blocks, filled
from tests.features.samples import make
from tests.made import knowledge, workshop

RANDOM = settings(max_examples=40, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
FIXED = some.sampled_from(["glue", "screws", "nails", "key", "wedge", "dowels", "dry"])
Draw = some.DrawFn


def _usual(draw: Draw, block: Block) -> tuple[str, dict[str, Any]]:
    """A cut as a school draws it, somewhere on the block."""
    face = draw(some.sampled_from(["inside", "outside"]))
    edge, end = draw(some.sampled_from(["bottom", "top"])), draw(some.sampled_from(["left", "right"]))
    third, away = round(block.thickness / 3), draw(some.integers(0, 10))
    channel = {"face": face, "width": 6, "depth": third, "distance": away}
    spot = {"face": face, "at": {end: 20 + 5 * away, edge: 15 + away}}
    return draw(
        some.sampled_from(
            [
                ("groove", channel | {"from": edge}),
                ("groove", channel | {"from": edge, "stops": {end: 30}}),
                ("housing", channel | {"from": end, "width": 15, "distance": 20 + 3 * away}),
                ("halving", channel | {"from": end, "width": 30, "distance": 5 * away, "depth": round(block.thickness / 2)}),
                ("rebate", {"edge": f"{face}/{edge}", "width": 10, "depth": third}),
                ("rebate", {"edge": f"{face}/{end}", "width": 12, "depth": third}),
                ("hole", spot | {"diameter": draw(some.sampled_from([3, 6, 10, 20]))}),
                ("hole", spot | {"diameter": 8, "depth": third}),
                ("screw-holes", spot | {"gauge": 8}),
                ("chamfer", {"edges": [f"{face}/{edge}"], "size": 3}),
                ("taper", {"edge": edge, "from": end, "start": block.length / 2, "amount": 10}),
                ("notch", {"edge": edge, "from": end, "distance": 10 * away, "length": 20, "depth": 15}),
                ("mitre", {"end": end, "long": face}),
                ("bevel", {"edge": edge, "low": face, "angle": 15}),
                ("rounded-corner", {"corners": [f"{edge}/{end}"], "radius": 15}),
                ("tenon", {"end": end, "length": 20, "thickness": third, "width": round(block.width / 2)}),
                ("mortise", {"face": edge, "at": {end: 30 + away}, "length": 30, "width": third, "depth": 20}),
            ]
        )
    )


@some.composite
def _parts(draw: Draw, number: int) -> tuple[Part, Stock]:
    block = draw(blocks())
    names = [f"cut-{place}" for place in range(draw(some.integers(0, 4)))]
    features: dict[str, Feature] = {}
    for name in names:
        late = draw(some.integers(0, 9)) == 0
        kind, fields = _usual(draw, block)
        if draw(some.integers(0, 5)) == 0:
            kind = draw(some.sampled_from(sorted(KINDS)))
            fields = filled(KINDS[kind](draw, block))
        drawn = make(kind, **fields)
        own_time = drawn.when == "assembled"
        features[name] = replace(drawn, name=name, when="assembled" if late or own_time else "loose")
    form = draw(some.sampled_from(["board", "board", "board", "sheet", "square", "bought"]))
    stock = Stock(
        f"stock-{number}",
        draw(some.sampled_from(["radiata pine", "beech", "moonwood"])),
        form,
        610.0 if form == "sheet" else block.width + draw(some.sampled_from([0.0, 0.0, 10.0])),
        block.thickness + (draw(some.sampled_from([0.0, 0.0, 3.0])) if form != "sheet" else 0.0),
        draw(some.sampled_from([(2400.0, 3000.0), (2400.0, 3000.0), (1200.0,), (), (block.length,)])),
        surface=draw(some.sampled_from(["planed", "planed", "sawn"])),
    )
    handed = draw(some.booleans())
    horns = (Allowance("left", 20.0, "joint-1"),) if draw(some.integers(0, 9)) == 0 else ()
    part = Part(
        f"part-{number}",
        ascii_uppercase[number],
        2 if handed else draw(some.integers(1, 3)),
        stock.name,
        block.length,
        block.width,
        block.thickness,
        features,
        handed,
        allowances=horns,
    )
    return part, stock


def _joints(draw: Draw, parts: list[Part]) -> Iterator[Joint]:
    pieces = [piece for part in parts for piece in part.pieces]
    faces: list[FaceName] = ["left", "right", "bottom", "top"]
    for number in range(1, draw(some.integers(0, 5)) + 1 if len(pieces) > 1 else 1):
        entering, taking = draw(some.lists(some.sampled_from(pieces), min_size=2, max_size=2, unique=True))
        earlier = [f"joint-{other}" for other in range(1, 6) if other != number]
        after = tuple(draw(some.lists(some.sampled_from(earlier), max_size=1)))
        features = [name for part in parts if part.name == taking.part for name in part.features]
        seat = Seat(taking.name, None, draw(some.sampled_from(features))) if features and draw(some.booleans()) else None
        yield Joint(
            f"joint-{number}",
            entering.name,
            Seat(entering.name, draw(some.sampled_from(faces))),
            seat or Seat(taking.name, "inside"),
            (draw(FIXED),),
            after=after,
            assembly=draw(some.sampled_from(["", "", "frame"])),
        )


@some.composite
def jobs(draw: Draw) -> Job:
    made = [draw(_parts(number)) for number in range(draw(some.integers(1, 3)))]
    parts = [part for part, _ in made]
    joints = {joint.name: joint for joint in _joints(draw, parts)}
    joints = {name: replace(joint, after=tuple(set(joint.after) & set(joints))) for name, joint in joints.items()}
    return Job(
        "Random",
        {},
        {stock.name: stock for _, stock in made},
        {part.name: part for part in parts},
        joints,
        hardware={"hinge": Hardware("hinge", "hinge", 2)} if draw(some.booleans()) else {},
        finish=draw(
            some.sampled_from([(), (Finish("danish-oil", 2),), (Finish("danish-oil"), Finish("wax", parts=("part-0",)))])
        ),
        glue=draw(some.sampled_from(["", "pva", "pva"])),
        aim=draw(some.sampled_from(["most-by-students", "least-time", "fewest-set-ups"])),
        decisions=(draw(_decisions()),) if draw(some.integers(0, 7)) == 0 else (),
    )


@some.composite
def _decisions(draw: Draw) -> Decision:
    kind = knowledge().stations[draw(some.sampled_from(sorted(knowledge().stations)))]
    about = draw(some.sampled_from(["part-0/cut-0", "part-0/length", "part-0"]))
    if draw(some.booleans()):
        return Decision(about, "Teacher", "so it is", way=draw(some.sampled_from(sorted(kind.operations))))
    return Decision(about, "Teacher", "so it is", before=draw(some.sampled_from(["part-0/cut-1", "part-1/cut-0", "nothing"])))


@some.composite
def workshops(draw: Draw) -> Workshop:
    """The full workshop with a few things taken away."""
    whole = workshop()
    stations = dict(whole.stations)

    def some_of(things: list[Any], most: int) -> list[Any]:
        return draw(some.lists(some.sampled_from(things), max_size=most, unique=True))

    for name in some_of(sorted(stations), 3):
        del stations[name]
    for name in some_of(sorted(stations), 2):
        stations[name] = replace(stations[name], out_of_service="under repair")
    for name in some_of(sorted(stations), 3):
        stations[name] = replace(stations[name], extraction=False)
    for name in some_of([each.name for each in stations.values() if each.guards], 4):
        stations[name] = replace(stations[name], guards=stations[name].guards[1:])
    for name in some_of([each.name for each in stations.values() if each.holding], 4):
        stations[name] = replace(stations[name], holding=stations[name].holding[1:])
    counted = {name: thing for name, thing in whole.counted.items() if name not in some_of(sorted(whole.counted), 3)}
    adults = whole.adults if draw(some.booleans()) else (Adult("Technician", ("band-saw", "pillar-drill")),)
    temperature = draw(some.sampled_from([None, 5.0, *[19.0] * 6]))
    return replace(whole, stations=stations, adults=adults, counted=counted, temperature=temperature)


@dataclass(frozen=True)
class Outcome:
    """A plan, or the refusal."""

    plan: Plan | None
    refused: Refused | None


def tried(job: Job, shop: Workshop) -> Outcome:
    try:
        return Outcome(make_plan(job, shop, knowledge()), None)
    except Refused as refused:
        return Outcome(None, refused)


@RANDOM
@given(jobs(), workshops())
def test_a_plan_that_keeps_its_promises_or_a_refusal_that_says_what_to_do(job: Job, shop: Workshop) -> None:
    outcome = tried(job, shop)
    if outcome.plan is not None:
        _check_order(job, outcome.plan)
        _check_steps(outcome.plan, shop)
    if outcome.refused is not None:
        errors = [finding for finding in outcome.refused.findings if finding.level == "error"]
        assert errors
        assert all(finding.what and finding.remedy for finding in errors)


@RANDOM
@given(jobs(), some.randoms(use_true_random=False))
def test_equal_input_gives_an_equal_plan_in_whatever_order_the_parts_stand(job: Job, random: Random) -> None:
    plan = tried(job, workshop()).plan
    assert tried(job, workshop()).plan == plan
    names = list(job.parts)
    random.shuffle(names)
    other = tried(replace(job, parts={name: job.parts[name] for name in names}), workshop()).plan
    assert (plan is None) == (other is None)
    if plan is not None and other is not None:
        assert {task.id: task.operation for task in plan.tasks} == {task.id: task.operation for task in other.tasks}


@RANDOM
@given(jobs(), workshops())
def test_every_limit_of_what_is_chosen_holds(job: Job, shop: Workshop) -> None:
    seen = Shop(job=job, workshop=shop, knowledge=knowledge())
    try:
        choice = choose_ways(
            [*part_work(job, knowledge().working), *group_work(job, joint_groups(job), knowledge=knowledge())], seen
        )
    except Refused:
        return
    for name, way in choice.ways.items():
        work, station = choice.works[name], shop.stations[way.station]
        operation = knowledge().stations[way.kind].operations[way.operation]
        for figures in _figures(job, choice, name):
            for limit in (*operation.limits, *operation.applies):
                if limit in operation.limits or limit.of in figures:
                    assert _holds(limit, figures), (name, way.operation, limit)
        assert set(operation.guards.all_of) <= {*station.guards, *(["dust-extraction"] if station.extraction else [])}
        if way.piece is not None and (way.in_the_long or work.kind in ("first-end", "length", "separate", "width", "thickness")):
            blank = choice.blanks[work.part]
            if work.kind not in ("width", "thickness"):
                assert way.piece == blank, name
            else:
                # What brings it to size finds it as it was bought.
                assert (way.piece.length, way.piece.yields, way.piece.strip) == (blank.length, blank.yields, blank.strip), name
                assert way.piece.width >= blank.width - 1e-6, name
                assert way.piece.thickness >= blank.thickness - 1e-6, name


def _figures(job: Job, choice: Choice, name: str) -> list[Figures]:
    """What the limits are held against: the piece on the station, or each piece of work on several."""
    work, way = choice.works[name], choice.ways[name]
    if way.piece is not None:
        return [{**way.figures, **way.piece.figures()}]
    flat = [job.parts[part] for part, _ in work.parts if job.parts[part].section == "rectangular"]
    sizes = [{"blank.length": p.length, "blank.width": p.width, "blank.thickness": p.thickness, "blank.waste": 0.0} for p in flat]
    return [{**way.figures, **size} for size in sizes]


def _holds(limit: Limit, figures: Figures) -> bool:
    have = figures[limit.of]
    for text, kept in (
        (limit.at_least, lambda asked: have >= asked - 1e-6),
        (limit.at_most, lambda asked: have <= asked + 1e-6),
        (limit.more_than, lambda asked: have > asked),
        (limit.less_than, lambda asked: have < asked),
    ):
        if text:
            return bool(kept(parse(text).value(figures)))
    raise AssertionError(limit)


MAKES: dict[FaceName, tuple[str, ...]] = {
    "left": ("first-end",),
    "right": ("length", "separate"),
    "bottom": ("face-edge", "width"),
    "top": ("face-edge", "width"),
    "outside": ("face-side", "thickness"),
    "inside": ("face-side", "thickness"),
}


def _check_order(job: Job, plan: Plan) -> None:
    """Every reason holds; and what makes the faces a cut is measured from is demanded before it, what spoils them after."""
    place = {task.id: number for number, task in enumerate(plan.tasks)}
    assert [reason for reason in plan.reasons if place[reason.before] >= place[reason.after]] == []
    graph = reason_graph([task.id for task in plan.tasks], plan.reasons)
    made = {(task.part, task.kind): task.id for task in plan.tasks}
    for task in plan.tasks:
        feature = job.parts[task.part].features.get(task.feature) if task.part else None
        if feature is None or feature.when == "assembled":
            continue
        for face in feature.measured_from():
            if axis_of(face) == "x" and (task.in_the_long or feature.ends_part()):
                continue
            for kind in MAKES[face]:
                if (task.part, kind) in made:
                    assert chain_between(graph, made[task.part, kind], task.id), (task.id, face, kind)
        for other in plan.tasks:
            cut = job.parts[task.part].features.get(other.feature) if other.part == task.part else None
            # An end that a mitre makes is marked before; what is measured from it is measured from that line.
            if cut is None or cut.when == "assembled" or cut.ends_part() or feature.ends_part():
                continue
            if set(cut.spoils()) & set(feature.measured_from()) and not feature.spoils() and feature.nature in ("bored", "cut"):
                assert chain_between(graph, task.id, other.id), (task.id, other.id)


def _check_steps(plan: Plan, shop: Workshop) -> None:
    known = knowledge()
    tasks = {task.id: task for task in plan.tasks}
    allowed = {kind for adult in shop.adults for kind in adult.authorised}
    done = [name for step in plan.steps if step.kind in ("work", "wait") for name in step.tasks]
    assert sorted(done) == sorted(tasks)
    for step in plan.steps:
        assert step.guard_line, step.id
        assert step.hazards, step.id
        assert step.hazard_line, step.id
        assert not (step.card == "student" and (step.who.operator == "staff" or step.kind in ("set-up", "guards-back"))), step.id
        assert "{" not in " ".join((step.title, *step.instructions, step.stop, step.if_wrong)), step.id
        station = shop.stations[step.station]
        assert not station.out_of_service, step.id
        kind = known.stations[station.kind]
        if kind.power in ("machine", "powered-hand") and step.who.operator != "nobody":
            assert {kind.station, "all"} & allowed, step.id
        operation = kind.operations[tasks[step.tasks[0]].operation]
        fitted = {*station.guards, *(["dust-extraction"] if station.extraction else [])}
        at_hand = {*station.holding, *(thing.kind or name for name, thing in shop.counted.items())}
        if kind.power in ("hand", "bench"):  # what is a jig of the list is made for a hand bench, and stands among the jigs
            made = [known.jigs[line.name] for line in plan.jigs if step.number in line.steps]
            at_hand |= {jig.serves_as for jig in made}
        for asked, there in ((operation.guards, fitted), (operation.holding, at_hand)):
            assert set(asked.all_of) <= there, step.id
            assert not asked.any_of or set(asked.any_of) & there, step.id
        assert {guard.name for guard in step.guards} <= fitted
        assert set(operation.guards.all_of) <= {guard.name for guard in step.guards}


@RANDOM
@given(jobs(), workshops())
def test_ways_shows_every_task_and_what_the_plan_takes(job: Job, shop: Workshop) -> None:
    plan = tried(job, shop).plan
    if plan is None:
        return
    for task in plan.tasks[:6]:
        found = {work.id: (ways, chosen) for work, ways, chosen in ways_of(task.id, job, shop, knowledge())}
        ways, chosen = found[task.id]
        assert chosen in ways
        assert chosen is not None
        assert chosen.operation == task.operation
