"""How hard a text is to read, by the Flesch-Kincaid grade; `tests/outside/test_reading_level.py` holds the counter to published
examples.

Kincaid and others, Derivation of new readability formulas, US Navy report 8-75, 1975: grade = 0.39 words per sentence +
11.8 syllables per word - 15.59. Formula read in two copies that restate it (US Veterans Affairs, 2009; Copian library);
title page and abstract of the report read in a copy.

Syllables are an approximation: the larger of what the hyphenation patterns of Pyphen (American English) give and the groups
of vowels with a silent e taken off, so that a word is rather counted too hard. A figure is a word with one syllable a
digit; mm reads millimetres; a hyphen parts two words.
"""

from __future__ import annotations

import re

import pyphen  # type: ignore[import-untyped]

PATTERNS = pyphen.Pyphen(lang="en_US")


def words(text: str) -> list[str]:
    return re.findall(r"[A-Za-z]+(?:'[a-z]+)?|\d+(?:\.\d+)?", text.replace(" mm", " millimetres"))


def syllables(word: str) -> int:
    if word[0].isdigit():
        return len(re.findall(r"\d", word))
    lower = word.lower()
    silent = re.search(r"[^aeiouyl]e$|[aeiou]le$", lower) or re.search(r"[^aeiouytd]ed$|[^aeiouysxzcgh]es$", lower)
    vowels = len(re.findall(r"[aeiouy]+", lower)) - bool(silent)
    return max(1, vowels, len(PATTERNS.positions(word)) + 1)


def counts(text: str) -> tuple[int, int, int]:
    """Words, sentences, syllables."""
    found = words(text)
    return len(found), len(re.findall(r"[.!?](?:\s|$)", text)), sum(map(syllables, found))


def grade(text: str) -> float:
    many, sentences, spoken = counts(text)
    return 0.39 * many / sentences + 11.8 * spoken / many - 15.59
