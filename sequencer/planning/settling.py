"""Ways and lengths that agree: which ways are possible depends on the pieces they are done on, and how long those are depends on
the ways. mm.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import inf

from sequencer.findings import Finding
from sequencer.model.job import Part
from sequencer.planning.along import along_for
from sequencer.planning.blanks import Workpiece, one_students, parting, rough, stick, strip
from sequencer.planning.choice import Choice, InTheLong
from sequencer.planning.decided import way_decided
from sequencer.planning.picking import pick
from sequencer.planning.pieces import ends_mitred, may_be_in_the_long, on_blank
from sequencer.planning.sanding import sanded_anyway
from sequencer.planning.shop import Shop
from sequencer.planning.start_holes import NEEDED
from sequencer.planning.sticks import figures_on_a_stick
from sequencer.planning.stock_sizes import too_long, too_slight
from sequencer.planning.strip_figures import kerfs_of
from sequencer.planning.strips import Kerfs, as_long, shared_blanks, students_own
from sequencer.planning.ways import Way
from sequencer.planning.ways_on import ways_on
from sequencer.planning.work import Work, words
from sequencer.planning.work_words import called_by_way


@dataclass(frozen=True)
class Asked:
    """What a way is to be chosen for: every work of a job in a shop. `shaped`: by work the features that have taken faces of its
    part before, where the piece is held by these."""

    works: Sequence[Work]
    shop: Shop
    shaped: Mapping[str, tuple[str, ...]]


def settled(asked: Asked, long: InTheLong) -> Choice:
    """A way for every work, where these parts are worked in the long. Long pieces are laid out again, with the kerf of the saw
    that is chosen to cut them apart, until no saw is chosen that needs more room."""
    choice = _laid_out(asked, long)
    once = False
    while True:
        kerfs = kerfs_of(choice.works, choice.ways, asked.shop)
        if once:  # what has been left for one saw stays, so that two that need one another's lengths come to an end
            kerfs |= {part: max(kerf, kerfs.get(part, 0.0)) for part, kerf in choice.long.kerfs.items()}
        if all(choice.blanks[part].cut == room for part, room in _room_for_cuts(choice, kerfs, asked.shop).items()):
            return replace(choice, long=replace(choice.long, kerfs=kerfs))
        choice, once = _laid_out(asked, replace(long, kerfs=kerfs)), True


def _room_for_cuts(choice: Choice, kerfs: Kerfs, shop: Shop) -> dict[str, float]:
    """What is to be left for the cut behind each piece of every part that comes out of a long piece."""
    working = shop.knowledge.working
    return {
        part: parting(shop.job.parts[part], working, kerf) + (working.stick_gap if choice.blanks[part].whole else 0.0)
        for part, kerf in kerfs.items()
        if choice.blanks[part].long
    }


class _Chosen:
    """The ways as they are chosen, work by work, and what is said of each. What is chosen again is chosen anew."""

    def __init__(self, asked: Asked, long: InTheLong) -> None:
        self.asked, self.long = asked, long
        self.ways: dict[str, Way] = {}
        self.findings: dict[str, list[Finding]] = {}

    def choose(self, work: Work, blanks: Mapping[str, Workpiece]) -> None:
        """The best way of a work on these blanks, or why there is none."""
        shop = self.asked.shop
        decision = way_decided(work, shop.job)
        station, shaped = decision.station if decision else "", self.asked.shaped.get(work.id, ())
        ways = ways_on(blanks, work, shop, self.long.kerfs, station=station, shaped=shaped)
        if work.lengthwise and work.part in self.long.kept.by_the_piece:
            ways = tuple(way for way in ways if not way.in_the_long)
        self.ways.pop(work.id, None)
        along = (
            along_for(work, ways, self.asked.works, shop)
            if work.part in self.long.along and may_be_in_the_long(work, shop)
            else None
        )
        way, self.findings[work.id] = pick(work, ways, shop, along)
        if way is not None:
            self.ways[work.id] = way


def _laid_out(asked: Asked, long: InTheLong) -> Choice:
    """A way for every work, with these kerfs between the pieces of what is cut apart.

    Lengthwise work is settled first, because it says which parts are worked in the long; then what is done on blanks, which
    says how long those are; then the rest.
    """
    job, working = asked.shop.job, asked.shop.knowledge.working
    chosen = _Chosen(asked, long)
    sticks = _sticks(long, asked.shop)
    for work in asked.works:
        if may_be_in_the_long(work, asked.shop):
            chosen.choose(work, sticks)
    long_pieces = sticks | _strips(long, sticks, chosen)
    works = _for_long_pieces(long_pieces, sticks, chosen)
    blanks = {part.name: long_pieces.get(part.name) or rough(part, job.stock[part.stock], working) for part in job.parts.values()}
    _settle_blanks(blanks, works, long, chosen)
    for tried in (False, True):
        works = _tried_as_joined(works, chosen) if tried else works
        for work in works.values():
            if work.id not in chosen.ways and work.id not in chosen.findings and (work.kind in _AS_JOINED) == tried:
                chosen.choose(work, blanks)
    works = _without_sanded(works, chosen)
    works = _with_start_holes(works, chosen, blanks)
    works = {name: called_by_way(work, chosen.ways.get(name), asked.shop) for name, work in works.items()}
    for name, blank in blanks.items():
        part = job.parts[name]
        stock = job.stock[part.stock]
        said = (*too_long(part, stock, blank), *too_slight(part, stock, working))
        chosen.findings.setdefault(f"{name}/rough-length/cut", []).extend(said)
    return Choice(works, chosen.ways, blanks, tuple(each for name in works for each in chosen.findings.get(name, ())), long)


def _sticks(long: InTheLong, shop: Shop) -> dict[str, Workpiece]:
    """The sticks that parts are cut on which are too short by themselves, where the stock gives one: each its own, or one that
    several share."""
    found: dict[str, Workpiece] = {}
    for name, number in long.sticks.items():
        part = shop.job.parts[name]
        piece = stick(part, shop.job.stock[part.stock], shop.knowledge.working, long.kerfs.get(name), number)
        if piece is not None:
            found[name] = piece
    for each in long.strips:
        if all(part.name in found for part in each.parts):
            room = max(shop.job.stock[each.parts[0].stock].lengths, default=inf)
            found |= shared_blanks(each.parts, shop.knowledge.working, room, long.kerfs, whole=True)
    return found


def _strips(long: InTheLong, sticks: Collection[str], chosen: _Chosen) -> dict[str, Workpiece]:
    """The long pieces besides sticks: of parts with work that is best done in the long, of parts whose ends are both mitred, of
    those that are wanted `in_one`, and of those that share a strip."""
    job, working = chosen.asked.shop.job, chosen.asked.shop.knowledge.working
    found: dict[str, Workpiece] = {}
    for work in chosen.asked.works:
        way = chosen.ways.get(work.id)
        if way is None or not way.in_the_long or way.piece is None or work.part in sticks:
            continue
        if work.part not in found or way.piece.length > found[work.part].length:
            found[work.part] = way.piece
    for name in found:
        if students_own(name, {work.id: work for work in chosen.asked.works}, chosen.ways):
            found[name] = one_students(found[name], job.parts[name], working)
    for part in job.parts.values():
        wanted = ends_mitred(part) or (part.name in long.in_one and part.name not in sticks)
        if part.name not in found and wanted:
            piece = strip(part, job.stock[part.stock], working, kerf=long.kerfs.get(part.name))
            found |= {part.name: piece} if piece else {}
    for each in long.strips:
        if each.parts[0].name not in sticks:
            room = max(job.stock[each.parts[0].stock].lengths, default=inf)
            found |= shared_blanks(each.parts, working, room, long.kerfs, sets=each.sets)
    return found


def _for_long_pieces(long_pieces: Mapping[str, Workpiece], sticks: Collection[str], chosen: _Chosen) -> dict[str, Work]:
    """Every work as it is where parts come out of these long pieces; where all that is cut into a part is worked in the long,
    nothing is marked out on its pieces."""
    works = chosen.asked.works
    rods = {work.part for work in works if _made_round(work, chosen.ways)}
    return {
        work.id: _apart(work, long_pieces, rods)
        for work in works
        if work.part in sticks or not _marked_by_nothing(work, works, chosen.ways)
    }


def _settle_blanks(blanks: dict[str, Workpiece], works: Mapping[str, Work], long: InTheLong, chosen: _Chosen) -> None:
    """Chooses what is done on blanks. A blank grows to the longest holding end that any of its work asks for; all of it is then
    done on that length. Parts that share a strip grow together."""
    by_part: dict[str, list[Work]] = {}
    for work in works.values():
        by_part.setdefault(work.part, []).append(work)
    shared = {part.name for each in long.strips for part in each.parts}
    alone = [(part,) for part in chosen.asked.shop.job.parts.values() if part.name not in shared]
    for parts in (*(each.parts for each in long.strips), *alone):
        own = [
            work for part in parts for work in by_part.get(part.name, ()) if on_blank(work, chosen.ways, blanks[part.name], part)
        ]
        while _grown(parts, own, blanks, chosen):
            pass


def _grown(parts: Sequence[Part], own: Sequence[Work], blanks: dict[str, Workpiece], chosen: _Chosen) -> bool:
    """Chooses the work on the blank of some parts, and makes it as long as that asks; whether it has become longer."""
    for work in own:
        chosen.choose(work, blanks)
    pieces = [chosen.ways[work.id].piece for work in own if work.id in chosen.ways]
    before = [blanks[part.name] for part in parts]
    length = max(piece.length for piece in (*before, *filter(None, pieces)))
    for part in parts:
        blanks[part.name] = as_long(blanks[part.name], length)
    return any(length > blank.length for blank in before)


def _with_start_holes(works: Mapping[str, Work], chosen: _Chosen, blanks: Mapping[str, Workpiece]) -> dict[str, Work]:
    """The works with the holes that the ways chosen thread a blade through, each before the cut it is for."""
    found: dict[str, Work] = {}
    for name, work in works.items():
        if work.start is not None and name in chosen.ways and NEEDED in chosen.ways[name].needs:
            found[work.start.id] = work.start
            chosen.choose(work.start, blanks)
        found[name] = work
    return found


def _without_sanded(works: Mapping[str, Work], chosen: _Chosen) -> dict[str, Work]:
    """The works without sanding that the ways chosen for others do besides."""
    idle = sanded_anyway(works.values(), chosen.ways, chosen.asked.shop)
    for name in idle:
        chosen.ways.pop(name, None)
        chosen.findings.pop(name, None)
    return {name: work for name, work in works.items() if name not in idle}


def _tried_as_joined(works: Mapping[str, Work], chosen: _Chosen) -> dict[str, Work]:
    """The works, of which each dry trial and each wait knows whether what it is about is rolled up in tape, without cramps."""
    kinds = chosen.asked.shop.knowledge.stations
    rolled = {works[name].joints for name, way in chosen.ways.items() if kinds[way.kind].operations[way.operation].rolled_up}
    taped = {"joint.rolled-up": 1.0, "joint.cramps": 0.0}
    found = {}
    for name, work in works.items():
        # A second wait, for splines, has a name of its own.
        more = taped if work.joints in rolled and work.feature == work.kind else {"joint.rolled-up": 0.0}
        found[name] = replace(work, figures={**work.figures, **more}) if work.kind in _AS_JOINED else work
    return found


_AS_JOINED = ("dry-fit", "cure")
"""Work that is done as the way asks in which the joints are closed: it is chosen after that."""


def _made_round(work: Work, chosen: Mapping[str, Way]) -> bool:
    """Whether a stick is made round while it is long, so that it is a rod when its ends are cut."""
    way = chosen.get(work.id)
    return way is not None and way.in_the_long and work.drawn is not None and work.drawn.shape_left == "round"


def _marked_by_nothing(work: Work, works: Iterable[Work], chosen: Mapping[str, Way]) -> bool:
    """Whether nothing is left to mark out on the pieces of a part: all that is cut into it is worked in the long."""
    if work.kind != "mark-out":
        return False
    own = [each for each in works if each.part == work.part and each.drawn is not None]
    return all(each.id in chosen and chosen[each.id].in_the_long for each in own)


def _apart(work: Work, strips: Mapping[str, Workpiece], round_: Collection[str]) -> Work:
    """Parts of a long piece are not cut to length but cut apart; of a stick that has been made round they are a rod."""
    if work.part in round_ and work.kind in ("first-end", "length"):
        work = replace(work, figures={**work.figures, "part.round": 1.0})
    if work.part in strips and strips[work.part].whole:
        work = replace(work, figures={**work.figures, **figures_on_a_stick(work, strips[work.part])})
    if work.part in strips and work.kind == "length":
        return replace(work, kind="separate", title=f"Cut apart to length: {words(work.part)}")
    return work
