"""Which parts come out of one strip, and of how many students. mm.

Parts share a strip where the wood is one and the same until it is cut apart: one stock, one section, one set of lengthwise
cuts with equal settings at one station.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from sequencer.model.job import Part
from sequencer.planning.choice import Choice
from sequencer.planning.laying_out import layouts_of
from sequencer.planning.shop import Shop
from sequencer.planning.strip_figures import room_of
from sequencer.planning.strips import Shared, cuts_apart, in_the_long, shared_blanks
from sequencer.planning.ways import Way
from sequencer.planning.work import CLOSE, Work


def sharing(choice: Choice, shop: Shop, on_sticks: Collection[str] = ()) -> Iterator[tuple[Part, ...]]:
    """Parts that may share a strip, with no strip longer than the stock or than a station that it is worked at takes. Each part
    comes into the first strip that has room for its pieces and no part that it is kept apart from. `on_sticks`: the parts on
    sticks that may lie beside others."""
    alike: dict[object, list[Part]] = {}
    for part in shop.job.parts.values():
        blank = choice.blanks[part.name]
        if blank.long and (not blank.whole or part.name in on_sticks):
            alike.setdefault((blank.whole, _profile(part, choice.works, choice.ways, shop)), []).append(part)
    for parts in alike.values():
        strips: list[list[Part]] = []
        for part in parts:
            strip = next((each for each in strips if _has_room([*each, part], choice, shop)), None)
            if strip is None:
                strips.append([part])
            else:
                strip.append(part)
        yield from (tuple(strip) for strip in strips if len(strip) > 1)


def _has_room(parts: Sequence[Part], choice: Choice, shop: Shop) -> bool:
    """Whether the last of some parts may come out of one strip with the others. A stick is no longer than is handy at the bench,
    with what is held behind the last."""
    *others, last = parts
    if not all(choice.long.kept.may_share(each.name, last.name) for each in others):
        return False
    working, whole = shop.knowledge.working, choice.blanks[last.name].whole
    room, end = room_of(parts, choice.works, choice.ways, shop), 0.0
    if whole:
        room, end = min(room, working.strip_at_bench), max(choice.blanks[each.name].waste for each in parts)
    return bool(shared_blanks(parts, working, room, choice.long.kerfs, end=end, whole=whole))


def _profile(part: Part, works: Mapping[str, Work], ways: Mapping[str, Way], shop: Shop) -> object:
    """All that must be equal for two parts to come out of one strip: stock, section, true faces, how the strip is worked along
    its length, and where it is cut apart."""
    along, apart = [], []
    for work, way in in_the_long(part.name, works, ways):
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


def class_sets(parts: Sequence[Part], choice: Choice, shop: Shop, most: int) -> int:
    """For how many students, `most` at most, one strip gives the parts. One, unless staff do everything that is done on it while
    it is whole; then as many as there is room for, since one setting serves them all. Marking lines out is the student's own
    work, and a strip that students mark is theirs. What rounding has added to the end that is held is not counted, so that one
    fewer may have to do."""
    done = [each for part in parts for each in in_the_long(part.name, choice.works, choice.ways)]
    to_lines = any(cuts_apart(work) and work.drawn is not None for work, _ in done)
    if to_lines or any(way.who.operator != "staff" for _, way in done):
        return 1
    working, room = shop.knowledge.working, room_of(parts, choice.works, choice.ways, shop)
    end = choice.blanks[parts[0].name].waste - working.sawn_step
    sets = 1
    while sets < most and shared_blanks(parts, working, room, choice.long.kerfs, sets=sets + 1, end=end):
        sets += 1
    return sets


def marked_by_staff(works: Mapping[str, Work], ways: Mapping[str, Way], shared: Iterable[Shared]) -> dict[str, Way]:
    """The ways, with the true faces of what is worked for several students marked by staff too."""
    theirs = {part.name for each in shared if each.sets > 1 for part in each.parts}
    return {
        name: replace(way, who=replace(way.who, operator="staff"))
        if works[name].kind == "face-marks" and works[name].part in theirs
        else way
        for name, way in ways.items()
    }
