"""Halving: the half of a lap joint that is cut out of one of its two pieces, at an end or where they cross."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from sequencer.features.base import register
from sequencer.features.channel import Channel


@register
@dataclass(frozen=True, kw_only=True)
class Halving(Channel):
    """In a broad face the pieces lie flat on each other; in an edge face they stand on edge. `distance: 0` from an end
    makes an end halving."""

    usual: ClassVar = 1 / 2
    most: ClassVar = 2 / 3
    depth_source: ClassVar = "common practice: half from each piece, never over two thirds"

    kind: ClassVar = "halving"
    title: ClassVar = "halving"
    says: ClassVar = "the cut for a lap of two pieces, half the wood of each, at an end or where they cross"
