"""Runs of tasks that share a set-up: each is printed as one step."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from sequencer.design.placing import place
from sequencer.features.base import mm
from sequencer.knowledge.forms.operations import Operation
from sequencer.knowledge.forms.stations import StationKind
from sequencer.model.plan import Task
from sequencer.model.quantities import QUANTITIES
from sequencer.planning.blanks import Workpiece
from sequencer.planning.bringing import Told
from sequencer.planning.choice import Choice
from sequencer.planning.shop import Shop, as_it_stands
from sequencer.planning.squareness import across_pieces
from sequencer.planning.strips import cuts_apart
from sequencer.planning.ways import Way
from sequencer.planning.work import Work
from sequencer.planning.work_words import face_words
from sequencer.reading.words import listed


@dataclass(frozen=True)
class Run:
    """Tasks done one after the other with one set-up.

    values
        What stands for the {figures} of the operation's sentences.
    together
        How its pieces come together, one action a line.
    """

    tasks: tuple[Task, ...]
    works: tuple[Work, ...]
    ways: tuple[Way, ...]
    kind: StationKind
    operation: Operation
    values: Mapping[str, str]
    blanks: Mapping[str, Workpiece]
    together: tuple[Told, ...]
    whole: bool = False
    """Whether it is work on a long piece that is cut apart by a later run."""
    squared: bool = False
    """Whether an earlier run has squared the first end of its long piece."""
    numbered_later: frozenset[str] = frozenset()
    """Parts that get their letters and numbers when they are marked out in their strip, or cut off it."""
    numbered_here: bool = False
    """Whether parts get them in this run, as they are cut off their strip."""

    @property
    def way(self) -> Way:
        """The first way; the others differ in the piece only."""
        return self.ways[0]


def on_a_whole_stick(run: Run, apart: Collection[str]) -> bool:
    """Whether all that is done is done to one long piece, or marked on it, none of which is cut off before (`apart`) or here.
    Face marks are made on everything in one go, long pieces among it."""
    if all(work.kind == "face-marks" for work in run.works):
        marked = (run.blanks[work.part] for work in run.works if work.part not in apart)
        return any(blank.long and in_a_long_piece(blank) for blank in marked)
    works = list(zip(run.works, run.ways, strict=True))
    long = all(
        work.part not in apart
        and not cuts_apart(work)
        and (way.in_the_long or (work.kind == "mark-out" and in_a_long_piece(run.blanks[work.part])))
        for work, way in works
        if work.part
    )
    sticks = {run.blanks[work.part].strip or work.part if work.part else "" for work, _ in works}
    return long and len(sticks) == 1 and "" not in sticks and run.blanks[run.works[0].part].long


def marked_in_strip(run: Run) -> bool:
    """Whether parts are marked out in a strip that stays whole; on a stick each of them has lines of its own."""
    on_sticks = any(way.figures.get("part.on-stick", 0.0) > 0 for way in run.ways)
    return run.whole and not on_sticks and all(work.kind == "mark-out" for work in run.works)


def cut_off_strip(run: Run) -> bool:
    """Whether students saw alike parts off a strip at plain lines; on a stick they are lettered before."""
    off = [(work, way) for work, way in zip(run.works, run.ways, strict=True) if work.kind in ("length", "separate")]
    on_sticks = any(way.figures.get("part.on-stick", 0.0) > 0 for _, way in off)
    strips = all(cuts_apart(work) and way.in_the_long and in_a_long_piece(run.blanks[work.part]) for work, way in off)
    return bool(off) and strips and not on_sticks and run.tasks[0].who.operator == "student"


def in_a_long_piece(blank: Workpiece) -> bool:
    """Whether several pieces come out of its long piece."""
    return bool(blank.strip) or blank.yields > 1


def run_of(tasks: tuple[Task, ...], choice: Choice, shop: Shop, together: Mapping[str, Sequence[Told]]) -> Run:
    first = tasks[0]
    kind = shop.knowledge.stations[first.station_kind]
    works = tuple(choice.works[task.id] for task in tasks)
    ways = tuple(choice.ways[task.id] for task in tasks)
    operation = as_it_stands(kind.operations[first.operation], ways[0].figures)
    lines = tuple(line for task in tasks for line in together.get(task.id, ()))
    return Run(tasks, works, ways, kind, operation, _values(works, ways, shop), choice.blanks, lines)


def _values(works: Sequence[Work], ways: Sequence[Way], shop: Shop) -> dict[str, str]:
    """What stands for each {figure} of a sentence: words, settings, sizes. What differs from part to part is said for each."""
    found: dict[str, dict[str, list[str]]] = {}
    for work, way in zip(works, ways, strict=True):
        words = face_words(work, shop.job) | _across_words(work, way, shop)
        values = words | {f"setting.{setting.name}": setting.text for setting in way.settings}
        for name, value in way.figures.items():
            unit = QUANTITIES[name].unit if name in QUANTITIES else "mm"
            suffix = {"count": "", "deg": " degrees"}.get(unit, f" {unit}")
            values.setdefault(name, f"{mm(value)}{suffix}")
        for name, text in values.items():
            found.setdefault(name, {}).setdefault(text, []).append(words["part"])
    return {name: _said(name, texts) for name, texts in found.items()}


def _across_words(work: Work, way: Way, shop: Shop) -> dict[str, str]:
    """Over which pieces it is measured whether they are parallel, and the `rail` between them."""
    if not way.figures.get("joint.across"):
        return {}
    joints = [shop.job.joints[name] for name in work.joints]
    found = across_pieces(shop.job, joints, place(shop.job), shop.knowledge.working.free_ends)
    if found is None:
        return {}
    one, other, rail = (shop.job.part_of(piece).letter for piece in found[1:])
    return {"over": f"both {one}" if one == other else f"{one} and {other}", "rail": rail}


def _said(name: str, texts: Mapping[str, Sequence[str]]) -> str:
    if name in (
        "part",
        "name",
        "face",
        "from",
        "from-face",
        "edge",
        "side",
        "enters",
        "takes",
        "beside",
        "glued",
        "over",
        "rail",
    ):
        return listed(list(texts))
    if len(texts) == 1:
        return next(iter(texts))
    return listed([f"{text} ({', '.join(dict.fromkeys(parts))})" for text, parts in texts.items()])
