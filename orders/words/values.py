"""Choices of a build sheet in words: what each is called, and its value in its unit."""

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from fitting.sheets.recommendation import Value
from orders.words.answers import ANSWERS
from orders.words.fields import BUILD_FIELDS, VALUES
from orders.words.measures import show_length, show_mass

# Fields that are null because it is found out later, as against null because nothing is fitted.
_LEFT_OPEN = frozenset({"sweet_spot.peak_from_toe_mm", "handle.cane_mass_g"})


def say_field(field: str) -> str:
    """Name a field of the build sheet, or an answer of the fitting sheet; another one as it stands."""
    return str(BUILD_FIELDS.get(field) or ANSWERS.get(field, field))


def say_value(field: str, value: Value) -> str:
    """Say the value of a field, in its unit."""
    if value is None:
        return _("found out later") if field in _LEFT_OPEN else _("none")
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    if isinstance(value, str):
        return str(VALUES.get(value, value))
    if field.startswith("protection."):
        return _("yes, %(thickness)s") % {"thickness": show_length(value, decimals=2)}
    if field == "sweet_spot.peak_from_toe_mm":
        # told as softly as it is known
        return _("about %(place)s") % {"place": show_length(5 * round(value / 5))}
    return _say_count(field, int(value)) or _say_number(field, value)


def _say_count(field: str, count: int) -> str:
    if field == "grips":
        return ngettext("%(count)s grip", "%(count)s grips", count) % {"count": count}
    if field == "finish.oil_coats":
        return ngettext("%(count)s coat", "%(count)s coats", count) % {"count": count}
    if field == "finish.knocked_in_minutes":
        return ngettext("%(count)s minute", "%(count)s minutes", count) % {"count": count}
    return _("grade %(count)s or finer") % {"count": count} if field == "willow.grade" else ""


def _say_number(field: str, value: float) -> str:
    if field == "mass_g":
        return show_mass(value)
    if field == "pickup_kg_m2":
        return _("%(number)s kg m²") % {"number": f"{value:.3f}"}
    if field == "willow.density_kg_m3":
        return _("about %(number)s kg/m³") % {"number": f"{value:.0f}"}
    if field == "handle.other_material":
        return _("%(number)s %% of the handle") % {"number": f"{100 * value:.0f}"}
    if field == "handle.oval_ratio":
        return _("%(number)s times as deep as wide") % {"number": f"{value:g}"}
    if field == "blade.stations.scallop":
        words = _("concave (%(number)s)") if value > 1 else _("full (%(number)s)")
        return words % {"number": f"{value:g}"}
    return show_length(value, decimals=1)
