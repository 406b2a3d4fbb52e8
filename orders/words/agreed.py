"""What was agreed of a bat and is made in one stage, in words: what no calliper finds at a station."""

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from fitting.sheets.build_sheet import BuildSheet, Covering
from orders.words.fields import BUILD_FIELDS, VALUES

Facts = list[tuple[str, str]]


def agreed_words(build: BuildSheet, stage: str) -> Facts:
    """Return what of the build sheet a stage makes, each with its name; mm and g throughout."""
    makers = {
        "cleft_selection": _willow,
        "pressing": _face,
        "shaping": _blade,
        "handle_fitting": _handle,
        "finishing": _dress,
    }
    return makers[stage](build)


def _willow(build: BuildSheet) -> Facts:
    band = build.willow.density_kg_m3
    density = _("%(low)s to %(high)s kg/m³, pressed") % {"low": f"{band.min:g}", "high": f"{band.max:g}"}
    grade = _("%(grade)s or finer") % {"grade": build.willow.grade}
    return [(_name("willow.density_kg_m3"), density), (_name("willow.grade"), grade)]


def _face(build: BuildSheet) -> Facts:
    return [(_name("blade.face_crown_mm"), _mm(build.blade.face_crown_mm))]


def _blade(build: BuildSheet) -> Facts:
    blade = build.blade
    bow = _("%(depth)s mm, deepest %(place)s mm from the toe") % {
        "depth": f"{blade.bow_mm:g}",
        "place": f"{blade.bow_peak_from_toe_mm:g}",
    }
    rounding = _("face %(face)s mm, back %(back)s mm") % {
        "face": f"{blade.edge_radius_mm.face:g}",
        "back": f"{blade.edge_radius_mm.back:g}",
    }
    shoulder = _("%(width)s mm, narrowing over %(length)s mm") % {
        "width": f"{blade.shoulder.width_mm:g}",
        "length": f"{blade.shoulder.length_mm:g}",
    }
    scoop = _("none")
    if blade.toe.scoop is not None:
        scoop = _("%(length)s mm long from 12 mm above the toe, %(depth)s mm deep") % {
            "length": f"{blade.toe.scoop.length_mm:g}",
            "depth": f"{blade.toe.scoop.depth_mm:g}",
        }
    return [
        (_name("profile"), _value(build.profile)),
        (_name("blade.length_mm"), _mm(blade.length_mm)),
        (_name("sweet_spot.swell_from_toe_mm"), _mm(build.sweet_spot.swell_from_toe_mm)),
        (_name("blade.bow_mm"), bow),
        (_name("blade.edge_radius_mm"), rounding),
        (_name("blade.toe.corner_radius_mm"), _mm(blade.toe.corner_radius_mm)),
        (_name("blade.toe.scoop"), scoop),
        (_name("blade.shoulder"), shoulder),
    ]


def _handle(build: BuildSheet) -> Facts:
    handle = build.handle
    splice = _("%(length)s mm long, %(width)s mm wide at the shoulder") % {
        "length": f"{handle.splice_length_mm:g}",
        "width": f"{handle.splice_width_mm:g}",
    }
    section = _("%(top)s on top, %(bottom)s below") % {
        "top": _value(handle.section_top),
        "bottom": _value(handle.section_bottom),
    }
    if "oval" in (handle.section_top, handle.section_bottom):
        section = _("%(section)s; oval %(ratio)s times as deep as wide") % {
            "section": section,
            "ratio": f"{handle.oval_ratio:g}",
        }
    return [
        (_name("handle.construction"), _value(handle.construction)),
        (_name("handle.length_mm"), _mm(handle.length_mm)),
        (_("Section of the handle"), section),
        (_("Splice"), splice),
        (_name("handle.line_mm"), _line(handle.line_mm)),
    ]


def _dress(build: BuildSheet) -> Facts:
    grips = ngettext("%(count)s, of %(mass)s g", "%(count)s, of %(mass)s g each", build.grips.count) % {
        "count": build.grips.count,
        "mass": f"{build.grips.mass_g:g}",
    }
    coats = build.finish.oil_coats
    minutes = f"{build.finish.knocked_in_minutes:g}"
    return [
        (_name("finish.oil_coats"), str(coats)),
        (_name("protection.face_film"), _covering(build.protection.face_film)),
        (_name("protection.toe_guard"), _covering(build.protection.toe_guard)),
        (_name("protection.edge_tape"), _covering(build.protection.edge_tape)),
        (_name("finish.knocked_in_minutes"), _("%(minutes)s minutes") % {"minutes": minutes}),
        (_name("grips"), grips),
    ]


def _name(field: str) -> str:
    return str(BUILD_FIELDS[field])


def _value(key: str) -> str:
    return str(VALUES[key])


def _mm(value: float) -> str:
    return _("%(value)s mm") % {"value": f"{value:g}"}


def _line(value_mm: float) -> str:
    if not value_mm:
        return _("in the middle of the depth at the shoulder")
    to = _("towards the back") if value_mm > 0 else _("towards the face")
    return _("%(value)s mm %(to)s") % {"value": f"{abs(value_mm):g}", "to": to}


def _covering(covering: Covering | None) -> str:
    if covering is None:
        return _("none")
    return _("%(thickness)s mm, %(mass)s g") % {
        "thickness": f"{covering.thickness_mm:g}",
        "mass": f"{covering.mass_g:g}",
    }
