"""Long pieces (strips) that several kinds of part come out of: which parts may share one, and where each piece lies in it. mm.

Parts share a strip where the wood is one and the same until it is cut apart: one stock, one section, one set of lengthwise
cuts with equal settings at one station. A strip is laid out from its first end: the trim, then piece after piece with room
for a saw cut between them, then what stays behind to be held.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import inf

from sequencer.knowledge.working import Working
from sequencer.model.job import Part, Stock
from sequencer.planning.blanks import Workpiece, marked_out, parting
from sequencer.planning.laying_out import layouts_of
from sequencer.planning.shop import Shop
from sequencer.planning.ways import Way
from sequencer.planning.work import CLOSE, Work

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


def sharing(
    works: Mapping[str, Work],
    ways: Mapping[str, Way],
    blanks: Mapping[str, Workpiece],
    kerfs: Kerfs,
    shop: Shop,
    on_sticks: Collection[str] = (),
) -> Iterator[tuple[Part, ...]]:
    """Parts that may share a strip, with no strip longer than the stock or than a station that it is worked at takes. Each part
    comes into the first strip that has room for its pieces. `on_sticks`: the parts on sticks that may lie beside others; a stick
    is no longer than is handy at the bench, with what is held behind the last."""
    alike: dict[object, list[Part]] = {}
    for part in shop.job.parts.values():
        blank = blanks[part.name]
        if blank.long and (not blank.whole or part.name in on_sticks):
            alike.setdefault((blank.whole, _profile(part, works, ways, shop)), []).append(part)
    working = shop.knowledge.working
    for parts in alike.values():
        strips: list[list[Part]] = []
        for part in parts:
            for strip in strips:
                more = [*strip, part]
                room, end, whole = room_of(more, works, ways, shop), 0.0, blanks[part.name].whole
                if whole:
                    room, end = min(room, working.strip_at_bench), max(blanks[each.name].waste for each in more)
                if shared_blanks(more, working, room, kerfs, end=end, whole=whole):
                    strip.append(part)
                    break
            else:
                strips.append([part])
        yield from (tuple(strip) for strip in strips if len(strip) > 1)


def _profile(part: Part, works: Mapping[str, Work], ways: Mapping[str, Way], shop: Shop) -> object:
    """All that must be equal for two parts to come out of one strip: stock, section, true faces, how the strip is worked along
    its length, and where it is cut apart."""
    along, apart = [], []
    for work, way in _in_the_long(part.name, works, ways):
        if cuts_apart(work):
            apart.append((way.operation, way.station))
            continue
        if work.drawn is not None and not work.lengthwise:
            continue  # On a stick, and on one of its parts only.
        kind = shop.knowledge.stations[way.kind]
        layout = layouts_of(work, way, part, kind, kind.operations[way.operation])[:1]
        marks = tuple((each.marks, each.lie) for each in layout)
        along.append((way.operation, way.station, tuple(setting.text for setting in way.settings), repr(marks)))
    ends = tuple(sorted({end for feature in part.features.values() for end in feature.ends_part()}))
    size = part.worked
    section = (round(size.width / CLOSE), round(size.thickness / CLOSE), part.section, part.grain)
    return part.stock, section, part.face_side, part.face_edge, ends, tuple(sorted(along)), tuple(sorted(set(apart)))


def _in_the_long(part: str, works: Mapping[str, Work], ways: Mapping[str, Way]) -> Iterator[tuple[Work, Way]]:
    for name, way in ways.items():
        if works[name].part == part and way.in_the_long:
            yield works[name], way


def students_own(part: str, works: Mapping[str, Work], ways: Mapping[str, Way]) -> bool:
    """Whether students work right along the strip that a part comes out of: it holds nothing for anybody else then."""
    return any(runs_along(work) and way.who.operator == "student" for work, way in _in_the_long(part, works, ways))


def cuts_apart(work: Work) -> bool:
    """Whether a work in the long cuts parts off the strip."""
    return work.kind in CUT_APART or (work.drawn is not None and bool(work.drawn.ends_part()))


def runs_along(work: Work) -> bool:
    """Whether a work in the long is a feature that runs right along the strip."""
    return work.drawn is not None and not cuts_apart(work)


def kerfs_of(works: Mapping[str, Work], ways: Mapping[str, Way], shop: Shop) -> dict[str, float]:
    """The kerf of the saw that is chosen to cut the pieces of each part apart, the widest where there are several; with what the
    sawn ends are trued by where they are sawn by hand. A saw whose kerf nobody has stated gives none."""
    found: dict[str, float] = {}
    for name, way in ways.items():
        work = works[name]
        if not way.in_the_long or not cuts_apart(work):
            continue
        kind = shop.knowledge.stations[way.kind]
        kerf = shop.station_figures(kind, shop.workshop.stations[way.station]).get("station.kerf")
        if kerf is not None:
            trim = 0.0 if kind.power == "machine" else shop.knowledge.working.hand_cut_trim
            found[work.part] = max(found.get(work.part, 0.0), kerf + trim)
    return found


def tried_on(parts: Sequence[Part], works: Mapping[str, Work], ways: Mapping[str, Way], shop: Shop) -> float:
    """How long a piece of the strip's section must be to try the settings on, mm: as long as the station that asks most asks of
    any piece. 0 where for what runs along the strip no machine is set, nor a tool that is tried on waste first."""
    least = [0.0]
    for part in parts:
        for work, way in _in_the_long(part.name, works, ways):
            kind = shop.knowledge.stations[way.kind]
            tried = kind.power == "machine" or WASTE in kind.operations[way.operation].tools
            if runs_along(work) and tried:
                figures = shop.station_figures(kind, shop.workshop.stations[way.station])
                least.append(figures.get("station.shortest", 0.0))
    return max(least)


def room_of(parts: Sequence[Part], works: Mapping[str, Work], ways: Mapping[str, Way], shop: Shop) -> float:
    """The longest that a strip of some parts may be: as the stock is bought, and as the stations take it along whose fence it
    runs or beside whose blade it lies."""
    room = max(shop.job.stock[parts[0].stock].lengths, default=inf)
    for part in parts:
        for work, way in _in_the_long(part.name, works, ways):
            kind = shop.knowledge.stations[way.kind]
            if not cuts_apart(work) or kind.power == "machine":
                figures = shop.station_figures(kind, shop.workshop.stations[way.station])
                room = min(room, figures.get("station.longest", inf))
    return room


def class_sets(
    parts: Sequence[Part],
    works: Mapping[str, Work],
    ways: Mapping[str, Way],
    blanks: Mapping[str, Workpiece],
    kerfs: Kerfs,
    shop: Shop,
    most: int,
) -> int:
    """For how many students, `most` at most, one strip gives the parts. One, unless staff do everything that is done on it while
    it is whole; then as many as there is room for, since one setting serves them all. Marking lines out is the student's own
    work, and a strip that students mark is theirs. What rounding has added to the end that is held is not counted, so that one
    fewer may have to do."""
    if any(cuts_apart(work) and work.drawn is not None for part in parts for work, _ in _in_the_long(part.name, works, ways)):
        return 1
    if any(way.who.operator != "staff" for part in parts for _, way in _in_the_long(part.name, works, ways)):
        return 1
    room, end = room_of(parts, works, ways, shop), blanks[parts[0].name].waste - shop.knowledge.working.sawn_step
    sets = 1
    while sets < most and shared_blanks(parts, shop.knowledge.working, room, kerfs, sets=sets + 1, end=end):
        sets += 1
    return sets


ONCE = ("rough-length", "face-marks")
"""Kinds of work that are done once for a long piece though they are not work in the long."""


def minutes_of(work: Work, way: Way, blanks: Mapping[str, Workpiece], shop: Shop) -> float:
    """Minutes of a work for one piece. What is done at the bench to a long piece as a whole takes the time of one piece, or more
    where it is longer than that is meant for, shared among its pieces. At a machine the time stays by the piece, as noise and
    dust of a day are counted by it."""
    minutes = way.minutes * work.times
    blank = blanks.get(work.part)
    whole = (way.in_the_long and not cuts_apart(work)) or work.kind in ONCE
    if blank is not None and blank.whole:
        # On a stick every part is marked out, cut and given its own ends.
        own = work.kind in ("first-end", "mark-out") or cuts_apart(work) or (work.drawn is not None and not work.lengthwise)
        whole = whole and not own
    if blank is None or not blank.long or not whole:
        return minutes
    pieces = sum(each.yields for each in blanks.values() if each is blank or (blank.strip and each.strip == blank.strip))
    return minutes * share_of(way, blank.length, pieces, shop)


def share_of(way: Way, length: float, pieces: int, shop: Shop) -> float:
    """What one of so many pieces of a long piece takes of the time that a way is meant to take: at the bench they share it."""
    if shop.knowledge.stations[way.kind].power not in ("hand", "bench"):
        return 1.0
    return max(1.0, length / shop.knowledge.working.strip_at_bench) / pieces


def comes_long(part: Part, stock: Stock) -> bool:
    """Whether its stock gives several pieces of a part one behind the other: it is not bought ready, and the grain runs along."""
    return stock.form != "bought" and (stock.form == "sheet" or part.grain == "x")


def slender(part: Part) -> bool:
    """Whether a part is a stick rather than a board: at most half as wide as it is long."""
    return part.worked.width <= part.worked.length / 2


def worth_trying(part: Part, blank: Workpiece, shop: Shop) -> bool:
    """Whether several pieces of a part are better worked in one strip: short sticks whose two ends are sawn square."""
    stock, working = shop.job.stock[part.stock], shop.knowledge.working
    square = part.section == "rectangular" and not any(feature.ends_part() for feature in part.features.values())
    return (
        part.count > 1
        and comes_long(part, stock)
        and square
        and slender(part)
        and not blank.long
        and blank.length <= working.short_part
    )


def no_worse(one: Mapping[str, Way], other: Mapping[str, Way], part: str, works: Mapping[str, Work]) -> bool:
    """Whether every work is done by the same people as in the other ways, with guards that come off nowhere else, and all but the
    work of the part in the same way. Blanks are cut off for the class by whoever can."""
    return one.keys() == other.keys() and all(
        (way.who == other[name].who or works[name].kind == "rough-length")
        and (other[name].guards_off or not way.guards_off)
        and (works[name].part == part or (way.operation, way.station) == (other[name].operation, other[name].station))
        for name, way in one.items()
    )


def minutes_for(
    part: str, works: Mapping[str, Work], ways: Mapping[str, Way], blanks: Mapping[str, Workpiece], shop: Shop
) -> float:
    """Minutes that the pieces of a part take for one thing."""
    own = (name for name, work in works.items() if work.part == part)
    return sum(minutes_of(works[name], ways[name], blanks, shop) * works[name].quantity for name in own)


def marked_by_staff(works: Mapping[str, Work], ways: Mapping[str, Way], shared: Iterable[Shared]) -> dict[str, Way]:
    """The ways, with the true faces of what is worked for several students marked by staff too."""
    theirs = {part.name for each in shared if each.sets > 1 for part in each.parts}
    return {
        name: replace(way, who=replace(way.who, operator="staff"))
        if works[name].kind == "face-marks" and works[name].part in theirs
        else way
        for name, way in ways.items()
    }


def same_ways(one: Mapping[str, Way], other: Mapping[str, Way]) -> bool:
    """Whether every work is done in the same way, at the same station and by the same people."""
    return {name: (way.operation, way.station, way.who) for name, way in one.items()} == {
        name: (way.operation, way.station, way.who) for name, way in other.items()
    }


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
