"""Words for messages: what was probably meant, lists of names, and names as they may be written."""

from __future__ import annotations

import re
from collections.abc import Iterable
from difflib import get_close_matches

NAME = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")
"""A name in a file: lower-case letters and digits, words joined by hyphens."""

_LISTED = 24
_SHORT = 4
"""Letters of a word up to which more than some must agree where the first does not: `wear` is no cedar, `oka` is oak."""


def nearest(word: str, names: Iterable[str]) -> str:
    """The name most like this word, or nothing if none is."""
    known = sorted(set(names))
    lowered = {name.lower(): name for name in known}
    found = get_close_matches(word.lower().replace("_", "-"), lowered, n=1, cutoff=0.6) or get_close_matches(
        word.lower(), lowered, n=1, cutoff=0.6
    )
    if found and len(word) <= _SHORT and found[0][:1] != word[:1].lower():
        found = get_close_matches(word.lower(), found, n=1, cutoff=0.75)
    return lowered[found[0]] if found else ""


def listed(names: Iterable[str], last: str = "and") -> str:
    """Names in a sentence: `a`, `a and b`, `a, b and c`; nothing of none."""
    known = list(names)
    return f"{', '.join(known[:-1])} {last} {known[-1]}" if len(known) > 1 else "".join(known)


def so_many(count: int, thing: str) -> str:
    """`1 lesson`, `12 lessons`."""
    return f"{count} {thing}" + ("" if count == 1 else "s")


def in_short(names: Iterable[str], last: str = "and") -> str:
    """Names in a sentence, a long list cut short."""
    known = list(names)
    return ", ".join(known[:_LISTED]) + " …" if len(known) > _LISTED else listed(known, last)


def meant(word: str, names: Iterable[str]) -> str:
    """The remedy for an unknown name: the nearest one, else all there are, else nothing."""
    known = sorted(set(names))
    if near := nearest(word, known):
        return f"Did you mean '{near}'?"
    return f"There {'are' if len(known) > 1 else 'is'} {in_short(known)}." if known else ""


def as_name(text: str) -> str:
    """The name a text would make, for advice; may be empty."""
    return "-".join(re.findall(r"[a-z0-9]+", text.lower())).lstrip("0123456789-")
