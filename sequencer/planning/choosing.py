"""One way for every piece of work: the teacher's decision where there is one, else the best by the job's aim. Parts whose
lengthwise work is done in the long get a long piece; their ends are cut after it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from sequencer.findings import Finding
from sequencer.model.job import Decision, Job, Part, Stock
from sequencer.planning.blanks import END_TRIM, Workpiece, finished, held, rough, strip
from sequencer.planning.shop import Shop
from sequencer.planning.ways import LongPiece, Pieces, Way, find_ways, ranked
from sequencer.planning.work import Work, words

_BLANK_WORK = frozenset({"face-side", "face-edge", "thickness", "width"})
_END_WORK = frozenset({"first-end", "length"})


@dataclass(frozen=True)
class Choice:
    """Every work with the way chosen for it, and the long pieces of parts that are worked in the long."""

    works: Mapping[str, Work]
    ways: Mapping[str, Way]
    strips: Mapping[str, Workpiece]
    findings: tuple[Finding, ...]


def choose_ways(works: list[Work], shop: Shop) -> Choice:
    """A way for every work. What has none is an error finding that lists every way and what stands against it."""
    findings: list[Finding] = []
    job = shop.job
    chosen: dict[str, Way] = {}

    def choose(work: Work, pieces: Pieces) -> Way | None:
        way, found = _best(work, find_ways(work, pieces, shop, face_words(work, job), shop.hardness_of(work.parts)), shop)
        findings.extend(found)
        return way

    strips: dict[str, Workpiece] = {}
    by_part: dict[str, list[Work]] = {}
    for work in works:
        by_part.setdefault(work.part, []).append(work)
    for name, part in job.parts.items():
        own = by_part.get(name, [])
        long = _long_piece(part, job.stock[part.stock])
        mitred = _mitred(part)
        long_pieces: list[Workpiece] = []
        for work in own:
            if work.lengthwise and work.drawn is not None and work.drawn.when == "loose" and not work.drawn.ends_part():
                way = choose(work, Pieces(finished(part), long, only_long=mitred))
                if way is not None:
                    chosen[work.id] = way
                    long_pieces += [way.piece] if way.in_the_long and way.piece else []
        if mitred or long_pieces:
            piece = max(long_pieces, key=lambda each: each.length, default=long(0.0, float("inf"), 0.0))
            if piece is not None:
                strips[name] = piece
    final: dict[str, Work] = {}
    for work in works:
        if work.part in strips and work.kind == "length":
            work = replace(work, kind="separate", title=f"Cut apart to length: {words(work.part)}")
        final[work.id] = work
        if work.id in chosen or any(finding.subject == work.id for finding in findings):
            continue
        way = choose(work, _pieces(work, shop, strips))
        if way is not None:
            chosen[work.id] = way
    return Choice(final, chosen, strips, tuple(findings))


def pieces_for(work: Work, shop: Shop) -> Pieces:
    """The pieces a work may be done on, before it is known whether its part is worked in the long."""
    if work.part and work.lengthwise and work.drawn is not None and not work.drawn.ends_part():
        part = shop.job.parts[work.part]
        return Pieces(finished(part), _long_piece(part, shop.job.stock[part.stock]), only_long=_mitred(part))
    return _pieces(work, shop, {})


def _mitred(part: Part) -> bool:
    return {end for feature in part.features.values() for end in feature.ends_part()} == {"left", "right"}


def _long_piece(part: Part, stock: Stock) -> LongPiece:
    return lambda shortest, longest, end: strip(part, stock, shortest, longest, max(END_TRIM, end))


def _pieces(work: Work, shop: Shop, strips: Mapping[str, Workpiece]) -> Pieces:
    if not work.part:
        flat = [part for name, _ in work.parts for part in [shop.job.parts[name]] if part.section == "rectangular"]
        return Pieces(None, several=tuple(finished(part) for part in flat))
    part = shop.job.parts[work.part]
    stock = shop.job.stock[part.stock]
    long = strips.get(part.name)
    if work.kind == "rough-length":
        blank = long or rough(part, stock)
        board = max(stock.lengths, default=blank.length + 1000)
        return Pieces(Workpiece(blank.length, stock.width or part.width, stock.thickness, blank.yields, board - blank.length))
    if work.kind in _BLANK_WORK | _END_WORK or work.kind == "separate" or (work.drawn is not None and work.drawn.ends_part()):
        if long is not None:
            return Pieces(None, lambda shortest, longest, end: held(long, end), only_long=True)
        return Pieces(rough(part, stock) if work.drawn is None else finished(part))
    return Pieces(finished(part))


def face_words(work: Work, job: Job) -> dict[str, str]:
    """Names for printed sentences: the part's letter, the feature's name, the faces by the part's own names."""
    if not work.part:
        letters = ", ".join(job.parts[name].letter for name, _ in work.parts)
        return {"part": letters, "name": words(work.feature), "face": "", "from": ""}
    part = job.parts[work.part]
    called = {face: name for name, face in part.names.items()}
    feature = work.drawn
    face = feature.opens()[0] if feature is not None and feature.opens() else part.face_side
    measured = feature.measured_from() if feature is not None else ()
    start = measured[0] if measured else part.face_edge
    return {
        "part": part.letter,
        "name": words(work.feature),
        "face": called.get(face, face),
        "from": called.get(start, start),
    }


def decision_for(work: Work, job: Job) -> Decision | None:
    """The teacher's decision on a way or station for a work, the last one if there are several."""
    named = [
        decision
        for decision in job.decisions
        if (decision.way or decision.station) and (work.id == decision.about or work.id.startswith(f"{decision.about}/"))
    ]
    return named[-1] if named else None


def _best(work: Work, ways: tuple[Way, ...], shop: Shop) -> tuple[Way | None, list[Finding]]:
    decision = decision_for(work, shop.job)
    wanted = ways
    if decision is not None:
        wanted = tuple(
            way for way in ways if decision.way in ("", way.operation) and decision.station in ("", way.station, way.kind)
        )
    pieces = work.quantity * shop.workshop.students
    best = ranked(wanted, shop.job.aim, pieces, for_class=work.kind == "rough-length")
    if best:
        return best[0], []
    if decision is not None:
        return None, [_decision_refused(work, decision, wanted, ways)]
    return None, [_no_way(work, ways)]


def _decision_refused(work: Work, decision: Decision, wanted: tuple[Way, ...], ways: tuple[Way, ...]) -> Finding:
    asked = decision.way or decision.station
    if not wanted:
        offered = ", ".join(sorted({way.operation for way in ways if way.meant})) or "none"
        return Finding(
            "error",
            "decision-unknown",
            work.id,
            f"The decision asks for {asked}, which does not make {work.title.lower()}.",
            remedy=f"Ways that do: {offered}.",
            place=decision.place,
        )
    others = [way.operation for way in ways if way.possible]
    obstacles = min((way.obstacles for way in wanted), key=len)
    return Finding(
        "error",
        "decision-refused",
        work.id,
        f"The decision asks for {asked}, which cannot be done: {' '.join(obstacle.what for obstacle in obstacles)}",
        "No decision can undo a limit, a guard or work-holding.",
        f"{' '.join(obstacle.remedy for obstacle in obstacles)}"
        + (f" Or use: {', '.join(dict.fromkeys(others))}." if others else ""),
        decision.place,
    )


def _no_way(work: Work, ways: tuple[Way, ...]) -> Finding:
    meant = [way for way in ways if way.meant]
    if not ways:
        return Finding(
            "error",
            "no-way",
            work.id,
            f"Nothing in the knowledge makes this: {work.title} ({work.kind}).",
            "The tool plans only what it knows.",
            "Add an operation for it, or let staff plan this by hand.",
        )
    nearest = sorted(
        meant or ways, key=lambda way: (len(way.obstacles), sum(each.short_by for each in way.obstacles), way.operation)
    )
    reasons = "; ".join(f"{way.title}: {' '.join(each.what for each in way.obstacles)}" for way in (meant or ways))
    remedies = " Or: ".join(" ".join(each.remedy for each in way.obstacles) for way in nearest[:2])
    return Finding(
        "error",
        "no-way",
        work.id,
        f"No way of doing this is possible here: {work.title}. {reasons}",
        "Every way was tried against sizes, guards, holding, stations and people.",
        f"Nearest: {remedies}",
    )
