"""The ways of a work on the pieces it would be done on, each found once for a job: while ways and lengths are brought together,
the same is asked for again and again.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from sequencer.planning.blanks import Workpiece
from sequencer.planning.pieces import pieces_for
from sequencer.planning.shop import Shop
from sequencer.planning.strips import Kerfs
from sequencer.planning.ways import Way, find_ways
from sequencer.planning.work import Work
from sequencer.planning.work_words import face_words


def ways_on(
    blanks: Mapping[str, Workpiece],
    work: Work,
    shop: Shop,
    kerfs: Kerfs = MappingProxyType({}),
    *,
    station: str = "",
    shaped: tuple[str, ...] = (),
) -> tuple[Way, ...]:
    """Every way of a work on these blanks, possible or not, in the knowledge's order. `kerfs`: what saws take that cut parts
    apart; `station`: the one that a decision asks for; `shaped`: features that have taken faces of the part before."""
    asked = (work.id, blanks.get(work.part), kerfs.get(work.part), station, shaped)
    known = shop.ways_found.setdefault(asked, [])
    found = next((ways for of, ways in known if of == work), None)
    if found is None:
        pieces, hardness = pieces_for(work, shop, blanks, kerfs), shop.hardness_of(work.parts)
        found = find_ways(work, pieces, shop, face_words(work, shop.job), hardness, station, shaped)
        known.append((work, found))
    return found
