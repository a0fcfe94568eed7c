"""How many windows lie at the least between the work of one kind and that of another that comes after it: by the ways through the
windows of all calendars, the waits on them, and what one group has to do between the two at a thing of its own.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sequencer.scheduling.bound import Ways
from sequencer.scheduling.calendar import Calendar
from sequencer.scheduling.kinds import Kinds, bits, numbers_of
from sequencer.scheduling.problem import Activity, starts_allowed

Moments = NDArray[np.int64]
NEVER = 10**9
"""Real time after all windows."""


@dataclass(frozen=True)
class Lag:
    """What one kind has to wait for of another.

    windows
        Of each window of the first calendar: the first window with work of the later kind that waits for what is over in that
        window, or in a later one, of the earlier kind.
    share
        How much of the later kind's work waits for one member of the earlier kind at the most, as a multiple of an equal share of
        it. Whoever waits for several counts with an equal part at each.
    """

    windows: Moments
    share: Fraction


class Lags:
    """Earliest windows of kinds.

    sure
        The kinds that are done in the first calendar and nowhere else, and take time there.
    heads
        The earliest start of each kind in real time.
    after
        For each sure kind, of each of them of which every member waits for some of it, how it does.
    """

    def __init__(self, kinds: Kinds, ways: Ways, most: int) -> None:
        self.kinds, self.problem = kinds, kinds.problem
        self.calendar = self.problem.calendars[0]
        self.sure = [kind for kind, (first, *_) in enumerate(kinds.members) if ways.minutes[first]]
        self._is_sure = frozenset(self.sure)
        self._places = {calendar: _Places(calendar) for calendar in self.problem.calendars}
        self.heads = [self._head(kind, ways) for kind in range(len(kinds.members))]
        self._masks = [bits(members) for members in kinds.members]
        self._begun = np.array([start for start, _ in self.calendar.windows[:most]], dtype=np.int64)
        self.after = {kind: self._after(kind) for kind in self.sure}

    def _head(self, kind: int, ways: Ways) -> int:
        soonest = self.kinds.activity(kind).soonest
        if kind not in self._is_sure:
            return soonest
        head = min(ways.heads[number] for number in self.kinds.members[kind])
        return max(soonest, self.calendar.real(head)) if head < self.calendar.minutes else NEVER

    def first_window(self, kind: int) -> int:
        """The first window in which there can be work of a kind; one more than there are where there is none."""
        starts = self._first.starts(self.kinds.activity(kind), np.array([self.heads[kind]]))
        return int(self._window(starts)[0])

    @cached_property
    def _first(self) -> _Places:
        return self._places[self.calendar]

    def _window(self, starts: Moments) -> Moments:
        return np.searchsorted(self._first.firsts, starts, side="right") - 1

    def _over(self, activity: Activity, ready: Moments) -> Moments:
        """When an activity is over at the earliest that starts no sooner than some moments."""
        if not activity.minutes:
            return ready
        places = (self._places[self.problem.calendars[number]] for number in activity.calendars)
        found: Moments = np.minimum.reduce([each.over(activity, ready) for each in places])
        return found

    # Ways from one kind

    def _after(self, kind: int) -> dict[int, Lag]:
        waited = self._waited_for(kind)
        activity = self.kinds.activity(kind)
        least = min(activity.splits, activity.minutes) if activity.splits else activity.minutes
        over = {kind: np.maximum(self._begun + least, self._over(activity, np.array([self.heads[kind]])))}
        minutes: dict[int, Moments] = {}
        found: dict[int, Lag] = {}
        for other in range(kind + 1, len(self.kinds.members)):
            before = [each for each in self.kinds.before[other] if each in over and self._all_by(each, kind, other, waited)]
            if not before:
                continue
            waits = self.kinds.before[other]
            ready = np.maximum.reduce(
                [np.full(len(self._begun), self.heads[other]), *(over[each] + waits[each] for each in before)]
            )
            own = self.kinds.activity(other)
            if other in self._is_sure and (between := self._after_between(kind, other, waited, minutes)) is not None:
                ready = np.maximum(ready, between)
            over[other] = self._over(own, ready)
            if other in self._is_sure:
                starts = minutes[other] = self._first.starts(own, ready)
                if all(waited[number] for number in self.kinds.members[other]):
                    found[other] = Lag(self._window(starts), self._share(kind, other, waited))
        return found

    def _waited_for(self, kind: int) -> list[int]:
        """Of each activity the members of a kind that it comes after, as bits: only those of its own group, where there are
        any."""
        found, mask, groups = [], self._masks[kind], self._group_masks
        for behind, activity in zip(self.kinds.behind, self.problem.activities, strict=True):
            all_ = behind & mask
            found.append((all_ & groups.get(activity.group, 0) or all_) if all_ else 0)
        return found

    @cached_property
    def _group_masks(self) -> dict[int, int]:
        found: dict[int, list[int]] = {}
        for number, activity in enumerate(self.problem.activities):
            if activity.group >= 0:
                found.setdefault(activity.group, []).append(number)
        return {group: bits(numbers) for group, numbers in found.items()}

    def _all_by(self, before: int, kind: int, other: int, waited: list[int]) -> bool:
        """Whether the ways from a kind to another all have one that goes by those right before: whoever waits for a member of the
        first does so through them too."""
        for number in self.kinds.members[other]:
            left = waited[number]
            if left:
                for each in self._right_before[number].get(before, ()):
                    left &= ~(1 << each if before == kind else waited[each])
                if left:
                    return False
        return True

    @cached_property
    def _right_before(self) -> list[dict[int, list[int]]]:
        found: list[dict[int, list[int]]] = []
        for activity in self.problem.activities:
            by_kind: dict[int, list[int]] = {}
            for each in activity.after:
                by_kind.setdefault(self.kinds.of[each.activity], []).append(each.activity)
            found.append(by_kind)
        return found

    def _share(self, kind: int, other: int, waited: list[int]) -> Fraction:
        """How much of the later work waits for one member of the earlier kind at the most, as a multiple of an equal share."""
        masks = Counter(waited[number] for number in self.kinds.members[other])
        count, others = len(self.kinds.members[kind]), len(self.kinds.members[other])
        if all(mask & mask - 1 == 0 for mask in masks):
            return Fraction(max(masks.values()) * count, others)
        shares: dict[int, Fraction] = {}
        for mask, waiting in masks.items():
            members = numbers_of(mask)
            for each in members:
                shares[each] = shares.get(each, Fraction(0)) + Fraction(waiting, len(members))
        return max(shares.values()) * count / others

    # What one group does between two of its own

    def _after_between(self, kind: int, other: int, waited: list[int], minutes: dict[int, Moments]) -> Moments | None:
        """The earliest start in real time after all that a group has to do between at a thing of its own, one after the other:
        whatever of it starts no sooner than a minute at work takes its time from then on. None where nothing is."""
        groups = self._group_masks
        for number in self.kinds.members[other]:
            if not waited[number] & groups.get(self.problem.activities[number].group, 0):
                return None
        work = [(minutes[each], count * self.kinds.activity(each).minutes)
                for each, count in self._between.get((kind, other), Counter[int]()).items() if each in minutes]  # fmt: skip
        if len(work) < 2:
            return None
        first, left, ready = np.full(len(work[0][0]), NEVER), 0, np.zeros(len(work[0][0]), dtype=np.int64)
        for starts, each in sorted(work, key=lambda one: -int(one[0][0])):
            first, left = np.minimum(first, starts), left + each
            ready = np.maximum(ready, first + left)
        return self._first.real(ready)

    @cached_property
    def _between(self) -> dict[tuple[int, int], Counter[int]]:
        """Of two kinds, how many of which others surely lie between two members of one group and take a thing of its own."""
        found: dict[tuple[int, int], Counter[int]] = {}
        for form in {self._form(group) for group in self._group_masks}:
            later = [0] * len(form)
            for number in reversed(range(len(form))):
                for each in numbers_of(form[number][1]):
                    later[each] |= 1 << number
            taking = bits(number for number, (_, _, takes) in enumerate(form) if takes)
            for kind, behind, _ in form:
                for each in numbers_of(behind):
                    between = Counter(form[at][0] for at in numbers_of(behind & later[each] & taking))
                    pair = form[each][0], kind
                    found[pair] = found[pair] & between if pair in found else between
        return found

    def _form(self, group: int) -> tuple[tuple[int, int, bool], ...]:
        """Of each activity of a group its kind, those of the group that it comes after as bits of their places among them, and
        whether it surely takes the thing that is the group's own."""
        numbers = numbers_of(self._group_masks[group])
        places = {number: place for place, number in enumerate(numbers)}
        own = self.kinds.own.get(group)
        found = []
        for number in numbers:
            behind = numbers_of(self.kinds.behind[number] & self._group_masks[group])
            options = [need.options for need in self.problem.activities[number].needs]
            takes = own is not None and (own,) in options and self.kinds.of[number] in self._is_sure
            found.append((self.kinds.of[number], bits(places[each] for each in behind), takes))
        return tuple(found)


class _Places:
    """The earliest starts of what is done in a calendar, and when it is over then."""

    def __init__(self, calendar: Calendar) -> None:
        self.calendar = calendar
        self.firsts = np.array(calendar.firsts, dtype=np.int64)
        self._begun = np.array([start for start, _ in calendar.windows], dtype=np.int64)
        self._long = np.diff(self.firsts)
        self._next: dict[tuple[int, int], Moments] = {}

    def starts(self, activity: Activity, ready: Moments) -> Moments:
        """The minutes at work at which it starts at the earliest, if no sooner than some moments; all minutes where it has no
        room."""
        key = activity.minutes, activity.splits
        if key not in self._next:
            self._next[key] = self._starts(*key)
        return self._next[key][self._at(ready)]

    def _starts(self, minutes: int, splits: int) -> Moments:
        """Of each minute at work the first one from there on at which something so long may start."""
        all_ = self.calendar.minutes
        allowed = starts_allowed(self.calendar, minutes, splits).to_bytes(all_ // 8 + 1, "little")
        found = np.where(
            np.unpackbits(np.frombuffer(allowed, np.uint8), bitorder="little")[: all_ + 1], np.arange(all_ + 1), all_
        )
        return np.minimum.accumulate(found[::-1])[::-1].astype(np.int64)

    def over(self, activity: Activity, ready: Moments) -> Moments:
        """When it is over at the earliest, in real time."""
        starts = self.starts(activity, ready)
        ends = starts + activity.minutes
        at = np.clip(np.searchsorted(self.firsts, ends, side="left") - 1, 0, len(self._begun) - 1)
        return np.where(starts < self.calendar.minutes, self._begun[at] + ends - self.firsts[at], NEVER)

    def real(self, minutes: Moments) -> Moments:
        """When minutes at work start."""
        at = np.clip(np.searchsorted(self.firsts, minutes, side="right") - 1, 0, len(self._begun) - 1)
        return np.where(minutes < self.calendar.minutes, self._begun[at] + minutes - self.firsts[at], NEVER)

    def _at(self, real: Moments) -> Moments:
        """The first minutes at work from some moments on."""
        at = np.searchsorted(self._begun, real, side="right") - 1
        within = self.firsts[at] + np.minimum(real - self._begun[at], self._long[at])
        return np.where(at < 0, 0, within)
