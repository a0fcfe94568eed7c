"""From the drawing to the work it asks for: one `Work` for every act on every feature of every part, before anyone has
decided how it is done. What is done on parts together is in `group_work.py`.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from sequencer.design.marked_together import marked_together
from sequencer.features.arris import Arris, run_of
from sequencer.features.base import Feature
from sequencer.features.mitre import Mitre
from sequencer.features.profiled import Profiled
from sequencer.features.spline_slot import SplineSlot
from sequencer.knowledge.working import Working
from sequencer.model.frame import AXES, FaceName, axis_of
from sequencer.model.job import Job, Part, Stock
from sequencer.model.quantities import Figures
from sequencer.model.shapes import bounds_of
from sequencer.model.work import WORK_KINDS
from sequencer.planning.loose import wedges_in_end
from sequencer.planning.packing import packing_figures
from sequencer.planning.start_holes import start_hole

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
    """Other names it is meant by: sub-assemblies of the drawing that are joined in this with others and have no work called after
    them, slots that are sawn in it, the hardware it fixes."""
    times: int = 1
    """How often it is done for one thing: alike sub-assemblies, screws."""
    start: Work | None = None
    """The hole in its waste that a threaded blade asks for; work of its own where the way chosen does."""

    def is_meant_by(self, name: str) -> bool:
        """Whether a name of a decision or question means this: the task itself, its part/feature, part, group, joint or
        hardware."""
        return self.id == name or self.id.startswith(f"{name}/") or name in self.joints or name in self.folded

    @property
    def quantity(self) -> int:
        """Pieces for one finished thing."""
        return sum(count for _, count in self.parts)


def words(name: str) -> str:
    """A name of the job file as words: `floor-groove` reads `floor groove`."""
    return name.replace("-", " ").replace("_", " ")


def part_figures(part: Part, stock: Stock) -> dict[str, float]:
    first = part.handed and "first-end" in stock_kinds(part, stock)
    return {
        "part.pair-ends": float(first),
        "part.plain-ends": float(not first),
        "part.length": part.length,
        "part.width": part.width,
        "part.thickness": part.thickness,
        "part.round": float(part.section == "round"),
        "part.sheet": float(stock.form == "sheet"),
        "part.off-stick": 1.0,
        "part.off-strip": 1.0,
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
        figures = part_figures(part, job.stock[part.stock])
        size = part.worked
        worked = figures | {"part.length": size.length, "part.width": size.width, "part.thickness": size.thickness}
        pieces = ((part.name, part.count),)
        for kind in stock_kinds(part, job.stock[part.stock]):
            about = WORK_KINDS[kind]
            title = f"{about.title}: {words(part.name)}"
            found.append(
                Work(f"{part.name}/{kind}/{about.act}", kind, about.act, title, pieces, worked, RANKS[kind], part.name, kind)
            )
        if any(not isinstance(feature, SplineSlot) for feature in part.features.values()):
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
            if isinstance(feature, SplineSlot):
                # Sawn across what is joined: work of the group.
                continue
            found.append(_feature_work(part, feature, figures | _taken(job, part, feature.name), working))
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
                    figures
                    | {
                        "feature.depth": allowance.amount,
                        "feature.sawn-off": float(allowance.amount > working.sawn_over),
                    },
                    RANKS["trim"],
                    part.name,
                    f"{allowance.face}-allowance",
                )
            )
    return found


def _taken(job: Job, part: Part, feature: str) -> dict[str, float]:
    """Whether another piece goes into a feature, or it into another: of all that a joint names."""
    seats = (seat for joint in job.joints.values() for seat in (joint.seat, joint.its))
    used = any(seat.feature == feature and job.part_of(seat.piece) is part for seat in seats)
    return {"feature.joined": float(used), "feature.alone": float(not used)}


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


def hardware_of(job: Job, joints: Collection[str]) -> dict[str, int]:
    """How many of each bought-in thing joints take: what joints elsewhere use too is shared out alike over all of them."""
    found: dict[str, int] = {}
    for name, thing in job.hardware.items():
        users = [joint.name for joint in job.joints.values() if joint.hardware == name]
        own = [joint for joint in users if joint in joints]
        if own:
            found[name] = round(thing.count * len(own) / len(users))
    return found


def finish_index(work: Work) -> int:
    """Which finish of the job a coat or its drying belongs to, from its name `finish-2-coat-1`; 0 if there is one."""
    head = work.feature.partition("-coat-")[0]
    return int(head.removeprefix("finish-")) - 1 if head.startswith("finish-") else 0
