"""How answers are laid out: rows of a table, facts with their names, lists under a heading."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from textwrap import fill

from sequencer.talk import WIDTH, wrapped


def table_row(mark: str, name: str, text: str) -> str:
    """A line of a table: a mark, a name and what it is; a long name has a line for itself."""
    head = f"{mark:<4}{name}" if mark else name
    column = 36 if mark else 32
    if len(head) >= column:
        return f"{head}\n{wrapped(text, column)}"
    return fill(f"{head:<{column}}{text}", WIDTH, subsequent_indent=" " * column, break_on_hyphens=False)


def told_line(what: str, text: str) -> Iterator[str]:
    """A fact below a way; nothing where there is none."""
    if text:
        yield wrapped(f"{what + ':':<11}{text}", 4, 11)


def several_lines(what: str, texts: Iterable[str]) -> Iterator[str]:
    """A heading with a line for each text, if there is any."""
    lines = [wrapped(text, 4, 2) for text in texts]
    if lines:
        yield wrapped(f"{what}:", 2)
        yield from lines


def fact_lines(facts: Mapping[str, str]) -> Iterator[str]:
    """Facts with their names in one column; those without text are left out."""
    width = max(map(len, facts)) + 2
    yield from (wrapped(f"{what + ':':<{width}}{text}", 2, width) for what, text in facts.items() if text)
