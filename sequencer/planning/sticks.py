"""Parts too short to be held for their cuts, which are cut while they lie on a longer stick and are sawn off it last: which may
be, how many lie on one, and what is wasted. mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import ceil, inf

from sequencer.features.base import NEAR, Feature, mm
from sequencer.findings import Finding
from sequencer.model.frame import axis_of
from sequencer.model.job import Part
from sequencer.model.shapes import bounds_of
from sequencer.planning.blanks import Workpiece, spares_of
from sequencer.planning.laying_out import layouts_of
from sequencer.planning.shop import Shop
from sequencer.planning.strips import cuts_apart
from sequencer.planning.ways import Way
from sequencer.planning.work import Work, words
from sequencer.reading.words import listed


def may_be_on_a_stick(part: Part, shop: Shop) -> bool:
    """Whether a part can be cut while it is the end of a longer stick: the stick runs with the grain, nothing is measured from,
    or made by, the end that the saw makes last, and the end that its length is measured from stays square."""
    return _is_stick(part, shop) and not _from_the_right(part) and not _at_an_end(part)


def _is_stick(part: Part, shop: Shop) -> bool:
    stock = shop.job.stock[part.stock]
    along = stock.form == "sheet" or part.grain == "x"
    return along and stock.form != "bought" and part.section == "rectangular" and not part.allowances


def _loose(part: Part) -> list[Feature]:
    return [feature for feature in part.features.values() if feature.when == "loose"]


def _from_the_right(part: Part) -> list[Feature]:
    """What is measured from the end that the saw makes last."""
    return [each for each in _loose(part) if "right" in each.measured_from() and each not in _at_an_end(part)]


def _at_an_end(part: Part) -> list[Feature]:
    """What makes an end, is cut into one, or takes it away."""
    return [each for each in _loose(part) if each.ends_part() or _END.intersection(each.opens()[:1]) or _takes_right(each)]


_END = frozenset({"left", "right"})


def _takes_right(feature: Feature) -> bool:
    return "right" in feature.measured_from() and bool(feature.spoils())


def what_forbids(work: Work, shop: Shop) -> str:
    """What lets a cut be made on a longer stick, where features of its part forbid that: named, with what to do about them. Empty
    where nothing of that would help."""
    if work.drawn is None or not _is_stick(shop.job.parts[work.part], shop):
        return ""
    part = shop.job.parts[work.part]
    if work.drawn.nature == "bored" and _END.intersection(work.drawn.opens()[:1]):
        return (
            f"The {words(work.feature)} is not planned in the end of a longer stick, which would have to stand on its end for "
            "it and could lean: let staff decide whether it is bored so, upright in the vice, before the part is sawn off."
        )
    at_end, far = ([words(each.name) for each in found] for found in (_at_an_end(part), _from_the_right(part)))
    if not (at_end or far or part.handed) and _runs_out_last(work.drawn, part):
        return (
            f"Draw the part turned end for end, so that the {words(work.feature)} runs out at the left end, and measure all from "
            "that end: then it can be made on a longer stick, and the part is sawn off last."
        )
    if words(work.feature) in at_end or not (at_end or far):
        return ""
    found = []
    if at_end:
        found.append(f"It could be made on a longer stick but for the {listed(at_end)}, which the ends must be there for.")
    if far:
        then = "" if at_end else ": then it can be made on a longer stick, and the part is sawn off last"
        found.append(f"Measure the {listed(far)} from the left end instead{then}.")
    return " ".join(found)


def _runs_out_last(feature: Feature, part: Part) -> bool:
    """Whether a cut runs out at the end that the saw makes last, and not along the whole part."""
    low, high = bounds_of(feature.removes(part.block)).span("x")
    return feature.when == "loose" and feature.nature != "edge" and low > NEAR and high > part.block.length - NEAR


def on_the_stick(work: Work, blank: Workpiece | None, part: Part) -> bool:
    """Whether a work is done on the stick while it is whole: marking out, and cuts that keep clear of the end sawn last."""
    if blank is None or not blank.whole:
        return False
    if work.kind == "mark-out":
        return True
    drawn = work.drawn
    if drawn is None or drawn.when != "loose":
        return False
    return drawn.nature != "edge" and bounds_of(drawn.removes(part.block)).span("x")[1] < part.block.length


def figures_on_a_stick(work: Work, piece: Workpiece) -> dict[str, float]:
    """What is known of a work on a stick besides: letters and numbers are written where its parts are marked out."""
    several, off = piece.yields > 1 or bool(piece.strip), work.kind in ("length", "separate")
    found = {"part.on-stick": 1.0, "part.off-stick": 0.0, "part.stick-several": float(several)}
    found |= {"part.sawn-off": float(off), "part.next-end": float(off and several)}
    return found | ({"part.numbered": 0.0} if work.kind == "face-marks" else {})


def beside_others(sticks: Mapping[str, int], works: Mapping[str, Work], ways: Mapping[str, Way], shop: Shop) -> frozenset[str]:
    """The parts on sticks that may lie on one with other parts: all that a thing takes of each, and nothing on them needs a stick
    of its own."""
    parts = (shop.job.parts[name] for name, number in sticks.items() if number == shop.job.parts[name].count)
    return frozenset(part.name for part in parts if not _own_stick(part, works, ways, shop))


def most_on_a_stick(part: Part, works: Mapping[str, Work], ways: Mapping[str, Way], one: Workpiece, shop: Shop) -> int:
    """How many pieces of a part lie on one stick, alike on each. `one`: the stick with one of them."""
    if _alone(part, works, ways, shop):
        return 1
    room = min(shop.knowledge.working.strip_at_bench, max(shop.job.stock[part.stock].lengths, default=inf))
    more = int(max(room - one.length, 0.0) // (part.worked.length + one.cut))
    most = min(part.count, 1 + more)
    return ceil(part.count / ceil(part.count / most))


def _alone(part: Part, works: Mapping[str, Work], ways: Mapping[str, Way], shop: Shop) -> str:
    """Why each piece of a part has a stick of its own; empty where several of it lie on one."""
    return "there is one of it in each thing" if part.count == 1 else _own_stick(part, works, ways, shop)


def _own_stick(part: Part, works: Mapping[str, Work], ways: Mapping[str, Way], shop: Shop) -> str:
    """What on a piece of a part asks for a stick of its own; empty where nothing does. What is marked is cut anywhere on a
    stick; a stop at an end fits one piece only."""
    if part.handed:
        return "left and right ones are measured from different ends"
    for name, way in ways.items():
        work = works[name]
        if work.part != part.name or not way.in_the_long:
            continue
        kind = shop.knowledge.stations[way.kind]
        lies = [each.lie for each in layouts_of(work, way, part, kind, kind.operations[way.operation])]
        stopped = any(face is not None and axis_of(face) == "x" for lie in lies for face in (lie.against, lie.stop))
        if kind.power == "machine" and (cuts_apart(work) or (stopped and work.drawn is not None)):
            return f"the {kind.name.lower()} is set from the end of the stick"
        if work.drawn is not None and not work.lengthwise and _from_the_end(work.drawn, part):
            return f"the {words(work.feature)} runs in from the end of the stick"
    return ""


def _from_the_end(feature: Feature, part: Part) -> bool:
    """Whether a cut runs in from the first end: behind another part it would run through that."""
    return bounds_of(feature.removes(part.block)).span("x")[0] < NEAR


def stick_remarks(
    sticks: Mapping[str, int], works: Mapping[str, Work], ways: Mapping[str, Way], blanks: Mapping[str, Workpiece], shop: Shop
) -> Iterator[Finding]:
    """What stays behind of the sticks of the class where each gives one piece, and why."""
    students = shop.workshop.students
    for name in sorted(sticks):
        part, piece = shop.job.parts[name], blanks[name]
        why = _alone(part, works, ways, shop)
        if piece.yields > 1 or piece.strip or not why:
            continue
        over = piece.length - part.length
        number = part.count * (students + spares_of(shop.knowledge.working, students))
        yield Finding(
            "note",
            "stick-each",
            name,
            f"Each {words(name)} is cut on a stick of its own, because {why}. Of {number} sticks of {mm(piece.length)} mm for "
            f"the class {mm(over)} mm each stay over: {mm(number * over / 1000)} m in all.",
            "By itself the part is too short to be held for its cuts.",
            "Keep what stays over for wedges, packing and tests.",
            part.place,
        )
