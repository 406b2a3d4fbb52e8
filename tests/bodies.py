"""Bodies by chance, as people are: grown ones by the regressions of a measured army, children by proportion.

ANSUR II (2012): Gordon C. C. et al. (2014) NATICK/TR-15/007, 4,082 men and 1,986 women. Means, standard
deviations and regressions were computed from its public data files: stature by sex; hand length = a + b x
stature with its standard error; wrist height as a share of stature. The spread of the wrist height about
that share is what its own standard deviation leaves over once stature's is taken off.

Children, unverified: no table of theirs is at hand, so that they have a grown body's proportions, and a
stature by age from memory.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import sqrt
from typing import Any

import numpy as np

SEED = 2012
CHILDREN = 0.25
"""Share of children among the bodies."""
_MEN = 4082 / (4082 + 1986)


@dataclass(frozen=True)
class Measured:
    """One sex as it was measured, mm."""

    people: int
    stature_mm: float
    stature_sd_mm: float
    hand_at_none_mm: float
    hand_per_stature: float
    hand_error_mm: float
    wrist_sd_mm: float
    wrist_share: float

    @property
    def wrist_error_mm(self) -> float:
        """Spread of the wrist height of people of one stature."""
        return sqrt(self.wrist_sd_mm**2 - (self.wrist_share * self.stature_sd_mm) ** 2)


MEN = Measured(4082, 1756.2, 68.6, 21.74, 0.0977, 7.4, 41.7, 0.483)
WOMEN = Measured(1986, 1628.5, 64.2, 16.23, 0.1012, 7.7, 38.2, 0.488)
CHILD_HAND_SHARE = 0.110
CHILD_WRIST_SHARE = 0.483


@dataclass(frozen=True)
class Body:
    """What of a body a bat is fitted to; years and mm."""

    age_years: int
    height_mm: float
    hand_length_mm: float
    wrist_height_mm: float

    def player(self) -> dict[str, Any]:
        """The same as a fitting sheet tells it."""
        return {
            "age_years": self.age_years,
            "height_mm": self.height_mm,
            "hand_length_mm": self.hand_length_mm,
            "wrist_height_mm": self.wrist_height_mm,
        }


def grown_bodies(count: int, measured: Measured, chance: np.random.Generator) -> Iterator[Body]:
    """Give grown bodies of one sex."""
    for _ in range(count):
        stature = chance.normal(measured.stature_mm, measured.stature_sd_mm)
        hand = measured.hand_at_none_mm + measured.hand_per_stature * stature
        yield Body(
            age_years=int(chance.integers(18, 60)),
            height_mm=round(float(stature), 1),
            hand_length_mm=round(float(hand + chance.normal(0, measured.hand_error_mm)), 1),
            wrist_height_mm=round(
                float(measured.wrist_share * stature + chance.normal(0, measured.wrist_error_mm)), 1
            ),
        )


def child_body(chance: np.random.Generator) -> Body:
    """A child of 6 to 17 years, unverified."""
    age = int(chance.integers(6, 18))
    stature = float(np.clip(chance.normal(min(1160 + 52 * (age - 6), 1720), 60), 950, 2000))
    return Body(
        age_years=age,
        height_mm=round(stature, 1),
        hand_length_mm=round(CHILD_HAND_SHARE * stature, 1),
        wrist_height_mm=round(CHILD_WRIST_SHARE * stature, 1),
    )


def bodies(count: int, seed: int = SEED) -> Iterator[Body]:
    """Give bodies of men, women and children, one by one."""
    chance = np.random.default_rng(seed)
    for _ in range(count):
        if chance.random() < CHILDREN:
            yield child_body(chance)
        else:
            yield next(grown_bodies(1, MEN if chance.random() < _MEN else WOMEN, chance))
