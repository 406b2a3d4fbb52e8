"""Every field of the build sheet as the maker's form names and groups it."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy

Text = str | Promise

MM = gettext_lazy("mm")
G = gettext_lazy("g")


@dataclass(frozen=True)
class Field:
    """One field: its dotted name on the sheet, label, unit; optional ones may stay empty."""

    name: str
    label: Text
    unit: Text = ""
    optional: bool = False
    whole: bool = False


@dataclass(frozen=True)
class Group:
    """Fields that stand together."""

    key: str
    title: Text
    fields: tuple[Field, ...]


STATION_COLUMNS: dict[str, tuple[Text, Text]] = {
    "from_toe_mm": (gettext_lazy("from the toe"), MM),
    "spine_mm": (gettext_lazy("spine"), MM),
    "edge_mm": (gettext_lazy("edge"), MM),
    "scallop": (gettext_lazy("scallop"), ""),
}

BLADE = Group(
    "blade",
    gettext_lazy("Blade"),
    (
        Field("length_code", gettext_lazy("length")),
        Field("profile", gettext_lazy("profile")),
        Field("sweet_spot.choice", gettext_lazy("sweet spot")),
        Field("sweet_spot.swell_from_toe_mm", gettext_lazy("swell, from the toe"), MM),
        Field("sweet_spot.peak_from_toe_mm", gettext_lazy("hits hardest, from the toe"), MM, optional=True),
        Field("blade.length_mm", gettext_lazy("length of the blade"), MM),
        Field("blade.width_mm", gettext_lazy("width"), MM),
        Field("blade.face_crown_mm", gettext_lazy("crown of the face"), MM),
        Field("blade.bow_mm", gettext_lazy("bow"), MM),
        Field("blade.bow_peak_from_toe_mm", gettext_lazy("bow deepest, from the toe"), MM),
        Field("blade.edge_radius_mm.face", gettext_lazy("edge radius, face"), MM),
        Field("blade.edge_radius_mm.back", gettext_lazy("edge radius, back"), MM),
        Field("blade.toe.corner_radius_mm", gettext_lazy("radius of the toe's corners"), MM),
        Field("blade.toe.scoop.length_mm", gettext_lazy("scoop, length"), MM, optional=True),
        Field("blade.toe.scoop.depth_mm", gettext_lazy("scoop, depth"), MM, optional=True),
        Field("blade.shoulder.length_mm", gettext_lazy("shoulder, length"), MM),
        Field("blade.shoulder.width_mm", gettext_lazy("shoulder, width"), MM),
    ),
)
HANDLE = Group(
    "handle",
    gettext_lazy("Handle"),
    (
        Field("handle.length_mm", gettext_lazy("length above the blade"), MM),
        Field("handle.construction", gettext_lazy("construction")),
        Field("handle.section_top", gettext_lazy("section, top")),
        Field("handle.section_bottom", gettext_lazy("section, bottom")),
        Field("handle.oval_ratio", gettext_lazy("oval ratio")),
        Field("handle.girth_mm.top", gettext_lazy("girth, top"), MM),
        Field("handle.girth_mm.middle", gettext_lazy("girth, middle"), MM),
        Field("handle.girth_mm.bottom", gettext_lazy("girth, bottom"), MM),
        Field("handle.splice_length_mm", gettext_lazy("splice, length"), MM),
        Field("handle.splice_width_mm", gettext_lazy("splice, width"), MM),
        Field("handle.line_mm", gettext_lazy("handle line"), MM),
        Field("handle.cane_mass_g", gettext_lazy("cane, weighed"), G, optional=True),
        Field("handle.other_material.share", gettext_lazy("rubber, share of the volume")),
        Field("handle.other_material.reach_into_splice_mm", gettext_lazy("rubber into the splice"), MM),
        Field("grips.count", gettext_lazy("grips"), whole=True),
        Field("grips.mass_g", gettext_lazy("one grip, mass"), G),
        Field("grips.wall_mm", gettext_lazy("one grip, wall"), MM),
    ),
)
DRESS = Group(
    "dress",
    gettext_lazy("Willow, protection, finish"),
    (
        Field("willow.density_kg_m3.min", gettext_lazy("density, least"), gettext_lazy("kg/m³")),
        Field("willow.density_kg_m3.max", gettext_lazy("density, greatest"), gettext_lazy("kg/m³")),
        Field("willow.grade", gettext_lazy("grade, at least"), whole=True),
        Field("willow.grain", gettext_lazy("lines of the grain"), optional=True),
        Field("outside_edge", gettext_lazy("outside edge, seen on the face"), optional=True),
        Field("protection.toe_guard.thickness_mm", gettext_lazy("toe guard, thickness"), MM, optional=True),
        Field("protection.toe_guard.mass_g", gettext_lazy("toe guard, mass"), G, optional=True),
        Field("protection.face_film.thickness_mm", gettext_lazy("face film, thickness"), MM, optional=True),
        Field("protection.face_film.mass_g", gettext_lazy("face film, mass"), G, optional=True),
        Field("protection.edge_tape.thickness_mm", gettext_lazy("edge tape, thickness"), MM, optional=True),
        Field("protection.edge_tape.mass_g", gettext_lazy("edge tape, mass"), G, optional=True),
        Field("finish.oil_coats", gettext_lazy("coats of oil"), whole=True),
        Field("finish.knocked_in_minutes", gettext_lazy("knocked in"), gettext_lazy("minutes")),
    ),
)
TARGETS = Group(
    "targets",
    gettext_lazy("Targets"),
    (
        Field("mass_g.target", gettext_lazy("mass"), G),
        Field("mass_g.tolerance", gettext_lazy("mass, give or take"), G),
        Field("pickup_kg_m2.target", gettext_lazy("pickup"), gettext_lazy("kg m²")),
        Field("pickup_kg_m2.tolerance", gettext_lazy("pickup, give or take"), gettext_lazy("kg m²")),
    ),
)


def groups() -> tuple[Group, ...]:
    """Return the groups in the order of the form; the stations stand after the blade."""
    return (BLADE, HANDLE, DRESS, TARGETS)


@lru_cache(maxsize=1)
def fields_by_name() -> Mapping[str, Field]:
    """Return every field but the stations by its dotted name."""
    return {one.name: one for group in groups() for one in group.fields}


def value_at(values: Any, name: str) -> Any:
    """Return what stands in a build sheet's JSON under a dotted name; None where there is none."""
    for part in name.split("."):
        if values is None:
            return None
        values = values[part]
    return values
