"""Of two groups of joints that meet, where neither waits for the other: whether the shapes allow both orders, and which of them
is decided. Where only one can be put together, it is no choice but a demand."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import replace

from sequencer.design.placement import Placement
from sequencer.model.job import Decision, Job
from sequencer.planning.closing import Closing, closings
from sequencer.planning.groups import Group, made_first
from sequencer.planning.reasons.group_tasks import cleaning_task, fixing_task, last_task
from sequencer.reading.words import listed
from sequencer.solid.blocking import Blocking


def with_captures(job: Job, groups: tuple[Group, ...], placement: Placement, blocking: Blocking) -> tuple[Group, ...]:
    """The groups, in each of which the choices that are none are demands: the other way round one of the two could not be put
    together."""
    found: dict[str, Group] = {}
    for later in groups:
        known = (*found.values(), later)
        after: list[tuple[str, str, bool]] = []
        captures: list[str] = []
        derived = list(later.derived)
        for name, why, asked in later.after:
            stop = None
            if not asked and not demanded(known, name, later.name, but=(name, later.name)):
                stop = _stop(job, known, found[name], later, placement, blocking)
            if stop is not None:
                why, shut_out = stop
                (captures if shut_out else derived).append(name)
            after.append((name, why, asked))
        found[later.name] = replace(later, after=tuple(after), captures=tuple(captures), derived=tuple(derived))
    return tuple(found.values())


def is_choice(group: Group, earlier: str) -> bool:
    """Whether the plan itself chose to make an earlier group first."""
    asked = {name for name, _, demanded in group.after if demanded}
    return earlier not in {*asked, *group.derived, *group.captures, *group.decided}


def demanded(groups: Sequence[Group], first: str, then: str, but: tuple[str, str] = ("", "")) -> bool:
    """Whether one group must come before another by what the drawing, the shapes and the glue ask. `but`: the two that are not
    asked about themselves."""
    named = {group.name: group for group in groups}
    seen, todo = set[str](), [then]
    while todo:
        late = todo.pop()
        for name, _, _ in named[late].after:
            if (name, late) != but and name not in seen and name in named and not is_choice(named[late], name):
                seen.add(name)
                todo.append(name)
    return first in seen


def _stop(
    job: Job, groups: Sequence[Group], earlier: Group, later: Group, placement: Placement, blocking: Blocking
) -> tuple[str, bool] | None:
    """Why a later group cannot be made before an earlier one, and whether something is then shut out; else wet glue is moved.
    None if it can. As little as possible is joined before: what is joined less is freer."""
    both = (earlier.name, later.name)
    before = [each for each in groups if each.name not in both and any(demanded(groups, each.name, name) for name in both)]
    turned = closings(job, (*before, later, earlier), placement, blocking)
    now = [each for each in turned if each.group.name in both]
    first, then = (each.replace("-", " ") for each in both)
    for each in now:
        if each.locked is not None:
            if each.group.name == later.name:
                return f"Only what {first} has joined lets {then} be put together.", True
            pieces = _singly(each)
            what = f"{listed(pieces)} cannot go in any more" if pieces else f"{first} cannot be put together any more"
            return f"When {then} is made first, {what}.", True
    if any(each.carried_wet for each in now):
        return f"When {then} is made first, {first} must be carried to its place while its glue is wet.", False
    return None


def _singly(closing: Closing) -> tuple[str, ...]:
    """The pieces that are locked, without what earlier groups have joined."""
    assert closing.locked is not None
    return tuple(body for body in closing.locked.bodies if len(closing.bodies[body]) == 1)


def in_decided_order(groups: tuple[Group, ...], decisions: Iterable[Decision]) -> tuple[Group, ...]:
    """The groups with each free choice turned round that a decision asks for; their names stay. Unchanged where the decisions go
    in a circle with what is demanded: that is refused where the reasons are put in order."""
    asked = [each for each in decisions if each.before]
    decided = {
        (early.name, late.name)
        for late in groups
        for early in groups
        if early is not late and any(_asks(each, early, late) for each in asked)
    }
    return _turned(groups, decided, lambda first, asked: made_first(first, decided=asked), decided)


def with_straight_ways(job: Job, groups: tuple[Group, ...], placement: Placement, blocking: Blocking) -> tuple[Group, ...]:
    """The groups with free choices turned round where a piece would have to be tilted in, which is not proved, and need not be
    that way round. Unchanged where that does not help."""
    if not blocking.spared:
        return groups
    straight = Blocking(blocking.standing, blocking.ways, only=blocking.only)

    def tilted(order: tuple[Group, ...]) -> list[str]:
        return [each.group.name for each in closings(job, order, placement, straight) if each.locked is not None]

    for name in tilted(groups):
        at = next(number for number, group in enumerate(groups) if group.name == name)
        for earlier in (each for each, _, _ in groups[at].after if is_choice(groups[at], each)):
            wanted = {
                (group.name, earlier)
                for group in groups[at:]
                if earlier in {each for each, _, _ in group.after} and is_choice(group, earlier)
            }
            other = _turned(groups, wanted, lambda first, asked: made_first(first, straight=asked))
            if not tilted(other):
                return other
    return groups


def _turned(
    groups: tuple[Group, ...],
    wanted: Collection[tuple[str, str]],
    why: Callable[[str, bool], str],
    decided: Collection[tuple[str, str]] = (),
) -> tuple[Group, ...]:
    """The groups with each free choice turned round that is `wanted`, first and then; unchanged where that goes in a
    circle with what is demanded. `why`: the sentence for a group that is made first, wanted or not; `decided`: those wanted that
    are firm."""
    place = {group.name: number for number, group in enumerate(groups)}
    if not any(place[first] > place[then] for first, then in wanted):
        return groups
    before = {
        group.name: [name for name, _, _ in group.after if not is_choice(group, name)]
        + [first for first, then in wanted if then == group.name]
        for group in groups
    }
    order = _order(groups, before)
    if not order:
        return groups
    place = {name: number for number, name in enumerate(order)}
    named = {group.name: group for group in groups}
    meet = {(group.name, name) for group in groups for name, _, _ in group.after}
    found = []
    for name in order:
        group = named[name]
        kept = tuple(each for each in group.after if place[each[0]] < place[name])
        new = tuple(
            (other, why(other, (other, name) in wanted), False) for other in order[: place[name]] if (other, name) in meet
        )
        firm = tuple(other for other, _, _ in new if (other, name) in decided)
        found.append(replace(group, after=(*kept, *new), decided=firm))
    return tuple(found)


def _order(groups: Sequence[Group], before: dict[str, list[str]]) -> list[str]:
    """The names in their order, each after those that come before it; empty if these go in a circle."""
    order: list[str] = []

    def put(name: str, waiting: tuple[str, ...]) -> bool:
        if name in waiting:
            return False
        if name in order:
            return True
        if not all(put(each, (*waiting, name)) for each in before[name]):
            return False
        order.append(name)
        return True

    return order if all(put(group.name, ()) for group in groups) else []


def _asks(decision: Decision, first: Group, then: Group) -> bool:
    """Whether a decision puts the joining of one group before that of another."""
    ends = (fixing_task(first), last_task(first))
    starts = (f"{then.name}/dry-fit/try", cleaning_task(then), fixing_task(then))
    return _means(decision.about, first, ends) and _means(decision.before, then, starts)


def _means(name: str, group: Group, tasks: Iterable[str]) -> bool:
    return name in {*group.folded, *(joint.name for joint in group.joints)} or any(
        task == name or task.startswith(f"{name}/") for task in tasks
    )
