"""The form of what whoever waits in a lesson does at a desk (`lists/waiting-work.yaml`)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from pydantic import Field

from sequencer.knowledge.forms.fields import Positive, Text
from sequencer.model.fields import STRICT
from sequencer.model.plan import WaitingWhen


@dataclass(frozen=True, kw_only=True)
class WaitingWork:
    """Seated work with pencil, rule and paper only: what is done, for whom it is, and how long it lasts about, min."""

    __pydantic_config__ = STRICT
    does: Annotated[tuple[Text, ...], Field(min_length=1)]
    when: WaitingWhen
    minutes: Positive
    source: Text
