"""Build sheets for tests: one plain short handle, changed where a test says so, and valid ones by chance."""

from collections.abc import Callable, Mapping
from typing import Any

from hypothesis import reject
from hypothesis import strategies as st

from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.faults import SheetRefused, read_sheet


def short_handle() -> dict[str, Any]:
    """A plain short handle of the trade's usual sizes, as JSON would give it."""
    stations = [(0, 20, 14, 1.0), (60, 34, 22, 1.2), (140, 54, 33, 1.4), (220, 63, 37, 1.4)]
    stations += [(320, 55, 33, 1.4), (430, 45, 27, 1.3), (500, 40, 24, 1.2), (558, 36, 22, 1.2)]
    return {
        "build": 1,
        "length_code": "short_handle",
        "profile": "spine_to_toe",
        "blade": {
            "length_mm": 558,
            "width_mm": 107,
            "stations": [
                dict(zip(("from_toe_mm", "spine_mm", "edge_mm", "scallop"), row, strict=True))
                for row in stations
            ],
            "face_crown_mm": 1.2,
            "bow_mm": 5,
            "bow_peak_from_toe_mm": 250,
            "edge_radius_mm": {"face": 3, "back": 5},
            "toe": {"corner_radius_mm": 30, "scoop": None},
            "shoulder": {"length_mm": 45, "width_mm": 62},
        },
        "sweet_spot": {"choice": "mid", "swell_from_toe_mm": 220, "peak_from_toe_mm": None},
        "handle": {
            "length_mm": 293,
            "construction": "plain_cane",
            "section_top": "round",
            "section_bottom": "oval",
            "oval_ratio": 1.08,
            "girth_mm": {"top": 104, "middle": 106, "bottom": 112},
            "splice_length_mm": 135,
            "splice_width_mm": 42,
            "line_mm": 0,
            "cane_mass_g": None,
            "other_material": {"share": 0.05, "reach_into_splice_mm": 40},
        },
        "grips": {"count": 1, "mass_g": 50, "wall_mm": 1.5},
        "mass_g": {"target": 1150, "tolerance": 15},
        "pickup_kg_m2": {"target": 0.19, "tolerance": 0.006},
        "willow": {"density_kg_m3": {"min": 395, "max": 425}, "grade": 2},
        "protection": {
            "toe_guard": {"thickness_mm": 1, "mass_g": 9},
            "face_film": None,
            "edge_tape": None,
        },
        "finish": {"oil_coats": 2, "knocked_in_minutes": 60},
    }


def changed(sheet: Mapping[str, Any], **changes: Any) -> dict[str, Any]:
    """Return a copy with dotted fields changed, dots written as two underscores: ``blade__bow_mm=9``."""
    copy = _copied(sheet)
    for path, value in changes.items():
        *inner, last = path.split("__")
        place = copy
        for name in inner:
            place = place[name]
        place[last] = value
    return copy


def a_build(**changes: Any) -> BuildSheet:
    """The plain short handle as a sheet, with dotted fields changed."""
    return read_sheet(BuildSheet, changed(short_handle(), **changes))


def _copied(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {key: _copied(inner) for key, inner in value.items()}
    return [_copied(inner) for inner in value] if isinstance(value, list) else value


@st.composite
def builds(draw: Callable[..., Any]) -> BuildSheet:
    """Valid build sheets, junior to adult, every shape that the sheet allows within a maker's reach."""

    def number(low: float, high: float) -> float:
        return round(draw(st.floats(low, high)), 2)

    length, width = number(420, 590), number(85, 108)
    swell = round(number(0.3, 0.5) * length, 2)
    spine, edge, crown = number(45, 66), number(22, 39), number(0, 2.5)
    toe_spine, toe_edge = number(17, 30), number(10, 16)
    upper = round((swell + length) / 2, 2)
    rows = [
        (0, toe_spine, toe_edge),
        (round(swell / 2, 2), (toe_spine + spine) / 2 + number(-4, 4), (toe_edge + edge) / 2),
        (swell, spine, edge),
        (upper, number(40, 44), number(22, 30)),
        (length, number(25, 39), number(15, 24)),
    ]
    scoop_length, scoop_depth = number(20, 110), number(1, 7)
    splice = number(36, 46)
    sheet = changed(
        short_handle(),
        blade__length_mm=length,
        blade__width_mm=width,
        blade__stations=[
            {"from_toe_mm": x, "spine_mm": s, "edge_mm": e, "scallop": number(0.6, 2.5)} for x, s, e in rows
        ],
        blade__face_crown_mm=crown,
        blade__bow_mm=number(0, 18),
        blade__bow_peak_from_toe_mm=number(150, 300),
        blade__edge_radius_mm={"face": number(0, 5), "back": number(0, 8)},
        blade__toe={
            "corner_radius_mm": number(0, 40),
            "scoop": draw(st.sampled_from([None, {"length_mm": scoop_length, "depth_mm": scoop_depth}])),
        },
        blade__shoulder={"length_mm": number(20, 80), "width_mm": splice + number(6, 25)},
        handle__length_mm=number(220, 330),
        handle__girth_mm={"top": number(84, 112), "middle": number(84, 112), "bottom": number(88, 116)},
        handle__section_top=draw(st.sampled_from(["round", "oval"])),
        handle__section_bottom=draw(st.sampled_from(["round", "oval"])),
        handle__oval_ratio=number(1, 1.2),
        handle__splice_length_mm=number(100, 150),
        handle__splice_width_mm=splice,
        handle__line_mm=number(-5, 5),
        handle__construction=draw(st.sampled_from(["plain_cane", "stiffened_cane", "lightened_cane"])),
        handle__cane_mass_g=draw(st.one_of(st.none(), st.floats(150, 260))),
        grips={"count": draw(st.integers(0, 3)), "mass_g": number(0, 60), "wall_mm": number(0, 2)},
        protection__toe_guard=draw(st.sampled_from([None, {"thickness_mm": 1, "mass_g": 9}])),
        protection__face_film=draw(st.sampled_from([None, {"thickness_mm": 0.25, "mass_g": 15}])),
        protection__edge_tape=draw(st.sampled_from([None, {"thickness_mm": 0.2, "mass_g": 6}])),
        finish__oil_coats=draw(st.integers(0, 3)),
    )
    return read_sheet(BuildSheet, sheet)


@st.composite
def extreme_builds(draw: Callable[..., Any]) -> BuildSheet:
    """Anything that the sheet lets in, its bounds included, however little like a bat."""

    def number(low: float, high: float) -> float:
        return draw(st.one_of(st.sampled_from([low, high]), st.floats(low, high)))

    length, width, splice = number(350, 650), number(70, 115), number(20, 60)
    inner = draw(st.lists(st.floats(0.01, 0.99), min_size=1, max_size=8, unique=True))
    stations = []
    for share in [0.0, *sorted(inner), 1.0]:
        edge = number(5, 60)
        spine = max(edge, number(8, 80))
        stations.append(
            {
                "from_toe_mm": share * length,
                "spine_mm": spine,
                "edge_mm": edge,
                "scallop": number(0.5, 4),
            }
        )
    scoop = {"length_mm": number(1, 200), "depth_mm": number(0.1, 25)}
    covering = {"thickness_mm": number(0, 5), "mass_g": number(0, 60)}
    sheet = changed(
        short_handle(),
        blade__length_mm=length,
        blade__width_mm=width,
        blade__stations=stations,
        blade__face_crown_mm=number(0, 4),
        blade__bow_mm=number(0, 30),
        blade__bow_peak_from_toe_mm=number(1, min(600, length - 1)),
        blade__edge_radius_mm={"face": number(0, 15), "back": number(0, 20)},
        blade__toe={
            "corner_radius_mm": number(0, min(55, width / 2)),
            "scoop": draw(st.sampled_from([None, scoop])),
        },
        blade__shoulder={"length_mm": number(5, 150), "width_mm": min(width, splice + number(6, 40))},
        handle__length_mm=number(150, 400),
        handle__splice_length_mm=number(60, 200),
        handle__splice_width_mm=splice,
        handle__oval_ratio=number(1, 1.5),
        handle__line_mm=number(-15, 15),
        handle__girth_mm={name: number(60, 150) for name in ("top", "middle", "bottom")},
        grips={"count": draw(st.integers(0, 3)), "mass_g": number(0, 120), "wall_mm": number(0, 5)},
        protection=dict.fromkeys(("toe_guard", "face_film", "edge_tape"), covering),
    )
    try:
        return read_sheet(BuildSheet, sheet)
    except SheetRefused:
        reject()
        raise
