"""Settings to set out by, and of work that has none."""

from __future__ import annotations

from sequencer.knowledge.settings.base import Given, setting, settings
from sequencer.model.plan import Setting


@settings("none")
def none(given: Given) -> tuple[Setting, ...]:
    """Nothing to set."""
    return ()


@settings(
    "gauge",
    gives=("distance", "width", "depth"),
    figures={"distance": "feature.distance", "width": "feature.width", "depth": "feature.depth"},
    optional=("distance", "width", "depth"),
)
def gauge(given: Given) -> tuple[Setting, ...]:
    """Sizes to mark: of the three, those the work has."""
    return (
        setting("distance", "distance", given.figures["distance"]),
        setting("width", "width", given.figures["width"]),
        setting("depth", "depth", given.figures["depth"]),
    )


@settings(
    "tenon",
    gives=("shoulder", "thickness", "cheek", "tenon-width", "edge", "haunch"),
    figures={
        "shoulder": "feature.length",
        "thickness": "feature.thickness",
        "cheek": "feature.cheek",
        "tenon-width": "feature.width",
        "edge": "feature.edge",
        "narrower": "feature.narrower",
        "haunch": "feature.haunch",
    },
    optional=("tenon-width", "edge", "haunch"),
)
def tenon(given: Given) -> tuple[Setting, ...]:
    """All lines of a tenon, mm: its shoulder from the end, its thickness and where it lies in that of the part; its width and
    where it lies in that of the part, if it is narrower; its haunch, if it has one. The words `side` and `edge` of the work
    say which faces these are marked from."""
    figures, words = given.figures, given.request.words or {}
    narrower, haunch = bool(figures["narrower"]), bool(figures["haunch"])
    return (
        setting("shoulder", "shoulder from the end", figures["shoulder"]),
        setting("thickness", "thickness of the tenon", figures["thickness"]),
        _inwards("cheek", "first cheek", figures["cheek"], words.get("side", "face side")),
        setting("tenon-width", "width of the tenon", figures["tenon-width"] if narrower else None),
        _inwards("edge", "first side", figures["edge"] if narrower else None, words.get("edge", "face edge")),
        setting("haunch", "haunch from the shoulder", figures["haunch"] if haunch else None),
    )


@settings(
    "tongue",
    gives=("shoulder", "thickness", "cheek"),
    figures={"shoulder": "feature.length", "thickness": "feature.thickness", "cheek": "feature.cheek"},
)
def tongue(given: Given) -> tuple[Setting, ...]:
    """All lines of a tongue, mm: its shoulder from the edge or end, its thickness and where it lies in that of the part. The
    word `side` of the work says which face it is gauged from."""
    figures, words = given.figures, given.request.words or {}
    return (
        setting("shoulder", "shoulder from the edge or end", figures["shoulder"]),
        setting("thickness", "thickness of the tongue", figures["thickness"]),
        _inwards("cheek", "first cheek", figures["cheek"], words.get("side", "face side")),
    )


def _inwards(name: str, label: str, distance: float | None, face: str) -> Setting:
    """How far inwards from a face a line is, or that it is level with it."""
    return setting(name, label, distance, text=f"{{}} from the {face}" if distance else f"level with the {face}")


@settings("angle", gives=("angle",), figures={"angle": "feature.angle"})
def angle(given: Given) -> tuple[Setting, ...]:
    """An angle to set, degrees from square."""
    return (setting("angle", "angle", given.figures["angle"], "deg", "{} from square"),)


@settings(
    "sawn-off-strip",
    gives=("length", "width", "thickness"),
    figures={"length": "joint.loose-length", "width": "joint.loose-width", "thickness": "joint.loose-thickness"},
)
def sawn_off_strip(given: Given) -> tuple[Setting, ...]:
    """Loose pieces sawn off a strip, mm: how long each is, how wide and how thick the strip."""
    return (
        setting("length", "length of each", given.figures["length"]),
        setting("width", "width of the strip", given.figures["width"]),
        setting("thickness", "thickness of the strip", given.figures["thickness"]),
    )
