"""The form of a safety sign (`lists/signs.yaml`)."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.knowledge.forms.fields import Text
from sequencer.model.fields import STRICT


@dataclass(frozen=True, kw_only=True)
class SignItem:
    """A safety sign that hazards name, as it is printed in words.

    code
        ISO 7010 code where the standard's sign means just this, else empty.
    with_words
        It says nothing alone: the hazard is written under it.
    """

    __pydantic_config__ = STRICT
    says: Text
    code: str = ""
    with_words: bool = False
    source: Text
