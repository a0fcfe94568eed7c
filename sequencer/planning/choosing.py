"""One way for every piece of work: the teacher's decision where there is one, else the best by the job's aim. Parts whose
lengthwise work is done in the long get a long piece; their ends are cut after it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from math import inf
from types import MappingProxyType

from sequencer.features.base import Feature, mm
from sequencer.findings import Finding, Place, has_errors
from sequencer.knowledge.working import Working
from sequencer.model.frame import AXES, AXIS_WORDS, Axis, FaceName, axis_of, face_at, opposite
from sequencer.model.job import Decision, Job, Part, Stock
from sequencer.model.marks import Plunges, Shoulders
from sequencer.planning.blanks import (
    Workpiece,
    bought_length,
    finished,
    held,
    listed_width,
    marked_out,
    parting,
    rough,
    spares_of,
    stick,
    strip,
)
from sequencer.planning.decided import decisions_on_way, way_decided
from sequencer.planning.laying_out import gauged
from sequencer.planning.loose import dowelled_words
from sequencer.planning.ranking import ranked, shut_out
from sequencer.planning.shapes_left import followed_by, takes_away
from sequencer.planning.shop import Shop
from sequencer.planning.start_holes import NEEDED
from sequencer.planning.sticks import (
    figures_on_a_stick,
    may_be_on_a_stick,
    most_on_a_stick,
    on_the_stick,
    stick_remarks,
    what_forbids,
)
from sequencer.planning.strips import (
    Kerfs,
    Shared,
    as_long,
    class_sets,
    kerfs_of,
    marked_by_staff,
    minutes_for,
    no_worse,
    same_ways,
    shared_blanks,
    sharing,
    worth_trying,
)
from sequencer.planning.ways import LongPiece, Pieces, Way, find_ways
from sequencer.planning.work import Work, finish_index, words


@dataclass(frozen=True)
class Choice:
    """Every work with the way chosen for it, and the blank each part is cut from: by itself, or several in a long piece.
    `strips`: parts that come out of one long piece, or out of one for several students. `in_one`: parts that nothing runs along,
    in one long piece all the same, and what speaks against their blanks by themselves. `kerfs`: what the saw takes that cuts each
    part off a long piece. `sticks`: parts that are too short to be held by themselves and are cut on a longer stick, and how many
    of them lie on one."""

    works: Mapping[str, Work]
    ways: Mapping[str, Way]
    blanks: Mapping[str, Workpiece]
    findings: tuple[Finding, ...]
    strips: tuple[Shared, ...] = ()
    in_one: Mapping[str, str] = field(default_factory=dict)
    kerfs: Kerfs = field(default_factory=dict)
    sticks: Mapping[str, int] = field(default_factory=dict)


def choose_ways(works: list[Work], shop: Shop, shaped: Mapping[str, tuple[str, ...]] | None = None) -> Choice:
    """A way for every work. What has none is an error finding that lists every way and what stands against it. `shaped`: by task
    the features that have taken faces of its part before, where the piece is held by these.

    Every part is settled by itself first. Then parts whose long pieces are alike are laid into one, and what staff do for all is
    laid out for several students, which saves set-ups and ends; but only where no work has to be done in another way for it:
    the limits come first.
    """
    choice = _where_refused(works, shop, shaped or {})
    if has_errors(choice.findings):
        return choice
    choice = _where_it_saves(choice, works, shop, shaped or {})

    def tried(shared: Shared, instead_of: tuple[Shared, ...]) -> Choice:
        rest = tuple(each for each in choice.strips if each not in instead_of)
        other = _settled(works, shop, shaped or {}, (*rest, shared), choice.in_one, choice.kerfs, choice.sticks)
        return choice if has_errors(other.findings) or not same_ways(choice.ways, other.ways) else other

    for parts in sharing(choice.works, choice.ways, choice.blanks, choice.kerfs, shop):
        choice = tried(Shared(parts), ())
    joined = {part.name for each in choice.strips for part in each.parts}
    alone = [
        Shared((part,))
        for part in shop.job.parts.values()
        if choice.blanks[part.name].long and not choice.blanks[part.name].whole and part.name not in joined
    ]
    working, students = shop.knowledge.working, shop.workshop.students
    for each in (*choice.strips, *alone):
        most = students + spares_of(working, students)
        sets = class_sets(each.parts, choice.works, choice.ways, choice.blanks, choice.kerfs, shop, most)
        while sets > 1:
            other = tried(Shared(each.parts, sets), (each,))
            choice, sets = other, (1 if other is not choice else sets - 1)
    remarks = tuple(stick_remarks(choice.sticks, choice.works, choice.ways, choice.blanks, shop))
    return replace(choice, ways=marked_by_staff(choice.works, choice.ways, choice.strips), findings=(*choice.findings, *remarks))


def _where_refused(works: list[Work], shop: Shop, shaped: Mapping[str, tuple[str, ...]]) -> Choice:
    """A way for every work. Parts whose blanks no station takes by themselves are brought to size in one long piece and cut apart
    last, if they can be. What then is still too short to be held for its cuts is cut on a longer stick and sawn off it last.
    Neither where the way that is refused is a decision: then it is said why."""
    choice = _settled(works, shop, shaped, ())
    decided = {work.part for name, work in choice.works.items() if name not in choice.ways and way_decided(work, shop.job)}
    small = {part: found for part, found in _refused_as_blanks(choice, shop).items() if part not in decided}
    if small:
        other = _settled(works, shop, shaped, (), dict.fromkeys(small, ""))
        mended = [part for part in small if part not in _refused_as_blanks(other, shop)]
        against = {part: _against(small[part], choice, other, shop) for part in mended}
        choice = _settled(works, shop, shaped, (), against) if mended else choice
    short = {part for part in _refused(choice) - decided if may_be_on_a_stick(shop.job.parts[part], shop)}
    if not short:
        return choice
    in_one, kerfs = choice.in_one, choice.kerfs
    held = sorted(short - _refused(_settled(works, shop, shaped, (), in_one, kerfs, dict.fromkeys(short, 1))))
    if not held:
        return choice
    choice = _settled(works, shop, shaped, (), in_one, kerfs, dict.fromkeys(held, 1))
    for name in held:
        number = most_on_a_stick(shop.job.parts[name], choice.works, choice.ways, choice.blanks[name], shop)
        if number > 1:
            other = _settled(works, shop, shaped, (), in_one, kerfs, {**choice.sticks, name: number})
            as_well = other.blanks[name].yields == number and not _refused(other) - _refused(choice)
            choice = other if as_well and same_ways(choice.ways, other.ways) else choice
    return choice


def _refused(choice: Choice) -> set[str]:
    """The parts with any work that has no way."""
    return {work.part for name, work in choice.works.items() if work.part and name not in choice.ways}


def _where_it_saves(choice: Choice, works: list[Work], shop: Shop, shaped: Mapping[str, tuple[str, ...]]) -> Choice:
    """Several short pieces of a part are worked in one strip where that takes less time and asks for nobody else."""
    for part in shop.job.parts.values():
        decided = any(way_decided(work, shop.job) for work in works if work.part == part.name and work.kind in _BLANK_WORK)
        if decided or not worth_trying(part, choice.blanks[part.name], shop):
            continue
        other = _settled(works, shop, shaped, (), {**choice.in_one, part.name: ""}, choice.kerfs, choice.sticks)
        blank = other.blanks[part.name]
        fits = blank.long and blank.yields >= part.count and blank.length <= shop.knowledge.working.strip_at_bench
        if not fits or has_errors(other.findings) or not no_worse(other.ways, choice.ways, part.name, other.works):
            continue
        single, strip_ = (minutes_for(part.name, each.works, each.ways, each.blanks, shop) for each in (choice, other))
        if strip_ < single:
            said = f"Worked one by one, the {part.count} pieces take {mm(single - strip_)} minutes more."
            choice = replace(other, in_one={**choice.in_one, part.name: said})
    return choice


def _refused_as_blanks(choice: Choice, shop: Shop) -> dict[str, list[Work]]:
    """The parts with work on their blanks that has no way, and that work. What the teacher has decided stays decided."""
    found: dict[str, list[Work]] = {}
    for name, work in choice.works.items():
        if name not in choice.ways and work.kind in _BLANK_WORK and way_decided(work, shop.job) is None:
            found.setdefault(work.part, []).append(work)
    return found


def _against(refused: list[Work], single: Choice, long: Choice, shop: Shop) -> str:
    """What speaks against a blank by itself, in the words of the ways that take the long piece instead."""
    said: dict[str, None] = {}
    for work in refused:
        ways = find_ways(
            work, pieces_for(work, shop, single.blanks), shop, face_words(work, shop.job), shop.hardness_of(work.parts)
        )
        taken = long.ways[work.id].operation
        said |= dict.fromkeys(each.what for way in ways if way.operation == taken for each in way.obstacles)
    return f"A single blank is too small. {next(iter(said), '')}".strip()


def _settled(
    works: list[Work],
    shop: Shop,
    shaped: Mapping[str, tuple[str, ...]],
    together: tuple[Shared, ...],
    in_one: Mapping[str, str] = MappingProxyType({}),
    kerfs: Kerfs = MappingProxyType({}),
    sticks: Mapping[str, int] = MappingProxyType({}),
) -> Choice:
    """A way for every work, where the parts that are `together` come out of one long piece, and each of those `in_one` out of one
    of its own though nothing runs along it. Long pieces are laid out again, with the kerf of the saw that is chosen to cut them
    apart, until no saw is chosen that needs more room. `kerfs`: the ones that were found before. `sticks`: the parts that are cut
    on a longer stick, and how many on one."""
    choice = _laid_out(works, shop, shaped, together, in_one, kerfs, sticks)
    once = False
    while True:
        asked = kerfs_of(choice.works, choice.ways, shop)
        if once:  # what has been left for one saw stays, so that two that need one another's lengths come to an end
            asked |= {part: max(kerf, asked.get(part, 0.0)) for part, kerf in choice.kerfs.items()}
        long = [part for part in asked if choice.blanks[part].long]
        working = shop.knowledge.working
        left = {
            part: parting(shop.job.parts[part], working, asked[part]) + (working.stick_gap if choice.blanks[part].whole else 0.0)
            for part in long
        }
        if all(choice.blanks[part].cut == left[part] for part in long):
            return replace(choice, kerfs=asked)
        choice, once = _laid_out(works, shop, shaped, together, in_one, asked, sticks), True


def _laid_out(
    works: list[Work],
    shop: Shop,
    shaped: Mapping[str, tuple[str, ...]],
    together: tuple[Shared, ...],
    in_one: Mapping[str, str],
    kerfs: Kerfs,
    sticks: Mapping[str, int],
) -> Choice:
    """A way for every work, with these kerfs between the pieces of what is cut apart.

    Lengthwise work is settled first, because it says which parts are worked in the long; then what is done on blanks, which
    says how long those are; then the rest.
    """
    findings: dict[str, list[Finding]] = {}
    job = shop.job
    chosen: dict[str, Way] = {}

    def choose(work: Work, blanks: Mapping[str, Workpiece]) -> None:
        pieces = pieces_for(work, shop, blanks, kerfs)
        decision = way_decided(work, job)
        station = decision.station if decision else ""
        met = shaped.get(work.id, ())
        ways = find_ways(work, pieces, shop, face_words(work, job), shop.hardness_of(work.parts), station, met)
        chosen.pop(work.id, None)
        way, findings[work.id] = _best(work, ways, shop)
        if way is not None:
            chosen[work.id] = way

    whole = {
        name: piece
        for name in sticks
        for part in [job.parts[name]]
        for piece in [stick(part, job.stock[part.stock], shop.knowledge.working, kerfs.get(name), sticks[name])]
        if piece is not None
    }
    for work in works:
        if _lengthwise(work, shop):
            choose(work, whole)
    unsaid = {name: why for name, why in in_one.items() if name not in whole}
    strips = whole | _strips(
        [(work, chosen[work.id]) for work in works if work.id in chosen and work.part not in whole], shop, unsaid, kerfs
    )
    round_ = {work.part for work in works if _made_round(work, chosen)}
    for each in together:
        room = max(job.stock[each.parts[0].stock].lengths, default=inf)
        strips |= shared_blanks(each.parts, shop.knowledge.working, room, kerfs, sets=each.sets)
    final = {
        work.id: _apart(work, strips, round_)
        for work in works
        if work.part in whole or not _marked_by_nothing(work, works, chosen)
    }
    working = shop.knowledge.working
    blanks = {part.name: strips.get(part.name) or rough(part, job.stock[part.stock], working) for part in job.parts.values()}
    by_part: dict[str, list[Work]] = {}
    for work in final.values():
        by_part.setdefault(work.part, []).append(work)
    joined = {part.name for each in together for part in each.parts}
    alone = [(part,) for part in job.parts.values() if part.name not in joined]
    for parts in (*(each.parts for each in together), *alone):
        own = [work for part in parts for work in by_part.get(part.name, ()) if _on_blank(work, chosen, blanks[part.name], part)]
        longer = True
        while longer:
            # A blank grows to the longest holding end that any of its work asks for; all of it is then done on that length.
            for work in own:
                choose(work, blanks)
            pieces = [chosen[work.id].piece for work in own if work.id in chosen]
            before = [blanks[part.name] for part in parts]
            length = max(piece.length for piece in (*before, *filter(None, pieces)))
            longer = any(length > blank.length for blank in before)
            for part in parts:
                blanks[part.name] = as_long(blanks[part.name], length)
    for work in final.values():
        if work.id not in chosen and work.id not in findings:
            choose(work, blanks)
    for name, start in _start_holes(final, chosen).items():
        at = list(final).index(name)
        final = dict([*list(final.items())[:at], (start.id, start), *list(final.items())[at:]])
        choose(start, blanks)
    final = {name: _called(work, chosen.get(name), shop) for name, work in final.items()}
    for name, blank in blanks.items():
        cut = job.parts[name]
        findings.setdefault(f"{name}/rough-length/cut", []).extend(
            (
                *_too_long(cut, job.stock[cut.stock], blank),
                *_too_slight(cut, job.stock[cut.stock], working),
            )
        )
    said = tuple(finding for name in final for finding in findings.get(name, ()))
    return Choice(final, chosen, blanks, said, together, in_one, kerfs, sticks)


def _start_holes(works: Mapping[str, Work], chosen: Mapping[str, Way]) -> dict[str, Work]:
    """The holes that the ways chosen thread a blade through, by the cut each is for."""
    return {
        name: work.start
        for name, work in works.items()
        if work.start is not None and name in chosen and NEEDED in chosen[name].needs
    }


def _too_long(part: Part, stock: Stock, blank: Workpiece) -> Iterator[Finding]:
    """A blank that is longer than the stock it is to come from."""
    longest = max(stock.lengths, default=blank.length)
    if stock.form == "bought" or blank.length <= longest + 0.5:
        return
    yield Finding(
        "error",
        "stock-too-short",
        part.name,
        f"The {words(part.name)} is cut from a blank {mm(blank.length)} mm long, and {stock.name} is bought {mm(longest)} mm "
        "long at most.",
        "The ends of a part are squared, so its blank is longer than the part.",
        f"Buy {stock.name} at least {mm(blank.length)} mm long (`lengths`), or make the part shorter.",
        part.place,
        "common practice",
    )


def _too_slight(part: Part, stock: Stock, working: Working) -> Iterator[Finding]:
    """Stock of a section that leaves nothing to plane, or less than is to be left on until later."""
    if stock.form not in ("board", "square"):
        return
    spare = working.least_planed if stock.surface == "sawn" else 0.0
    sections: tuple[tuple[Axis, float], ...] = (("z", stock.thickness), ("y", stock.width))
    for axis, bought in sections:
        asked = part.worked.size(axis) + spare
        if bought and bought < asked - 0.05:
            yield Finding(
                "error",
                "stock-too-small",
                part.name,
                f"The {words(part.name)} needs {mm(asked)} mm in {AXIS_WORDS[axis]} before it is worked, and {stock.name} is "
                f"{mm(bought)} mm.",
                "Sawn stock is planed on all sides, and what is left on until later must be there."
                if spare
                else "What is left on until later must be there.",
                f"Buy {stock.name} larger, or make the part smaller.",
                part.place,
                "common practice",
            )


def pieces_for(work: Work, shop: Shop, blanks: Mapping[str, Workpiece], kerfs: Kerfs = MappingProxyType({})) -> Pieces:
    """The pieces a work may be done on. `blanks`: those that are settled, long pieces above all; `kerfs` for the others."""
    if not work.part:
        flat = [part for name, _ in work.parts for part in [shop.job.parts[name]] if part.section == "rectangular"]
        return Pieces(None, several=tuple(finished(part) for part in flat))
    part = shop.job.parts[work.part]
    stock = shop.job.stock[part.stock]
    working = shop.knowledge.working
    blank, kerf = blanks.get(part.name), kerfs.get(part.name)
    if _lengthwise(work, shop):
        return Pieces(finished(part), _long_piece(part, stock, blank, working, kerf), only_long=_mitred(part))
    if work.kind == "rough-length":
        cut = blank or rough(part, stock, working)
        length = bought_length(stock, cut.length)
        sawn = listed_width(part, stock, cut, working)
        board = Workpiece(length, stock.width or part.width, stock.thickness, waste=length - cut.length)
        return Pieces(replace(board, sawn_width=sawn, sawn_length=cut.length))
    # A part of which one end is cut square is cut apart by that; only then is its other end cut.
    ends = work.drawn is not None and bool(work.drawn.ends_part()) and _mitred(part)
    if blank is not None and on_the_stick(work, blank, part):
        return Pieces(None, _long_piece(part, stock, blank, working, kerf), only_long=True, whole=True)
    if blank is not None and blank.long and (ends or work.kind in _BLANK_WORK):
        long = _long_piece(part, stock, blank, working, kerf)
        return Pieces(None, _as_bought(long, part, stock, working) if work.kind in _SIZING else long, only_long=True)
    if work.kind in _BLANK_WORK:
        trim = shop.knowledge.bench.first_end_trim if _one_end_squared(work, part) else 0.0
        return Pieces(blank or rough(part, stock, working), longest=max(stock.lengths, default=float("inf")), trim=trim)
    return Pieces(finished(part))


def _one_end_squared(work: Work, part: Part) -> bool:
    """Whether a blank has lost what squaring its first end takes when this work is done."""
    return work.kind == "length" and not any(feature.ends_part() for feature in part.features.values())


_SIZING = ("face-side", "face-edge", "thickness", "width")
"""Work that brings a blank to its section."""
_BLANK_WORK = frozenset({*_SIZING, "first-end", "length", "separate"})
"""Work done on the blank, before it is the part."""


def _on_blank(work: Work, chosen: Mapping[str, Way], blank: Workpiece, part: Part) -> bool:
    long = work.id in chosen and chosen[work.id].in_the_long
    return work.kind in _BLANK_WORK or long or on_the_stick(work, blank, part)


def _lengthwise(work: Work, shop: Shop) -> bool:
    """Whether it can be done in a longer piece: it runs right along a loose part, makes no end, follows nothing that is cut on
    the piece by itself, and leaves the true faces by which the long piece lies when it is cut apart; a rod lies in a V."""
    drawn = work.drawn
    if not work.lengthwise or drawn is None or drawn.when != "loose" or drawn.ends_part():
        return False
    part = shop.job.parts[work.part]
    true = any(takes_away(drawn, face, part, shop.knowledge.bench) for face in (part.face_side, part.face_edge))
    if true and drawn.shape_left != "round":
        return False
    return all(each.lengthwise(part.block) for each in followed_by(drawn, part))


def _mitred(part: Part) -> bool:
    return {end for feature in part.features.values() for end in feature.ends_part()} == {"left", "right"}


def _long_piece(part: Part, stock: Stock, settled: Workpiece | None, working: Working, kerf: float | None) -> LongPiece:
    if settled is not None and settled.long:
        most = max(stock.lengths, default=float("inf"))

        def kept(shortest: float, longest: float, end: float) -> Workpiece | None:
            piece = held(settled, end)
            if settled.whole:
                # Squaring the first end must leave a stick that is as long as is asked.
                piece = held(piece, piece.waste + shortest + working.strip_end - piece.length)
            piece = marked_out(piece, working, most)
            return piece if piece.length <= (min(most, longest) if settled.whole else most) else None

        return kept
    return lambda shortest, longest, end: strip(part, stock, working, shortest, longest, end, kerf)


def _as_bought(long: LongPiece, part: Part, stock: Stock, working: Working) -> LongPiece:
    """The long piece with the section of its blank, as it is before it is brought to size."""
    blank = rough(part, stock, working)

    def bought(shortest: float, longest: float, end: float) -> Workpiece | None:
        piece = long(shortest, longest, end)
        return None if piece is None else replace(piece, width=blank.width, thickness=blank.thickness)

    return bought


def _strips(ways: Iterable[tuple[Work, Way]], shop: Shop, in_one: Collection[str], kerfs: Kerfs) -> dict[str, Workpiece]:
    """The long pieces: of parts with work that is best done in the long, of parts whose ends are both mitred, and of those that
    are wanted `in_one`."""
    found: dict[str, Workpiece] = {}
    for work, way in ways:
        if way.in_the_long and way.piece and (work.part not in found or way.piece.length > found[work.part].length):
            found[work.part] = way.piece
    for part in shop.job.parts.values():
        if part.name not in found and (_mitred(part) or part.name in in_one):
            piece = strip(part, shop.job.stock[part.stock], shop.knowledge.working, kerf=kerfs.get(part.name))
            found |= {part.name: piece} if piece else {}
    return found


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


def _called(work: Work, way: Way | None, shop: Shop) -> Work:
    """The work by the words of the trade: a hole is drilled by a drill and bored by a brace; a finish has its own name."""
    title = work.title
    if way is not None and way.title.startswith("Drill"):
        title = title.replace("Bore ", "Drill ", 1)
    if work.kind == "coat":
        what = shop.job.finish[finish_index(work)].what
        title = title.replace(words(what), shop.knowledge.finishes[what].name, 1)
    return replace(work, title=title)


def face_words(work: Work, job: Job) -> dict[str, str]:
    """Names for printed sentences: the part's letter, the feature's name, the faces by the part's own names."""
    if not work.part:
        letters = ", ".join(job.parts[name].letter for name, _ in work.parts)
        joints = [job.joints[name] for name in work.joints]
        return {
            "part": letters,
            "name": words(work.feature),
            **dict.fromkeys(("face", "behind", "from", "edge", "side"), ""),
            **dowelled_words(job, joints),
        }
    part = job.parts[work.part]
    called = {face: words(name) for name, face in part.names.items()}
    feature = work.drawn
    face = feature.opens()[0] if feature is not None and feature.opens() else part.face_side
    start = _measured_from(feature, part) if feature is not None else part.face_edge
    return {
        "part": part.letter,
        "name": words(work.feature),
        "face": called.get(face, face),
        "behind": called.get(opposite(face), opposite(face)),
        "from": called.get(start, start),
        **_tenon_words(feature, part, called),
    }


def _tenon_words(feature: Feature | None, part: Part, called: Mapping[FaceName, str]) -> dict[str, str]:
    """The `edge` a tenon's width is marked from and the `side` its thickness is gauged from; of all else the face edge and the
    face side."""
    marks = gauged(feature.marks(part.block), part) if feature is not None else None
    keeps = marks.keeps if isinstance(marks, Shoulders) else ()
    start = {axis_of(lines.face): lines.face for lines in keeps}
    found = {}
    for word, true, name in (("edge", part.face_edge, "face edge"), ("side", part.face_side, "face side")):
        face = start.get(axis_of(true), true)
        found[word] = name if face == true else f"{called.get(face, face)} {'edge' if axis_of(face) == 'y' else 'face'}"
    return found


def _measured_from(feature: Feature, part: Part) -> FaceName:
    """The face that “from” means: of slots the one their line is measured from, else the first of all."""
    marks, measured = feature.marks(part.block), feature.measured_from()
    if isinstance(marks, Plunges):
        (across,) = {*AXES} - {axis_of(marks.face), marks.along}
        return next((face for face in measured if axis_of(face) == across), face_at(across, False))
    return measured[0] if measured else part.face_edge


def _best(work: Work, ways: tuple[Way, ...], shop: Shop) -> tuple[Way | None, list[Finding]]:
    decision = way_decided(work, shop.job)
    wanted = ways
    if decision is not None:
        wanted = _asked_for(decision, ways)
    pieces = work.quantity * shop.workshop.students
    for_class = work.kind == "rough-length"
    best = ranked(wanted, shop.job.aim, pieces, for_class)
    if best:
        out = [] if decision else shut_out(ways, best[0], shop.job.aim, pieces, for_class)
        return best[0], [_way_out(work, way, best[0]) for way in out[:1]]
    if decision is not None:
        return None, _decision_refused(work, decision, wanted, ways, shop.job)
    return None, [_no_way(work, ways, _place_of(work, shop.job), what_forbids(work, shop))]


def _asked_for(decision: Decision, ways: tuple[Way, ...]) -> tuple[Way, ...]:
    return tuple(way for way in ways if decision.way in ("", way.operation) and decision.station in ("", way.station, way.kind))


def _way_out(work: Work, out: Way, taken: Way) -> Finding:
    return Finding(
        "note",
        "way-out",
        work.id,
        f"{work.title} is planned as: {taken.title}. {out.title} would come first, but is out here: "
        f"{' '.join(each.what for each in out.obstacles)}",
        remedy=" ".join(each.remedy for each in out.obstacles),
    )


def _decision_refused(work: Work, decision: Decision, wanted: tuple[Way, ...], ways: tuple[Way, ...], job: Job) -> list[Finding]:
    """Why nothing can be done as it is decided. `decision`: what all decisions about the work ask for together."""
    asked = " at ".join(filter(None, (decision.way, decision.station)))
    single = decisions_on_way(work, job)
    if not wanted:
        unknown = [each for each in single if not _asked_for(each, ways)]
        if not unknown:
            return [
                Finding(
                    "error",
                    "decisions-contradict",
                    work.id,
                    f"The decisions together ask for {asked}, which does not do this: {work.title}.",
                    "Each by itself has a way, but no way is both.",
                    f"Keep one of them: {', '.join(each.way or each.station for each in single)}.",
                    decision.place,
                )
            ]
        return [
            Finding(
                "error",
                "decision-unknown",
                work.id,
                f"The decision asks for {' at '.join(filter(None, (each.way, each.station)))}, which does not do this: "
                f"{work.title}.",
                remedy=_offered(each, ways),
                place=each.place,
            )
            for each in unknown
        ]
    others = [way.operation for way in ways if way.possible]
    obstacles = min((way.obstacles for way in wanted), key=len)
    return [
        Finding(
            "error",
            "decision-refused",
            work.id,
            f"The decision asks for {asked}, which cannot be done: {' '.join(obstacle.what for obstacle in obstacles)}",
            "No decision can undo a limit, a guard or work-holding.",
            f"{' '.join(obstacle.remedy for obstacle in obstacles)}"
            + (f" Or use: {', '.join(dict.fromkeys(others))}." if others else ""),
            decision.place,
        )
    ]


def _offered(decision: Decision, ways: tuple[Way, ...]) -> str:
    """What a decision could ask for instead of what nothing here is called: stations for a station, ways for a way; of these
    what is possible here, and the nearest name first."""
    if decision.way and all(way.operation != decision.way for way in ways):
        asked, what, names = decision.way, "Ways that do", [(way.operation, way) for way in ways]
    elif all(decision.station not in (way.station, way.kind) for way in ways):
        asked, what, names = decision.station, "Stations that do", [(way.station, way) for way in ways if way.station]
    else:
        fitting = [way for way in ways if decision.way in ("", way.operation)]
        asked, what, names = "", f"Stations for {decision.way}", [(way.station, way) for way in fitting if way.station]
    near = get_close_matches(asked, {name for name, _ in names}, n=1, cutoff=0.6) if asked else []
    possible = sorted({name for name, way in names if way.possible})
    meant = f"Did you mean {near[0]}? " if near else ""
    return f"{meant}{what} here: {', '.join(possible) or 'none'}."


def _place_of(work: Work, job: Job) -> Place | None:
    return job.parts[work.part].place_of(work.feature) if work.part else None


def _no_way(work: Work, ways: tuple[Way, ...], place: Place | None, on_a_stick: str = "") -> Finding:
    """That nothing makes it. `on_a_stick`: the remedy where all that stands against the nearest way is how short the piece is."""
    meant = [way for way in ways if way.meant]
    if not ways:
        return Finding(
            "error",
            "no-way",
            work.id,
            f"Nothing in the knowledge makes this: {work.title} ({work.kind}).",
            "The tool plans only what it knows.",
            "Add an operation for it, or let staff plan this by hand.",
            place,
        )
    nearest = sorted(
        meant or ways, key=lambda way: (len(way.obstacles), sum(each.short_by for each in way.obstacles), way.operation)
    )
    reasons = "; ".join(f"{way.title}: {' '.join(each.what for each in way.obstacles)}" for way in (meant or ways))
    remedies = " Or: ".join(
        f"{way.title}: {' '.join(dict.fromkeys(each.remedy for each in way.obstacles))}" for way in nearest[:2]
    )
    too_short = all(each.remedy.endswith(" longer.") for each in nearest[0].obstacles)
    return Finding(
        "error",
        "no-way",
        work.id,
        f"No way of doing this is possible here: {work.title}. {reasons}",
        "Every way was tried against sizes, guards, holding, stations and people.",
        f"{on_a_stick} Or nearest: {remedies}" if too_short and on_a_stick else f"Nearest: {remedies}",
        place,
    )
