"""Measures in words: both systems of units, and pickup as the mass of a bat everybody knows."""

from dataclasses import dataclass

from django.utils.formats import number_format
from django.utils.translation import gettext as _

from fitting.units import (
    System,
    factor,
    feet_and_inches,
    inches_and_sixteenths,
    pounds_and_ounces,
)

HALF = "½"


def _number(value: float, decimals: int = 0) -> str:
    """Write a number with at most so many decimals and no empty ones."""
    text = number_format(round(value, decimals), decimals, use_l10n=True, force_grouping=False)
    if decimals and round(value, decimals) == round(value):
        return number_format(round(value), 0, use_l10n=True, force_grouping=False)
    return str(text)


def show_decimals(value: float, decimals: int) -> str:
    """Write a number with exactly so many decimals, rounded: ``number_format`` alone cuts them off."""
    return str(number_format(round(value, decimals), decimals))


def show_length(length_mm: float, system: System = "metric", *, decimals: int = 0) -> str:
    """Say a length on a bat: ``851 mm``, or inches and sixteenths, ``33 1/2 in``."""
    if system == "metric":
        return _("%(number)s mm") % {"number": _number(length_mm, decimals)}
    whole, sixteenths = inches_and_sixteenths(length_mm)
    under = 16
    while sixteenths and sixteenths % 2 == 0:
        sixteenths, under = sixteenths // 2, under // 2
    parts = ([str(whole)] if whole or not sixteenths else []) + (
        [f"{sixteenths}/{under}"] if sixteenths else []
    )
    return _("%(number)s in") % {"number": " ".join(parts)}


def show_body(length_mm: float, system: System = "metric") -> str:
    """Say a length of a body: ``175 cm``, or feet and inches to the half, ``5 ft 9½ in``."""
    if system == "metric":
        centimetres = length_mm / factor("centimeter", "millimeter")
        return _("%(number)s cm") % {"number": _number(centimetres, 1)}
    feet, inches, half = feet_and_inches(length_mm)
    text = f"{inches or ('' if half else 0)}{HALF if half else ''}"
    if not feet:
        return _("%(inches)s in") % {"inches": text}
    if text == "0":
        return _("%(feet)s ft") % {"feet": feet}
    return _("%(feet)s ft %(inches)s in") % {"feet": feet, "inches": text}


def show_mass(mass_g: float, system: System = "metric") -> str:
    """Say a mass: ``1172 g``, or pounds and ounces to the tenth, ``2 lb 9.3 oz``."""
    if system == "metric":
        return _("%(number)s g") % {"number": _number(mass_g)}
    pounds, ounces = pounds_and_ounces(mass_g)
    return _("%(pounds)s lb %(ounces)s oz") % {"pounds": pounds, "ounces": _number(ounces, 1)}


def show_mass_shortly(mass_g: float) -> str:
    """Say a mass as the trade does, to the ounce: ``2 lb 8``, ``2 lb`` when there are no ounces."""
    pounds, ounces = pounds_and_ounces(mass_g, parts_of_ounce=1)
    if not ounces:
        return _("%(pounds)s lb") % {"pounds": pounds}
    return _("%(pounds)s lb %(ounces)s") % {"pounds": pounds, "ounces": int(ounces)}


@dataclass(frozen=True)
class PickupReference:
    """A bat that people know, made once of light and once of heavy willow: masses in g, pickups in kg m2."""

    light_g: float
    light_kg_m2: float
    heavy_g: float
    heavy_kg_m2: float


def like_mass_g(pickup_kg_m2: float, reference: PickupReference) -> float:
    """Return the mass at which the reference bat has this pickup, in g.

    The same build made of denser willow gains mass and moment of inertia in proportion, because only the
    density of the blade changes: both are linear in it, and so each in the other,
    m = m1 + (I - I1) (m2 - m1) / (I2 - I1). Exact for the reference bat of the model; that a player feels
    the moment of inertia about the hands as "heavy" is the assumption behind it.
    """
    slope = (reference.heavy_g - reference.light_g) / (reference.heavy_kg_m2 - reference.light_kg_m2)
    return reference.light_g + (pickup_kg_m2 - reference.light_kg_m2) * slope


def like_spread_g(sd_kg_m2: float, reference: PickupReference) -> float:
    """Return the standard deviation of a pickup as one of the reference bat's mass, in g."""
    return like_mass_g(reference.light_kg_m2 + sd_kg_m2, reference) - reference.light_g


def say_pickup(pickup_kg_m2: float, reference: PickupReference, sd_kg_m2: float | None = None) -> str:
    """Say a pickup as the mass of the bat it lifts like: ``like a 2 lb 8``.

    With its standard deviation, to the half ounce: ``like a 2 lb 8, give or take 1.5 oz``.
    """
    like = _("like a %(mass)s") % {"mass": show_mass_shortly(like_mass_g(pickup_kg_m2, reference))}
    if sd_kg_m2 is None:
        return like
    ounces = like_spread_g(sd_kg_m2, reference) / factor("ounce", "gram")
    return _("%(like)s, give or take %(ounces)s oz") % {
        "like": like,
        "ounces": _number(max(round(2 * ounces) / 2, 0.5), 1),
    }
