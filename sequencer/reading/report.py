"""Collects everything that is wrong with a file, in plain words, each with its place.

What pydantic finds is put into sentences of our own here; none of its wording reaches a person. The knowledge's loader
uses this too.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from functools import cache
from typing import Any, TypeVar, get_args

from pydantic import BaseModel, TypeAdapter, ValidationError
from pydantic_core import ErrorDetails
from pydantic_core.core_schema import ErrorType

from sequencer.findings import Finding, Place, Unusable, has_errors
from sequencer.model.fields import Reading
from sequencer.reading.tree import Data, Steps, Tree, dotted
from sequencer.reading.words import meant, nearest

Schema = Mapping[str, Any]

_M = TypeVar("_M", bound=BaseModel)
_T = TypeVar("_T")


class Report:
    """The findings of one file while it is read."""

    def __init__(self, tree: Tree) -> None:
        self.tree = tree
        self.findings: list[Finding] = []
        self._told: set[tuple[Place, str]] = set()

    def error(self, code: str, steps: Steps, what: str, why: str = "", remedy: str = "") -> None:
        """Notes an error at a value. The same sentence about the same place is noted once."""
        place = self.tree.place(steps)
        if (place, what) not in self._told:
            self._told.add((place, what))
            self.findings.append(Finding("error", code, dotted(steps), what, why, remedy, place))

    def note(self, code: str, steps: Steps, what: str, remedy: str = "") -> None:
        """Notes something worth knowing."""
        self.findings.append(Finding("note", code, dotted(steps), what, remedy=remedy, place=self.tree.place(steps)))

    @property
    def failed(self) -> bool:
        """Whether there is an error."""
        return has_errors(self.findings)

    def close(self) -> tuple[Finding, ...]:
        """The notes. Unusable, with everything found in the order of the file, if there is an error."""
        self.findings.sort(key=lambda each: (each.place.line, each.place.column) if each.place else (0, 0))
        if self.failed:
            raise Unusable(each for each in self.findings if each.level == "error")
        return tuple(self.findings)

    def form(self, form: type[_M], data: Data, steps: Steps, context: object = None) -> _M | None:
        """A value read as a form; `None`, with the errors noted, if it is none."""
        try:
            return form.model_validate(data, context=context)
        except ValidationError as error:
            self.refused(error, steps, lambda: _form_schema(form), context)
            return None

    def typed(self, adapter: TypeAdapter[_T], data: object, steps: Steps, context: object = None,
              schema: Callable[[], Schema] | None = None) -> _T | None:  # fmt: skip
        """A value read as any type; `None`, with the errors noted, if it is none."""
        try:
            return adapter.validate_python(data, context=context)
        except ValidationError as error:
            self.refused(error, steps, schema or adapter.json_schema, context)
            return None

    def section(self, form: type[_M], name: str, context: object = None) -> _M | None:
        """A section of the file read as a form; `None` if it is not there, or with the errors noted if it is no such form."""
        data = self.tree.at((name,))
        return None if data is None else self.form(form, data, (name,), context)

    def forms(self, form: type[_M], steps: Steps, context: object = None) -> dict[str, _M]:
        """The entries of a mapping that can be read as a form, by name. A mapping that is not there has none."""
        data = self.tree.at(steps)
        read = {
            name: self.form(form, value, (*steps, name), context)
            for name, value in (data.items() if isinstance(data, dict) else ())
        }
        return {name: value for name, value in read.items() if value is not None}

    def refused(self, error: ValidationError, steps: Steps, schema: Callable[[], Schema], context: object = None) -> None:
        """Notes what pydantic found wrong with the value at `steps`, which has that JSON Schema."""
        root = schema()
        found: dict[Steps, ErrorDetails] = {}
        for each in error.errors(include_url=False):
            # The first try of a value that may be either of two things is told.
            found.setdefault(self._located(steps, each["loc"], each["type"]), each)
        # Where a key is misspelt, it is not told to be missing as well.
        misspelt = {
            (*at[:-1], nearest(str(at[-1]), _keys(root, at[len(steps) : -1])))
            for at, each in found.items()
            if each["type"] in UNKNOWN_KEY
        }
        for at, each in found.items():
            if each["type"] == "missing" and at in misspelt:
                continue
            if each["type"] in PYDANTIC:
                what, why, remedy = self._sentence(each, at, root, at[len(steps) :], context)
            else:  # our own wording, from a field's type or a feature kind
                own = each.get("ctx", {})
                what, why, remedy = _whole(each["msg"]), str(own.get("why", "")), str(own.get("remedy", ""))
            if what:
                self.error(_CODES.get(each["type"], each["type"]).replace("_", "-"), at, what, why, remedy)

    def _located(self, steps: Steps, loc: Iterable[int | str], kind: str) -> Steps:
        """The way to the value pydantic speaks of, without the names it gives to alternatives."""
        here, value = steps, self.tree.at(steps)
        parts = list(loc)
        for number, part in enumerate(parts):
            inside = (isinstance(value, dict) and part in value) or (
                isinstance(value, list) and isinstance(part, int) and part < len(value)
            )
            if inside or (kind == "missing" and number == len(parts) - 1):
                here = (*here, part)
                value = self.tree.at(here)
        return here

    def _sentence(self, error: ErrorDetails, at: Steps, root: Schema, inside: Steps, context: object) -> tuple[str, str, str]:
        """What is wrong, why, and what to do."""
        kind, limits = error["type"], error.get("ctx", {})
        if kind in ("value_error", "assertion_error"):
            return _whole(str(limits.get("error", ""))), "", ""
        if kind == "literal_error" and error["loc"][-1:] == ("[key]",):
            known = re.findall("'([^']*)'", str(limits.get("expected", "")))
            return f"'{at[-1]}' is no name here.", "", meant(str(at[-1]), known)
        value, key = self.tree.at(at), _key(at)
        shown = _shown(value)
        if kind == "missing":
            if isinstance(at[-1], int):
                return f"{_key(at[:-1])} has too few values.", "", ""
            about = _description(root, inside)
            return f"'{at[-1]}' is missing.", "", f"Add '{at[-1]}:'" + (f", {about}." if about else ".")
        if kind in UNKNOWN_KEY:
            if str(at[-1]).isdigit() and value == "":
                return f"'{at[-1]}' is no key here.", "", "If it belongs to a decimal, write it with a point: 7.5, not 7,5."
            return f"'{at[-1]}' is no key here.", "", meant(str(at[-1]), _keys(root, inside[:-1]))
        if value == "":
            return f"Nothing is written for {key}.", "", "Write a value or leave the key out."
        if kind in ("literal_error", "enum"):
            return f"{key} cannot be {shown}.", "", meant(str(value), _options(root, inside))
        if kind in _LIMITS:
            words, name = _LIMITS[kind]
            if isinstance(value, str) and not _NUMBER.fullmatch(value) and isinstance(context, Reading):
                with suppress(ValueError):  # a number of another form than a sum says for itself what it comes to
                    shown += f", which comes to {context.number(value):g}"
            return f"{key} must be {words} {limits[name]:g}; this is {shown}.", "", ""
        if kind == "too_short" and not value:
            return f"{key} must not be empty.", "", ""
        if kind == "too_short":
            return f"{key} needs at least {limits['min_length']} entries; this has {limits['actual_length']}.", "", ""
        if kind == "too_long":
            return f"{key} takes at most {limits['max_length']} entries; this has {limits['actual_length']}.", "", ""
        expected = _EXPECTED.get(kind) or _EXPECTED.get(kind.partition("_")[0])
        if expected:
            return f"{key} must be {expected}; this is {shown}.", "", ""
        return f"{key} cannot be {shown}.", "", _description(root, inside).capitalize()


PYDANTIC = frozenset(get_args(ErrorType))
"""The kinds of error pydantic words itself."""


@cache
def _form_schema(form: type[BaseModel]) -> Schema:
    return form.model_json_schema()


UNKNOWN_KEY = ("extra_forbidden", "unexpected_keyword_argument")

_NUMBER = re.compile(r"[-+]?[0-9.]+")

_CODES = {
    "missing": "missing-key",
    "extra_forbidden": "unknown-key",
    "unexpected_keyword_argument": "unknown-key",
    "literal_error": "unknown-value",
}

_LIMITS = {
    "greater_than": ("more than", "gt"),
    "greater_than_equal": ("at least", "ge"),
    "less_than": ("less than", "lt"),
    "less_than_equal": ("at most", "le"),
}

_EXPECTED = {
    "string": "text",
    "int": "a whole number",
    "float": "a number",
    "finite": "a number",
    "bool": "yes or no",
    "model": "a set of keys with values",
    "dict": "a set of keys with values",
    "mapping": "a set of keys with values",
    "dataclass": "a set of keys with values",
    "list": "a list",
    "tuple": "a list",
    "set": "a list",
    "date": "a date such as 2027-02-01",
}


def _whole(sentence: str) -> str:
    """As a whole sentence: a capital first, a stop at the end."""
    if not sentence:
        return ""
    text = sentence[:1].upper() + sentence[1:]
    return text if text.endswith((".", "?", "!")) else text + "."


def _key(steps: Steps) -> str:
    """What a message calls the value at `steps`."""
    if not steps:
        return "The file"
    if isinstance(steps[-1], int):
        return f"Entry {steps[-1] + 1} of {_key(steps[:-1]) if steps[:-1] else 'the file'}"
    return f"'{steps[-1]}'"


def _shown(value: Data | None) -> str:
    if isinstance(value, str):
        return f"'{value}'" if len(value) <= 60 else f"'{value[:60]} …'"
    return "a list" if isinstance(value, list) else "a set of keys"


def _flat(schema: Schema, root: Schema) -> Iterable[Schema]:
    """A schema's alternatives, with references followed."""
    if "$ref" in schema:
        yield from _flat(root["$defs"][schema["$ref"].rpartition("/")[2]], root)
        return
    alternatives = [*schema.get("anyOf", ()), *schema.get("oneOf", ()), *schema.get("allOf", ())]
    for each in alternatives:
        yield from _flat(each, root)
    if "properties" in schema or not alternatives:
        yield schema


def _inside(root: Schema, steps: Steps) -> list[Schema]:
    """The schemas of the value at `steps`."""
    here = list(_flat(root, root))
    for step in steps:
        found: list[Schema] = []
        for schema in here:
            if isinstance(step, int):
                more = [schema["items"]] if isinstance(schema.get("items"), Mapping) else list(schema.get("prefixItems", ()))[:1]
            elif step in schema.get("properties", {}):
                more = [schema["properties"][step]]
            else:
                rest = schema.get("additionalProperties")
                more = [rest] if isinstance(rest, Mapping) else list(schema.get("patternProperties", {}).values())
            found.extend(each for one in more for each in _flat(one, root))
        here = found
    return here


def _keys(root: Schema, steps: Steps) -> list[str]:
    return [key for schema in _inside(root, steps) for key in schema.get("properties", {})]


def _options(root: Schema, steps: Steps) -> list[str]:
    found = [option for schema in _inside(root, steps) for option in (*schema.get("enum", ()), schema.get("const"))]
    return [str(option) for option in found if option not in (None, "")]


def _description(root: Schema, steps: Steps) -> str:
    """What the key is for, as the schema says it."""
    for schema in _inside(root, steps[:-1]):
        own = schema.get("properties", {}).get(steps[-1], {}) if steps else {}
        if text := own.get("description"):
            return str(text)
    return next((str(schema["description"]) for schema in _inside(root, steps) if "description" in schema), "")
