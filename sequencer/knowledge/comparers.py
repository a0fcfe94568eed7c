"""Ways of proving that a value asks for as much as the one it takes the place of, or for more.

A comparer takes the name of a key, the value as shipped and the value now, and says what the new one may ask for less; it says
nothing only where the new one is as strict or stricter.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from sequencer.knowledge.forms.hazards import HazardControl
from sequencer.knowledge.forms.operations import CheckLine, Limit, ToolSize

Comparer = Callable[[str, Any, Any], Iterator[str]]

ASK_MORE = ("at_least", "more_than")
COMPARISONS = (*ASK_MORE, "at_most", "less_than")


def otherwise(name: str, was: Any, now: Any) -> Iterator[str]:
    """No two values are held to be equal in what they ask for."""
    yield f"`{name}` reads otherwise"


def kept(what: str = "") -> Comparer:
    """Each of several things is still there; more may be. `what` they are; without it texts, which are quoted."""

    def comparer(name: str, was: Any, now: Any) -> Iterator[str]:
        yield from (f"no {f'{what} {_called(each)}' if what else f'“{_called(each)}”'}" for each in was if each not in now)

    return comparer


def texts_kept(what: str = "", *, in_order: bool = False) -> Comparer:
    """Each of several texts that somebody reads is still there, and none is there that was not: a sentence more may undo what
    another asks for, and nobody can judge that here. `in_order`: they stand in the same order too."""

    def comparer(name: str, was: Any, now: Any) -> Iterator[str]:
        yield from kept(what)(name, was, now)
        yield from (f"`{name}` reads otherwise: “{_called(each)}” was not there" for each in now if each not in was)
        left = [each for each in now if each in was]
        if in_order and left != [each for each in was if each in now]:
            yield f"`{name}` stands in another order"

    return comparer


def first_ones_kept(what: str, most: int) -> Comparer:
    """Each of several names is still there, more may be, and the first `most` are the same ones in the same order: only these
    are printed where there is little room."""

    def comparer(name: str, was: Any, now: Any) -> Iterator[str]:
        yield from kept(what)(name, was, now)
        if tuple(now[:most]) != tuple(was[:most]) and all(each in now for each in was):
            yield f"{what} {', '.join(now[:most])} is printed first, and no longer {', '.join(was[:most]) or 'nothing'}"

    return comparer


def renamed(name: str, was: str, now: str) -> Iterator[str]:
    """What somebody reads a thing by: another name may say that it need not be used."""
    yield f"`{name}` is “{now}”; it was “{was}”"


DOUBTS = ("from memory", "common practice")
"""What a source says that has not been looked up; the first prints “check locally”."""


def as_frank(name: str, was: str | Sequence[str], now: str | Sequence[str]) -> Iterator[str]:
    """A source, or several, still say as often that they are from memory or common practice."""
    old, new = ((text,) if isinstance(text, str) else tuple(text) for text in (was, now))
    for doubt in DOUBTS:
        if _saying(doubt, new) < _saying(doubt, old):
            yield f"`{name}` no longer says “{doubt}”"


def _saying(words: str, texts: Sequence[str]) -> int:
    return sum(words in text.lower() for text in texts)


def none_added(what: str) -> Comparer:
    """None is there that was not; fewer may be."""

    def comparer(name: str, was: Any, now: Any) -> Iterator[str]:
        yield from (f"{what} {_called(each)}" for each in now if each not in was)

    return comparer


def _called(thing: Any) -> str:
    """What a thing is called in a sentence."""
    match thing:
        case CheckLine():
            return thing.what
        case ToolSize():
            return f"the {thing.tool}"
        case HazardControl():
            return thing.text
        case _:
            return f"{thing}"


def no_less(name: str, was: float | None, now: float | None) -> Iterator[str]:
    """A figure is as large or larger; one where there was none counts as larger."""
    if was is not None and (now is None or now < was):
        yield f"`{name}` is {_shown(now)} instead of {was:g}"


def no_more(name: str, was: float, now: float) -> Iterator[str]:
    """A figure is as small or smaller."""
    if now > was:
        yield f"`{name}` is {now:g} instead of {was:g}"


def not_known_or_more(name: str, was: float | None, now: float | None) -> Iterator[str]:
    """A figure is as large or larger, or not known, where the largest of all counts for what is not known."""
    if now is not None and (was is None or now < was):
        yield f"`{name}` is {now:g} instead of {_shown(was)}"


def _shown(figure: float | None) -> str:
    return "not said" if figure is None else f"{figure:g}"


def on_a_scale(scale: Sequence[str]) -> Comparer:
    """A word stands as high on a scale or higher; the last is the strictest."""

    def comparer(name: str, was: str, now: str) -> Iterator[str]:
        if scale.index(now) < scale.index(was):
            yield f"{name.rpartition('.')[2].replace('_', ' ')} {now or 'not said'} instead of {was or 'not said'}"

    return comparer


def may_become(strict: Any, says: str = "") -> Comparer:
    """Only this one value is known to be the strictest."""

    def comparer(name: str, was: Any, now: Any) -> Iterator[str]:
        if now != strict:
            yield says or f"`{name}` reads otherwise"

    return comparer


def limits_as_strict(name: str, was: Sequence[Limit], now: Sequence[Limit]) -> Iterator[str]:
    """Each limit is still there, or one of the same figure that allows nothing it forbids."""
    for limit in was:
        strict = [each for each in now if _as_strict(each, limit)]
        if not strict:
            yield f"the limit “{limit.says}” is gone or another"
        elif not any(each.says == limit.says for each in strict):
            yield f"the limit “{limit.says}” reads otherwise"
        elif all(list(as_frank(name, limit.source, each.source)) for each in strict):
            yield f"the source of the limit “{limit.says}” no longer says that it is from memory or common practice"


def _as_strict(now: Limit, was: Limit) -> bool:
    """Whether a limit allows nothing that the other forbids, as far as two numbers show it."""
    comparison = next(key for key in COMPARISONS if getattr(was, key))
    old, new = getattr(was, comparison), getattr(now, comparison)
    if now.of != was.of or not new:
        return False
    if old == new:
        return True
    try:
        return float(new) >= float(old) if comparison in ASK_MORE else float(new) <= float(old)
    except ValueError:
        return False


def choices_as_strict(what: str) -> Comparer:
    """All that had to be there still has to, and of a choice nothing new is enough."""

    def comparer(name: str, was: Any, now: Any) -> Iterator[str]:
        yield from (f"no {what} {each}" for each in was.all_of if each not in now.all_of)
        if was.any_of and not set(now.all_of) & set(was.any_of):
            more = [each for each in now.any_of if each not in was.any_of]
            if more or not now.any_of:
                yield f"{what} {' or '.join(more) or 'none'} is enough"

    return comparer
