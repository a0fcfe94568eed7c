"""How the knowledge may be worded: short sentences with one listed imperative first, known placeholders, and no word that
promises safety. What is checked here is what a card prints, so that no card has to shorten or judge it."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator

MOST_WORDS = 12
"""Words in one sentence of a card, each placeholder counted as one."""

PLACEHOLDER = re.compile(r"\{([^{}]*)\}")
_SENTENCE_END = re.compile(r"[.!?]\s+\S")
_SECOND = re.compile(r"(?:\b(?:and|then)\s+|\s[-+]\s+|[;&/\u2012-\u2015\u2212(\[]\s*)(?:then\s+)?(\w+)", re.IGNORECASE)
"""A word after “and”, “then” or a sign that joins or puts in a second thing: semicolon, ampersand, slash, plus, dash, bracket."""
_OTHER = re.compile(
    r"(?:,|:|\bor)\s+(\w+)(?=\s+(?:the|a|an|it|them|this|that|your|its|both|each|every|all|any)\b)", re.IGNORECASE
)
"""A word after a comma, a colon or “or” that an object follows: a second verb, where others are mostly names of tools."""
_PROMISE = re.compile(
    r"\b(?:(?:un)?safe(?:ly|r|st)?|complian(?:t|ce)|complies|approved|certified|risk-free|foolproof|guaranteed)\b",
    re.IGNORECASE,
)
NOT_TO_DO = frozenset({"lean", "reach", "run", "touch", "breathe", "cross", "sweep", "blow"})
"""Verbs that only stand after “do not” and “never”."""


def words_in(sentence: str) -> int:
    """How many words a sentence has."""
    return len(PLACEHOLDER.sub("x", sentence).split())


def promise(text: str) -> str:
    """The word in a text that says something is safe, compliant, approved or certified; empty if there is none."""
    found = _PROMISE.search(text)
    return found[0] if found else ""


def too_long(sentence: str) -> str:
    """What is wrong with the length of a printed line, or empty."""
    count = words_in(sentence)
    return f"This has {count} words; a card has room for {MOST_WORDS} in a sentence." if count > MOST_WORDS else ""


def told_faults(sentence: str, verbs: Collection[str]) -> Iterator[str]:
    """What keeps a sentence from telling to do one thing, or with “Do not” or “Never” not to do it. `verbs` in lower case."""
    told = re.sub(r"^(?:Do not|Never)\s+(\w)", lambda found: found[1].upper(), sentence)
    return imperative_faults(told, {*verbs, *NOT_TO_DO} if told != sentence else verbs)


def sentences_of(text: str) -> list[str]:
    """The sentences of a text."""
    return [each for each in re.split(r"(?<=[.!?])\s+", text) if each]


def student_faults(text: str, verbs: Collection[str]) -> Iterator[str]:
    """What keeps the short form of a hazard from being one: few words, one sentence that says what to do. `verbs` in lower
    case."""
    said = sentences_of(text)
    count = sum(map(words_in, said))
    if count > MOST_WORDS:
        yield f"This has {count} words; a card has room for {MOST_WORDS} in the short form of a hazard."
    if not any(not list(told_faults(sentence, verbs)) for sentence in said):
        yield "No sentence of it says what to do, or what not to do, with a verb of lists/verbs.yaml first."


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
