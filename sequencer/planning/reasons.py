"""Why one task comes before another: rules over shapes and work, each with a kind and a sentence.

Only what is demanded is said here; what merely saves a set-up is left to the order.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import permutations

from sequencer.design.placing import place
from sequencer.features.base import Feature
from sequencer.features.channel import Trenched
from sequencer.features.cope import Cope
from sequencer.features.dovetail_pins import DovetailPins
from sequencer.features.dovetailing import Dovetailing
from sequencer.features.dovetails import Dovetails
from sequencer.features.mitre import Mitre
from sequencer.features.mortise import Mortise
from sequencer.features.moulding import Moulding
from sequencer.features.revolved import Revolved
from sequencer.model.frame import AXES, FACES, Axis, FaceName, Point, axis_of, opposite, others
from sequencer.model.job import Allowance, Job, Joint, Part
from sequencer.model.marks import Tool
from sequencer.model.plan import Bench, Reason, ReasonKind
from sequencer.model.shapes import Bounds, bounds
from sequencer.planning.groups import DRY, Group, after_finish
from sequencer.planning.joined_names import WHOLE
from sequencer.planning.loose import wedges_in_end
from sequencer.planning.loose_work import loose_reasons
from sequencer.planning.making_room import rooms
from sequencer.planning.order import YIELDING
from sequencer.planning.shapes_left import TOUCH, meet
from sequencer.planning.start_holes import NEEDED
from sequencer.planning.strips import cuts_apart
from sequencer.planning.turning import CENTRES, turning_of
from sequencer.planning.ways import Way
from sequencer.planning.work import Work, finish_index, words

TRADE = "common practice"
MARKED_FROM = "common practice: pins are marked from the tails they fit, piece by piece"
HIDDEN = "W. Noyes, Handwork in Wood, 1910, ch. VIII: the groove comes before the joint, so that a tail hides its end"
COPED = "G. A. Ross, Elementary Course in Woodwork, 1901, exercise no. 8: moulded first, then cut back and coped"
MORTISED = "G. A. Ross, Elementary Course in Woodwork, 1901, exercise no. 8: mortised before the rebate is worked"
RAGS = "Harvard fabrication laboratory, oil-based finishes: soaked rags can ignite within hours; common practice"
GRIT = "Grit that abrasives leave in the wood takes the edge off the next tool."
ALIGHT = "Rags soaked with oil can take fire by themselves."
WET = "A joint that is moved before the glue has set opens and does not hold."
ROCKS = "Large work rocks under saw and plane, or is gripped where the vice strains a joint."
JOINED = "What is joined on stands in the way of laying and holding the piece."
SHUT_OUT = "What comes later is shut out, or glue that has not set is moved."
TACKY = "A coat that is not dry lifts, takes dust and rubs off."
"""What goes wrong otherwise, where no rigid solid shows it."""
_STOCK: tuple[tuple[str, str, ReasonKind, str], ...] = (
    ("rough-length", "face-marks", "sequence", "The blank is cut off the board before its own faces are chosen and marked."),
    (
        "rough-length",
        "face-side",
        "sequence",
        "The blank is cut off the board before it is planed: a short piece is easier to handle.",
    ),
    ("rough-length", "face-edge", "sequence", "The blank is cut off before its edge is planed."),
    ("rough-length", "thickness", "sequence", "The blank is cut off before it is brought to thickness."),
    ("rough-length", "width", "sequence", "The blank is cut off before it is brought to width."),
    ("rough-length", "first-end", "sequence", "The blank is cut off before its end is squared."),
    ("rough-length", "length", "sequence", "The blank is cut off over length before it is cut to length."),
    (
        "face-marks",
        "thickness",
        "reference",
        "Thickness is measured from the face side, so the true faces are chosen and marked first.",
    ),
    ("face-marks", "width", "reference", "Width is measured from the face edge, so the true faces are chosen and marked first."),
    (
        "face-marks",
        "first-end",
        "reference",
        "An end is squared from face side and face edge, so the true faces are chosen and marked first.",
    ),
    (
        "face-marks",
        "length",
        "reference",
        "An end is squared from face side and face edge, so the true faces are chosen and marked first.",
    ),
    (
        "face-side",
        "face-edge",
        "reference",
        "The face edge is made square to the face side, so the face side must be true first.",
    ),
    ("face-side", "thickness", "reference", "Thickness is measured from the face side, so the face side must be true first."),
    ("face-edge", "width", "reference", "Width is measured from the face edge, so the face edge must be true first."),
    ("face-edge", "first-end", "reference", "An end is squared from the face edge, so the face edge must be true first."),
    ("face-edge", "length", "reference", "An end is squared from the face edge, so the face edge must be true first."),
    (
        "thickness",
        "first-end",
        "support",
        "Planing comes while the piece is over length: it is held better, and thin ends are cut off.",
    ),
    (
        "thickness",
        "length",
        "support",
        "Planing comes while the piece is over length: it is held better, and thin ends are cut off.",
    ),
    (
        "width",
        "first-end",
        "support",
        "Width comes while the piece is over length: it is held better, and broken ends are cut off.",
    ),
    ("width", "length", "support", "Width comes while the piece is over length: it is held better, and broken ends are cut off."),
    ("first-end", "length", "reference", "Length is measured from the first end, so that end must be square first."),
)


@dataclass(frozen=True)
class _Cut:
    """A feature's work with the boxes round its shapes and whether it is done in the long, and where the cutter comes from."""

    work: Work
    feature: Feature
    boxes: tuple[Bounds, ...]
    long: bool
    tool: Tool

    @property
    def name(self) -> str:
        return words(self.feature.name)


def find_reasons(
    job: Job, works: Mapping[str, Work], ways: Mapping[str, Way], groups: tuple[Group, ...], bench: Bench
) -> tuple[Reason, ...]:
    """Every reason of a job, once for each pair and kind, in a fixed order."""
    found: dict[tuple[str, str, ReasonKind], Reason] = {}
    decisions = tuple(_decided(job, works))
    decided = {(reason.before, reason.after) for reason in decisions}
    for reason in (
        *_part_reasons(job, works, ways, bench),
        *_strip_reasons(works, ways),
        *_group_reasons(job, works, ways, groups),
        *_room_reasons(job, works, groups),
        *_finishing_reasons(job, works, groups, bench.tool_room),
        *decisions,
    ):
        if reason.before != reason.after and not _overruled(reason, decided):
            found.setdefault((reason.before, reason.after, reason.kind), reason)
    return _without_idle_choices(tuple(found.values()))


def _without_idle_choices(every: tuple[Reason, ...]) -> tuple[Reason, ...]:
    """The reasons without each choice that goes against a demand, a decision or an earlier choice: it is no demand itself."""
    after: dict[str, set[str]] = {}
    for reason in every:
        if reason.kind != "choice":
            after.setdefault(reason.before, set()).add(reason.after)

    def leads(start: str, to: str) -> bool:
        seen, todo = {start}, [start]
        while todo:
            new = after.get(todo.pop(), set()) - seen
            seen |= new
            todo.extend(new)
        return to in seen

    idle: set[Reason] = set()
    for reason in every:
        if reason.kind == "choice":
            if leads(reason.after, reason.before):
                idle.add(reason)
            else:
                after.setdefault(reason.before, set()).add(reason.after)
    return tuple(reason for reason in every if reason not in idle)


def _overruled(reason: Reason, decided: set[tuple[str, str]]) -> bool:
    """Whether a decision asks for the other way round, and the reason may yield to one. Square work that comes after a shape then
    must be gripped by what the shape has left, which the way sees to (`shapes_left`)."""
    return reason.kind in YIELDING and (reason.after, reason.before) in decided


def _part_reasons(job: Job, works: Mapping[str, Work], ways: Mapping[str, Way], bench: Bench) -> Iterator[Reason]:
    for part in job.parts.values():
        own = {work.feature: work for work in works.values() if work.part == part.name}
        for before, after, kind, sentence in _STOCK:
            if before in own and after in own:
                yield Reason(own[before].id, own[after].id, kind, sentence, TRADE)
        yield from _needed(own, ways)
        cuts = [_cut(work, part, ways) for work in own.values() if work.drawn is not None]
        yield from _marking(own, cuts, part, bench)
        loose = [cut for cut in cuts if cut.feature.when == "loose"]
        waiting = {(turned.work.id, late.work.id) for turned, late in _turned_first(loose, ways, part, bench)}
        starts = {work.start.id: work.id for work in own.values() if work.start is not None}
        yield from _started(own, ways)
        for first, second in permutations(loose, 2):
            if starts.get(first.work.id) == second.work.id or starts.get(second.work.id) == first.work.id:
                continue
            if (second.work.id, first.work.id) not in waiting:
                yield from _pair(first, second, part, bench)
        for turned, late in _turned_first(loose, ways, part, bench):
            sentence = f"The {turned.name} is turned first: the {late.name} takes away wood that the centres or the balance need."
            yield Reason(turned.work.id, late.work.id, "support", sentence, TRADE)
        yield from _shortened(loose, part, bench)


def _needed(own: Mapping[str, Work], ways: Mapping[str, Way]) -> Iterator[Reason]:
    """True faces that a way of preparing stock is worked from, as its operation says."""
    for work in own.values():
        for face in ways[work.id].needs if work.drawn is None and work.kind != "mark-out" else ():
            if face in own and face != work.feature:
                sentence = f"The {words(work.feature)} is worked from the {words(face)}, which must be true first."
                yield Reason(own[face].id, work.id, "reference", sentence, TRADE)


def _started(own: Mapping[str, Work], ways: Mapping[str, Way]) -> Iterator[Reason]:
    """A blade that is threaded through needs its hole."""
    for work in own.values():
        if work.start is not None and work.start.feature in own and NEEDED in ways[work.id].needs:
            sentence = f"The blade needs a hole to be threaded through before the {words(work.feature)} is sawn."
            yield Reason(work.start.id, work.id, "reach", sentence, TRADE)


def _shortened(cuts: list[_Cut], part: Part, bench: Bench) -> Iterator[Reason]:
    """Mitres that together leave too little of a long face come after what is measured from it or held by it."""
    mitres: dict[FaceName, list[_Cut]] = {}
    for cut in cuts:
        if isinstance(cut.feature, Mitre):
            mitres.setdefault(opposite(cut.feature.long), []).append(cut)
    for face, shortening in mitres.items():
        lost = sum(cut.feature.waste(part.block) for cut in shortening if isinstance(cut.feature, Mitre))
        if lost <= (1 - bench.fence_share) * part.block.length:
            continue
        for first in cuts:
            if first.feature.ends_part() or first.feature.nature not in ("bored", "cut"):
                continue
            measured = face in {*first.feature.measured_from(), part.face_edge}
            if measured or face in _held_by(first, part, bench):
                what = f"{_is(first.name)} measured from" if measured else "must be held by"
                for second in shortening:
                    sentence = f"The {second.name} takes away most of the {_face_called(face)} that the {first.name} {what}."
                    yield Reason(first.work.id, second.work.id, "datum" if measured else "holding", sentence, TRADE)


_WHOLE = ("rough-length", "face-marks", "face-side", "face-edge", "thickness", "width", "mark-out")
"""Work that is done on a strip while it is whole, besides what runs right along it."""


def _strip_reasons(works: Mapping[str, Work], ways: Mapping[str, Way]) -> Iterator[Reason]:
    """What is one stick is brought to size and worked along its whole length before any part is cut off it, whichever part
    each work is drawn for."""
    strips: dict[str, list[Work]] = {}
    for work in works.values():
        piece = ways[work.id].piece
        if piece is not None and piece.strip:
            strips.setdefault(piece.strip, []).append(work)
    members = {work.part: strip for strip, own in strips.items() for work in own}
    for work in works.values():
        if work.kind in _WHOLE and work.part in members and work not in strips[members[work.part]]:
            strips[members[work.part]].append(work)
    for own in strips.values():
        apart = [work for work in own if cuts_apart(work)]
        # Pieces with square ends are marked out when they are cut apart.
        squared = {work.part for work in own if work.kind == "separate"}
        whole = [
            work
            for work in own
            if not cuts_apart(work)
            and (work.kind in _WHOLE or ways[work.id].in_the_long)
            and not (work.kind == "mark-out" and work.part in squared)
        ]
        for first in whole:
            for last in apart:
                if first.part != last.part:
                    sentence = (
                        f"The {words(first.part)} and the {words(last.part)} are one stick until they are cut apart: first all "
                        "that is done on the whole of it."
                    )
                    yield Reason(first.id, last.id, "support", sentence, TRADE)


def _turned_first(cuts: list[_Cut], ways: Mapping[str, Way], part: Part, bench: Bench) -> Iterator[tuple[_Cut, _Cut]]:
    """Each turning between centres with each cut that waits for it."""
    for turned in cuts:
        figures = ways[turned.work.id].figures
        if isinstance(turned.feature, Revolved) and all(name in figures for name in CENTRES):
            late = turning_of(turned.feature, part, figures, bench).after
            yield from ((turned, cut) for cut in cuts if cut.feature in late)


def _cut(work: Work, part: Part, ways: Mapping[str, Way]) -> _Cut:
    assert work.drawn is not None
    boxes = tuple(bounds(shape) for shape in work.drawn.removes(part.block))
    way = ways[work.id]
    return _Cut(work, work.drawn, boxes, way.in_the_long, way.tool)


def _marking(own: Mapping[str, Work], cuts: list[_Cut], part: Part, bench: Bench) -> Iterator[Reason]:
    """What is marked needs true faces and ends; what is cut needs its line; what is worked in the long comes before the
    ends are cut."""
    marking = own.get("mark-out")
    ends = [own[kind] for kind in ("first-end", "length") if kind in own]
    sized = [own[kind] for kind in ("rough-length", "face-marks", "face-side", "face-edge", "thickness", "width") if kind in own]
    making_ends = [cut for cut in cuts if cut.feature.ends_part() and cut.feature.when == "loose"]
    if marking:
        for work in (*sized, *ends):
            sentence = (
                "Marks are measured from the squared ends." if work in ends else "Marks are measured from true faces and edges."
            )
            yield Reason(work.id, marking.id, "reference", sentence, TRADE)
    for cut in cuts:
        if cut.long and not cut.feature.ends_part():
            for work in sized:
                yield Reason(
                    work.id,
                    cut.work.id,
                    "reference",
                    f"The {cut.name} runs along a true face and edge, so those come first.",
                    TRADE,
                )
            for end in ends:
                yield Reason(
                    cut.work.id,
                    end.id,
                    "support",
                    f"The {cut.name} is worked in one long piece, which is held well clear of the cutter; "
                    "the parts are cut apart after.",
                    "Published accident reports name short pieces at machines; working in long lengths is common practice",
                )
            for other in making_ends:
                yield Reason(
                    cut.work.id,
                    other.work.id,
                    "support",
                    f"The {cut.name} runs out through both ends, so it is worked in the long piece; "
                    f"the {other.name} then cuts the part off.",
                    TRADE,
                )
        elif marking:
            yield Reason(marking.id, cut.work.id, "reference", "A cut needs its line.", TRADE)
        else:
            for work in (*sized, *ends):
                yield Reason(work.id, cut.work.id, "reference", f"The {cut.name} is measured from true faces and ends.", TRADE)
    if making_ends:
        for cut in cuts:
            if (
                cut.feature.when == "loose"
                and not cut.long
                and not cut.feature.ends_part()
                and cut.feature.nature in ("bored", "cut")
            ):
                for other in making_ends:
                    gone = next(
                        (face for face in cut.feature.measured_from() if _taken_along(cut, other, part, face, bench)), None
                    )
                    if set(other.feature.ends_part()) & set(cut.feature.measured_from()):
                        sentence = f"The {other.name} cuts away the square end that the {cut.name} {_is(cut.name)} measured from."
                    elif gone:
                        sentence = (
                            f"The {other.name} takes away the {_face_called(gone)} along the {cut.name}, which {_is(cut.name)} "
                            "measured from it."
                        )
                    else:
                        continue
                    yield Reason(cut.work.id, other.work.id, "datum", sentence, TRADE)


def _pair(first: _Cut, second: _Cut, part: Part, bench: Bench) -> Iterator[Reason]:
    """Why `first` comes before `second`, for two cuts of one part."""
    one, other = first.feature, second.feature
    if one.only and other.only and one.only != other.only:
        # No piece has both.
        return
    if one.ends_part() == ("left",) and other.ends_part() == ("right",):
        sentence = f"The {second.name} is measured from the end that the {first.name} makes."
        yield Reason(first.work.id, second.work.id, "reference", sentence, TRADE)
    if one.ends_part() or other.ends_part():
        return
    spoiled = set(other.spoils())
    if spoiled and not one.spoils():
        lost = sorted(spoiled & {*one.measured_from(), part.face_side, part.face_edge}, key=FACES.index)
        if lost and one.nature in ("bored", "cut"):
            yield Reason(
                first.work.id,
                second.work.id,
                "datum",
                f"The {second.name} takes away the {_face_called(lost[0])} that the {first.name} {_is(first.name)} measured "
                "from.",
                TRADE,
            )
        elif one.nature in ("bored", "cut") and not _sawn_through(first) and spoiled & _held_by(first, part, bench):
            face = sorted(spoiled & _held_by(first, part, bench), key=FACES.index)[0]
            yield Reason(
                first.work.id,
                second.work.id,
                "holding",
                f"Square work first: the {second.name} takes away the straight {_face_called(face)} that the part is held by.",
                TRADE,
            )
    if spoiled and one.spoils():
        gone = spoiled & _datums(one, part)
        if gone and not set(one.spoils()) & _datums(other, part):
            face = sorted(gone, key=FACES.index)[0]
            yield Reason(
                first.work.id,
                second.work.id,
                "datum",
                f"The {second.name} takes away the {_face_called(face)} that the {first.name} {_is(first.name)} worked from.",
                TRADE,
            )
    if not spoiled and one.nature in ("bored", "cut") and other.nature == "cut":
        run = next((face for face in one.measured_from() if _taken_along(first, second, part, face, bench)), None)
        if run and not any(_taken_along(second, first, part, face, bench) for face in other.measured_from()):
            sentence = (
                f"The {second.name} takes away the {_face_called(run)} along the {first.name}, which {_is(first.name)} measured "
                "from it."
            )
            yield Reason(first.work.id, second.work.id, "datum", sentence, TRADE)
    if isinstance(one, Trenched) and first.work.lengthwise and isinstance(other, Dovetailing) and _runs_out(first, other, part):
        yield Reason(
            first.work.id,
            second.work.id,
            "sequence",
            f"The {first.name} is cut before the {second.name}, so that its end can be seen to come out under a tail.",
            HIDDEN,
            "A channel that runs out beside a tail shows on the outside.",
        )
    touching = any(meet(a, b) for a in first.boxes for b in second.boxes)
    if not touching:
        return
    if one.nature == "cut" and isinstance(other, Dovetailing) and other.end in one.opens() and not isinstance(one, Dovetailing):
        yield Reason(
            first.work.id,
            second.work.id,
            "sequence",
            f"The {first.name} is cut before the {second.name}, which are measured from the shoulder it leaves.",
            TRADE,
            "A joint that is cut first has its shoulder in wood that is taken away later.",
        )
    if isinstance(one, Mortise) and other.nature == "cut" and second.work.lengthwise and not second.long:
        yield Reason(
            first.work.id,
            second.work.id,
            "datum",
            f"The {second.name} takes away wood at the mouth of the {first.name} that carries its lines and guides the chisel.",
            MORTISED,
            "A mortise without its lines wanders, and its chisel has nothing to stand against.",
        )
    if isinstance(one, Moulding) and isinstance(other, Cope):
        yield Reason(
            first.work.id,
            second.work.id,
            "sequence",
            f"The {first.name} is worked right along first; the {second.name} is cut to it.",
            COPED,
            "A moulding that is worked after its end is cut has no whole edge to run on, and the cope no line to follow.",
        )
    if one.nature == "bored" and other.nature == "cut":
        yield Reason(
            first.work.id,
            second.work.id,
            "reach",
            f"The {first.name} is bored first: the {second.name} runs into it and starts or ends there.",
            "E. W. Foster, Carpentry and Woodwork, 1911, ch. XXV and XXXI",
        )
    elif other.nature == "edge" and one.nature != "edge":
        yield Reason(
            first.work.id,
            second.work.id,
            "break-out",
            f"The {second.name} follows an edge that the {first.name} makes.",
            TRADE,
            "An edge that is broken first splinters where the next cut runs through it.",
        )
    elif one.nature == other.nature == "cut" and second.work.lengthwise and not first.work.lengthwise and not second.long:
        exit_face = _shared_exit(first, second, part)
        if exit_face:
            yield Reason(
                first.work.id,
                second.work.id,
                "break-out",
                f"Across the grain first: wood that breaks out at the {exit_face} is taken away by the {second.name}.",
                TRADE,
                f"The fibres at the {exit_face} break out where the cutter leaves them.",
            )


def _runs_out(cut: _Cut, ending: Dovetailing, part: Part) -> bool:
    """Whether a cut along a part comes out at the end where tails or pins are."""
    return any(_reaches(box, axis_of(ending.end), part.block.level(ending.end)) for box in cut.boxes)


def _datums(feature: Feature, part: Part) -> set[FaceName]:
    """The true faces a shape is worked from, but for one that it takes away itself."""
    return {part.face_side, part.face_edge} - set(feature.spoils())


def _taken_along(first: _Cut, second: _Cut, part: Part, face: FaceName, bench: Bench) -> bool:
    """Whether a cut leaves too little of a long face along another one for that to be measured from it any more. Over an end a
    rule is hooked: any of it will do."""
    if axis_of(face) == "x":
        return False
    opened = axis_of(first.feature.opens()[0])
    over = [axis for axis in others(axis_of(face)) if axis != opened] or list(others(axis_of(face)))
    level = part.block.level(face)
    # Each hole is measured by itself; of another cut the whole run counts.
    runs = first.boxes if first.feature.nature == "bored" else (_around(first.boxes),)
    for box in runs:
        run = _longest(box, over)
        rest = next(axis for axis in AXES if axis not in (axis_of(face), run))
        low, high = box.span(run)
        taken = sum(
            max(0.0, min(high, other.span(run)[1]) - max(low, other.span(run)[0]))
            for other in second.boxes
            if _reaches(other, axis_of(face), level)
            and other.span(rest)[0] <= TOUCH
            and other.span(rest)[1] >= part.block.size(rest) - TOUCH
        )
        if taken > (1 - bench.fence_share) * (high - low):
            return True
    return False


def _longest(box: Bounds, over: Iterable[Axis]) -> Axis:
    return max(over, key=lambda axis: box.span(axis)[1] - box.span(axis)[0])


def _around(boxes: tuple[Bounds, ...]) -> Bounds:
    return Bounds(
        Point(*(min(box.span(axis)[0] for box in boxes) for axis in AXES)),
        Point(*(max(box.span(axis)[1] for box in boxes) for axis in AXES)),
    )


def _face_called(face: FaceName) -> str:
    """A face as a sentence names it: `left end`, `top edge`, `inside face`."""
    return f"{face} {({'x': 'end', 'y': 'edge', 'z': 'face'})[axis_of(face)]}"


def _is(name: str) -> str:
    """The verb for a feature's name: screws are, a hole is."""
    return "are" if name.endswith("s") and not name.endswith("ss") else "is"


def _held_by(cut: _Cut, part: Part, bench: Bench) -> set[FaceName]:
    """Faces a part rests on or is gripped by while a cut is made from its first open face: those it is measured from press
    the opposite ones against something; of what a vice takes only one way, the two faces that it grips."""
    rests, gripped = opposite(cut.feature.opens()[0]), {opposite(face) for face in cut.feature.measured_from()}
    ways = [axis for axis in others(axis_of(rests)) if part.block.size(axis) <= bench.vice_opens]
    if len(ways) == 1 and cut.tool not in ("below", "fence"):
        gripped |= {face for face in FACES if axis_of(face) == ways[0]}
    return {rests} | gripped


def _sawn_through(cut: _Cut) -> bool:
    """A slot or opening that a saw makes right through: it is held anywhere, so no shape takes its holding away."""
    return cut.tool == "beside" and cut.work.figures.get("feature.through") == 1.0


def _shared_exit(first: _Cut, second: _Cut, part: Part) -> FaceName | None:
    """A face along the part at which the first cut comes out of the wood where the second takes wood away."""
    for face in FACES:
        axis = axis_of(face)
        if axis == part.grain:
            continue
        level = part.block.level(face)
        for a in first.boxes:
            for b in second.boxes:
                if face not in first.feature.opens() and _reaches(a, axis, level) and _reaches(b, axis, level) and meet(a, b):
                    return face
    return None


def _reaches(box: Bounds, axis: Axis, level: float) -> bool:
    low, high = box.span(axis)
    return low - TOUCH <= level <= high + TOUCH


def _last(group: Group) -> str:
    """The task after which a group is one piece."""
    return f"{group.name}/cure/wait" if group.fixing == "glue" else _fixing(group)


def _fixing(group: Group) -> str:
    acts = {"glue": "glue", "screw": "screw", "nail": "nail", "fit-dry": "fit", "key": "key"}
    return f"{group.name}/{group.fixing}/{acts[group.fixing]}"


def _joint_features(job: Job, group: Group) -> set[tuple[str, str]]:
    return {
        (job.part_of(seat.piece).name, seat.feature) for joint in group.joints for seat in (joint.its, joint.seat) if seat.feature
    }


def _covers(job: Job, group: Group, part: str) -> set[FaceName]:
    """The faces of a part that other parts lie against in the joints of a group."""
    seats = [seat for joint in group.joints for seat in (joint.its, joint.seat)]
    return {seat.face for seat in seats if seat.face and job.part_of(seat.piece).name == part}


def _group_reasons(job: Job, works: Mapping[str, Work], ways: Mapping[str, Way], groups: tuple[Group, ...]) -> Iterator[Reason]:
    for group in groups:
        parts = list(dict.fromkeys(job.part_of(piece).name for piece in group.pieces))
        fixing = _fixing(group)
        trying = f"{group.name}/dry-fit/try" if group.fixing not in DRY else fixing
        cleaning = f"{group.name}/clean-inside/clean"
        in_joints = _joint_features(job, group)
        entering = {job.part_of(joint.enters_piece).name for joint in group.joints}
        for work in works.values():
            if work.part not in parts or (work.drawn is not None and work.drawn.when == "assembled") or work.kind == "trim":
                continue
            used = (work.part, work.feature) in in_joints
            makes_end = work.kind == "length" if work.drawn is None else bool(work.drawn.ends_part())
            if makes_end:
                # What comes before its last end, in the order of the trade, is demanded by that.
                yield Reason(work.id, trying, "fit", f"The {words(work.part)} must have its size before it is tried.", TRADE)
            elif used:
                yield Reason(work.id, trying, "fit", f"The {words(work.feature)} must be cut before the joint is tried.", TRADE)
            if work.drawn is None:
                continue
            if "feature.gauge" in work.figures:
                yield Reason(work.id, fixing, "fit", "A screw needs its hole first.", TRADE)
            elif not used and group.fixing == "glue" and work.drawn.opens()[:1] == ("inside",):
                yield Reason(
                    work.id,
                    fixing,
                    "reach",
                    f"There is no room for tools at the {words(work.feature)} once the parts are joined.",
                    TRADE,
                )
            elif not used and (group.fixing == "glue" or (work.part in entering and group.fixing != "fit-dry")):
                yield Reason(
                    work.id,
                    fixing,
                    "reach",
                    f"The {words(work.feature)} is cut while the {words(work.part)} is still a piece by itself.",
                    TRADE,
                    JOINED,
                )
            elif not used and work.drawn.nature == "edge" and _covers(job, group, work.part) & set(work.drawn.opens()):
                sentence = f"The {words(work.feature)} is cut before another part lies against its face."
                yield Reason(work.id, fixing, "reach", sentence, TRADE, JOINED)
            if cleaning in works and work.part in dict(works[cleaning].parts) and (used or work.drawn.nature != "bored"):
                yield Reason(
                    work.id,
                    cleaning,
                    "surface",
                    "No edge tool or saw works on a sanded face: grit left in it blunts the edge.",
                    TRADE,
                    GRIT,
                )
        yield Reason(
            trying,
            fixing,
            "fit",
            "What is joined is tried dry before it is fixed for good.",
            "W. Noyes, Handwork in Wood, 1910, ch. VIII",
            "A joint that does not close is found when it can no longer be eased.",
        )
        if cleaning in works:
            yield Reason(
                trying,
                cleaning,
                "surface",
                "Faces are cleaned after the dry fit, so that joints stay as they were fitted.",
                TRADE,
                "What cleaning takes off is missing where the joint was fitted.",
            )
            yield Reason(
                cleaning,
                fixing,
                "reach",
                "Inside faces cannot be reached once the parts are joined.",
                "H. H. Windsor, Mission Furniture, 1909, p. 17",
            )
        if group.fixing == "glue":
            yield Reason(
                fixing,
                f"{group.name}/cure/wait",
                "cure",
                "Glue holds only when it has set under the cramps.",
                "E. W. Foster, Carpentry and Woodwork, 1911, ch. XXV",
                WET,
            )
        yield from _also_fixed(group)
        yield from loose_reasons(group, works, trying, cleaning, fixing, _last(group))
        for piece in group.captured:
            name = job.part_of(piece).name
            for work in works.values():
                if work.part == name and (work.drawn is None or work.drawn.when == "loose"):
                    yield Reason(
                        work.id,
                        fixing,
                        "capture",
                        f"The {words(name)} goes in before the last joint is closed; afterwards it is shut out.",
                        "W. Noyes, Handwork in Wood, 1910, ch. VII and VIII",
                    )
        for earlier, why, asked in group.after:
            before = next(other for other in groups if other.name == earlier)
            if earlier in group.derived:
                yield Reason(_last(before), fixing, "sequence", why, TRADE, SHUT_OUT)
                continue
            yield Reason(_last(before), fixing, "drawing" if asked else "choice", why, TRADE)
        yield from _fitted_to(job, works, group)


def _room_reasons(job: Job, works: Mapping[str, Work], groups: tuple[Group, ...]) -> Iterator[Reason]:
    """Cuts that make room for another part come before the two are first put together."""
    named = {group.name: group for group in groups}
    for room in rooms(job, groups):
        group = named[room.group]
        work = works.get(f"{room.part}/{room.feature}/cut")
        if work is not None:
            trying = f"{group.name}/dry-fit/try" if group.fixing not in DRY else _fixing(group)
            sentence = f"The {words(room.feature)} makes room for the {words(room.other)}, so it is cut before they are tried."
            yield Reason(work.id, trying, "fit", sentence, TRADE, "Without it one part stands where the other must go.")


def _seat_first(job: Job, works: Mapping[str, Work], joint: Joint) -> Iterator[Reason]:
    """Of two cuts that meet in a joint the hollow one is made first and the other is fitted to it: a choice, as either can be
    cut to the marks."""
    if joint.crossing or not (joint.its.feature and joint.seat.feature):
        return
    its = works.get(f"{job.part_of(joint.its.piece).name}/{joint.its.feature}/cut")
    seat = works.get(f"{job.part_of(joint.seat.piece).name}/{joint.seat.feature}/cut")
    if its and seat and isinstance(its.drawn, Dovetails) and isinstance(seat.drawn, DovetailPins):
        sentence = f"The {words(seat.feature)} are marked with a knife from the finished {words(its.feature)}."
        harm = "Tails that are not quite as drawn do not go between pins cut to the drawing."
        yield Reason(its.id, seat.id, "fit", sentence, MARKED_FROM, harm)
    elif its and seat and its.drawn and seat.drawn and its.drawn.nature == seat.drawn.nature == "cut":
        if its.drawn.kind == seat.drawn.kind:
            # Neither is the hollow one: both ends of one part are cut, and the others marked from them.
            seat, its = sorted((seat, its), key=lambda work: list(job.parts).index(work.part))
        sentence = f"Either could be cut first; the {words(seat.feature)} is, so that the {words(its.feature)} is fitted to it."
        yield Reason(seat.id, its.id, "choice", sentence, TRADE)


def _also_fixed(group: Group) -> Iterator[Reason]:
    """Screws draw a glued joint up while it is wet; nails and pins go in when it has set."""
    for kind in group.also:
        work = f"{group.name}/{kind}/{kind}"
        if kind == "screw":
            sentence = "Screws draw the joint up while the glue is wet."
            yield Reason(_fixing(group), work, "sequence", sentence, TRADE, "Screws driven first hold the joint open.")
            yield Reason(work, _last(group), "sequence", "The joint is left alone when its screws are in.", TRADE, WET)
        else:
            yield Reason(
                _last(group), work, "cure", "A wet joint is not hammered: the pins go in when the glue has set.", TRADE, WET
            )
        yield Reason(
            work,
            f"{WHOLE}/clean-up/clean",
            "surface",
            "Heads are below the surface before it is cleaned up.",
            TRADE,
            "A head that stands out takes the edge off the plane.",
        )


def _fitted_to(job: Job, works: Mapping[str, Work], group: Group) -> Iterator[Reason]:
    """A seat is cut to the finished thickness of what goes into it; of a lap, both are seats."""
    for joint in group.joints:
        lapped = joint.crossing or _kinds(job, joint) == ("halving", "halving")
        pairs = [(joint.enters_piece, joint.seat), *([(joint.seat.piece, joint.its)] if lapped else [])]
        for piece, seat in pairs:
            entering, taking = job.part_of(piece), job.part_of(seat.piece)
            made = works.get(f"{entering.name}/thickness/plane")
            cut = works.get(f"{taking.name}/{seat.feature}/cut") if seat.feature else None
            if made and cut and entering.name != taking.name:
                sentence = f"The {words(seat.feature)} is cut to the finished thickness of the {words(entering.name)}."
                yield Reason(
                    made.id, cut.id, "fit", sentence, TRADE, "A seat that is cut to a guess is loose, or does not go on."
                )
        yield from _seat_first(job, works, joint)


def _kinds(job: Job, joint: Joint) -> tuple[str, ...]:
    """The kinds of feature that meet in a joint."""
    return tuple(job.part_of(seat.piece).features[seat.feature].kind for seat in (joint.its, joint.seat) if seat.feature)


def _finishing_reasons(job: Job, works: Mapping[str, Work], groups: tuple[Group, ...], tool_room: float) -> Iterator[Reason]:
    cleaning = f"{WHOLE}/clean-up/clean"
    late = {job.part_of(joint.enters_piece).name for group in groups if after_finish(job, group) for joint in group.joints}
    cleaned = set(job.parts) - late
    ends = [_last(group) for group in groups if not after_finish(job, group)]
    glued = [_last(group) for group in groups if group.fixing == "glue" and not after_finish(job, group)]
    for work in works.values():
        if work.kind == "trim":
            own = job.parts[work.part].allowances
            allowance = next(each for each in own if f"{each.face}-allowance" == work.feature)
            yield from _trimming(job, work, allowance, groups, tool_room)
        elif work.drawn is not None and work.drawn.when == "assembled":
            for group in groups:
                if work.part in {job.part_of(piece).name for piece in group.pieces}:
                    yield Reason(
                        _last(group),
                        work.id,
                        "drawing",
                        f"The {words(work.feature)} is cut when the parts are joined, as drawn.",
                        TRADE,
                    )
        if cleaning in works and work.part in cleaned and work.kind != "mark-out":
            yield Reason(
                work.id,
                cleaning,
                "surface",
                "Cutting comes before sanding: grit left in the wood blunts edge tools.",
                TRADE,
                GRIT,
            )
    if cleaning in works:
        for end in ends:
            yield Reason(
                end,
                cleaning,
                "surface",
                "Outside faces are cleaned when the parts are joined, so that joints come flush.",
                TRADE,
                "What stands over at a joint stays, or is planed off the finished face.",
            )
        for end in glued:
            yield Reason(end, cleaning, "cure", "A joint is left alone until its glue has set.", TRADE, WET)
    for work in works.values():
        if work.kind == "coat" and not job.finish[finish_index(work)].before_glue:
            for end in glued:
                sentence = "The finish goes on when the last joint has set, so that joint faces stay bare."
                yield Reason(end, work.id, "sequence", sentence, TRADE, "Glue does not hold on a finish.")
    yield from _coats(job, works, groups, cleaning)


def _trimming(job: Job, work: Work, allowance: Allowance, groups: tuple[Group, ...], tool_room: float) -> Iterator[Reason]:
    """Waste stays on until its joint has set, and is off before more is joined on: that may stand in the way of the saw, and
    large work rocks under it."""
    made, joined, part = False, list[Joint](), job.parts[work.part]
    waited_for = [allowance.until in _names(job, group) for group in groups]
    for number, group in enumerate(groups):
        before, joined = joined, [*joined, *group.joints]
        if waited_for[number]:
            made = True
            if group.fixing == "glue" and wedges_in_end(job, part, allowance):
                sentence = "The wedges in the end are sawn off with it, when the glue holds them."
                yield Reason(_last(group), work.id, "cure", sentence, TRADE, "The saw pulls a wedge out of wet glue.")
            sentence = "The waste keeps the end from splitting until the joint is made."
            yield Reason(_last(group), work.id, "splitting", sentence, TRADE, "The short wood at the end splits off.")
            if group.fixing == "glue":
                yield Reason(_last(group), work.id, "cure", "A joint is left alone until its glue has set.", TRADE, WET)
            continue
        if made and not any(waited_for[number:]) and _grows(job, part, before, joined, tool_room):
            sentence = "The waste is trimmed before more is joined on: the smaller the work, the better a vice or cramp holds it."
            yield Reason(work.id, _fixing(group), "holding", sentence, TRADE, ROCKS)
        if made and _in_the_way(job, work, group, tool_room):
            sentence = "The waste is trimmed before what is joined next comes to stand there, in the way of the saw."
            yield Reason(work.id, _fixing(group), "reach", sentence, TRADE)
            if group.fixing not in DRY:
                sentence = "The waste is off before what comes to stand there is tried in place."
                yield Reason(work.id, f"{group.name}/dry-fit/try", "fit", sentence, TRADE)


def _grows(job: Job, part: Part, before: Sequence[Joint], after: Sequence[Joint], room: float) -> bool:
    """Whether what a piece of the part is joined to becomes larger by more than `room` some way, of those with a place."""
    placement = place(job)

    def sizes(piece: str, joints: Sequence[Joint]) -> list[float]:
        body, pairs = {piece}, [{each.seat.piece, each.enters_piece} for each in joints]
        while more := {name for pair in pairs if pair & body for name in pair - body}:
            body |= more
        spans = [[placement.span(name, axis) for name in body if name in placement.poses] for axis in AXES]
        return [max(high for _, high in span) - min(low for low, _ in span) for span in spans]

    return any(
        was + room < now
        for piece in part.pieces
        if piece.name in placement.poses
        for was, now in zip(sizes(piece.name, before), sizes(piece.name, after), strict=True)
    )


def _names(job: Job, group: Group) -> set[str]:
    """What a group may be called: itself, its joints, and the sub-assemblies these belong to."""
    names = {group.name, *(joint.name for joint in group.joints), *(joint.assembly for joint in group.joints)}
    return names | {name for name, joints in job.assemblies.items() if set(joints) & names}


def _in_the_way(job: Job, work: Work, group: Group, tool_room: float) -> bool:
    """Whether a piece that a group joins on comes to stand where the saw works that takes waste off a part."""
    part, placement = job.parts[work.part], place(job)
    allowance = next(each for each in part.allowances if f"{each.face}-allowance" == work.feature)
    spans = {axis: (-tool_room / 2, part.block.size(axis) + tool_room / 2) for axis in AXES}
    outward = part.block.span(allowance.face, -tool_room, 0.0)
    spans[axis_of(allowance.face)] = outward
    room = Bounds(Point(*(spans[axis][0] for axis in AXES)), Point(*(spans[axis][1] for axis in AXES)))
    joined = {joint.enters_piece for joint in group.joints} | {joint.seat.piece for joint in group.joints}
    return any(
        all(
            placement.span(other, axis)[0] < high - TOUCH and placement.span(other, axis)[1] > low + TOUCH
            for axis, (low, high) in placement.lying(piece.name, room).items()
        )
        for piece in part.pieces
        for other in joined
        if job.part_of(other) != part and placement.together(piece.name, other)
    )


def _coats(job: Job, works: Mapping[str, Work], groups: tuple[Group, ...], cleaning: str) -> Iterator[Reason]:
    previous = cleaning if cleaning in works else ""
    for work in works.values():
        if work.kind != "coat":
            continue
        drying = work.id.rpartition("/")[0] + "/wait"
        finish = job.finish[finish_index(work)]
        if finish.before_glue:
            for group in groups:
                inside = f"{group.name}/clean-inside/clean"
                if inside in works:
                    dirty = "Pencil, glue and scratches show for good under a finish."
                    yield Reason(inside, work.id, "surface", "Faces are clean before the finish goes on.", TRADE, dirty)
                    yield Reason(
                        drying,
                        _fixing(group),
                        "reach",
                        "This finish goes on before gluing, while every face can be reached; joint faces are kept bare.",
                        TRADE,
                        "Corners inside stay bare or thick with finish.",
                    )
        elif previous:
            yield Reason(
                previous,
                work.id,
                "surface" if previous == cleaning else "cure",
                "The finish goes on clean wood." if previous == cleaning else "Each coat dries before the next.",
                TRADE,
                "Pencil, glue and scratches show for good under a finish." if previous == cleaning else TACKY,
            )
        yield Reason(work.id, drying, "cure", "A coat needs its time to dry.", TRADE, TACKY)
        rags = work.id.rpartition("/")[0] + "/put-away"
        if rags in works:
            yield Reason(work.id, rags, "sequence", "Oily rags are put away as soon as the coat is on.", RAGS, ALIGHT)
            yield Reason(rags, drying, "sequence", "Nobody leaves before every oily rag is put away.", RAGS, ALIGHT)
        if not finish.before_glue:
            previous = drying
    for group in groups:
        if previous and previous != cleaning and after_finish(job, group):
            yield Reason(
                previous,
                _fixing(group),
                "surface",
                "What gets no finish goes in when the finish is dry, so that none has to be scraped off it.",
                TRADE,
                TACKY,
            )
    for work in works.values():
        if work.kind == "hardware" and previous:
            yield Reason(
                previous,
                work.id,
                "surface",
                "Hardware goes on last, so that it stays clean and out of the way of tools.",
                TRADE,
                "Metal in the way takes the edge off tools, and finish on it does not come off.",
            )


def decided_by(who: str) -> str:
    """The source of a reason that somebody decided."""
    return f"decision of {who}"


def _decided(job: Job, works: Mapping[str, Work]) -> Iterator[Reason]:
    for decision in job.decisions:
        if not decision.before:
            continue
        meant = [work for work in works.values() if work.is_meant_by(decision.about)]
        later = [work for work in works.values() if work.is_meant_by(decision.before)]
        for before in meant:
            for after in later:
                sentence = f"Decided by {decision.by}: {decision.why}."
                yield Reason(before.id, after.id, "decision", sentence, decided_by(decision.by))
