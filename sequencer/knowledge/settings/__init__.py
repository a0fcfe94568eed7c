"""Settings worked out from figures: one documented function each, by subject of the trade, named by operations. No trade
figures stand here; they come from the operation's `use`, the lists, the station and the work.

A function says which figures and words it takes and what each is unless the operation's `use` says otherwise: a number, a
quantity name or an expression of them. A figure that is not known gives a setting without value, whose text says that
staff decide; nothing is guessed.

A module of this folder registers its functions when it is imported; all of them are, here.
"""

from sequencer.knowledge.settings import (  # noqa: F401
    abrasives,
    boring,
    dovetails,
    fasteners,
    finishing,
    gluing,
    held_router,
    lasers,
    planes,
    profiles,
    routers,
    saws,
    screws,
    setting_out,
    spindle,
    turning,
)
from sequencer.knowledge.settings.base import (
    SETTINGS,
    STAFF_DECIDE,
    Given,
    Request,
    SettingsFunction,
    bit_of,
    filled,
    setting,
    settings,
    spoken,
)

__all__ = [
    "SETTINGS",
    "STAFF_DECIDE",
    "Given",
    "Request",
    "SettingsFunction",
    "bit_of",
    "filled",
    "setting",
    "settings",
    "spoken",
]
