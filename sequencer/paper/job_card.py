"""The student's job card: the steps in order, each thing always in the same place, with lines where others act."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from markupsafe import Markup

from sequencer.model.plan import Check, Piecework, Plan, Step
from sequencer.paper import wording
from sequencer.paper.card_runs import checks_of, in_turn, instructions_of, is_marker, letters_of, stem_of
from sequencer.paper.fitting import filled, height
from sequencer.paper.pages import Drawings, Page, PageSize, ShownWear, numbered, room_on
from sequencer.paper.pictured import Stick
from sequencer.paper.svg import Picture

Where = Literal["beside", "under", "across"]
"""Where the pictures of a block stand: beside what to do, under it, or in a row of their own across the block."""

ROOMS: dict[Where, tuple[float, float]] = {"beside": (57.0, 34.0), "under": (114.0, 32.0), "across": (174.0, 32.0)}
"""Room for the pictures of a block, width and height of a row, mm; several share the width."""
_LOW, _LARGE = (0.8, 0.72), (1.5, 2.0)
"""Heights of the rooms of pictures where that saves a page, and where a page has room left, shares of the usual."""
_WORTH = 8.0
"""Room left on a page that is worth using for larger pictures, mm."""
_ASIDE = 2.0
"""What a frame around one of several pictures takes of its width, mm."""
_LEAST = 41.0
"""The least width of a picture, mm: sizes and small holes can be told apart."""
_NUMBER, _PICTURED, _CARE = 14.0, 59.0, 62.0
"""Widths of the columns as the stylesheet has them; what to do takes the rest."""
_TALLEST = 165.0
"""The height from which a block of several steps is divided, mm."""
_HEAD_MARGIN, _FRONT, _WHOLE = 7.0, 58.0, 60.0
"""What the frame of the head takes of the width; height of the pictures there; width of the one of the finished thing."""
_STICK, _STICK_WORD = 12.0, 6.0
"""Height of the words that say that the pieces are in one stick, mm, and of one more: several sticks, or pieces in none."""


@dataclass(frozen=True)
class Pictured:
    """One step's picture in a block, with the step's number, pieces and tick box where there are several."""

    step: Step
    drawing: Markup
    height: float
    covered: float = 0.0
    """What it covers of the paper about its words, mm2: its size, however its scenes stand."""
    stick: Stick | None = None
    """The long pieces that its pieces are still in."""
    parts: tuple[Piecework, ...] = ()
    """What it shows: the parts of the step, and what is joined to them."""

    @property
    def together(self) -> tuple[Piecework, ...]:
        """The pieces that are in them."""
        return tuple(work for work in self.parts if self.stick is not None and work.part in self.stick.parts)

    @property
    def single(self) -> tuple[Piecework, ...]:
        """The pieces that are in none."""
        return tuple(work for work in self.parts if work not in self.together)


@dataclass(frozen=True)
class CardEntry:
    """One block of the card: a step, or steps that do the same to other parts. Or lines where someone else acts."""

    steps: tuple[Step, ...]
    markers: tuple[str, ...] = ()
    title: str = ""
    pictures: tuple[Pictured, ...] = ()
    abreast: int = 1
    """Pictures beside each other."""
    where: Where = "beside"
    each: float = ROOMS["beside"][0]
    """Width of one picture, mm."""
    instructions: tuple[str, ...] = ()
    checks: tuple[Check, ...] = ()
    guard_line: str = ""
    hazard_line: str = ""
    if_wrong: str = ""
    notes: str = ""
    """The teacher's words on this piece of work, the screws or glue to use."""
    stop: str = ""
    minutes: str = ""
    wear: tuple[ShownWear, ...] = ()
    wear_line: str = ""

    @property
    def parts(self) -> tuple[Piecework, ...]:
        """The parts of its one step, or of its first, and what else its picture shows."""
        return self.pictures[0].parts if self.pictures else self.steps[0].parts


def job_card(plan: Plan, drawings: Drawings, size: PageSize, spare: float = 0.0) -> tuple[Page, ...]:
    """The student's steps, with one line wherever staff work or something dries, and last what comes before use."""
    room = room_on(size, spare=spare)
    entries: list[CardEntry] = []
    for run, begun in in_turn(plan.steps):
        entries += _marked(run, begun) if is_marker(run[0]) else _blocks(run, drawings, room.width)
    if plan.before_use:
        entries.append(CardEntry((), (f"STOP. {plan.before_use}",)))
    parts = "; ".join(f"A {part.name} x {part.count}, a pair" for part in plan.parts)
    told = [text for text in (plan.learning_aim, plan.extension, plan.note) if text]
    head = (
        28.0
        + height(parts, room.width - 30, 10.5)
        + sum(height(f"Finished early: {text}", room.width - 8, 10.5) for text in told)
    )
    head += max((each.height + 2.0 for each in front(drawings, room.width)), default=0.0)
    first, rest = room.height - head, room.height - 9.0
    sized = [_Sized(entry, _lower(entry, drawings, room.width), room.width) for entry in entries]
    pages = filled(sized, lambda each: each.low, first, rest)
    groups = [_roomy(page, rest if number else first, drawings) for number, page in enumerate(pages)]
    return numbered(plan, groups, lambda entry: entry.steps if isinstance(entry, CardEntry) else ())


def front(drawings: Drawings, width: float) -> tuple[Picture, ...]:
    """What stands at the head of the card: the finished thing, and its parts; nothing where they cannot be read there."""
    wide, tall = width - _HEAD_MARGIN, _FRONT
    whole = drawings.whole(_WHOLE, tall)
    parts = drawings.parts(wide - _WHOLE, tall)
    return tuple(each for each in (whole, parts) if each.readable)


@dataclass(frozen=True)
class _Sized:
    """A block with its pictures as large as is usual, and with lower ones."""

    entry: CardEntry
    lower: CardEntry
    width: float

    @property
    def usual(self) -> float:
        return _height(self.entry, self.width)

    @property
    def low(self) -> float:
        return _height(self.lower, self.width)


def _roomy(page: Sequence[_Sized], room: float, drawings: Drawings) -> list[CardEntry]:
    """The blocks of a page, with pictures as large as there is room for."""
    left = room - sum(each.low for each in page)
    shown = []
    for each in page:
        more = each.usual - each.low
        shown.append((each.entry if more <= left else each.lower, each.width))
        left -= more if more <= left else 0.0
    found = [entry for entry, _ in shown]
    larger = [_larger(entry, drawings) if left >= _WORTH else [] for entry in found]
    waiting = {place for place, ways in enumerate(larger) if ways}
    # What is left goes, step by step, where a picture has least of the paper.
    while waiting and left >= _WORTH:
        place = min(waiting, key=lambda number: (_least_covered(found[number]), number))
        now, width = found[place], shown[place][1]
        most = _height(now, width) + left
        better = [way for way in larger[place] if _least_covered(way) > _least_covered(now) and _height(way, width) <= most]
        if not better:
            waiting.discard(place)
            continue
        found[place] = min(better, key=lambda way: (_height(way, width), -_least_covered(way)))
        left -= _height(found[place], width) - _height(now, width)
    return found


def _larger(entry: CardEntry, drawings: Drawings) -> list[CardEntry]:
    """The block with larger pictures in the ways they can stand; none where it has no pictures."""
    if not entry.pictures:
        return []
    ways: list[tuple[Where, int]] = [(entry.where, entry.abreast)]
    ways += [way for way in _ways(len(entry.steps)) if way[0] == "across" and way not in ways][:1]
    laid = [_pictured(entry, drawings, way, share) for way in ways for share in _LARGE]
    return [each for each in laid if each is not None]


def _least_covered(entry: CardEntry) -> float:
    """How much of the paper the smallest picture of a block covers, mm2."""
    return min(each.covered for each in entry.pictures)


def _lower(entry: CardEntry, drawings: Drawings, width: float) -> CardEntry:
    """The block with the lowest pictures that can be read, if they save height; else the block itself."""
    if not entry.pictures:
        return entry
    low = [_pictured(entry, drawings, (entry.where, entry.abreast), share) for share in _LOW]
    return min([entry, *(each for each in low if each is not None)], key=lambda each: _height(each, width))


def _marked(steps: Sequence[Step], begun: frozenset[str]) -> list[CardEntry]:
    """What others do in between: what staff prepare before the lesson, on parts no student has `begun`, as one sentence, their
    other work in a row as one, each wait as one. Staff set machines and put guards back without holding the class up, so that
    stands on their sheet only."""
    markers: list[str] = []
    staff: list[Step] = []
    for step in (*steps, None):
        if step is not None and step.card == "staff":
            staff += [step] if step.kind == "work" else []
            continue
        ready = [each for each in staff if each.parts and not begun & {work.letter for work in each.parts}]
        if ready:
            markers.append(wording.ready_marker(ready))
        if handed := [each for each in staff if each not in ready]:
            markers.append(wording.staff_marker(handed))
        staff = []
        if step is not None:
            markers.append(wording.wait_marker(step))
    return [CardEntry(tuple(steps), tuple(markers))] if markers else []


def _blocks(steps: tuple[Step, ...], drawings: Drawings, width: float) -> list[CardEntry]:
    """Steps that do the same as one block, or as two where one would fill more than half a page."""
    whole = _block(steps, drawings, width)
    if len(steps) == 1 or _height(whole, width) <= _TALLEST:
        return [whole]
    half = (len(steps) + 1) // 2
    return [*_blocks(steps[:half], drawings, width), *_blocks(steps[half:], drawings, width)]


def card_words(steps: Sequence[Step]) -> Iterator[CardEntry]:
    """The words of the card, without pictures and pages: each run of like steps, and the lines where others act."""
    for run, begun in in_turn(steps):
        yield from _marked(run, begun) if is_marker(run[0]) else [_worded(run)]


def _worded(steps: tuple[Step, ...]) -> CardEntry:
    first = steps[0]
    return CardEntry(
        steps,
        title=first.title if len(steps) == 1 else f"{stem_of(first)}: {', '.join(letters_of(steps))}",
        instructions=tuple(text or "" for text in instructions_of(steps)),
        checks=tuple(Check(what or "", how or "", limit or "") for what, how, limit in checks_of(steps)),
        guard_line=first.guard_line or "Ask your teacher how to hold the wood.",
        hazard_line=first.hazard_line or "Ask your teacher what can go wrong here.",
        if_wrong=first.if_wrong,
        notes=" ".join(first.notes),
        stop=first.stop,
        minutes=wording.minutes_words(sum(step.minutes for step in steps)),
        wear_line=wording.wear_words(first.wear),
    )


def _block(steps: tuple[Step, ...], drawings: Drawings, width: float) -> CardEntry:
    entry = replace(_worded(steps), wear=drawings.wear(steps[0].wear))
    laid = [each for way in _ways(len(steps)) if (each := _pictured(entry, drawings, way)) is not None]
    if not laid:
        return _pictured(entry, drawings, _ways(len(steps))[-1], anyway=True) or entry
    return min(laid, key=lambda each: _height(each, width))


def _ways(count: int) -> list[tuple[Where, int]]:
    """Where that many pictures may stand and how many beside each other, the calmest first."""
    if count == 1:
        return [("beside", 1), ("under", 1), ("across", 1)]
    places: tuple[Where, ...] = ("under", "across")
    return [(where, many) for where in places for many in range(count, 1, -1) if _each(where, many) >= _LEAST]


def _each(where: Where, abreast: int) -> float:
    """The width of each of the pictures beside each other, mm."""
    wide, _ = ROOMS[where]
    return wide if abreast == 1 else wide / abreast - _ASIDE


def _pictured(
    entry: CardEntry, drawings: Drawings, way: tuple[Where, int], share: float = 1.0, *, anyway: bool = False
) -> CardEntry | None:
    """The block with its pictures in that room, or a share of its height; None where one cannot be read there."""
    where, abreast = way
    each, tall = _each(where, abreast), ROOMS[where][1]
    pictures = []
    for step in entry.steps:
        shown = drawings.picture(step, (each, tall * share))
        if not (shown.readable or anyway):
            return None
        pictures.append(
            Pictured(step, Markup(shown.svg), shown.height, _covered(shown), drawings.stick(step), drawings.parts_in(step))
        )
    return replace(entry, pictures=tuple(pictures), abreast=abreast, where=where, each=each)


def _covered(shown: Picture) -> float:
    wide = max((box.right for box in shown.texts), default=0.0) - min((box.left for box in shown.texts), default=0.0)
    return wide * shown.height


def _height(entry: CardEntry, width: float) -> float:
    """Height of a block: the highest of its columns, and the row under them."""
    if entry.markers:
        return 3.4 + sum(height(marker, width - 6, 10.5, bold=True) for marker in entry.markers)
    several = len(entry.steps) > 1
    say = width - _NUMBER - (_PICTURED if entry.where == "beside" else 0.0) - _CARE - 2.4
    said = height(entry.title, say, 11.5, bold=True) + 0.8
    said += sum(0.94 * height(sentence, say - 6.4, 10.5) + 0.3 for sentence in entry.instructions)
    care = max(8.4, 0.94 * height(entry.guard_line, _CARE - 14.4, 10, bold=True) + 0.6) + 1.6
    care += max(8.4, 0.94 * height(entry.hazard_line, _CARE - 12.6, 10) + 0.6) + 1.0
    if len(entry.wear) > 4:
        care += 10.6 + 0.94 * height(entry.wear_line, _CARE - 2.4, 9)
    elif entry.wear:
        care += max(10.2, 0.94 * height(entry.wear_line, _CARE - 2.6 - 8.2 * len(entry.wear), 9)) + 0.5
    tall = [each.height + (7.6 if several else 0.6) for each in entry.pictures]
    pictured = sum(max(tall[at : at + entry.abreast]) for at in range(0, len(tall), entry.abreast))
    parts = len(entry.parts)
    number = 26.0 + (0.0 if several else 4.2 * parts if parts > 2 else 6.6 * parts)
    if not several and entry.pictures and (stick := entry.pictures[0].stick):
        number += _STICK + _STICK_WORD * ((len(stick.strips) > 1) + bool(entry.pictures[0].single))
    row = {
        "beside": max(said, care, pictured),
        "under": max(said + pictured + 0.8, care),
        "across": max(said, care) + pictured + 2.0,
    }[entry.where]
    return max(row + 2.2 + _under(entry, width), number) + 1.7


def _under(entry: CardEntry, width: float) -> float:
    """Height of the row of checks, what to do if it goes wrong, and STOP."""
    room = width - _NUMBER - 3.0 - (_CARE if entry.stop else 0.0)
    said = sum(0.94 * height(wording.check_words(check), room, 10, bold=True) for check in entry.checks)
    said += 0.94 * height(f"If it goes wrong: {entry.if_wrong}", room, 10) if entry.if_wrong else 0.0
    said += 0.94 * height(f"Note: {entry.notes}", room, 10) if entry.notes else 0.0
    stop = 0.94 * height(f"STOP. {entry.stop}", _CARE - 5, 10.5, bold=True) + 8.4 if entry.stop else 0.0
    return max(said + 1.6, stop) if said or stop else 0.0
