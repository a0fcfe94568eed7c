"""How damp wood becomes in the air of a room, and how much it moves: the sums behind every gap left for solid wood.

Relative humidity and moisture content are in percent, temperatures in degrees Celsius, sizes in mm. Sources: Wood Handbook,
USDA Forest Products Laboratory, FPL-GTR-190 (2010) and FPL-GTR-282 (2021), chapters 4 and 13.
"""

from __future__ import annotations

from dataclasses import dataclass

EMC_SOURCE = "Wood Handbook, equation 4-5 and Table 4-2"
MOVEMENT_SOURCE = "Wood Handbook (FPL-GTR-190, 2010), chapter 13, equation 13-2"
LEAST_KNOWN, MOST_KNOWN = 6.0, 14.0
"""Moisture content between which the coefficients of the list hold, percent."""


@dataclass(frozen=True)
class Air:
    """The air of a room over the year: driest and dampest relative humidity, percent, and usual temperature."""

    driest: float
    dampest: float
    temperature: float = 20.0

    @property
    def moisture(self) -> tuple[float, float]:
        """Moisture content of wood that has come to rest in the driest and in the dampest air, percent."""
        return equilibrium_moisture(self.driest, self.temperature), equilibrium_moisture(self.dampest, self.temperature)

    @property
    def swing(self) -> float:
        """How far the moisture content goes from the one season to the other, percentage points."""
        dry, damp = self.moisture
        return damp - dry


def equilibrium_moisture(humidity: float, temperature: float) -> float:
    """Moisture content at which wood comes to rest in air of a relative humidity and temperature, percent.

    M = 1800/W [ K h / (1 - K h) + (K1 K h + 2 K1 K2 K^2 h^2) / (1 + K1 K h + K1 K2 K^2 h^2) ] with h from 0 to 1 and W, K, K1
    and K2 of the temperature: the sorption model of Hailwood and Horrobin with two hydrates, as fitted in the Wood Handbook,
    equation 4-5; coefficients for degrees Celsius after Simpson, FPL-RN-0268, 1998. ValueError outside 0 to 100 percent and
    outside -1 to 55 degrees, the range that the handbook's table is used for here.
    """
    if not 0 <= humidity <= 100:
        raise ValueError(f"relative humidity goes from 0 to 100 percent, not {humidity:g}")
    if not -1.2 <= temperature <= 55:
        raise ValueError(f"the formula is used from -1 to 55 degrees, not at {temperature:g}")
    t, h = temperature, humidity / 100
    w = 349 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    kh = k * h
    bound = (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2)
    return 1800 / w * (kh / (1 - kh) + bound)


def movement(size: float, coefficient: float, moisture_change: float) -> float:
    """Change of a width in mm: size x coefficient x change of moisture content in percentage points.

    Holds between 6 and 14 % moisture content. Source: Wood Handbook (FPL-GTR-190), equation 13-2.
    """
    return size * coefficient * moisture_change


def panel_room(size: float, coefficient: float, moisture_change: float) -> float:
    """Least total room beside a solid panel, mm: all of its expected swelling. Source: equation 13-2 as `movement`."""
    return movement(size, coefficient, abs(moisture_change))
