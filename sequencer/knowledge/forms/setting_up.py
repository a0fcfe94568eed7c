"""The forms of what is done around the work: changes of set-up, what staff do at a machine before and after."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, Literal

from pydantic import Field

from sequencer.knowledge.forms.fields import NotNegative, Positive, Text
from sequencer.model.fields import STRICT

ChangeName = Literal["machine", "powered-hand", "hand", "bench", "cutter", "fence", "height", "angle", "speed", "piece"]
"""What a change of set-up can consist of: going to a station, by how it is powered; a setting; another piece."""


@dataclass(frozen=True, kw_only=True)
class ChangeTime:
    """What one part of a change of set-up takes (`lists/changes.yaml`), minutes. `settings`: the names of the settings it is."""

    __pydantic_config__ = STRICT
    minutes: Positive
    settings: tuple[str, ...] = ()
    source: Text


@dataclass(frozen=True, kw_only=True)
class StaffStep:
    """What staff do at a machine around a step (`lists/staff-steps.yaml`): `set-up` before it, `guards-back` after a cut
    for which normal guards came off. `first` and `last` go round the operation's own sentences for setting; `last_for` follows
    by who works there next.
    """

    __pydantic_config__ = STRICT
    first: Annotated[tuple[Text, ...], Field(min_length=1)]
    last: tuple[Text, ...] = ()
    last_for: Mapping[Literal["student", "staff"], tuple[Text, ...]] = field(default_factory=dict)
    guard_line: Text
    hazards: Annotated[tuple[str, ...], Field(min_length=1)]
    if_wrong: Text
    minutes: NotNegative
    source: Text
