"""Long pieces (strips) that several kinds of part come out of: where each piece lies in one, and which work is done on it. mm.

A strip is laid out from its first end: the trim, then piece after piece with room for a saw cut between them, then what stays
behind to be held.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from sequencer.knowledge.working import Working
from sequencer.model.job import Part
from sequencer.planning.blanks import Workpiece, marked_out, parting
from sequencer.planning.ways import Way
from sequencer.planning.work import Work

Kerfs = Mapping[str, float]
"""By part what the saw takes that cuts it off a long piece, and what is trimmed after it, mm; without it no saw is chosen."""
WASTE = "piece of waste"
"""What an operation whose setting is tried on waste first calls it among its tools."""
CUT_APART = ("separate",)
"""Kinds of work that cut a piece off a long one, besides the features that make its ends."""


@dataclass(frozen=True)
class Shared:
    """Parts that come out of one strip, first to last, and for how many students it gives them."""

    parts: tuple[Part, ...]
    sets: int = 1


@dataclass(frozen=True)
class Wanted:
    """So many pieces of a part out of a strip, each of a length, with what is left for the cut behind each of them, mm."""

    part: str
    count: int
    length: float
    cut: float


@dataclass(frozen=True)
class Place:
    """Where one piece lies: the how manieth of its part it is, and from where it runs, from the first end of the strip, mm."""

    part: str
    number: int
    start: float
    length: float

    @property
    def stop(self) -> float:
        """Where it ends."""
        return self.start + self.length


def lay_out(wanted: Sequence[Wanted], sets: int, trim: float) -> tuple[Place, ...]:
    """Every piece where it lies, set after set and part after part, the first behind the trim, with its cut behind each."""
    places: list[Place] = []
    at = trim
    for turn in range(sets):
        for each in wanted:
            for number in range(each.count):
                places.append(Place(each.part, turn * each.count + number + 1, at, each.length))
                at += each.length + each.cut
    return tuple(places)


def shared_blanks(
    parts: Sequence[Part],
    working: Working,
    room: float,
    kerfs: Kerfs,
    *,
    sets: int = 1,
    end: float = 0.0,
    whole: bool = False,
) -> dict[str, Workpiece]:
    """The strip that gives `sets` sets of some parts, as each of them sees it; empty if it is longer than `room` mm. `end`
    is what stays behind the last cut where that is more than the trim. `whole`: it is a stick, on which all of each part is cut
    before they are sawn off, with room between them for a new end."""
    gap = working.stick_gap if whole else 0.0
    cuts = {part.name: parting(part, working, kerfs.get(part.name)) + gap for part in parts}
    wanted = [Wanted(part.name, part.count, part.worked.length, cuts[part.name]) for part in parts]
    end = max(working.strip_end, end)
    length = lay_out(wanted, sets, working.strip_end)[-1].stop + end
    if length > room:
        return {}
    name = strip_name(parts) if len(parts) > 1 else ""
    return {
        part.name: marked_out(
            Workpiece(
                length,
                part.worked.width,
                part.worked.thickness,
                part.count * sets,
                end,
                long=True,
                strip=name,
                sets=sets,
                cut=cuts[part.name],
                whole=whole,
            ),
            working,
            room,
        )
        for part in parts
    }


def strip_name(parts: Iterable[Part]) -> str:
    """The stable name of a strip: the names of its parts."""
    return "+".join(part.name for part in parts)


def as_long(strip: Workpiece, length: float) -> Workpiece:
    """A part's view of a strip that has become longer, as another of its parts asks."""
    return strip if length == strip.length else replace(strip, length=length, waste=strip.waste + length - strip.length)


def places_in(blanks: Mapping[str, Workpiece], parts: Sequence[Part], working: Working) -> tuple[Place, ...]:
    """Where the pieces of some parts lie in the strip that was settled for them. A part by itself gives as many as its strip
    yields, which may be fewer or more than one thing needs."""
    first = blanks[parts[0].name]
    single = len(parts) == 1 and first.sets == 1
    wanted = [
        Wanted(part.name, first.yields if single else part.count, part.worked.length, blanks[part.name].cut) for part in parts
    ]
    return lay_out(wanted, first.sets, working.strip_end)


def in_the_long(part: str, works: Mapping[str, Work], ways: Mapping[str, Way]) -> Iterator[tuple[Work, Way]]:
    """The work of a part that is done on a long piece, with its ways."""
    for name, way in ways.items():
        if works[name].part == part and way.in_the_long:
            yield works[name], way


def students_own(part: str, works: Mapping[str, Work], ways: Mapping[str, Way]) -> bool:
    """Whether students work right along the strip that a part comes out of: it holds nothing for anybody else then."""
    return any(runs_along(work) and way.who.operator == "student" for work, way in in_the_long(part, works, ways))


def cuts_apart(work: Work) -> bool:
    """Whether a work in the long cuts parts off the strip."""
    return work.kind in CUT_APART or (work.drawn is not None and bool(work.drawn.ends_part()))


def runs_along(work: Work) -> bool:
    """Whether a work in the long is a feature that runs right along the strip."""
    return work.drawn is not None and not cuts_apart(work)
