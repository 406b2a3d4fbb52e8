"""The choices of a build sheet in words: what each is called, its value, and the subject it belongs to."""

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from fitting.sheets.recommendation import Value
from orders.words.fields import BUILD_FIELDS, VALUES
from orders.words.measures import show_length, show_mass

Text = str | Promise

SUBJECTS: dict[str, Text] = {
    "length": gettext_lazy("Length"),
    "mass": gettext_lazy("Mass and pickup"),
    "blade": gettext_lazy("Blade"),
    "handle": gettext_lazy("Handle"),
    "dress": gettext_lazy("Willow, protection and finish"),
}

# By field of the build sheet, or by its beginning; whatever else there is belongs to the blade.
_SUBJECT_BY_FIELD = {
    "length_code": "length",
    "blade.length_mm": "length",
    "handle.length_mm": "length",
    "mass_g": "mass",
    "pickup_kg_m2": "mass",
    "grips": "handle",
}
_SUBJECT_BY_BEGINNING = {"handle.": "handle", "willow.": "dress", "protection.": "dress", "finish.": "dress"}

# Null because nothing is fitted; any other null is found out later.
_WITHOUT = frozenset(
    {"blade.toe.scoop", "protection.toe_guard", "protection.face_film", "protection.edge_tape"}
)
_UNITS: dict[str, Text] = {
    "pickup_kg_m2": gettext_lazy("%(number)s kg m²"),
    "willow.density_kg_m3": gettext_lazy("about %(number)s kg/m³"),
    "willow.grade": gettext_lazy("grade %(number)s or finer"),
    "finish.knocked_in_minutes": gettext_lazy("%(number)s minutes"),
    "handle.oval_ratio": gettext_lazy("%(number)s times as deep as wide"),
}


def say_field(field: str) -> str:
    """Say what a choice is called; an unknown field is said as it stands."""
    return str(BUILD_FIELDS.get(field, field))


def subject_of(field: str) -> str:
    """Return the subject that a choice belongs to."""
    if field in _SUBJECT_BY_FIELD:
        return _SUBJECT_BY_FIELD[field]
    return next(
        (subject for begins, subject in _SUBJECT_BY_BEGINNING.items() if field.startswith(begins)), "blade"
    )


def say_value(field: str, value: Value) -> str:
    """Say the value of a choice, in its unit."""
    if value is None:
        return _("none") if field in _WITHOUT else _("found out later")
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    if isinstance(value, str):
        return str(VALUES.get(value, value))
    return _say_number(field, value)


def _say_number(field: str, value: float) -> str:
    if field in _UNITS:
        return str(_UNITS[field]) % {"number": f"{value:g}"}
    if field == "mass_g":
        return show_mass(value)
    if field == "grips":
        return ngettext("%(count)s grip", "%(count)s grips", int(value)) % {"count": f"{value:g}"}
    if field == "finish.oil_coats":
        return ngettext("%(count)s coat", "%(count)s coats", int(value)) % {"count": f"{value:g}"}
    if field == "handle.other_material":
        return _("%(number)s %% of the handle") % {"number": f"{100 * value:.0f}"}
    if field == "blade.stations.scallop":
        return (_("concave (%(number)s)") if value > 1 else _("full (%(number)s)")) % {"number": f"{value:g}"}
    if field.startswith("protection."):
        return _("yes, %(thickness)s") % {"thickness": show_length(value, decimals=2)}
    return show_length(value, decimals=1)
