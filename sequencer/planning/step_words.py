"""What a step says: its title, its sentences, what is set, its notes and what it is checked by."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace

from sequencer.design.marked_together import marked_together, shared_lines
from sequencer.features.base import mm
from sequencer.knowledge.forms.operations import CheckLine, Instructions, Operation
from sequencer.knowledge.settings import filled
from sequencer.model.frame import opposite
from sequencer.model.job import Hardware, Job, Part
from sequencer.model.marks import Edges
from sequencer.model.plan import Setting
from sequencer.planning.bringing import Told
from sequencer.planning.fastening import METAL, lengths_to_take
from sequencer.planning.inner_faces import faces_told
from sequencer.planning.job_figures import WITH_GLUE
from sequencer.planning.loose_work import use_line
from sequencer.planning.moving import moving_parts
from sequencer.planning.outer_faces import levelled, outer_told
from sequencer.planning.runs import Run, marked_in_strip
from sequencer.planning.sanding import WHOLE_CLEANED
from sequencer.planning.shop import Shop
from sequencer.planning.strips import cuts_apart
from sequencer.planning.ways import Way
from sequencer.planning.work import WITH_WEDGES, Work, hardware_of, words
from sequencer.reading.words import listed

LOOK_FIRST = "Let staff look at this board first."

USES = ("screw", "nail", "fit-dry", "key", "dowel", "biscuit")
"""Kinds of work that take the hardware of their joints."""


def sentences_of(run: Run, staff_sets: bool) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The short form for the job card and the whole method: set, hold, guard, cut, check, without setting where staff have
    set the machine. What is said for one kind of work only comes first in both. On the job card the pieces come together
    between what is done before and after: one list in the order in which it is done."""
    said = run.operation.instructions
    kinds = dict.fromkeys(work.kind for work in run.works)
    left_out = _left_out(run)
    method = (*(() if staff_sets else said.set), *said.hold, *said.guard, *said.cut)
    in_turn = bool(said.again) and not run.together
    whole = (*_by_kind(said, [*kinds], method, in_turn=in_turn), *said.check)

    def told(sentences: Iterable[str]) -> tuple[str, ...]:
        return tuple(filled(each, run.values) for each in sentences if each not in left_out)

    if not said.card or (said.card_after and not run.together):
        return told(whole), told(whole)
    card = told(_by_kind(said, [*kinds], said.card, in_turn=in_turn))
    if in_turn:
        return card, told(whole)

    def here(sentences: Iterable[str], into_whole: bool) -> tuple[str, ...]:
        other = said.where.get("joint.into-loose" if into_whole else "joint.into-whole", ())
        return told(each for each in sentences if each not in other)

    brought = _with_pieces(run.together, lambda whole: here(said.card_after, whole), lambda whole: here(said.again, whole))
    return (*card, *brought), told(whole)


def _by_kind(said: Instructions, kinds: Sequence[str], method: Sequence[str], *, in_turn: bool) -> Iterator[str]:
    """The method with what is said for each kind of work: where it is done `again` for a further kind, that is marked and held
    after the first is done; else the first sentences of all stand before it. A piece is held before it is cut."""
    before = kinds[:1] if in_turn else kinds
    yield from (sentence for kind in before for sentence in said.first_for.get(kind, ()))
    yield from method
    yield from (sentence for kind in before for sentence in said.last_for.get(kind, ()))
    for kind in kinds[1:] if in_turn else ():
        yield from (*said.first_for.get(kind, ()), *said.again, *said.last_for.get(kind, ()))


def wrong_line(run: Run) -> str:
    """What to do if it went wrong, without what is not for these pieces."""
    left_out = _left_out(run)
    return " ".join(filled(each, run.values) for each in run.operation.wrong_sentences if each not in left_out)


def guard_sentences(run: Run) -> tuple[str, ...]:
    """What an operation itself says that guards the hands, as far as it is for these pieces."""
    left_out = _left_out(run)
    return tuple(filled(each, run.values) for each in run.operation.instructions.guard if each not in left_out)


def rubbed_only(run: Run) -> bool:
    """Whether all that is cleaned is too small to be gripped: it is rubbed on paper laid flat, and nothing holds it."""
    return all(way.figures.get("cleaned.large", 1.0) <= 0 for way in run.ways)


def _left_out(run: Run) -> set[str]:
    """The sentences that are said only where a figure is more than 0, and it is not."""
    known = _known_of_strips(run) | _known_of_pieces(run)
    return {
        sentence
        for figure, sentences in run.operation.instructions.where.items()
        if not known.get(figure, any(way.figures.get(figure, 0.0) > 0 for way in run.ways))
        for sentence in sentences
    }


def _known_of_strips(run: Run) -> dict[str, bool]:
    """What the figures of single parts do not say of a step that is done on long pieces: pieces that are one stick are not laid
    side by side, and parts that are marked out in a strip have no ends of their own yet and get their numbers there."""
    if not run.whole:
        # Several parts lie side by side as is said of them.
        return {"part.others": False} if len(run.works) > 1 and run.works[0].kind == "mark-out" else {}
    if marked_in_strip(run):
        return {
            "part.others": False,
            "part.in-strip": True,
            "part.own-ends": True,
            "part.off-strip": False,
            "part.off-stick": False,
        }
    if _pairs_in_one(run):
        return {"part.others": False, "part.off-strip": False}
    if any(work.part in run.numbered_later for work in run.works):
        now = (way for work, way in zip(run.works, run.ways, strict=True) if work.part not in run.numbered_later)
        return {"part.others": False, "part.numbered": any(way.figures.get("part.numbered", 0.0) > 0 for way in now)}
    several = any(way.figures.get("part.stick-several", 0.0) > 0 for way in run.ways)
    own = {"part.own-ends": True, "part.off-strip": False}
    return {"part.others": False} | (own if several and run.works[0].kind == "mark-out" else {})


def _known_of_pieces(run: Run) -> dict[str, bool]:
    """Whether nails or screws go into loose pieces, or into what stands joined already: the order in which pieces come together
    tells it."""
    fixed = [each for each in run.together if each.fixed]
    into_whole = any(each.into_whole for each in fixed)
    return {"joint.into-whole": into_whole, "joint.into-loose": not into_whole or not all(each.into_whole for each in fixed)}


def _pairs_in_one(run: Run) -> bool:
    """Whether faces are marked on long pieces that hold the left and the right pieces of a pair: these are not apart yet, to be
    laid together."""
    paired = [run.blanks[work.part] for work in run.works if any(way.figures.get("part.pair-ends", 0.0) > 0 for way in run.ways)]
    return run.works[0].kind == "face-marks" and any(blank.long and blank.yields > 1 for blank in paired)


def _with_pieces(
    together: Sequence[Told], after: Callable[[bool], Sequence[str]], again: Callable[[bool], Sequence[str]]
) -> Iterator[str]:
    """How the pieces come together and what is done with them: once all are there, or, where it is done `again` for each, to
    the first before the second goes in. What is done hangs on whether it is done to what stands joined already."""
    fixing = False
    for each in together:
        yield each.line
        if each.fixed and again(each.into_whole):
            yield from (again if fixing else after)(each.into_whole)
            fixing = True
    if not fixing:
        yield from after(any(each.into_whole for each in together))


def stop_line(run: Run, shop: Shop) -> str:
    """What staff look at before it goes on: a board of a wood that is staff's to look at, then what the operation says."""
    parts = [part for work in run.works for part in work.parts]
    looked_at = run.operation.cut != "none" and shop.class_work(parts) != "students"
    return " ".join(filter(None, (LOOK_FIRST if looked_at else "", filled(run.operation.stop, run.values))))


def settings_of(run: Run, job: Job) -> tuple[Setting, ...]:
    """What is set; a setting that differs from part to part names its parts. What is set to nothing is not set."""
    found: dict[Setting, list[str]] = {}
    for task in run.tasks:
        for setting in task.settings:
            if setting.value != 0:
                found.setdefault(setting, []).append(job.parts[task.part].letter if task.part else "")
    names = [setting.name for setting in found]
    return tuple(
        replace(setting, label=f"{setting.label} ({', '.join(dict.fromkeys(letters))})")
        if names.count(setting.name) > 1
        else setting
        for setting, letters in found.items()
    )


def notes_of(run: Run, shop: Shop) -> Iterator[str]:
    """What a card adds from the drawing: the long piece, what the joints are fixed with, the teacher's own words."""
    if run.tasks[0].in_the_long and run.way.piece is not None:
        long = mm(run.way.piece.length - (shop.knowledge.bench.first_end_trim if run.squared else 0.0))
        if any(cuts_apart(work) for work in run.works):
            yield f"Cut it off the end of the long piece, about {long} mm."
        else:
            # The job card says so first of all.
            later = "" if run.tasks[0].who.operator == "student" else " Leave it whole for now."
            yield f"Use the long piece, about {long} mm.{later}"
    if run.works[0].kind == "rough-length" and run.tasks[0].who.operator != "student":
        yield from _strips_to_cut(run, shop)
    if run.works[0].kind in WITH_GLUE and shop.job.glue in shop.knowledge.glues:
        yield f"Use {shop.knowledge.glues[shop.job.glue].name}."
    if run.works[0].kind in ("dry-fit", "fit-dry", "glue"):
        for letter, gap in moving_parts(shop, run.works[0].joints).items():
            yield f"Leave {mm(gap)} mm beside {letter} on each side, in dry weather."
    wanted = {joint for work in run.works if work.kind in USES for joint in work.joints}
    named = hardware_of(shop.job, wanted)
    for name, count in named.items():
        yield f"Use: {count} {thing_name(shop.job.hardware[name])}."
    yield from (line for work in run.works if not named for line in [use_line(work)] if line)
    for work in run.works:
        if work.kind in METAL and "joint.fastener" not in work.figures:
            yield from lengths_to_take(shop.job, work.joints, METAL[work.kind], shop.knowledge.fasteners)
    for work in run.works:
        if work.kind == "hardware" and shop.job.hardware[work.feature].note:
            yield shop.job.hardware[work.feature].note
    if any(work.kind == "glue" and work.figures.get("joint.partner") for work in run.works) and not run.operation.rolled_up:
        yield "Ask a partner to help before you open the glue."
    if any(work.kind == "glue" and work.figures.get("joint.wedged") for work in run.works):
        yield "Drive the wedges at once, while the glue is wet."
    if any(work.title.startswith(WITH_WEDGES) for work in run.works):
        yield "Saw the wedges off in the same cut."
    for work in run.works:
        if work.drawn is not None and work.drawn.note:
            yield work.drawn.note


def said_first(run: Run, shop: Shop) -> tuple[str, ...]:
    """What a student's card says first: how many long pieces are cut, how parts lie that are marked out together."""
    if run.works[0].kind == "rough-length" and run.tasks[0].who.operator == "student":
        return tuple(_strips_to_cut(run, shop))
    if run.works[0].kind == "mark-out" and len(run.works) > 1 and not run.whole:
        return tuple(_side_by_side(run, shop.job))
    if run.works[0].kind == "clean-inside":
        return tuple(_which_faces(run, shop.job))
    if run.operation.cut == "plane":
        return tuple(_which_corner(run, shop.job))
    return ()


def with_faces(run: Run, job: Job, instructions: tuple[str, ...]) -> tuple[str, ...]:
    """What a student's card says, with the faces that are planed when all is joined, before it says how."""
    work = run.works[0]
    if run.operation.cut != "plane" or work.id != WHOLE_CLEANED or not work.figures.get("cleaned.joined"):
        return instructions
    at = next((number for number, each in enumerate(instructions) if each.startswith("Plane ")), 0)
    return (*instructions[:at], *outer_told(job, work), *instructions[at:])


def said_last(run: Run, shop: Shop) -> tuple[str, ...]:
    """What a student's card says last: that every mitred end of a strip is sawn and planed before the next; on a strip that is
    sawn apart nothing shows yet where its parts are."""
    several = all(run.blanks[work.part].long and run.blanks[work.part].yields > 1 for work in run.works if work.part)
    mitred = {work.kind for work in run.works} == {"mitre"} and any(cuts_apart(work) for work in run.works)
    alike = any(work.figures.get("part.numbered", 0.0) > 0 for work in run.works)
    found = []
    if mitred and several:
        found.append(f"Repeat for each end in turn, from the left of {shop.job.parts[run.works[0].part].letter} 1.")
    if run.numbered_here and alike:
        found.append("Write letter and number on each part.")
    return tuple(found)


def _which_faces(run: Run, job: Job) -> Iterator[str]:
    """Which faces of each part are cleaned inside, those of alike parts in one sentence."""
    return (sentence for work in run.works for sentence in faces_told(job, work, levelled(job)))


def _which_corner(run: Run, job: Job) -> Iterator[str]:
    """Which of the four long corners is taken off, where it is one: by the face marks, alike on left and right pieces."""
    said = {_corner(work, job) for work in run.works}
    if len(said) == 1 and "" not in said:
        yield f"Plane only {said.pop()}."


def _corner(work: Work, job: Job) -> str:
    """The one long corner that a work takes off; empty where it is none, or several."""
    part = job.parts[work.part] if work.part else None
    marks = work.drawn.marks(part.block) if part is not None and work.drawn is not None else None
    if part is None or not isinstance(marks, Edges) or part.section == "round" or len(marks.edges) != 1:
        return ""
    (pair,) = marks.edges
    if not {*pair} <= {part.face_side, opposite(part.face_side), part.face_edge, opposite(part.face_edge)}:
        return ""
    if {*pair} == {part.face_side, part.face_edge}:
        return "the corner between face side and face edge"
    side = "face side corner" if part.face_side in pair else "back corner"
    return f"the {side} {'at' if part.face_edge in pair else 'away from'} the face edge"


def _side_by_side(run: Run, job: Job) -> Iterator[str]:
    """How parts lie that are marked out together, and which lines go across all of them."""
    found = marked_together(job)
    here = {work.part for work in run.works}
    for each in dict.fromkeys(found[name] for name in job.parts if name in here & found.keys()):
        if {*each.parts} <= here:
            parts = [job.parts[name] for name in each.parts]
            letters = [part.letter for part in parts]
            yield f"Lay {listed(letters)} side by side, {'ends' if each.turned else 'first ends'} level."
            if each.turned:
                yield f"Turn {letters[1]} end for end: it mirrors {letters[0]}."
            up = [_marked_on(part) for part in parts]
            for part, face in list(zip(parts, up, strict=True))[1:]:
                if face != up[0] and face:
                    own = next((words(name) for name, meant in part.names.items() if meant == face), face)
                    yield f"Turn {part.letter} over, its {own} face up."
            lines = listed([mm(at) for at in sorted(shared_lines(parts, turned=each.turned))])
            yield f"Square the lines at {lines} mm across {listed(letters)}."


def _marked_on(part: Part) -> str:
    """The broad face that all of its cuts come into; empty where that is not one."""
    faces = {feature.opens()[0] for feature in part.features.values() if feature.when == "loose" and feature.opens()}
    return next(iter(faces)) if len(faces) == 1 and faces <= {"inside", "outside"} else ""


def _strips_to_cut(run: Run, shop: Shop) -> Iterator[str]:
    """That one strip is cut for several pieces, and which."""
    strips: dict[str, list[str]] = {}
    sticks: set[str] = set()
    for work in run.works:
        blank = run.blanks[work.part]
        if blank.long and (blank.strip or blank.sets > 1 or blank.yields > 1):
            strips.setdefault(blank.strip or work.part, []).append(f"{blank.yields} of {shop.job.parts[work.part].letter}")
            sticks |= {blank.strip or work.part} if blank.whole else set()
    for name, each in strips.items():
        yield f"Cut one {'stick' if name in sticks else 'strip'} for {listed(each)}."


def thing_name(thing: Hardware) -> str:
    """A bought-in thing as it is laid out and ordered: `wood screw, gauge 8 x 40 mm`."""
    sizes = [f"gauge {thing.gauge}"] if thing.gauge else []
    sizes += [f"diameter {mm(thing.diameter)} mm"] if thing.diameter else []
    sizes += [f"{mm(thing.length)} mm"] if thing.length else []
    return f"{thing.what}, {' x '.join(sizes)}" if sizes else thing.what


def checks_for(operation: Operation, works: Iterable[Work], ways: Sequence[Way]) -> tuple[CheckLine, ...]:
    """The checks of an operation that belong to the kinds of work done and to what is there."""
    kinds = {work.kind for work in works}
    return tuple(
        check
        for check in operation.checks
        if (not check.kinds or kinds & set(check.kinds))
        and (not check.where or any(way.figures.get(check.where, 0.0) > 0 for way in ways))
    )


def title_of(run: Run, job: Job) -> str:
    """What is done, to what: alike tasks are named together, `Cut the left tenon and the right tenon: end rail (B)`."""
    titles = list(dict.fromkeys(work.title.partition(":")[0] for work in run.works))
    verbs = list(dict.fromkeys(title.partition(" ")[0] for title in titles))
    if len(verbs) == 1:
        doing = f"{verbs[0]} {listed([title.partition(' ')[2] for title in titles])}"
    else:
        doing = listed([titles[0], *(title[:1].lower() + title[1:] for title in titles[1:])])
    names = list(dict.fromkeys(work.title.partition(": ")[2] for work in run.works if ": " in work.title))
    letters = [job.parts[name].letter for name in dict.fromkeys(work.part for work in run.works if work.part)]
    about = listed(names) + (f" ({', '.join(letters)})" if letters else "")
    return f"{doing}: {about}" if about else doing
