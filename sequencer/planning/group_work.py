"""The work on parts together: trying, cleaning, joining, finishing, group by group, before anyone has decided how it is done."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from math import ceil

from sequencer.design.beside_splines import least_cheek
from sequencer.design.fixing import pinned_in_rebate
from sequencer.design.splines import Spline, gauged
from sequencer.features.base import mm
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.working import Working
from sequencer.model.job import Job, Part
from sequencer.model.quantities import Figures
from sequencer.model.work import WORK_KINDS
from sequencer.planning.cleaned_sizes import buried, joined_when_cleaned, sizes_of_parts, sizes_of_things
from sequencer.planning.groups import DRY, Group, after_finish
from sequencer.planning.inner_faces import edges_called, only_edges
from sequencer.planning.joined_names import WHOLE, names_of_groups, what_is_joined
from sequencer.planning.joint_figures import joint_figures
from sequencer.planning.loose import MADE, SLOTS, SPLINE_CURE, LoosePieces, LooseSet, wedges_in_end
from sequencer.planning.outer_faces import hollow_walls
from sequencer.planning.reasons.group_tasks import BEFORE
from sequencer.planning.standing_on import StoodOn, stood_on
from sequencer.planning.tried_dry import has_trial
from sequencer.planning.work import RANKS, Work, hardware_of, words
from sequencer.planning.work_words import face_of
from sequencer.reading.words import listed

Counted = tuple[tuple[str, int], ...]
"""Parts by name, and how many pieces of each."""


def group_work(
    job: Job,
    groups: tuple[Group, ...],
    self_heating: Collection[str] = (),
    knowledge: Knowledge | None = None,
) -> list[Work]:
    """Joining, cleaning up and finishing of the whole thing, group by group. `self_heating` names the finishes whose rags
    can catch fire by themselves; `knowledge` says how long nails and screws are, how thick biscuits, and what one cramp
    presses: without it none of this is known.
    """
    found: list[Work] = []
    loose = LoosePieces(job, knowledge.bench.biscuit_thickness if knowledge is not None else 0.0)
    names = names_of_groups(job, groups)
    cleaned: set[str] = set()
    covered = tuple(stood_on(job, groups))
    for place, group in enumerate(groups):
        those = loose.of(group)
        figures = joint_figures(job, group, loose.placement, those, groups[:place], knowledge)
        one = _OneGroup(job, group, place, names[group.name], figures)
        if has_trial(job, group, groups):
            found.append(one.work("dry-fit", times=group.times))
        found += one.cleaned_inside(cleaned)
        on = [each for each in covered if each.group == group.name]
        if on:
            found.append(one.cleaned_outside(on, _outside_figures(job, _cleaned_last(job, groups), found)))
        found += one.fixed()
        rows = _sawn_alike(job, loose.splines_of(group))
        found += [one.slots(alike, number, knowledge, several=len(rows) > 1) for number, alike in enumerate(rows, 1)]
        for number, each in enumerate(those, 1):
            found += one.with_loose_pieces(each, number, knowledge)
        if any(each.kind == "spline" for each in those):
            doing = "Leave the glue of the splines to set"
            found.append(one.work("cure", name=SPLINE_CURE, figures=figures | {"joint.cramps": 0.0}, doing=doing))
    return [*found, *_finishing(job, groups, self_heating, found)]


class _OneGroup:
    """The work of one group of joints, the how manieth it is in order, with what is known of it."""

    def __init__(self, job: Job, group: Group, place: int, called: str, figures: dict[str, float]) -> None:
        self.job, self.group, self.place, self.called, self.figures = job, group, place, called, figures
        self.parts = _counted(job, group.pieces)
        self.joints = tuple(joint.name for joint in group.joints)

    def work(
        self,
        kind: str,
        *,
        times: int = 1,
        parts: Counted | None = None,
        figures: Figures | None = None,
        name: str = "",
        joints: tuple[str, ...] | None = None,
        doing: str = "",
        called: str = "",
    ) -> Work:
        """One work of the group; on all its parts and joints, with its figures, where nothing else is said."""
        joints = self.joints if joints is None else joints
        made = _work(
            self.group.name,
            kind,
            self.parts if parts is None else parts,
            self.figures if figures is None else figures,
            name=name,
            later=self.place * 0.01,
            doing=doing,
            called=called or self.called,
        )
        return replace(made, joints=joints, folded=self.group.folded if joints else (), times=times)

    def cleaned_inside(self, cleaned: set[str]) -> Iterable[Work]:
        """Cleaning of the inside faces that nothing reaches after, of pieces that are not `cleaned` yet."""
        if self.group.fixing in DRY or self.job.rough_inside:
            return
        # The faces of what is pinned in a rebate lie against a sheet or the wall: nobody sees them.
        pinned = {joint.enters_piece for joint in self.group.joints if pinned_in_rebate(self.job, joint)}
        own = [piece for piece in self.group.pieces if piece not in cleaned and piece not in pinned]
        dirty = [piece for piece in own if _has_inside(self.job, self.job.part_of(piece))]
        cleaned |= set(dirty)
        if dirty:
            inside = _counted(self.job, dirty)
            figures = self.figures | sizes_of_parts(self.job, [name for name, _ in inside]) | _round_among(self.job, inside)
            called = _lettered(self.job, inside)
            made = self.work("clean-inside", times=self.group.times, parts=inside, figures=figures, called=called)
            flat = only_edges(self.job, made)
            yield replace(made, title=f"Clean the {edges_called(self.job, made)}: {called}") if flat else made

    def cleaned_outside(self, on: Sequence[StoodOn], figures: Figures) -> Work:
        """Cleaning of the outside faces that a piece of the group comes to stand on, once what they are on is joined. `figures`:
        those of the last cleaning, so that it is done in the same way and no plane follows grit."""
        job, parts = self.job, _counted(self.job, dict.fromkeys(each.piece for each in on))
        faces = listed(list(dict.fromkeys(face_of(job.part_of(each.piece), each.face) for each in on)))
        those = listed(list(dict.fromkeys(words(job.part_of(each.by).name) for each in on)))
        doing = f"Clean the {faces} before the {those} {'are' if ' and ' in those else 'is'} fixed"
        made = _work(self.group.name, "clean-up", parts, figures, name=BEFORE, doing=doing, called=_lettered(job, parts))
        return replace(made, rank=RANKS["cure"] + self.place * 0.01)

    def fixed(self) -> Iterable[Work]:
        """What holds the joints for good, and the waiting for glue."""
        group = self.group
        counted = {"screw": _fasteners(self.job, group), "nail": _fasteners(self.job, group), "key": len(self.joints)}
        for kind in (group.fixing, *group.also):
            doing = "Pin into the rebate" if kind == "nail" and self.figures["joint.rebated"] else ""
            yield self.work(kind, times=counted.get(kind, group.times), doing=doing)
        if group.fixing == "glue":
            yield self.work("cure")

    def slots(self, alike: Sequence[Spline], number: int, knowledge: Knowledge | None, *, several: bool) -> Work:
        """Slots of one size and place sawn across glued corners, each in one cut; of a second kind (`number`) by another name;
        of `several` kinds it is said where they are."""
        slot, part = alike[0].slot, self.job.part_of(alike[0].pieces[0])
        joints = tuple(dict.fromkeys(each.joint for each in alike))
        cheeks = (
            least_cheek(self.job.part_of(piece), each)
            for spline in alike
            for piece, each in zip(spline.pieces, spline.slots, strict=True)
        )
        figures = self.figures | slot.figures(part.block)
        figures |= {"feature.distance": gauged(part, slot), "feature.remaining": min(cheeks)}
        if knowledge is not None:
            figures["joint.slot-cheek"] = knowledge.working.slot_cheek
        names = (
            f"{self.job.part_of(piece).name}/{each.name}"
            for spline in alike
            for piece, each in zip(spline.pieces, spline.slots, strict=True)
        )
        made = self.work(
            slot.kind,
            times=len(alike),
            figures=figures,
            name=f"{slot.kind}-{number}" if number > 1 else slot.kind,
            joints=joints,
            doing=f"{SLOTS.title} at {mm(gauged(part, slot))} mm" if several else "",
            called="" if {*joints} == {*self.joints} else what_is_joined(self.job, [self.job.joints[name] for name in joints]),
        )
        return replace(made, folded=(*made.folded, *dict.fromkeys(names)))

    def with_loose_pieces(self, those: LooseSet, number: int, knowledge: Knowledge | None) -> Iterable[Work]:
        """Loose pieces of one size made, put in and trimmed; of a second size (`number`) the work has a name of its own."""
        job, more = self.job, f"-{number}" if number > 1 else ""
        figures = self.figures | those.figures
        if those.kind == "wedge" and knowledge is not None:
            figures["joint.loose-offcut"] = knowledge.working.wedge_offcut
        if those.kind == "spline" and knowledge is not None:
            figures |= _over(those, knowledge.working)
        called = "" if {*those.joints} == {*self.joints} else what_is_joined(job, [job.joints[name] for name in those.joints])
        entering = tuple(dict.fromkeys(job.joints[name].enters_piece for name in those.joints))
        if those.kind in MADE and not those.bought:
            kind = MADE[those.kind]
            yield self.work(kind, times=those.count, figures=figures, name=f"{kind}{more}", joints=those.joints, called=called)
        # Dowels are set into what enters by them.
        parts = _counted(job, entering) if those.kind == "dowel" else None
        yield self.work(
            those.kind,
            times=those.pairs,
            parts=parts,
            figures=figures,
            name=f"{those.kind}{more}",
            joints=those.joints,
            called=called,
        )
        if those.kind == "spline":
            name = f"trim-splines{more}"
            yield self.work("trim-splines", times=those.count, figures=figures, name=name, joints=those.joints, called=called)
        # What comes off with the end it stands in is not sawn off by itself.
        stand_out = tuple(name for name in those.joints if name not in _sawn_with_ends(job))
        if those.kind == "wedge" and stand_out:
            times = ceil(those.pairs * len(stand_out) / len(those.joints))
            yield self.work("flush", times=times, figures=figures, name=f"flush{more}", joints=stand_out, called=called)


def _sawn_alike(job: Job, found: Iterable[Spline]) -> list[tuple[Spline, ...]]:
    """Splines by what their slots are sawn with: those of one width and length, as far from the face they are gauged from."""
    alike: dict[tuple[float, ...], list[Spline]] = {}
    for each in found:
        distance = gauged(job.part_of(each.pieces[0]), each.slot)
        alike.setdefault((distance, each.slot.width, each.slot.length), []).append(each)
    return [tuple(each) for each in alike.values()]


def _over(those: LooseSet, working: Working) -> Figures:
    """A spline stands out of its slot all round until it is trimmed; the strip it is sawn from is held at its end."""
    length = ceil(those.length + 2 * working.spline_over)
    return {
        "joint.loose-length": float(length),
        "joint.loose-width": float(ceil(those.width + working.spline_over)),
        "joint.loose-offcut": working.wedge_offcut + those.count * (length + working.strip_kerf),
    }


def _finishing(job: Job, groups: Sequence[Group], self_heating: Collection[str], before: Sequence[Work]) -> Iterable[Work]:
    """Cleaning up the outside, coats with their drying, and hardware that holds no joint, after the work `before`."""
    everything, outside = _made_parts(job), _cleaned_last(job, groups)
    if outside:
        yield _work(WHOLE, "clean-up", outside, _outside_figures(job, outside, before))
    for number, finish in enumerate(job.finish, 1):
        parts = tuple((name, job.parts[name].count) for name in finish.parts) or everything
        for coat in range(1, finish.coats + 1):
            label = f"finish-{number}-coat-{coat}" if len(job.finish) > 1 else f"coat-{coat}"
            # A finish put on before gluing ranks with cleaning the inside; reasons hold it there.
            doing = f"Put on {words(finish.what)}, coat {coat}"
            called = _lettered(job, parts) if finish.parts or finish.before_glue else ""
            yield _work(WHOLE, "coat", parts, {}, name=label, later=coat * 0.1, doing=doing, called=called)
            if finish.what in self_heating:
                yield _work(WHOLE, "rags", parts, {}, name=label, later=coat * 0.1 - 0.97)
            yield _work(WHOLE, "dry", parts, {}, name=label, later=coat * 0.1 - 0.95)
    for thing in job.hardware.values():
        if not any(joint.hardware == thing.name for joint in job.joints.values()):
            on = _counted(job, (each for each in job.pieces() if {each, job.part_of(each).name} & {*thing.fixed_to}))
            # Where nobody says what it goes on, it goes on what is there when the finish is dry.
            parts, called = on or outside or everything, _lettered(job, on) if on else ""
            made = _work(WHOLE, "hardware", parts, {}, name=thing.name, doing=f"Fix the {words(thing.name)}", called=called)
            # Called after nothing else, it may be meant by its own name alone.
            taken = thing.name in {*job.parts, *job.joints, *job.assemblies, *(group.name for group in groups)}
            yield made if taken else replace(made, folded=(thing.name,))


def _made_parts(job: Job) -> Counted:
    return tuple((part.name, part.count) for part in job.parts.values() if _made(job, part))


def _cleaned_last(job: Job, groups: Iterable[Group]) -> Counted:
    """The parts that are cleaned up when all is joined: those that do not go in when the finish is dry."""
    late = {job.part_of(joint.enters_piece).name for group in groups if after_finish(job, group) for joint in group.joints}
    return tuple((name, count) for name, count in _made_parts(job) if name not in late)


def _outside_figures(job: Job, outside: Counted, before: Sequence[Work]) -> dict[str, float]:
    """What is known of cleaning the outside of these parts when they are joined, after the work `before`: by then a ring may be
    closed, and four legs may stand."""
    measured = {name for work in before for name in work.figures}
    metal = sum(1 for joint in job.joints.values() if {"screws", "nails"} & set(joint.fixed))
    names = {name for name, _ in outside}
    figures = {
        "joint.metal": float(metal),
        "cleaned.legs": float("joint.diagonal-legs" in measured),
        **sizes_of_things(job, names),
        **joined_when_cleaned(job, names),
    }
    if {"joint.diagonal", "joint.diagonal-inside"} & measured:
        figures["cleaned.hollow"] = float(hollow_walls(job, names))
    return figures | _round_among(job, outside)


def _lettered(job: Job, parts: Counted) -> str:
    """Parts by name, with their letters: `side and end (A, B)`."""
    return f"{listed([words(name) for name, _ in parts])} ({', '.join(job.parts[name].letter for name, _ in parts)})"


def _work(
    group: str,
    kind: str,
    parts: Counted,
    figures: Figures,
    *,
    name: str = "",
    later: float = 0.0,
    doing: str = "",
    called: str = "",
) -> Work:
    """One work on several parts, before it is said which joints it closes. `later`: how much later than its kind it ranks."""
    about = WORK_KINDS.get(kind, SLOTS)
    title = f"{doing or about.title}: {called or 'the whole'}"
    # The slots are sawn, and their splines glued in, when the corner has set.
    rank = RANKS["cure"] + 0.5 if about is SLOTS else RANKS["trim-splines"] - 0.5 if name == SPLINE_CURE else RANKS[kind]
    return Work(f"{group}/{name or kind}/{about.act}", kind, about.act, title, parts, figures, rank + later, "", name or kind)


def _sawn_with_ends(job: Job) -> set[str]:
    """The joints whose wedges come off with the end of a part that is left over length until then."""
    return {name for part in job.parts.values() for allowance in part.allowances for name in wedges_in_end(job, part, allowance)}


def _counted(job: Job, pieces: Iterable[str]) -> Counted:
    counts: dict[str, int] = {}
    for piece in pieces:
        name = job.part_of(piece).name
        counts[name] = counts.get(name, 0) + 1
    return tuple(counts.items())


def _has_inside(job: Job, part: Part) -> bool:
    """Whether a part has inside faces to clean: a rod, a bought-in piece and a spline have none."""
    return _made(job, part) and part.section != "round" and not buried(job, part)


def _round_among(job: Job, parts: Counted) -> dict[str, float]:
    """Whether any of some parts is round, from the start or by what is worked on it."""
    worked = (job.parts[name] for name, _ in parts)
    found = any(part.section == "round" or "round" in (each.shape_left for each in part.features.values()) for part in worked)
    return {"part.round": float(found)}


def _made(job: Job, part: Part) -> bool:
    """Whether a part is worked at all: bought-in pieces are not."""
    return job.stock[part.stock].form != "bought"


def _fasteners(job: Job, group: Group) -> int:
    """Screws or nails of a group, at least one a joint."""
    joints = [joint.name for joint in group.joints]
    return max(len(joints), sum(hardware_of(job, joints).values()))
