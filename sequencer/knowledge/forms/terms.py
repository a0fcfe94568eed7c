"""The form of the words that are others elsewhere (`lists/terms.yaml`)."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.knowledge.forms.fields import Text
from sequencer.model.fields import STRICT


@dataclass(frozen=True, kw_only=True)
class Term:
    """What a word of ours is called elsewhere, by region (`lists/terms.yaml`)."""

    __pydantic_config__ = STRICT
    AU: tuple[Text, ...] = ()
    NZ: tuple[Text, ...] = ()
    UK: tuple[Text, ...] = ()
    US: tuple[Text, ...] = ()
    source: Text

    @property
    def elsewhere(self) -> tuple[str, ...]:
        """Every other word, once."""
        return tuple(dict.fromkeys((*self.AU, *self.NZ, *self.UK, *self.US)))
