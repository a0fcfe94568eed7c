"""What a name of a wood or sheet means: one material, any of several, or none that is known.

Names of woods are ambiguous: a trade name may cover many trees and a tree may have many trade names (HSE Woodworking
Information Sheet 30). So a name that several materials bear is answered with all of them at once, the most cautious figure of
each, and a name that none bears with nothing at all: what is not known is never taken to be harmless.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Literal

from sequencer.knowledge.forms.materials import CLASS_WORK, Material
from sequencer.knowledge.knowledge import Knowledge
from sequencer.reading.words import in_short, nearest

DENSITY_CLASSES = ((450.0, "light"), (650.0, "medium"), (800.0, "heavy"), (float("inf"), "very heavy"))
"""Densities up to which a material counts as such, kg/m3. From memory: classes of the United Kingdom's timber research."""

_WORKING: tuple[Literal["soft", "medium", "hard"], ...] = ("hard", "medium", "soft")
_BLUNTING: tuple[Literal["slight", "moderate", "severe"], ...] = ("severe", "moderate", "slight")
"""The worst first."""

_TREATED = re.compile(
    r"(?<!\bnot )(?<!\bnon )(?<!\bun )\b(pressure )?(treated|treatment|impregnat\w*|preserv\w*|creosot\w*|cca|acq|losp|"
    r"copper azole|h[1-6]|uc ?[1-5])\b"
)
"""What says in a name that the wood has been treated against rot: words of the trade, preservatives by what they are made of, and
classes of treatment (H of AS 1604 and NZS 3640, use classes of EN 335). From memory, check locally. Heat treatment counts too:
a name does not tell the two apart."""
TREATED_TIMBER = "treated-timber"
"""The hazard by which the list marks what has been treated."""


@dataclass(frozen=True)
class Found:
    """What a name means.

    asked
        The name as it was asked for.
    names
        The materials it may mean, by their names in the list, in its order; none if nothing is known of it.
    material
        The one it means, or the cautious union of all it may mean; None if nothing is known of it.
    near
        The known name most like it, where nothing is known of it; may be empty.
    """

    asked: str
    names: tuple[str, ...]
    material: Material | None
    near: str = ""

    @property
    def ambiguous(self) -> bool:
        """Whether the name may mean several materials."""
        return len(self.names) > 1


def find_material(name: str, materials: Mapping[str, Material], botanical: str = "") -> Found:
    """What a name means, in any case, with hyphens or spaces, by key, trade name, other name or botanical name (a genus by
    itself means all of it). A botanical name that is known decides; one that is not known leaves it unknown, whatever the
    trade name, because the trade name then means another tree. A name that says the wood has been treated against rot, as
    none on the list does, means the treated wood of the list too, whatever else it means.
    """
    wanted = botanical or name
    names = _botanical(wanted, materials) or (() if botanical else _called(name, materials))
    if _says_treated(name) and not any(_says_treated(each) for key in names for each in names_of(materials[key])):
        bare = _TREATED.sub(" ", _spaced(name))
        treated = (key for key, material in materials.items() if TREATED_TIMBER in material.hazards)
        names = tuple(dict.fromkeys((*(names or (() if botanical else _called(bare, materials))), *treated)))
    if not names:
        return Found(name, (), None, nearest(name, all_names(materials)))
    return Found(name, names, _union(name, {each: materials[each] for each in names}))


def all_names(materials: Mapping[str, Material]) -> tuple[str, ...]:
    """Every name a material may be asked for by, in alphabetical order."""
    return tuple(sorted({name for material in materials.values() for name in names_of(material)}))


def names_of(material: Material) -> tuple[str, ...]:
    """The trade name, then the other names, each once."""
    return tuple(dict.fromkeys((material.name, *(word for words in material.words.values() for word in words))))


def density_class(density: float) -> str:
    """`light`, `medium`, `heavy` or `very heavy`, by the density in kg/m3."""
    return next(word for most, word in DENSITY_CLASSES if density <= most)


def largest_movement(knowledge: Knowledge) -> float:
    """The largest change of width for 1 % of moisture of any wood on the list, as a share of the width: what counts where
    nothing is known of a wood."""
    return max(material.tangential or 0.0 for material in knowledge.materials.values())


@cache  # every name of the list is asked about for every name of a job
def _plain(name: str) -> str:
    """A name without case, brackets, hyphens and doubled spaces."""
    return " ".join(re.sub(r"[-_]", " ", re.sub(r"\(.*?\)", " ", name.casefold())).split())


def _spaced(name: str) -> str:
    """A name without case, hyphens and brackets, but with what stands in them."""
    return " ".join(re.sub(r"[-_()\[\],/]", " ", name.casefold()).split())


def _says_treated(name: str) -> bool:
    return _TREATED.search(_spaced(name)) is not None


def _called(name: str, materials: Mapping[str, Material]) -> tuple[str, ...]:
    wanted = _plain(name)
    return tuple(
        key for key, material in materials.items() if wanted in {_plain(key), *(_plain(each) for each in names_of(material))}
    )


def _botanical(name: str, materials: Mapping[str, Material]) -> tuple[str, ...]:
    """The materials of a botanical name, with or without its author; of a genus (`Quercus`, `Quercus spp.`) all that belong to
    it; of several with commas all of them, but none if one of them is not known."""
    found = [_of_species(each, materials) for each in name.split(",")]
    return tuple(key for key in materials if any(key in keys for keys in found)) if all(found) else ()


def _of_species(name: str, materials: Mapping[str, Material]) -> frozenset[str]:
    wanted = re.sub(r" (spp?|species)\.?$", "", _plain(name))
    species = {key: [_plain(each) for each in material.botanical.split(",")] for key, material in materials.items()}
    return frozenset(
        key
        for key, names in species.items()
        if any(each and (wanted in (each, each.partition(" ")[0]) or wanted.startswith(f"{each} ")) for each in names)
    )


def _union(asked: str, found: Mapping[str, Material]) -> Material:
    """One material, or the most cautious of several: the larger movement, the harder to work, every effect and hazard."""
    every = tuple(found.values())
    if len(every) == 1:
        return every[0]
    kinds = {material.hardness for material in every}
    names = in_short([material.name for material in every], "or")
    return Material(
        name=asked,
        botanical=", ".join(dict.fromkeys(material.botanical for material in every if material.botanical)),
        hardness=kinds.pop() if len(kinds) == 1 else "hardwood",
        works=next((word for word in _WORKING if any(material.works == word for material in every)), ""),
        dust_class="hardwood" if any(material.dust_counts_as == "hardwood" for material in every) else "softwood",
        density=_most(every, lambda material: material.density),
        density_source=_sources(every, "density"),
        tangential=_most(every, lambda material: material.tangential),
        radial=_most(every, lambda material: material.radial),
        movement_source=_sources(every, "movement"),
        durability=_weakest(every),
        durability_source=_sources(every, "durability"),
        blunting=next((word for word in _BLUNTING if any(material.blunting == word for material in every)), ""),
        fixing=" ".join(dict.fromkeys(material.fixing for material in every if material.fixing)),
        effects=tuple(dict.fromkeys(effect for material in every for effect in material.effects)),
        dust=f"May mean {names}. " + " ".join(_sentences(material.dust for material in every)),
        hazards=tuple(dict.fromkeys(hazard for material in every for hazard in material.hazards)),
        class_work=max((material.class_work for material in every), key=CLASS_WORK.index),
        source="; ".join(dict.fromkeys(material.source for material in every)),
    )


def _most(every: Iterable[Material], figure: Callable[[Material], float | None]) -> float | None:
    """The largest of a figure; None if it is not known of one of them, which may then be larger."""
    figures = [figure(material) for material in every]
    known = [each for each in figures if each is not None]
    return max(known) if len(known) == len(figures) else None


def _weakest(every: Iterable[Material]) -> int | None:
    classes = [material.durability for material in every]
    known = [each for each in classes if each is not None]
    return max(known) if len(known) == len(classes) else None


def _sources(every: Iterable[Material], about: str) -> str:
    return "; ".join(dict.fromkeys(text for material in every if (text := getattr(material, f"{about}_source"))))


def _sentences(texts: Iterable[str]) -> Iterator[str]:
    """The sentences of several texts, each once."""
    yield from dict.fromkeys(sentence.strip() for text in texts for sentence in re.findall(r"[^.]+\.", text))
