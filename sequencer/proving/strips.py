"""A strip looked at when the first piece is cut off it: one stick, worked whole, with every piece of it in sound wood. mm."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from math import cos, inf, radians

from sequencer.features.base import NEAR, mm
from sequencer.model.frame import axis_of
from sequencer.model.job import Job
from sequencer.model.marks import Line
from sequencer.model.plan import Plan, Task
from sequencer.model.proof import Looked
from sequencer.model.stock_lists import Strip
from sequencer.model.work import WORK_KINDS
from sequencer.proving.cut_places import measured_along
from sequencer.proving.workpiece import Workpiece
from sequencer.solid.solids import Solid, box

CLOSE = 0.5
"""A strip is as long as asked if it is so within this, mm: what a rule shows."""
SLICE = 1.0
"""How much of a strip is cut out to look at its section, mm."""
SAME = 0.5
"""Two sections are one if slices of them differ by no more than this, mm3."""
FAR = 10_000.0
"""Wider and thicker than any strip, mm."""

_ALONG = ("saw-pass", "rout", "plane")
"""What a machine or a plane does right along a strip."""
Figures = Mapping[str, Mapping[str, float]]
"""The figures of each station by name."""


def cuts_apart(task: Task) -> bool:
    """Whether a task cuts pieces off a long one."""
    ends = [each.marks.edges[:1] for each in task.layouts if isinstance(each.marks, Line)]
    return task.kind == "separate" or (task.in_the_long and any(axis_of(face) == "x" for edge in ends for face in edge))


def strip_looked(strip: Strip, pieces: Mapping[str, Workpiece], plan: Plan, job: Job, machines: set[str]) -> Iterator[Looked]:
    """Every check of a strip as it is when it is first cut. `pieces`: the stick as each part sees it; `machines`: stations that
    are machines."""
    tasks = [task for task in plan.tasks if task.part in strip.parts and (task.in_the_long or task.kind == "separate")]
    figures = {card.station: card.figures for card in plan.stations}
    yield _as_listed(strip, plan)
    yield _fits(strip, tasks, figures, job, machines)
    yield from _tried(strip, tasks, figures, machines | _tried_on_waste(plan))
    yield from _one_stick(pieces)
    yield _in_sound_wood(strip, pieces[strip.parts[0]], _kerf(tasks, figures))
    if any(each.in_the_long and any(measured_along(layout.marks) for layout in each.layouts) for each in tasks):
        yield from _room_for_new_ends(strip, _kerf(tasks, figures))


def _as_listed(strip: Strip, plan: Plan) -> Looked:
    """The strip holds what the list of blanks says that one of it gives."""
    there = Counter(piece.part for piece in strip.pieces)
    listed = {blank.part: blank.yields for blank in plan.blanks if blank.part in strip.parts}
    wrong = [part for part, number in listed.items() if there[part] != number]
    says = ", ".join(f"{there[part]} of {part}" for part in (wrong or listed))
    return Looked(
        "strip", not wrong, f"the strip holds {says}" + (", and the list of blanks says other numbers" if wrong else "")
    )


def _fits(strip: Strip, tasks: Sequence[Task], figures: Figures, job: Job, machines: set[str]) -> Looked:
    """It is no longer than the stock, nor than the stations take where it is fed along a fence or lies beside a blade."""
    stock = max(job.stock[job.parts[strip.parts[0]].stock].lengths, default=inf)
    room = {"the stock": stock}
    for task in tasks:
        if not cuts_apart(task) or task.station in machines:
            room[task.station] = figures.get(task.station, {}).get("longest", inf)
    name, least = min(room.items(), key=lambda each: each[1])
    says = f"the strip is {mm(strip.length)} mm long" + (f", and {name} takes {mm(least)} mm" if least < inf else "")
    return Looked("strip", strip.length <= least + CLOSE, says)


def _tried_on_waste(plan: Plan) -> set[str]:
    """Stations whose setting is tried on a piece of waste that is laid out."""
    return {step.station for step in plan.steps if any(tool.startswith("piece of waste") for tool in step.tools)}


def _tried(strip: Strip, tasks: Sequence[Task], figures: Figures, tried: set[str]) -> Iterator[Looked]:
    """The piece that a setting for a feature is tried on is as long as the machine, or the plane, asks of any piece."""
    along = [task for task in tasks if task.kind not in WORK_KINDS and task.cut in _ALONG and not cuts_apart(task)]
    for station in dict.fromkeys(task.station for task in along if task.station in tried):
        least = figures.get(station, {}).get("shortest", 0.0)
        says = f"the setting of {station} is tried on {mm(strip.trial)} mm; it asks at least {mm(least)} mm"
        yield Looked("strip", strip.trial >= least - CLOSE, says)


def _one_stick(pieces: Mapping[str, Workpiece]) -> Iterator[Looked]:
    """The parts have one section until they are cut apart, whichever of them each cut is drawn for."""
    (first, one), *rest = ((name, _slice(piece)) for name, piece in pieces.items())
    for name, other in rest:
        differ = (one - other).volume + (other - one).volume
        says = f"{first} and {name} are one stick with one section"
        if differ > SAME:
            says = f"the stick is not worked alike where {first} and {name} lie: {differ:.0f} mm3 in each millimetre of it"
        yield Looked("strip", differ <= SAME, says)


def _slice(piece: Workpiece) -> Solid:
    """A slice of the stick beyond the part itself, where only what runs right along it is cut."""
    start = piece.part.block.length + CLOSE
    cut = piece.body & box((start, -FAR, -FAR), (start + SLICE, FAR, FAR))
    return cut.moved(x=-start)


def _kerf(tasks: Sequence[Task], figures: Figures) -> float | None:
    """The longest kerf along the strip of the cuts that part it, a cut aslant by the cosine of its angle; None if not known."""
    kerfs = []
    for task in tasks:
        if cuts_apart(task):
            kerf = figures.get(task.station, {}).get("kerf")
            if kerf is None:
                return None
            angles = [layout.marks.angle or 0.0 for layout in task.layouts if isinstance(layout.marks, Line)]
            kerfs.append(kerf / cos(radians(max(angles, default=0.0))))
    return max(kerfs, default=0.0)


def _room_for_new_ends(strip: Strip, kerf: float | None) -> Iterator[Looked]:
    """On a stick whose parts are marked out before they are sawn off, each has its own line at its first end, and is sawn square
    to that: between two parts the saw goes twice, with a slice of wood between."""
    gaps = [after.start - before.stop for before, after in zip(strip.pieces, strip.pieces[1:], strict=False)]
    if gaps and kerf is not None:
        says = f"{mm(min(gaps))} mm are left between two parts, where the saw takes {mm(kerf)} mm twice"
        yield Looked("strip", min(gaps) > 2 * kerf, says)


def _in_sound_wood(strip: Strip, piece: Workpiece, kerf: float | None) -> Looked:
    """The pieces lie one behind the other, none in another, and a kerf wider than was left for it does not push the last of them
    out of the wood that is to size. The first piece is laid at the end that is squared, if one is."""
    if kerf is None:
        return Looked("setting", False, "the kerf of the saw is not known, and several parts come out of one piece")
    (low, _), (start, stop) = piece.spans["x"], piece.sound or piece.spans["x"]
    shift = strip.trim if "left" in piece.made else -low
    start, stop = start + shift, min(stop + shift, strip.length)
    at = strip.pieces[0].start
    if at < start - NEAR:
        return Looked("strip", False, f"{strip.pieces[0].called} begins {mm(at)} mm from the end, and {mm(start)} mm may be thin")
    for before, after in zip(strip.pieces, strip.pieces[1:], strict=False):
        if after.start < before.stop - NEAR:
            return Looked("strip", False, f"{after.called} begins before {before.called} ends")
        at = max(after.start, at + before.length + kerf)
    reach, last = at + strip.pieces[-1].length, strip.pieces[-1].called
    says = f"with kerfs of {mm(kerf)} mm {last} ends {mm(reach)} mm along the strip; there are {mm(stop)} mm"
    return Looked("strip", reach <= stop + CLOSE, says)
