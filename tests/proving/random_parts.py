"""Random parts as a school draws them: boards planed and sawn, sticks square and round, sheet; handed and not; with cuts of
every kind, waste left on at an end, and a few simple joints. What the checks of the drawing find wrong is left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import cache
from string import ascii_uppercase
from typing import Any

from hypothesis import strategies as some
from pydantic import TypeAdapter

from sequencer.design.bodies import Body
from sequencer.design.checking import check_design
from sequencer.features import feature_kinds
from sequencer.features.base import Feature
from sequencer.findings import Refused
from sequencer.model.frame import Axis, Block, FaceName, axis_of, opposite
from sequencer.model.job import Allowance, Job, Joint, Part, Seat, Stock
from sequencer.model.marks import Trough
from sequencer.model.plan import Plan
from sequencer.model.shapes import bounds_of
from sequencer.planning.planner import make_plan
from sequencer.solid.dry_fit import dry_fit
from sequencer.solid.parts import feature_solid
from sequencer.solid.solids import joined
from tests.features.legal import KINDS, filled
from tests.made import knowledge, workshop

Draw = some.DrawFn
PARTS = 12
"""Parts drawn at once: many, so that little time goes into drawing."""
NEAR = 3.0
"""Cuts nearer than this leave no wood between them that anything is measured from, mm."""
CUT_UP = 0.18
"""Share of a face that several channels may take."""
OVERLAP = 0.15
"""Share of a cut that others may take: more is one cut drawn twice."""
USUAL = (
    "bevel", "chamfer", "cut-out", "groove", "halving", "hole", "housing", "mitre", "mortise", "notch", "outline", "rebate",
    "round-over", "rounded-corner", "screw-holes", "slot", "taper", "tenon",
)  # fmt: skip
"""Kinds that make sense on a part by themselves, in the sizes of `_usual`."""
WANTED = 9
"""Cuts drawn for a part; those that make no sense together or have no way here are left out."""


def _number(draw: Draw, low: int, high: int) -> float:
    return float(draw(some.integers(low, high)))


def _usual(draw: Draw, kind: str, block: Block) -> dict[str, Any]:
    """A cut of a kind somewhere on a block, in sizes that tools come in."""
    face: FaceName = draw(some.sampled_from(["inside", "outside"]))
    edge: FaceName = draw(some.sampled_from(["bottom", "top"]))
    end: FaceName = draw(some.sampled_from(["left", "right"]))
    third, half = max(2, round(block.thickness / 3)), round(block.thickness / 2)
    along, across = _number(draw, 20, int(block.length) - 60), _number(draw, 8, max(9, int(block.width) - 25))
    spot = {end: along, edge: across}
    if kind == "groove":
        stops = {end: 30} if draw(some.integers(0, 2)) == 0 else {}
        if draw(some.integers(0, 3)) == 0:
            return {"face": edge, "from": face, "distance": third, "width": third, "depth": 8, "stops": stops}
        return {"face": face, "from": edge, "distance": across, "width": draw(_in((6, 6, 9, 12))), "depth": third, "stops": stops}
    if kind == "housing":
        stops = {edge: 10} if draw(some.integers(0, 3)) == 0 else {}
        return {"face": face, "from": end, "distance": along, "width": draw(_in((12, 15, 18))), "depth": third, "stops": stops}
    if kind == "halving":
        distance = draw(_in((0.0, along)))
        return {"face": face, "from": end, "distance": distance, "width": draw(_in((20, 30, 40))), "depth": half}
    if kind == "rebate":
        side = draw(_in((edge, end)))
        return {"edge": f"{face}/{side}", "width": draw(_in((6, 10, 15))), "depth": third}
    if kind == "hole":
        sizes: list[dict[str, Any]] = [
            {"diameter": draw(_in((3, 5, 6, 8, 10, 12, 20)))},
            {"diameter": draw(_in((6, 8, 10))), "depth": half},
            {"diameter": 5, "countersink": 10},
            {"diameter": 5, "counterbore": {"diameter": 12, "depth": third}},
        ]
        return {"face": face, "at": spot} | draw(_in(sizes))
    if kind == "screw-holes":
        row = {"from": end, "first": 30, "last": 30, "count": draw(_in((2, 3)))}
        placed = {"at": {edge: across}, "row": row} if draw(some.booleans()) else {"at": spot}
        return {"face": face, "gauge": draw(_in((6, 8))), "countersunk": draw(some.booleans())} | placed
    if kind == "mortise":
        if draw(some.booleans()):
            return {"face": edge, "at": {end: along}, "length": draw(_in((20, 30))), "width": third, "depth": 20}
        return {"face": face, "at": spot, "length": 30, "width": draw(_in((6, 10, 12)))}
    if kind == "slot":
        return {"face": face, "at": spot, "length": 40, "width": draw(_in((10, 12))), "ends": draw(_in(("round", "square")))}
    if kind == "cut-out":
        return {"at": spot, "length": draw(_in((40, 60))), "width": draw(_in((12, 25))), "radius": draw(_in((0, 6)))}
    if kind == "notch":
        return {
            "edge": edge,
            "from": end,
            "distance": draw(_in((0.0, along))),
            "length": draw(_in((15, 30))),
            "depth": round(block.width / 4),
        }
    if kind == "tenon":
        return {"end": end, "length": draw(_in((15, 20, 30))), "thickness": third, "width": round(block.width * 0.6)}
    if kind == "mitre":
        return {"end": end, "long": draw(_in((face, edge)))}
    if kind == "bevel":
        return {"edge": edge, "low": face, "angle": draw(_in((10, 15, 30)))}
    if kind == "taper":
        return {"edge": edge, "from": end, "start": draw(_in((0, along))), "amount": draw(_in((6, 12)))}
    if kind == "rounded-corner":
        return {"corners": draw(_in(([f"{edge}/{end}"], ["top/left", "top/right"]))), "radius": draw(_in((10, 15)))}
    if kind == "outline":
        points = [{"left": 0, edge: 12}, {"left": along, edge: 0}, {"right": 0, edge: draw(_in((0, 8)))}]
        return {"edge": edge, "points": [{"at": at} for at in points]}
    edges = draw(_in(([f"{face}/{edge}"], [f"{face}/{end}"], [f"{face}/bottom", f"{face}/top"], [face])))
    return {"edges": edges} | ({"size": draw(_in((2, 3, 5)))} if kind == "chamfer" else {"radius": draw(_in((3, 5)))})


def _in(values: Iterable[Any]) -> some.SearchStrategy[Any]:
    return some.sampled_from(list(values))


@cache
def _kind(kind: str) -> TypeAdapter[Feature]:
    return TypeAdapter(feature_kinds()[kind])


def _feature(draw: Draw, name: str, block: Block, handed: bool) -> Feature:
    kind = draw(some.sampled_from(USUAL))
    odd = draw(some.integers(0, 7)) == 0 and kind != "tenon"
    drawn = _kind(kind).validate_python(filled(KINDS[kind](draw, block) if odd else _usual(draw, kind, block)))
    only = draw(some.sampled_from([None, None, None, "left", "right"])) if handed and not drawn.ends_part() else None
    return replace(drawn, name=name, only=only)


@some.composite
def parts(draw: Draw, number: int) -> tuple[Part, Stock]:
    """A part and the stock it is cut from."""
    form = draw(some.sampled_from(["board", "board", "board", "board", "sheet", "sheet", "square", "square", "round"]))
    length, width, thickness = _number(draw, 150, 550), _number(draw, 40, 140), draw(_in((12.0, 15.0, 18.0, 22.0)))
    if form in ("square", "round"):
        width = thickness = draw(_in((20.0, 30.0, 45.0)))
    block = Block(length, width, thickness)
    surface = draw(some.sampled_from(["planed", "planed", "sawn"])) if form == "board" else "planed"
    over = 5.0 if surface == "sawn" else 0.0
    stock = Stock(
        f"stock-{number}",
        draw(some.sampled_from(["radiata pine", "beech"])) if form != "sheet" else "birch plywood",
        form,
        {"sheet": 610.0, "round": 0.0}.get(form, width + draw(_in((0.0, 0.0, 15.0))) + over),
        thickness + (draw(_in((0.0, 0.0, 3.0))) + over if form == "board" else 0.0),
        draw(_in(((1220.0,), (2400.0, 3000.0)))) if form == "sheet" else (2400.0, 3000.0),
        surface=surface,
        hardness="sheet" if form == "sheet" else "softwood",
    )
    handed = draw(some.booleans())
    names = [f"cut-{place}" for place in range(1 if form == "round" else WANTED)]
    return (
        Part(
            f"part-{number}",
            ascii_uppercase[number],
            2 if handed else draw(some.integers(1, 3)),
            stock.name,
            length,
            width,
            thickness,
            {name: _feature(draw, name, block, handed) for name in names} if form != "round" else {},
            handed,
            section="round" if form == "round" else "rectangular",
            face_side=draw(some.sampled_from(["inside", "inside", "outside"])),
            face_edge=draw(some.sampled_from(["bottom", "bottom", "top"])),
        ),
        stock,
    )


@some.composite
def jobs(draw: Draw) -> Job:
    """A job of many such parts; the first two of some are joined, with waste left on one of them until that is done."""
    made = [draw(parts(number)) for number in range(PARTS)]
    job = Job(
        "Random",
        {},
        {stock.name: stock for _, stock in made},
        {part.name: part for part, _ in made},
        {},
        glue="pva",
        aim=draw(some.sampled_from(["most-by-students", "least-time", "fewest-set-ups"])),
    )
    job = legal(replace(job, parts={part.name: _sensible(part) for part in job.parts.values()}))
    if draw(some.booleans()):
        with_joint = legal(_joined(draw, job))
        job = with_joint if not any(finding.level == "error" for finding in dry_fit(with_joint, knowledge())) else job
    return job


def _joined(draw: Draw, job: Job) -> Job:
    """Two parts butted together. The end that is joined is square, and nothing is left on where they meet."""
    flat = [part for part in job.parts.values() if part.section == "rectangular"]
    if len(flat) < 2:
        return job
    entering, taking = flat[:2]
    end: FaceName = draw(some.sampled_from(["left", "right"]))
    on = draw(some.sampled_from([entering, taking]))
    left_on = (Allowance(opposite(end), 15.0, "butt"),) if not any(each.ends_part() for each in on.features.values()) else ()
    meets: FaceName = end if on is entering else "inside"
    late = {
        name: replace(feature, when="assembled")
        for name, feature in on.features.items()
        if feature.nature == "edge" and meets not in feature.opens()
    }
    shaped = {
        name: replace(feature, when="assembled")
        for name, feature in on.features.items()
        if any(each.face in feature.spoils() for each in left_on)
    }
    features = {**on.features, **late} if draw(some.booleans()) else on.features
    on = replace(on, allowances=left_on, features={**features, **shaped})
    joint = Joint(
        "butt",
        entering.pieces[0].name,
        Seat(entering.pieces[0].name, end),
        Seat(taking.pieces[0].name, "inside"),
        (draw(some.sampled_from(["glue", "glue", "nails", "dry"])),),
        at=(("left", round(taking.length / 3)),),
        flush=(("bottom", "bottom"),),
    )
    return replace(job, parts={**job.parts, on.name: on}, joints={"butt": joint})


def _sensible(part: Part) -> Part:
    """The part without cuts that leave another nothing to be measured from or held by, or that take what others take."""
    bodies = [Body(piece, part) for piece in part.pieces[:2]]
    kept: dict[str, Feature] = {}
    for name, feature in part.features.items():
        if feature.kind == "notch" and feature.opens()[1:2] not in (("inside",), ("outside",)):
            continue  # a rebate or a halving by another name
        if _cut_up(part, [*kept.values(), feature]):
            continue
        apart = not any(_spoilt(feature, other) or _run_together(feature, other, part.block) for other in kept.values())
        if apart and all(_enough_of_each(body, [*kept.values(), feature]) for body in bodies):
            kept[name] = feature
    return replace(part, features=kept)


def _cut_up(part: Part, features: list[Feature]) -> bool:
    """Whether several channels take so much of a face that nothing runs along it any more."""
    widths: dict[tuple[FaceName, Axis], list[float]] = {}
    for feature in features:
        marks = feature.marks(part.block)
        if isinstance(marks, Trough):
            across = axis_of(marks.beside)
            widths.setdefault((marks.face, across), []).append(marks.width / part.block.size(across))
    return any(len(shares) > 1 and sum(shares) > CUT_UP for shares in widths.values())


def _spoilt(one: Feature, other: Feature) -> bool:
    """Whether a shape takes away what another shape or broken edge rests on or follows: a part has one shape, or two mitred
    ends. Square cuts are made before it."""
    natures = {one.nature, other.nature}
    mitred = bool(one.ends_part() and other.ends_part()) and one.ends_part() != other.ends_part()
    return "shape" in natures and natures <= {"shape", "edge"} and not mitred


def _run_together(one: Feature, other: Feature, block: Block) -> bool:
    """Whether an opening or a notch is cut where another cut has taken away what it is measured from."""
    kinds, natures = {one.kind, other.kind}, {one.nature, other.nature}
    if not natures <= {"cut", "bored"} or not kinds & {"mortise", "slot", "cut-out", "notch"}:
        return False
    first, second = (bounds_of(each.removes(block)) for each in (one, other))
    return all(first.low[i] < second.high[i] + NEAR and second.low[i] < first.high[i] + NEAR for i in range(3))


def _enough_of_each(body: Body, features: list[Feature]) -> bool:
    own = [each for each in features if each.only in (None, body.piece.hand)]
    solids = [joined(feature_solid(body, each)) for each in own]
    for number, solid in enumerate(solids):
        rest = joined(other for place, other in enumerate(solids) if place != number)
        if (solid & rest).volume > OVERLAP * solid.volume:
            return False
    return True


def legal(job: Job) -> Job:
    """The job without the cuts that the checks of its drawing find wrong, taken out until nothing is."""
    while True:
        wrong = {
            finding.subject
            for finding in check_design(job, knowledge())
            if finding.level == "error" or finding.code in ("cuts-meet", "cuts-near")
        }
        if not wrong:
            return job
        smaller = without(job, wrong)
        if smaller == job:
            return replace(job, joints={}, parts={name: _loose(part) for name, part in job.parts.items()})
        job = smaller


def _loose(part: Part) -> Part:
    """The part as it is if it is in no joint."""
    features = {name: replace(feature, when="loose") for name, feature in part.features.items()}
    return replace(part, allowances=(), features=features)


def without(job: Job, subjects: Iterable[str]) -> Job:
    """The job without cuts (`part/cut`), or, of a part that is itself named, the last cut."""
    named = set(subjects)
    kept: dict[str, Part] = {}
    for part in job.parts.values():
        features = {name: each for name, each in part.features.items() if f"{part.name}/{name}" not in named}
        if part.name in named and features:
            features.popitem()
        kept[part.name] = replace(part, features=features)
    return replace(job, parts=kept)


def planned(job: Job, shop: str) -> tuple[Plan, Job]:
    """The plan of a job, and the job without what the workshop has no way for, or what has no order."""
    while True:
        try:
            return make_plan(job, workshop(shop), knowledge()), job
        except Refused as refused:
            errors = [finding for finding in refused.findings if finding.level == "error"]
            assert {finding.code for finding in errors} <= {"no-way", "circle"}, [str(finding) for finding in errors]
            job = _possible(job, {finding.subject for finding in errors})


def _possible(job: Job, tasks: set[str]) -> Job:
    """The job without the cuts of these tasks, and without the parts whose stock cannot be brought to size."""
    cuts = {task.rpartition("/")[0] for task in tasks}
    fewer = without(job, cuts)
    gone = {
        name
        for name in job.parts
        if any(cut.startswith(f"{name}/") and cut.split("/")[1] not in job.parts[name].features for cut in cuts)
    }
    keep: Mapping[str, Part] = {name: part for name, part in fewer.parts.items() if name not in gone}
    joints = {
        name: joint
        for name, joint in fewer.joints.items()
        if not {job.part_of(piece).name for piece in (joint.enters_piece, joint.seat.piece)} & gone
    }
    if joints != fewer.joints:
        keep = {name: _loose(part) for name, part in keep.items()}
    assert fewer != job or gone, tasks
    return replace(fewer, parts=dict(keep), joints=joints)
