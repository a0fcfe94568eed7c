"""What is chosen: a way for every work, and what each part is cut from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from sequencer.findings import Finding
from sequencer.planning.blanks import Workpiece
from sequencer.planning.strips import Kerfs, Shared
from sequencer.planning.ways import Way
from sequencer.planning.work import Work


@dataclass(frozen=True)
class KeptApart:
    """What the order of work keeps out of long pieces.

    by_the_piece
        Parts along which nothing is worked in the long, and why.
    own_strips
        Pairs of parts that could come out of one strip, and what is against it.
    """

    by_the_piece: Mapping[str, str] = field(default_factory=dict)
    own_strips: Mapping[frozenset[str], str] = field(default_factory=dict)

    def may_share(self, one: str, other: str) -> bool:
        """Whether two parts may come out of one strip."""
        return frozenset((one, other)) not in self.own_strips


@dataclass(frozen=True)
class InTheLong:
    """Which parts are worked in a longer piece for another reason than that a cut is best made so.

    strips
        Parts that come out of one long piece, or out of one for several students.
    in_one
        Parts that nothing runs along, each in one long piece all the same, and what speaks against their blanks by themselves.
    kerfs
        What the saw takes that cuts each part off a long piece, mm.
    sticks
        Parts too short to be held by themselves, which are cut on a longer stick, and how many of them lie on one.
    along
        Parts whose lengthwise cuts students make in a strip though they could be made piece by piece, and what that saves.
    apart
        Parts whose lengthwise cuts students make piece by piece though they could be made in a strip, and why.
    kept
        What the order of work keeps out of long pieces.
    """

    strips: tuple[Shared, ...] = ()
    in_one: Mapping[str, str] = field(default_factory=dict)
    kerfs: Kerfs = field(default_factory=dict)
    sticks: Mapping[str, int] = field(default_factory=dict)
    along: Mapping[str, str] = field(default_factory=dict)
    apart: Mapping[str, str] = field(default_factory=dict)
    kept: KeptApart = field(default_factory=KeptApart)


@dataclass(frozen=True)
class Choice:
    """Every work with the way chosen for it, and the blank each part is cut from: by itself, or several in a long piece. `ways`
    has none for a work that nothing can make; `findings` say why."""

    works: Mapping[str, Work]
    ways: Mapping[str, Way]
    blanks: Mapping[str, Workpiece]
    findings: tuple[Finding, ...]
    long: InTheLong

    def without_way(self) -> set[str]:
        """The parts with any work that has no way."""
        return {work.part for name, work in self.works.items() if work.part and name not in self.ways}
