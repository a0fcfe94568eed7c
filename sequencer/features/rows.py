"""Rows: alike cuts evenly spaced in a straight line."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Annotated

from pydantic import Field

from sequencer.features.base import Feature, finding, mm, refuse
from sequencer.findings import Finding
from sequencer.model.fields import STRICT, Distance, Face
from sequencer.model.frame import AXIS_WORDS, Block, FaceName, axis_of, opposite


@dataclass(frozen=True, kw_only=True)
class Row:
    """Alike cuts in a straight row, evenly spaced: `first` from the face `from`, `last` from the face opposite."""

    __pydantic_config__ = STRICT

    from_: Annotated[Face, Field(alias="from")]
    first: Distance
    last: Distance
    count: Annotated[int, Field(ge=2, le=100)]

    @property
    def ends(self) -> tuple[FaceName, FaceName]:
        """The two faces it runs between."""
        return self.from_, opposite(self.from_)

    def places(self, block: Block, beside: Mapping[FaceName, float]) -> tuple[Mapping[FaceName, float], ...]:
        """The spots; `beside` says how far the row lies from an edge along it."""
        step = (block.size(axis_of(self.from_)) - self.first - self.last) / (self.count - 1)
        return tuple({**beside, self.from_: self.first + number * step} for number in range(self.count))

    def refuse(self, face: FaceName, at: tuple[Mapping[FaceName, float], ...]) -> None:
        """Refuses a row that does not lie in the face, or that `at` places twice."""
        along = axis_of(self.from_)
        if along == axis_of(face):
            raise refuse(f"the row is in the {face} face; it cannot start from the {self.from_} face")
        if len(at) > 1 or along in map(axis_of, at[0]):
            raise refuse(
                f"the row runs along the {AXIS_WORDS[along]}; beside it `at` takes one distance, from an edge along the row"
            )

    def check(self, feature: Feature, block: Block) -> Iterator[Finding]:
        """An error if its ends pass each other."""
        if self.first + self.last >= block.size(axis_of(self.from_)):
            yield finding(
                feature,
                "error",
                "row-too-long",
                f"The row of {feature.title}s starts {mm(self.first)} mm from one end and stops {mm(self.last)} mm from the "
                f"other; the part measures {mm(block.size(axis_of(self.from_)))} mm there.",
                remedy="Make `first` and `last` smaller.",
            )
