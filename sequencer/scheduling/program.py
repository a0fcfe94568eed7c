"""A linear program of shares, and the proof that it has no answer."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog
from scipy.sparse import csr_array

SCALE = 2**20
"""Multipliers are counted in parts so small."""
LARGEST = 2**62
"""No sum of whole numbers may come near to what 64 bits hold."""

About = tuple[int, ...]
Term = tuple[int | None, int]
"""A variable and how often it counts; None is a share of nothing."""


class Program:
    """Shares between 0 and 1, sums of whole multiples of them that may not be more than something, and the shares that are all to
    be 1."""

    def __init__(self, shares: int, whole: Iterable[int]) -> None:
        self._asked = np.zeros(shares, dtype=np.int64)
        self._asked[list(whole)] = 1
        self._values: list[int] = []
        self._rows: list[int] = []
        self._columns: list[int] = []
        self._most: list[int] = []
        self._about: list[About] = []

    def at_most(self, terms: Iterable[Term], most: int, about: About = ()) -> None:
        """One more sum, and the things it is about, if any."""
        found = [(share, times) for share, times in terms if share is not None and times]
        if found:
            self._values += [times for _, times in found]
            self._columns += [share for share, _ in found]
            self._rows += [len(self._most)] * len(found)
            self._most.append(most)
            self._about.append(about)

    @property
    def size(self) -> int:
        """Of the sums, all terms together."""
        return len(self._values)

    @cached_property
    def _sums(self) -> csr_array:
        values = np.array(self._values, dtype=np.int64)
        return csr_array((values, (self._rows, self._columns)), shape=(len(self._most), len(self._asked)))

    def proved(self) -> tuple[About, ...] | None:
        """Where no shares keep all sums and are whole where they are asked for: the things that the proof of it rests on, those
        of each sum for themselves. None where there are such shares, or it is not sure.

        A solver of linear programs makes what is missing of the shares asked for as small as it can, and gives a multiplier for
        each sum. With any multipliers that are not negative, all shares asked for come to no more than the multiplied limits and
        whatever a share counts beyond its multiplied sums (weak duality). That is reckoned here in whole numbers, so that no
        rounding of the solver's makes a proof.
        """
        if not len(self._asked):
            return None
        most = np.array(self._most, dtype=np.int64)
        answer = linprog(
            -self._asked.astype(float), A_ub=self._sums.astype(float), b_ub=most.astype(float), bounds=(0, 1), method="highs-ipm"
        )
        if answer.status != 0:
            return None
        multipliers = np.rint(np.maximum(0.0, -answer.ineqlin.marginals) * SCALE)
        if not self._holds(multipliers):
            return None
        whole = multipliers.astype(np.int64)
        return self._rests_on(whole) if self._shows(whole) else None

    def _holds(self, multipliers: NDArray[np.float64]) -> bool:
        """Whether 64 bits hold everything that is reckoned with."""
        largest = float(np.abs(self._sums).T.dot(multipliers).sum() + np.array(self._most, dtype=float) @ multipliers)
        return largest + SCALE * len(self._asked) < LARGEST

    def _shows(self, multipliers: NDArray[np.int64]) -> bool:
        """Whether these multipliers show that something is missing."""
        limits = int(np.array(self._most, dtype=np.int64) @ multipliers)
        beyond = int(np.maximum(0, SCALE * self._asked - self._sums.T.dot(multipliers)).sum())
        return limits + beyond < SCALE * int(self._asked.sum())

    def _rests_on(self, multipliers: NDArray[np.int64]) -> tuple[About, ...]:
        """The things that the proof needs: those are left out, the lightest first, without which it still shows the same."""
        weights: dict[About, int] = {}
        for about, most, times in zip(self._about, self._most, multipliers, strict=True):
            if about and times:
                weights[about] = weights.get(about, 0) + most * int(times)
        kept = sorted(weights, key=lambda about: (-weights[about], about))
        for about in reversed(kept):
            fewer = np.where([each == about for each in self._about], 0, multipliers)
            if self._shows(fewer):
                multipliers = fewer
                kept = [each for each in kept if each != about]
        return tuple(kept)
