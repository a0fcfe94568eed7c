"""From the drawing to the work it asks for: one `Work` for every act on every feature of every part, before anyone has
decided how it is done.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from math import ceil

from sequencer.design.fixing import pinned_in_rebate
from sequencer.design.marked_together import marked_together
from sequencer.design.placement import Placement
from sequencer.features.arris import Arris, run_of
from sequencer.features.base import Feature
from sequencer.features.mitre import Mitre
from sequencer.features.profiled import Profiled
from sequencer.features.tongue import Tongue
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.working import Working
from sequencer.model.frame import AXES, FaceName, axis_of
from sequencer.model.job import Job, Joint, Part, Stock
from sequencer.model.quantities import Figures
from sequencer.model.shapes import bounds_of
from sequencer.model.work import WORK_KINDS
from sequencer.planning.cleaned_sizes import SMALLEST, smallest_part, smallest_thing
from sequencer.planning.fastening import fastener_figures, metal_in
from sequencer.planning.groups import DRY, Group, after_finish, fixing_of, laid_in
from sequencer.planning.joined_names import WHOLE, names_of_groups, what_is_joined
from sequencer.planning.loose import MADE, LoosePieces, wedges_in_end
from sequencer.planning.offsets import placed_by_size
from sequencer.planning.packing import packing_figures
from sequencer.planning.pressing import is_lap, mitred, presses
from sequencer.planning.squareness import square_figures
from sequencer.planning.start_holes import start_hole
from sequencer.planning.tried_dry import has_trial

CLOSE = 0.05
"""Sizes closer than this are the same size, mm: well under what a class can work to."""

WITH_WEDGES = "Trim end and wedges flush"
_VERBS = {"bored": "Bore", "cut": "Cut", "shape": "Shape", "edge": "Work"}

RANKS = {kind: rank for rank, kind in enumerate(WORK_KINDS)}
FEATURE_RANK = RANKS["mark-out"] + 0.5


@dataclass(frozen=True)
class Work:
    """One act to be done, whoever does it with whatever.

    id
        The stable task name: part, feature and act; or group and act for work on several parts.
    figures
        What is known of it, by name from `model.quantities`, without the station's figures.
    parts
        The parts it concerns and how many pieces of each, for one finished thing.
    rank
        Its usual place in a workshop's day, to break ties only.
    """

    id: str
    kind: str
    act: str
    title: str
    parts: tuple[tuple[str, int], ...]
    figures: Figures
    rank: float
    part: str = ""
    feature: str = ""
    drawn: Feature | None = None
    lengthwise: bool = False
    joints: tuple[str, ...] = ()
    folded: tuple[str, ...] = ()
    """Sub-assemblies of the drawing that are joined in this with others, and have no work called after them."""
    times: int = 1
    """How often it is done for one thing: alike sub-assemblies, screws."""
    start: Work | None = None
    """The hole in its waste that a threaded blade asks for; work of its own where the way chosen does."""

    def is_meant_by(self, name: str) -> bool:
        """Whether a name of a decision or question means this: the task itself, its part/feature, part, group or joint."""
        return self.id == name or self.id.startswith(f"{name}/") or name in self.joints or name in self.folded

    @property
    def quantity(self) -> int:
        """Pieces for one finished thing."""
        return sum(count for _, count in self.parts)


def words(name: str) -> str:
    """A name of the job file as words: `floor-groove` reads `floor groove`."""
    return name.replace("-", " ").replace("_", " ")


def _part_figures(part: Part, stock: Stock) -> dict[str, float]:
    return {
        "part.length": part.length,
        "part.width": part.width,
        "part.thickness": part.thickness,
        "part.round": float(part.section == "round"),
        "part.sheet": float(stock.form == "sheet"),
        "part.off-stick": 1.0,
        "part.others": float(part.count - 1),
        "part.pairs": float(part.count // 2 if part.handed else 0),
        "part.numbered": float(alike if (alike := part.count // (2 if part.handed else 1)) > 1 else 0),
    }


def stock_kinds(part: Part, stock: Stock) -> tuple[str, ...]:
    """What it takes to bring the stock to the part's square block, in the order of the trade.

    Planed boards and sheets come with true faces and edges: only what differs from the bought section is worked. Parts whose two
    ends are made by a feature (mitres) are cut apart by `separate` and get no square ends.
    """
    if stock.form == "bought":
        return ()
    kinds = ["rough-length"]
    if stock.form == "board" and stock.surface == "sawn":
        kinds += ["face-side", "face-edge", "thickness", "width"]
    elif stock.form in ("board", "square"):
        thinner = stock.thickness - part.worked.thickness > CLOSE
        narrower = not stock.width or stock.width - part.worked.width > CLOSE
        kinds += ["face-marks"] + ["thickness"] * thinner + ["width"] * narrower
    elif stock.form == "sheet":
        kinds += ["face-marks", "width"]
    ends = {end for feature in part.features.values() for end in feature.ends_part()}
    kinds += [kind for kind, end in (("first-end", "left"), ("length", "right")) if end not in ends]
    return tuple(kinds)


def part_work(job: Job, working: Working) -> list[Work]:
    """Stock preparation, marking out and features of every part, in the order of the file."""
    found: list[Work] = []
    beside = marked_together(job)
    for part in job.parts.values():
        figures = _part_figures(part, job.stock[part.stock])
        size = part.worked
        worked = figures | {"part.length": size.length, "part.width": size.width, "part.thickness": size.thickness}
        pieces = ((part.name, part.count),)
        for kind in stock_kinds(part, job.stock[part.stock]):
            about = WORK_KINDS[kind]
            title = f"{about.title}: {words(part.name)}"
            found.append(
                Work(f"{part.name}/{kind}/{about.act}", kind, about.act, title, pieces, worked, RANKS[kind], part.name, kind)
            )
        if part.features:
            about = WORK_KINDS["mark-out"]
            title = f"{about.title}: {words(part.name)}"
            with_it = beside[part.name].parts if part.name in beside else (part.name,)
            others = {"part.others": float(sum(job.parts[name].count for name in with_it) - 1)}
            found.append(
                Work(
                    f"{part.name}/mark-out/{about.act}",
                    "mark-out",
                    about.act,
                    title,
                    pieces,
                    figures | others,
                    RANKS["mark-out"],
                    part.name,
                    "mark-out",
                )
            )
        for feature in part.features.values():
            found.append(_feature_work(part, feature, figures, working))
        for allowance in part.allowances:
            about = WORK_KINDS["trim"]
            doing = WITH_WEDGES if wedges_in_end(job, part, allowance) else about.title
            found.append(
                Work(
                    f"{part.name}/{allowance.face}-allowance/{about.act}",
                    "trim",
                    about.act,
                    f"{doing}: {_called(part, allowance.face)} of the {words(part.name)}",
                    pieces,
                    figures | {"feature.depth": allowance.amount},
                    RANKS["trim"],
                    part.name,
                    f"{allowance.face}-allowance",
                )
            )
    return found


def _called(part: Part, face: FaceName) -> str:
    """A face by the part's own name for it."""
    return words(next((name for name, own in part.names.items() if own == face), face))


def _feature_work(part: Part, feature: Feature, figures: Figures, working: Working) -> Work:
    quantity = part.count if feature.only is None else part.count // 2
    name = words(feature.name)
    verb = "Cut" if feature.ends_part() else _VERBS[feature.nature]
    title = f"{verb} the {name}: {words(part.name)}"
    late = 0.2 if feature.nature == "shape" else 0.3 if feature.nature == "edge" else 0.0
    rank = FEATURE_RANK + late if feature.when == "loose" else RANKS["cure"] + 0.5
    hole = start_hole(feature, part.block, working)
    return Work(
        f"{part.name}/{feature.name}/cut",
        feature.kind,
        "cut",
        title,
        ((part.name, quantity),),
        dict(figures)
        | feature.figures(part.block)
        | {"feature.along-grain": _along_grain(part, feature), "feature.end-grain": _end_grain(part, feature)}
        | (packing_figures(part, feature) if isinstance(feature, Mitre) else {}),
        rank,
        part.name,
        feature.name,
        feature,
        feature.lengthwise(part.block),
        start=None if hole is None else _feature_work(part, hole, figures, working),
    )


def _along_grain(part: Part, feature: Feature) -> float:
    """1 if the cut's longest extent over the face it enters lies along the grain."""
    around = bounds_of(feature.removes(part.block))
    over = [axis for axis in AXES if axis not in {axis_of(face) for face in feature.opens()[:1]}]
    return float(max(over, key=around.size) == part.grain)


def _end_grain(part: Part, feature: Feature) -> float:
    """1 if any of its cuts lies across the grain; of edges taken off together, one such edge is enough."""
    if isinstance(feature, Arris | Profiled):
        return float(any(run_of(edge) != part.grain for edge in feature.cut_edges()))
    return 1.0 - _along_grain(part, feature)


def group_work(
    job: Job,
    groups: tuple[Group, ...],
    self_heating: Collection[str] = (),
    knowledge: Knowledge | None = None,
) -> list[Work]:
    """Joining, cleaning up and finishing of the whole thing, group by group. `self_heating` names the finishes whose rags
    can catch fire by themselves; `knowledge` says how long nails and screws are, how thick biscuits, and what one cramp
    presses: without it none of this is known.
    """
    found: list[Work] = []
    folded = {group.name: group.folded for group in groups}

    def add(
        group: str,
        kind: str,
        parts: tuple[tuple[str, int], ...],
        figures: Figures,
        *,
        name: str = "",
        later: float = 0,
        joints: tuple[str, ...] = (),
        doing: str = "",
        called: str = "",
        times: int = 1,
    ) -> None:
        about = WORK_KINDS[kind]
        title = f"{doing or about.title}: {called or 'the whole'}"
        task = f"{group}/{name or kind}/{about.act}"
        rank = RANKS[kind] + later
        also = folded.get(group, ()) if joints else ()
        found.append(
            Work(task, kind, about.act, title, parts, figures, rank, "", name or kind, joints=joints, folded=also, times=times)
        )

    cleaned: set[str] = set()
    rules = knowledge.fasteners if knowledge is not None else {}
    working = knowledge.working if knowledge is not None else None
    sawn_with_ends = {
        name for part in job.parts.values() for allowance in part.allowances for name in wedges_in_end(job, part, allowance)
    }
    loose = LoosePieces(job, knowledge.bench.biscuit_thickness if knowledge is not None else 0.0)
    names = names_of_groups(job, groups)
    for place, group in enumerate(groups):
        called = names[group.name]
        parts = _counted(job, group.pieces)
        joints = tuple(joint.name for joint in group.joints)
        figures = {
            "joint.count": len(group.joints) / group.times,
            **_cramp_figures(job, group, loose.placement, working),
            "joint.alike": float(group.times),
            "joint.placed": float(placed_by_size(job, group.joints)),
            "joint.laid-in": float(len(group.joints) if all(laid_in(job, joint) for joint in group.joints) else 0),
            "joint.glued": sum(1.0 for joint in group.joints if fixing_of(joint) == "glue"),
            "joint.captured": float(len(group.captured)),
            "joint.moving": sum(1.0 for joint in group.joints if joint.fit in ("sliding", "loose-pivot")),
            "joint.nailed": sum(1.0 for joint in group.joints if "nails" in joint.fixed),
            "joint.nailed-mitres": sum(1.0 for joint in group.joints if "nails" in joint.fixed and mitred(job, joint)),
            "joint.rebated": sum(1.0 for joint in group.joints if pinned_in_rebate(job, joint)),
            **(square_figures(job, group, loose.placement, working, groups[:place]) if working is not None else {}),
            **(fastener_figures(job, group, loose.placement, rules, working) if working is not None and metal_in(group) else {}),
        }
        those_in = list(loose.of(group))
        figures["joint.dowelled"] = float(sum(each.count for each in those_in if each.kind == "dowel"))
        figures["joint.wedged"] = float(sum(len(each.joints) for each in those_in if each.kind == "wedge"))
        if working is not None:
            alone = figures["joint.cramps"] <= working.alone_cramps and figures["joint.count"] <= working.alone_joints
            figures["joint.partner"] = float(not alone)
        later = place * 0.01
        if has_trial(job, group, groups):
            add(group.name, "dry-fit", parts, figures, later=later, joints=joints, times=group.times, called=called)
        if group.fixing not in DRY:
            inner = () if job.rough_inside else group.pieces
            dirty = [piece for piece in inner if piece not in cleaned and _has_inside(job, job.part_of(piece))]
            cleaned |= set(dirty)
            if dirty:
                inside = _counted(job, tuple(dirty))
                about = figures | {SMALLEST: smallest_part(job, [name for name, _ in inside])} | _round_among(job, inside)
                add(group.name, "clean-inside", inside, about, later=later, joints=joints, times=group.times, called=called)
        for kind in (group.fixing, *group.also):
            times = {"screw": _fasteners(job, group), "nail": _fasteners(job, group), "key": len(joints)}.get(kind, group.times)
            doing = "Pin into the rebate" if kind == "nail" and figures["joint.rebated"] else ""
            add(group.name, kind, parts, figures, later=later, joints=joints, times=times, doing=doing, called=called)
        if group.fixing == "glue":
            add(group.name, "cure", parts, figures, later=later, joints=joints, called=called)
        for number, those in enumerate(those_in, 1):
            # Of a second size the work has a name of its own.
            more = f"-{number}" if number > 1 else ""
            about = figures | those.figures
            if those.kind == "wedge" and working is not None:
                about["joint.loose-offcut"] = working.wedge_offcut
            those_called = (
                called if set(those.joints) == set(joints) else what_is_joined(job, [job.joints[name] for name in those.joints])
            )
            stand_out = tuple(name for name in those.joints if name not in sawn_with_ends)
            # What comes off with the end it stands in is not sawn off by itself.
            entering = tuple(dict.fromkeys(job.joints[name].enters_piece for name in those.joints))
            flushed = those.kind == "wedge" and bool(stand_out)
            for kind, times, of in (
                *([(MADE[those.kind], those.count, those.joints)] if those.kind in MADE and not those.bought else []),
                (those.kind, those.pairs, those.joints),
                *([("flush", ceil(those.pairs * len(stand_out) / len(those.joints)), stand_out)] if flushed else []),
            ):
                # Dowels are set into what enters by them.
                own = _counted(job, entering) if kind == "dowel" else parts
                add(group.name, kind, own, about, name=f"{kind}{more}", later=later, joints=of, times=times, called=those_called)
    late = {job.part_of(joint.enters_piece).name for group in groups if after_finish(job, group) for joint in group.joints}
    everything = tuple((part.name, part.count) for part in job.parts.values() if _made(job, part))
    outside = tuple((name, count) for name, count in everything if name not in late)
    if outside:
        metal = sum(1 for joint in job.joints.values() if {"screws", "nails"} & set(joint.fixed))
        smallest = smallest_thing(job, {name for name, _ in outside})
        add(WHOLE, "clean-up", outside, {"joint.metal": float(metal), SMALLEST: smallest, **_round_among(job, outside)})
    for number, finish in enumerate(job.finish, 1):
        parts = tuple((name, job.parts[name].count) for name in finish.parts) or everything
        for coat in range(1, finish.coats + 1):
            label = f"finish-{number}-coat-{coat}" if len(job.finish) > 1 else f"coat-{coat}"
            # A finish put on before gluing ranks with cleaning the inside; reasons hold it there.
            doing = f"Put on {words(finish.what)}, coat {coat}"
            add(WHOLE, "coat", parts, {}, name=label, later=coat * 0.1, doing=doing)
            if finish.what in self_heating:
                add(WHOLE, "rags", parts, {}, name=label, later=coat * 0.1 - 0.97)
            add(WHOLE, "dry", parts, {}, name=label, later=coat * 0.1 - 0.95)
    for thing in job.hardware.values():
        if not any(joint.hardware == thing.name for joint in job.joints.values()):
            add(WHOLE, "hardware", everything, {}, name=thing.name, doing=f"Fix the {words(thing.name)}")
    return found


def _counted(job: Job, pieces: tuple[str, ...]) -> tuple[tuple[str, int], ...]:
    counts: dict[str, int] = {}
    for piece in pieces:
        name = job.part_of(piece).name
        counts[name] = counts.get(name, 0) + 1
    return tuple(counts.items())


def _has_inside(job: Job, part: Part) -> bool:
    """Whether a part has inside faces to clean: a rod and a bought-in piece have none."""
    return _made(job, part) and part.section != "round"


def _round_among(job: Job, parts: tuple[tuple[str, int], ...]) -> dict[str, float]:
    """Whether any of some parts is round, from the start or by what is worked on it."""
    worked = (job.parts[name] for name, _ in parts)
    found = any(part.section == "round" or "round" in (each.shape_left for each in part.features.values()) for part in worked)
    return {"part.round": float(found)}


def _made(job: Job, part: Part) -> bool:
    """Whether a part is worked at all: bought-in pieces are not."""
    return job.stock[part.stock].form != "bought"


def _fasteners(job: Job, group: Group) -> int:
    """Screws or nails of a group, at least one a joint."""
    joints = [joint.name for joint in group.joints]
    return max(len(joints), sum(hardware_of(job, joints).values()))


def hardware_of(job: Job, joints: Collection[str]) -> dict[str, int]:
    """How many of each bought-in thing joints take: what joints elsewhere use too is shared out alike over all of them."""
    found: dict[str, int] = {}
    for name, thing in job.hardware.items():
        users = [joint.name for joint in job.joints.values() if joint.hardware == name]
        own = [joint for joint in users if joint in joints]
        if own:
            found[name] = round(thing.count * len(own) / len(users))
    return found


def _cramp_figures(job: Job, group: Group, placement: Placement, working: Working | None) -> Figures:
    """Cramps for one glue-up, of all that are glued alike in it, and how far they open, mm; mitres among the joints of one of
    these, which take a cramp each.
    A joint whose pieces have no place is taken to need one."""
    glued = [joint for joint in group.joints if fixing_of(joint) == "glue" and _cramped(job, joint)]
    if working is None:
        return {"joint.reach": _reach(job, glued), "joint.cramps": float(len(glued)), "joint.mitred": 0.0}
    mitres = [joint for joint in glued if mitred(job, joint)]
    unplaced = [joint for joint in glued if joint not in mitres and placement.bearing(joint.name) is None]
    found = list(presses(job, group.joints, placement, working))
    openings = [press.opening for press in found]
    corners = [piece for joint in mitres for piece in (joint.enters_piece, joint.seat.piece) if piece in placement.poses]
    for axis in AXES if corners else ():
        spans = [placement.span(piece, axis) for piece in corners]
        openings.append(max(high for _, high in spans) - min(low for low, _ in spans))
    return {
        "joint.reach": max((*openings, _reach(job, unplaced) + 2 * working.jaw_block if unplaced else 0.0), default=0.0),
        "joint.block": working.jaw_block,
        "joint.cramps": float(sum(press.number for press in found) + len(unplaced) + len(mitres)),
        "joint.mitred": len(mitres) / group.times,
    }


def _cramped(job: Job, joint: Joint) -> bool:
    """Whether anything is drawn up at a joint: a rod is only pushed in."""
    return job.part_of(joint.enters_piece).section != "round"


def _reach(job: Job, joints: Sequence[Joint]) -> float:
    """Longest cramp needed, mm: a glued piece is cramped over its own size in the direction it enters, plus the thickness
    of the pieces on both sides; the longest of these."""
    longest = 0.0
    for joint in joints:
        part = job.part_of(joint.enters_piece)
        if is_lap(joint):
            own = part.features[joint.its.feature]
            along = axis_of(own.opens()[0])
            # Cramped over both pieces where they cross: the entering one is let in by the depth of its own lap.
            inside = own.figures(part.block).get("feature.depth", 0.0)
            longest = max(longest, part.block.size(along) - inside + _beyond(job, joint))
            continue
        tongue = part.features.get(joint.its.feature)
        along = axis_of(joint.its.face or (tongue.edge if isinstance(tongue, Tongue) else "left"))
        longest = max(longest, part.block.size(along) + 2 * _beyond(job, joint))
    return longest


def _beyond(job: Job, joint: Joint) -> float:
    """How much of the taking piece lies beyond the entering one in the direction it enters, mm."""
    taking = job.part_of(joint.seat.piece)
    if joint.seat.face:
        return taking.block.size(axis_of(joint.seat.face))
    feature = taking.features[joint.seat.feature]
    if feature.kind == "bridle":
        return taking.block.size(axis_of(feature.opens()[1]))
    return taking.block.size(axis_of(feature.opens()[0])) - feature.figures(taking.block).get("feature.depth", 0.0)


def finish_index(work: Work) -> int:
    """Which finish of the job a coat or its drying belongs to, from its name `finish-2-coat-1`; 0 if there is one."""
    head = work.feature.partition("-coat-")[0]
    return int(head.removeprefix("finish-")) - 1 if head.startswith("finish-") else 0
