"""The form of the figures of the bench and of tools in general (`lists/bench.yaml`)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from pydantic import Field

from sequencer.knowledge.forms.fields import Text
from sequencer.model.fields import STRICT, Plain

BenchName = Literal[
    "tool-room",
    "chuck-radius",
    "bit-out",
    "hand-room",
    "vice-opens",
    "fence-share",
    "face-share",
    "wood-share",
    "hole-share",
    "least-under",
    "blank-over",
    "first-end-trim",
    "v-length",
    "unsaid-board",
    "biscuit-thickness",
    "dowel-room",
    "glue-fills",
    "hand-kerf",
    "thin-sheet",
    "flutters-from",
]


@dataclass(frozen=True, kw_only=True)
class BenchFigure:
    """A figure of the bench or of tools in general (`lists/bench.yaml`): mm, or a share from 0 to 1."""

    __pydantic_config__ = STRICT
    value: Annotated[Plain, Field(gt=0)]
    unit: Literal["mm", "share"]
    means: Text
    source: Text
