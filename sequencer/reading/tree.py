"""YAML files as plain text trees that remember where everything stands.

Every scalar stays the text that was typed (`on`, `no`, `3:30`, `010`): no word is turned into something else before
the one who reads it says what it should be. What a teacher's file never needs and what makes YAML treacherous is
refused in plain words: aliases, tags, keys written twice, tabs, several documents.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from pathlib import Path
from stat import S_ISDIR, S_ISREG
from typing import Final, NamedTuple, Protocol, TypeAlias

import yaml

from sequencer.findings import Finding, Place, Unusable
from sequencer.reading.words import in_short

Data: TypeAlias = "dict[str, Data] | list[Data] | str"
Steps: TypeAlias = "tuple[str | int, ...]"
"""The way to a value: keys and list positions (from 0) from the top of the file."""

LARGEST: Final = 2_000_000
"""Bytes. A job of 200 parts has about 200 000."""
DEEPEST: Final = 20
MOST: Final = 100_000
"""Values in one file."""
MOST_TOLD: Final = 50
"""Errors after which a file is given up."""

_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_UNPRINTABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]")
_BREAK = re.compile("\r\n|\r|\n")


class Mark(NamedTuple):
    """Where a value was written: line and column of its key (from 1), and the way that leads there; the file if it is not
    the tree's own."""

    line: int
    column: int
    steps: Steps
    file: str = ""


@dataclass(frozen=True)
class Tree:
    """A file as mappings, lists and text, with a mark for every value."""

    file: str
    data: Data
    marks: Mapping[Steps, Mark]

    def place(self, steps: Steps) -> Place:
        """Where a value stands; for one that is not there, where the nearest thing around it stands."""
        known = next(steps[:end] for end in range(len(steps), -1, -1) if steps[:end] in self.marks)
        mark = self.marks[known]
        return Place(mark.file or self.file, mark.line, mark.column, dotted((*mark.steps, *steps[len(known) :])))

    def at(self, steps: Steps) -> Data | None:
        """The value there, or `None`."""
        value: Data | None = self.data
        for step in steps:
            if isinstance(value, dict) and isinstance(step, str):
                value = value.get(step)
            elif isinstance(value, list) and isinstance(step, int) and step < len(value):
                value = value[step]
            else:
                return None
        return value


def laid_over(under: Tree, over: Tree, by_entry: Collection[str]) -> Tree:
    """A tree of keys over another: its keys replace those of the same name, those `by_entry` entry by entry. Both must be
    mappings. Every value keeps the place where it was written."""
    assert isinstance(under.data, dict)
    assert isinstance(over.data, dict)
    data, replaced = dict(under.data), list[Steps]()
    for key, value in over.data.items():
        known = data.get(key)
        if key in by_entry and isinstance(known, dict) and isinstance(value, dict):
            data[key] = {**known, **value}
            replaced += [(key, name) for name in value]
        else:
            data[key] = value
            replaced.append((key,))
    hidden = set(replaced)
    kept = {
        steps: mark._replace(file=mark.file or under.file)
        for steps, mark in under.marks.items()
        if steps[:1] not in hidden and steps[:2] not in hidden
    }
    return Tree(over.file, data, {**kept, **over.marks})


def dotted(steps: Steps) -> str:
    """The way to a value as it is printed: `parts.side.features`; list items are counted from 1."""
    return ".".join(f"{step + 1}" if isinstance(step, int) else step for step in steps)


def read_tree(path: Path) -> Tree:
    """The tree of a YAML file. Unusable if it is no readable UTF-8 text file or breaks the rules above."""
    return parse_tree(read_text(path), path.as_posix())


def read_text(path: Path) -> str:
    """The text of a UTF-8 file, without a byte order mark, its lines ended alike wherever it was saved. Unusable with the reason
    if it is anything else."""

    def refuse(code: str, what: str, remedy: str) -> Unusable:
        return Unusable([Finding("error", code, path.name, what, remedy=remedy, place=Place(path.as_posix()))])

    try:
        status = path.stat()
        if S_ISDIR(status.st_mode):
            raise refuse("folder", "This is a folder, not a file.", "Name the file inside it.")
        if not S_ISREG(status.st_mode):
            raise refuse("not-a-file", "This is not an ordinary file.", "Save the text as a file and name that.")
        if status.st_size > LARGEST:
            size = f"{status.st_size / 1e6:.1f} MB"
            raise refuse("too-large", f"The file has {size}; at most {LARGEST / 1e6:.0f} MB are read.", "Name the right file.")
        with path.open("rb") as file:
            raw = file.read(LARGEST + 1)
    except FileNotFoundError:
        raise refuse("no-such-file", "There is no such file.", "Check the name and the folder.") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "its name cannot be used"
        raise refuse("unreadable", f"The file cannot be opened: {reason}.", "Check its name and who may read it.") from None
    save = "Save it again as UTF-8."
    if raw.startswith((b"\xff\xfe", b"\xfe\xff", b"\x00\x00\xfe\xff")) or _looks_wide(raw):
        raise refuse("encoding", "The file is written in UTF-16 or UTF-32, not in UTF-8.", save)
    raw = raw.removeprefix(b"\xef\xbb\xbf")
    if _UNPRINTABLE.search(raw.decode("latin-1")):
        raise refuse("binary", "This is not a text file: it holds characters that cannot be printed.", "Name the right file.")
    try:
        return _BREAK.sub("\n", raw.decode("utf-8"))
    except UnicodeDecodeError as error:
        before = raw[: error.start].decode("utf-8")
        line = len(_BREAK.findall(before)) + 1
        column = len(_BREAK.split(before)[-1]) + 1
        wrong = raw[error.start : error.start + 1].decode("cp1252", "replace")
        what = f"The file is not written in UTF-8: the character here is not (in the older Windows encoding it is '{wrong}')."
        place = Place(path.as_posix(), line, column)
        raise Unusable([Finding("error", "encoding", path.name, what, remedy=save, place=place)]) from None


def _looks_wide(raw: bytes) -> bool:
    """Whether every second byte at the start is zero: UTF-16 without its mark."""
    start = raw[:200]
    return len(start) > 3 and (not any(start[0::2]) or not any(start[1::2]))


def parse_tree(text: str, file: str, first_line: int = 1) -> Tree:
    """The tree of YAML text, for messages called `file`; `first_line` is the line in the file the text starts on.

    Unusable, with everything found, if it is not YAML or breaks the rules above.
    """
    tabs = [number for number, line in enumerate(_BREAK.split(text)) if "\t" in line]
    if tabs:
        where = Place(file, tabs[0] + first_line, _BREAK.split(text)[tabs[0]].index("\t") + 1)
        more = [str(number + first_line) for number in tabs[1:]]
        raise Unusable(
            [
                Finding(
                    "error",
                    "tab",
                    file,
                    "There is a tab here" + (f", and in line {in_short(more)}." if more else "."),
                    "Tabs and spaces look alike and mean different things in YAML.",
                    "Use spaces instead.",
                    where,
                )
            ]
        )
    builder = _Builder(file, first_line)
    try:
        for event in yaml.parse(text, Loader=_LOADER):
            builder.take(event)
    except yaml.YAMLError as error:
        builder.broken(error)
    except UnicodeError:
        builder.error("not-yaml", None, "The text holds characters that stand for nothing.", remedy="Write them again.")
    if builder.findings:
        raise Unusable(builder.findings)
    if builder.data is None:
        raise Unusable([Finding("error", "empty", file, "There is nothing in this file.", place=Place(file))])
    return Tree(file, builder.data, builder.marks)


class _Mark(Protocol):
    """A place as the parser gives it, counted from 0."""

    line: int
    column: int


class _Stop(yaml.YAMLError):
    """Reading goes no further; the reason is among the findings."""


_SYNTAX = (
    ("cannot start any token", "This character cannot start a value.", "Put the text in quotation marks."),
    ("mapping values are not allowed", "A colon stands where none can be.",
     "Check how far this line is indented; put text that holds a colon in quotation marks."),
    ("',' or '}'", "A curly bracket is not closed, or a comma is missing.", "Look at this line and the one before."),
    ("',' or ']'", "A square bracket is not closed, or a comma is missing.", "Look at this line and the one before."),
    ("expected key", "This line does not fit the lines above.", "Give all keys of one thing the same indentation."),
    ("<block end>", "This line does not fit the lines above.", "Give all keys of one thing the same indentation."),
    ("expected ':'", "A colon is missing after a key.", "Write 'key: value', with a space after the colon."),
    ("unexpected end of stream", "Something opened here is never closed.", "Close the quotation marks or the bracket."),
    ("node content", "Something is missing here, or a bracket or comma is too many.", "Look at this line and the one before."),
    ("escape", "A backslash in double quotation marks has a special meaning.", "Use single quotation marks."),
)  # fmt: skip


class _Builder:
    """Builds the tree from the parser's events, one pass, without recursion."""

    def __init__(self, file: str, first_line: int) -> None:
        self.file = file
        self.first_line = first_line
        self.findings: list[Finding] = []
        self.data: Data | None = None
        self.marks: dict[Steps, Mark] = {}
        self.open: list[tuple[dict[str, Data] | list[Data], Steps]] = []
        self.key: list[str | None] = []
        """For each open mapping the key whose value comes next."""
        self.documents = 0
        self.values = 0

    def error(self, code: str, mark: _Mark | None, what: str, why: str = "", remedy: str = "") -> None:
        place = Place(self.file, mark.line + self.first_line, mark.column + 1) if mark else Place(self.file)
        self.findings.append(Finding("error", code, self.file, what, why, remedy, place))

    def broken(self, error: yaml.YAMLError) -> None:
        """The parser's complaint in our own words."""
        if isinstance(error, _Stop):
            return
        mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
        problem = getattr(error, "problem", None) or ""
        what, remedy = next(
            ((says, do) for sign, says, do in _SYNTAX if sign in problem),
            ("This cannot be read as YAML.", "Look at the indentation, colons, commas, brackets and quotation marks here."),
        )
        self.error("not-yaml", mark, what, remedy=remedy)

    def take(self, event: yaml.Event) -> None:
        """The next event of the parser."""
        if len(self.findings) >= MOST_TOLD:
            raise _Stop
        if isinstance(event, yaml.NodeEvent):
            self._node(event)
        elif isinstance(event, yaml.CollectionEndEvent):
            container, _ = self.open.pop()
            if isinstance(container, dict):
                self.key.pop()
        elif isinstance(event, yaml.DocumentStartEvent):
            self.documents += 1
            if self.documents > 1:
                self.error("documents", event.start_mark, "A second document starts here.", remedy="Make it a file of its own.")
                raise _Stop

    def _node(self, event: yaml.NodeEvent) -> None:
        mark = event.start_mark
        assert mark is not None, "the parser marks every event"
        if isinstance(event, yaml.AliasEvent):
            self.error(
                "alias",
                mark,
                f"'*{event.anchor}' repeats something by an alias.",
                "A reader of the file would have to hunt for what stands here.",
                "Write it out, or use a name from sizes.",
            )
        elif event.anchor is not None:
            self.error(
                "alias",
                mark,
                f"'&{event.anchor}' names something for an alias.",
                "A reader of the file would have to hunt for what is meant.",
                "Leave it out and write things where they belong.",
            )
        tag = getattr(event, "tag", None)
        if tag is not None and tag != "!":
            remedy = "Leave it out, or put the text in quotation marks."
            self.error("tag", mark, "A type is written with '!' here.", remedy=remedy)
        if isinstance(event, yaml.CollectionStartEvent):
            self._put({} if isinstance(event, yaml.MappingStartEvent) else [], mark, True)
        else:
            self._put(getattr(event, "value", ""), mark, False)

    def _put(self, value: Data, mark: _Mark, opens: bool) -> None:
        self.values += 1
        if self.values > MOST:
            self.error("too-many", mark, f"There are over {MOST} values in this file.", remedy="Name the right file.")
            raise _Stop
        if not self.open:
            self.data = value
            steps: Steps = ()
            self.marks[()] = Mark(mark.line + self.first_line, mark.column + 1, ())
        else:
            container, around = self.open[-1]
            if isinstance(container, list):
                steps = (*around, len(container))
                container.append(value)
                self._mark(steps, mark)
            elif (key := self.key[-1]) is None:
                self._new_key(value, mark, container, around, opens)
                return
            else:
                steps = (*around, key)
                container[key] = value
                self.key[-1] = None
        if opens:
            self._open(value, steps, mark)

    def _open(self, value: Data, steps: Steps, mark: _Mark) -> None:
        if len(self.open) >= DEEPEST:
            self.error("too-deep", mark, f"Things stand more than {DEEPEST} deep inside each other here.")
            raise _Stop
        if isinstance(value, dict):
            self.key.append(None)
        if not isinstance(value, str):
            self.open.append((value, steps))

    def _mark(self, steps: Steps, mark: _Mark) -> None:
        self.marks[steps] = Mark(mark.line + self.first_line, mark.column + 1, steps)

    def _new_key(self, key: Data, mark: _Mark, container: dict[str, Data], around: Steps, opens: bool) -> None:
        if opens or not isinstance(key, str):
            self.error("key", mark, "A key must be a word, not a list or a set of keys.", remedy="Write 'key: value'.")
            raise _Stop
        if not key:
            self.error("key", mark, "There is a colon without a key before it.", remedy="Write 'key: value'.")
        elif key in container:
            first = self.marks[(*around, key)].line
            self.error(
                "duplicate-key",
                mark,
                f"'{key}' is written twice; the first is in line {first}.",
                "Only one of them could count.",
                "Leave one out or rename it.",
            )
        else:
            self._mark((*around, key), mark)
        self.key[-1] = key
