"""What is cut before and what after a stick is turned between centres: the centres need wood at both ends, a stick that is
heavier on one side shakes, and the tool catches on a hole or any other gap in the length that it turns.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from sequencer.features.base import Feature
from sequencer.features.revolved import Revolved
from sequencer.knowledge.forms.operations import Operation
from sequencer.model.job import Part
from sequencer.model.plan import Bench
from sequencer.model.quantities import Figures
from sequencer.model.shapes import bounds
from sequencer.model.workshop import Station
from sequencer.planning.limits import Obstacle, unknown
from sequencer.planning.shapes_left import TOUCH, followed_by
from sequencer.solid.centring import catch_faults, centre_faults
from sequencer.solid.solids import block_solid, shape_solid, without

CENTRES = ("station.centre-bite", "station.centre-depth", "station.off-balance")
"""What a station says that turns wood between centres."""


@dataclass(frozen=True)
class Turning:
    """What must be cut before a part is turned, what waits until it is, and what speaks against turning it then.

    faults
        Sentences with figures; empty where it can be turned.
    """

    before: tuple[Feature, ...]
    after: tuple[Feature, ...]
    faults: tuple[str, ...] = ()


def turning_of(turned: Revolved, part: Part, figures: Figures, bench: Bench) -> Turning:
    """The cuts of a part about its turning. `figures` has those of the station (`CENTRES`)."""
    cuts = [each for each in part.features.values() if _beside(each, turned, part)]
    waiting = [each for each in cuts if _can_wait(each, turned, part, bench)]
    must = [each for each in cuts if each not in waiting]
    faults = _faults(must, turned, part, figures)
    if faults:
        return Turning(tuple(must), tuple(waiting), faults)
    after = [each for each in waiting if _faults([*must, each], turned, part, figures)]
    if _faults([each for each in cuts if each not in after], turned, part, figures):
        after = waiting
    return Turning(tuple(each for each in cuts if each not in after), tuple(after))


def turning_against(
    drawn: Feature, part: Part, operation: Operation, station: Station, figures: Figures, bench: Bench
) -> Iterator[Obstacle]:
    """A stick is not turned once its centres have no wood or it is out of balance, and some cuts cannot wait until after."""
    if operation.cut != "turn" or not isinstance(drawn, Revolved):
        return
    missing = [name for name in CENTRES if name not in figures]
    if missing:
        yield unknown(missing[0], station)
        return
    turning = turning_of(drawn, part, figures, bench)
    if turning.faults:
        early = [each for each in turning.before if _faults([each], drawn, part, figures)] or turning.before
        names = " and ".join(f"the {each.name.replace('-', ' ')}" for each in early)
        cannot = "is" if len(early) == 1 else "are"
        yield Obstacle(
            "holding",
            f"Before it is turned, {'; '.join(turning.faults)}: {names} {cannot} cut first, as turning takes away the faces "
            "for measuring and holding.",
            "Make it round by hand; or draw those cuts clear of the turned length and of the middle of the ends, and even on all "
            "sides; or leave half the length or more square, with those cuts in it: then they are made after turning.",
        )


def _beside(each: Feature, turned: Revolved, part: Part) -> bool:
    """Whether a cut is made on the same loose piece and need not follow the turning anyway."""
    other_hand = bool(each.only and turned.only and each.only != turned.only)
    return each != turned and each.when == "loose" and not other_hand and turned not in followed_by(each, part)


def _can_wait(cut: Feature, turned: Revolved, part: Part, bench: Bench) -> bool:
    """Whether a cut can be made when the piece has been turned: it lies where the stick stays square, and enough stays square
    to measure from and to hold it by."""
    length = part.block.length
    stations = turned.stations(part.block)
    start, stop = stations[0][0], stations[-1][0]
    if cut.ends_part() or (start + length - stop) / length < bench.face_share:
        return False
    spans = [bounds(shape).span("x") for shape in cut.removes(part.block)]
    return all(high <= start + TOUCH or low >= stop - TOUCH for low, high in spans)


def _faults(cuts: Iterable[Feature], turned: Revolved, part: Part, figures: Figures) -> tuple[str, ...]:
    """What speaks against turning it with these cuts made, on either hand."""
    across, deep, share = (figures[name] for name in CENTRES)
    cuts = tuple(cuts)
    found: list[str] = []
    for hand in ("left", "right") if any(cut.only for cut in cuts) else (None,):
        own = [shape_solid(shape) for cut in cuts if cut.only in (None, hand) for shape in cut.removes(part.block)]
        body = without(block_solid(part.block), own)
        if body.empty:
            return ("nothing of it is left",)
        found += [*centre_faults(body, "x", across, deep, share), *catch_faults(body, "x", turned.stations(part.block))]
    return tuple(dict.fromkeys(found))
