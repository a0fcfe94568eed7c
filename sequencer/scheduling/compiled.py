"""Functions over arrays, compiled when they are first called, and kept for the next run where there is a place to keep them."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar, cast

from numba import njit

F = TypeVar("F", bound=Callable[..., object])


def compiled(function: F) -> F:
    """A function made into machine code by numba. It takes numbers and arrays alone, and tuples of them."""
    try:
        return cast(F, njit(cache=True)(function))
    except RuntimeError:  # No folder to keep it in can be written to.
        return cast(F, njit(function))
