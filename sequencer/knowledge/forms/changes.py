"""What a school has changed: the form of its `changes.yaml`, and each change found."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from sequencer.model.fields import STRICT, Answer


@dataclass(frozen=True, kw_only=True)
class Record:
    """Who made a change and why, as a school's own folder records it. `by` is a role, never a name."""

    __pydantic_config__ = STRICT
    by: Answer
    why: Answer


@dataclass(frozen=True, kw_only=True)
class Records:
    """The file `changes.yaml` of a school's own folder: records by place, and operations, kinds of station, glues and
    finishes that the school does without."""

    __pydantic_config__ = STRICT
    changes: Mapping[str, Record] = field(default_factory=dict)
    switched_off: Mapping[str, Record] = field(default_factory=dict)


@dataclass(frozen=True)
class Change:
    """One thing in which the knowledge differs from the shipped.

    about
        Its place: the file and the keys in it, such as `operations/pillar-drill/figures/shortest`.
    looser
        What it may ask for less than the shipped knowledge, in words; empty if it is proven as strict.
    by, why
        As recorded; empty if nobody is named.
    """

    about: str
    text: str
    looser: tuple[str, ...] = ()
    by: str = ""
    why: str = ""
