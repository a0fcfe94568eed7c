"""Why what is joined is cleaned, coated and fitted with hardware in its order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sequencer.model.job import Job
from sequencer.model.plan import Reason
from sequencer.planning.either_first import demanded
from sequencer.planning.groups import Group, after_finish, kept_in, made_first
from sequencer.planning.joined_names import WHOLE
from sequencer.planning.reasons.cuts import face_called, verb
from sequencer.planning.reasons.grounds import AS_FITTED, GRIT, NOT_FITTED, TRADE, WET
from sequencer.planning.reasons.group_tasks import fixing_task, last_task, outside_task, trying_task
from sequencer.planning.reasons.trimming import trimming_reasons
from sequencer.planning.sanding import SANDS
from sequencer.planning.shapes_left import shaped_ends
from sequencer.planning.standing_on import stood_on
from sequencer.planning.work import Work, finish_index, words
from sequencer.planning.work_words import face_of

RAGS = "Harvard fabrication laboratory, oil-based finishes: soaked rags can ignite within hours; common practice"
ALIGHT = "Rags soaked with oil can take fire by themselves."
LEVELLED = "Outside faces are cleaned when the parts are joined, so that joints come flush."
UNLEVEL = "What stands over at a joint stays, or is planed off the finished face."
STANDS = "What stands on a face keeps plane and block off it. Glue and scratches stay."
CRACKS = "A loose sheet cracks when the work is pressed or shaken. Grit gets behind it."
TACKY = "A coat that is not dry lifts, takes dust and rubs off."


def finishing_reasons(job: Job, works: Mapping[str, Work], groups: tuple[Group, ...], tool_room: float) -> Iterator[Reason]:
    """Why what is left for the assembled thing comes in its order. `tool_room`: how far a tool stands out round a cut, mm."""
    cleaning = f"{WHOLE}/clean-up/clean"
    late = {job.part_of(joint.enters_piece).name for group in groups if after_finish(job, group) for joint in group.joints}
    cleaned = set(job.parts) - late
    ends = [last_task(group) for group in groups if not after_finish(job, group)]
    glued = [last_task(group) for group in groups if group.fixing == "glue" and not after_finish(job, group)]
    for work in works.values():
        if work.kind == "trim":
            own = job.parts[work.part].allowances
            allowance = next(each for each in own if f"{each.face}-allowance" == work.feature)
            yield from trimming_reasons(job, works, work, allowance, groups, tool_room)
        elif work.drawn is not None and work.drawn.when == "assembled":
            for group in groups:
                if work.part in {job.part_of(piece).name for piece in group.pieces}:
                    yield Reason(
                        last_task(group),
                        work.id,
                        "drawing",
                        f"The {words(work.feature)} {verb(work.feature)} cut when the parts are joined, as drawn.",
                        TRADE,
                    )
            yield from _after_splines(job, works, work)
            for each in shaped_ends(work.drawn, job.parts[work.part]):
                yield Reason(
                    f"{work.part}/{each.face}-allowance/trim",
                    work.id,
                    "reference",
                    f"The waste is trimmed first: the {words(work.feature)} is worked from the true {face_called(each.face)}.",
                    TRADE,
                )
        if cleaning in works and work.part in cleaned and work.kind not in ("mark-out", *SANDS):
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
                LEVELLED,
                TRADE,
                UNLEVEL,
            )
        for end in glued:
            yield Reason(end, cleaning, "cure", "A joint is left alone until its glue has set.", TRADE, WET)
    for work in works.values():
        if work.kind == "coat" and not job.finish[finish_index(work)].before_glue:
            for end in glued:
                sentence = "The finish goes on when the last joint has set, so that joint faces stay bare."
                yield Reason(end, work.id, "sequence", sentence, TRADE, "Glue does not hold on a finish.")
    yield from _before_stood_on(job, works, groups)
    yield from _coats(job, works, groups, cleaning)


def _before_stood_on(job: Job, works: Mapping[str, Work], groups: tuple[Group, ...]) -> Iterator[Reason]:
    """Outside faces that a part comes to stand on are cleaned when what they are on is one piece, and before it is there."""
    for each in stood_on(job, groups):
        group = next(group for group in groups if group.name == each.group)
        cleaning, part = outside_task(group), job.part_of(each.piece)
        sentence = f"The {face_of(part, each.face)} is cleaned before the {words(job.part_of(each.by).name)} stands in the way."
        yield Reason(cleaning, fixing_task(group), "surface", sentence, TRADE, STANDS)
        before = groups[: groups.index(group)]
        trying = trying_task(group, works)
        if trying != fixing_task(group) and not any(each.piece in earlier.pieces for earlier in before):
            yield Reason(trying, cleaning, "surface", AS_FITTED, TRADE, NOT_FITTED)
        for earlier in before:
            if each.piece in earlier.pieces and demanded(groups, earlier.name, group.name):
                yield from _levelled_first(job, works, earlier, cleaning)
            elif each.piece in earlier.pieces:
                yield Reason(last_task(earlier), cleaning, "choice", made_first(earlier.name), TRADE)
        for work in works.values():
            if work.part == part.name and work.drawn is not None and work.drawn.when == "loose":
                yield Reason(work.id, cleaning, "surface", "Cutting comes before sanding: grit blunts edge tools.", TRADE, GRIT)


def _levelled_first(job: Job, works: Mapping[str, Work], group: Group, cleaning: str) -> Iterator[Reason]:
    """What a group joins has set, its heads are sunk and what it lets stand out is off, before its outside is cleaned."""
    yield Reason(last_task(group), cleaning, "surface", LEVELLED, TRADE, UNLEVEL)
    if group.fixing == "glue":
        yield Reason(last_task(group), cleaning, "cure", "A joint is left alone until its glue has set.", TRADE, WET)
    for work in works.values():
        parts = {job.part_of(piece).name for piece in group.pieces}
        until = [each.until for each in job.parts[work.part].allowances] if work.kind == "trim" and work.part in parts else []
        own = work.id.startswith(f"{group.name}/") and work.kind in ("nail", "flush", "trim-splines")
        if own or group.name in until or {*until} & {joint.name for joint in group.joints}:
            yield Reason(work.id, cleaning, "surface", "What stands out is off before the outside is cleaned.", TRADE, UNLEVEL)


def _after_splines(job: Job, works: Mapping[str, Work], work: Work) -> Iterator[Reason]:
    """Edges that are shaped when the parts are joined are shaped where splines no longer stand out of them."""
    for trim in (each for each in works.values() if each.kind == "trim-splines"):
        corners = (job.joints[name] for name in trim.joints)
        parts = {job.part_of(seat.piece).name for joint in corners for seat in (joint.its, joint.seat)}
        if work.part in parts and work.drawn is not None and work.drawn.nature == "edge":
            sentence = f"Splines are sawn and planed flush before the {words(work.feature)} is worked across their corner."
            harm = "Saw and plane take the shape off the corner with the spline."
            yield Reason(trim.id, work.id, "surface", sentence, TRADE, harm)


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
                        fixing_task(group),
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
                fixing_task(group),
                "surface",
                "What gets no finish goes in when the finish is dry, so that none has to be scraped off it.",
                TRADE,
                TACKY,
            )
    for work in works.values():
        if work.kind == "hardware":
            yield from _hardware(job, work, groups, previous)


def _hardware(job: Job, work: Work, groups: tuple[Group, ...], previous: str) -> Iterator[Reason]:
    """Hardware goes on when cleaning and finish (`previous`) are done, and before a sheet that lies loose is in: but for what is
    fixed to what goes in with the sheet or after it."""
    if previous:
        sentence = "Hardware goes on after cleaning and finish, so that it stays clean."
        harm = "Metal in the way takes the edge off tools, and finish on it does not come off."
        yield Reason(previous, work.id, "surface", sentence, TRADE, harm)
    loose, on = kept_in(job), job.hardware[work.feature].fixed_to
    for number, group in enumerate(groups):
        if after_finish(job, group) and any(joint.name in loose for joint in group.joints):
            late = {joint.enters_piece for each in groups[number:] for joint in each.joints}
            if not {*on} & (late | {job.part_of(piece).name for piece in late}):
                sentence = "Hardware is fixed on before the loose sheet goes in."
                yield Reason(work.id, fixing_task(group), "splitting", sentence, TRADE, CRACKS)
