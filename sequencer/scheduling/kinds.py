"""Alike activities of a problem, found by what they take and what stands before and behind them: what every student does once is
one kind with a member for each student.
"""

from __future__ import annotations

from collections.abc import Iterable

from sequencer.scheduling.problem import Activity, Problem

OWN = -1
"""Stands for whatever thing is one group's own."""


class Kinds:
    """The kinds, each after those that stand before it.

    members
        Of each kind its activities.
    of
        The kind of each activity.
    behind
        Of each activity all that it comes after, as bits of their numbers.
    before
        Of each kind those that stand right before some of its members, with the shortest wait between.
    own
        Of each group the thing that it alone takes, and of which there is one, if it has such a thing.
    """

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.own = _own(problem)
        owned = set(self.own.values())
        plain = [_plain(activity, owned) for activity in problem.activities]
        depth, label = [0] * len(plain), [0] * len(plain)
        self.behind: list[int] = []
        known: dict[object, int] = {}
        for number, activity in enumerate(problem.activities):
            depth[number] = max((depth[each.activity] + 1 for each in activity.after), default=0)
            before = frozenset((each.wait, label[each.activity]) for each in activity.after)
            label[number] = known.setdefault((plain[number], before), len(known))
            behind = 0
            for each in activity.after:
                behind |= self.behind[each.activity] | 1 << each.activity
            self.behind.append(behind)
        known = {}
        ends = [0] * len(plain)
        for number in reversed(range(len(plain))):
            after = frozenset((each.wait, ends[each.activity]) for each in problem.followers[number])
            ends[number] = known.setdefault((label[number], after), len(known))
        order = sorted(range(len(plain)), key=lambda number: (depth[number], number))
        at: dict[int, int] = {}
        self.members: list[list[int]] = []
        for number in order:
            if at.setdefault(ends[number], len(self.members)) == len(self.members):
                self.members.append([])
            self.members[at[ends[number]]].append(number)
        self.of = [at[each] for each in ends]
        self.before: list[dict[int, int]] = [{} for _ in self.members]
        for number, activity in enumerate(problem.activities):
            shortest = self.before[self.of[number]]
            for each in activity.after:
                other = self.of[each.activity]
                shortest[other] = min(shortest.get(other, each.wait), each.wait)

    def activity(self, kind: int) -> Activity:
        """One of a kind."""
        return self.problem.activities[self.members[kind][0]]


def bits(numbers: Iterable[int]) -> int:
    """Numbers as the bits of one."""
    found = 0
    for number in numbers:
        found |= 1 << number
    return found


def numbers_of(mask: int) -> list[int]:
    """The numbers that stand as bits in one."""
    found: list[int] = []
    while mask:
        low = mask & -mask
        found.append(low.bit_length() - 1)
        mask ^= low
    return found


def _own(problem: Problem) -> dict[int, int]:
    """A thing of which there is one, taken by one group and by what is nobody's."""
    groups: dict[int, set[int]] = {}
    for activity in problem.activities:
        for need in activity.needs:
            for thing in need.options:
                alone = len(need.options) == 1 and problem.counts[thing] == 1
                groups.setdefault(thing, set()).add(activity.group if alone and activity.group >= 0 else -1 if alone else -2)
    found: dict[int, int] = {}
    for thing, each in sorted(groups.items()):
        whose = each - {-1}
        if len(whose) == 1 and -2 not in whose:
            found.setdefault(whose.pop(), thing)
    return found


def _plain(activity: Activity, owned: set[int]) -> tuple[object, ...]:
    """What an activity is by itself, alike for all groups."""
    needs = sorted(
        (tuple(sorted(OWN if thing in owned else thing for thing in need.options)), need.amount) for need in activity.needs
    )
    keeps = sorted((keep.thing, keep.amount, keep.minutes) for keep in activity.keeps)
    nobodys = activity.group < 0
    return activity.minutes, activity.splits, activity.calendars, activity.soonest, tuple(needs), tuple(keeps), nobodys
