"""How the knowledge may be worded: short sentences with one listed imperative first, known placeholders, and no word that
promises safety. What is checked here is what a card prints, so that no card has to shorten or judge it."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator

MOST_WORDS = 12
"""Words in one sentence of a card, each placeholder counted as one."""

PLACEHOLDER = re.compile(r"\{([^{}]*)\}")
_SENTENCE_END = re.compile(r"[.!?]\s+\S")
_SECOND = re.compile(r"(?:\b(?:and|then)|;)\s+(?:then\s+)?(\w+)", re.IGNORECASE)
_OTHER = re.compile(
    r"(?:,|:|\bor)\s+(\w+)(?=\s+(?:the|a|an|it|them|this|that|your|its|both|each|every|all|any)\b)", re.IGNORECASE
)
"""A word after a comma, a colon or “or” that an object follows: a second verb, where others are mostly names of tools."""
_PROMISE = re.compile(r"\b(?:safe|safely|compliant|approved)\b", re.IGNORECASE)


def words_in(sentence: str) -> int:
    """How many words a sentence has."""
    return len(PLACEHOLDER.sub("x", sentence).split())


def promise(text: str) -> str:
    """The word in a text that says something is safe, compliant or approved; empty if there is none."""
    found = _PROMISE.search(text)
    return found[0] if found else ""


def too_long(sentence: str) -> str:
    """What is wrong with the length of a printed line, or empty."""
    count = words_in(sentence)
    return f"This has {count} words; a card has room for {MOST_WORDS} in a sentence." if count > MOST_WORDS else ""


def imperative_faults(sentence: str, verbs: Collection[str]) -> Iterator[str]:
    """What keeps a sentence from being one short imperative that starts with a listed verb. `verbs` in lower case."""
    if fault := too_long(sentence):
        yield fault
    if _SENTENCE_END.search(sentence):
        yield "These are several sentences; each is an item of its own."
    first = re.match(r"\w+", sentence)
    if first is None or not first[0][0].isupper() or first[0].lower() not in verbs:
        yield f"'{first[0] if first else sentence}' is not in the list of verbs a sentence may start with."
    for second in (*_SECOND.finditer(sentence), *_OTHER.finditer(sentence)):
        if second[1].lower() in verbs:
            yield f"'{second[0]}' is a second thing to do in one sentence."
