import json

import pytest
from hypothesis import given

from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.faults import SheetRefused, read_sheet
from tests.builds import builds, changed, short_handle


def _fault(**changes):
    with pytest.raises(SheetRefused) as refused:
        read_sheet(BuildSheet, changed(short_handle(), **changes))
    assert len(refused.value.faults) == 1
    return refused.value.faults[0]


def _stations(*rows):
    return [{"from_toe_mm": x, "spine_mm": s, "edge_mm": e, "scallop": 1.4} for x, s, e in rows]


@given(builds())
def test_sheet_read_from_its_own_json_is_the_same(build):
    assert read_sheet(BuildSheet, build.model_dump_json()) == build


def test_sheet_cannot_be_changed_once_read():
    build = read_sheet(BuildSheet, short_handle())
    with pytest.raises(Exception, match="frozen"):
        setattr(build, "length_code", "harrow")  # noqa: B010 - the type checker refuses it already


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("blade__length_mm", 340),
        ("blade__length_mm", "558"),
        ("blade__width_mm", 120),
        ("blade__face_crown_mm", -0.1),
        ("blade__bow_mm", 31),
        ("handle__girth_mm__top", 20),
        ("handle__construction", "carbon"),
        ("handle__cane_mass_g", 10),
        ("grips__count", 4),
        ("grips__count", 1.5),
        ("willow__grade", 0),
        ("finish__oil_coats", -1),
        ("length_code", "size_0"),
        ("build", 2),
    ],
)
def test_value_out_of_bounds_is_told_at_its_field(field, value):
    assert _fault(**{field: value}).field == field.replace("__", ".")


def test_unknown_field_is_refused():
    assert _fault(blade__colour="red").field == "blade.colour"


@pytest.mark.parametrize("value", ["NaN", "Infinity", "1e999"])
def test_number_that_is_none_is_refused(value):
    text = json.dumps(short_handle()).replace('"width_mm": 107', f'"width_mm": {value}')
    with pytest.raises(SheetRefused) as refused:
        read_sheet(BuildSheet, text)
    assert {fault.field for fault in refused.value.faults} == {"blade.width_mm"}


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"blade__stations": _stations((0, 20, 14), (558, 36, 22), (300, 60, 30))}, "order"),
        ({"blade__stations": _stations((0, 20, 14), (300, 60, 30), (300, 60, 30), (558, 36, 22))}, "order"),
        ({"blade__stations": _stations((5, 20, 14), (300, 60, 30), (558, 36, 22))}, "first station at 0"),
        ({"blade__stations": _stations((0, 20, 14), (300, 60, 30), (550, 36, 22))}, "last at length_mm"),
        ({"blade__toe__corner_radius_mm": 54}, "half of width_mm"),
        ({"blade__shoulder__width_mm": 108}, "at most width_mm"),
        ({"blade__bow_peak_from_toe_mm": 558}, "bow_peak_from_toe_mm"),
        (
            {
                "blade__face_crown_mm": 4,
                "blade__stations": _stations((0, 20, 5.5), (300, 60, 30), (558, 36, 22)),
            },
            "face_crown_mm",
        ),
        ({"blade__toe__scoop": {"length_mm": 200, "depth_mm": 5}, "blade__length_mm": 400}, "station"),
        ({"blade__toe__scoop": {"length_mm": 40, "depth_mm": 18}}, "2 mm of edge"),
    ],
)
def test_blade_that_does_not_hang_together_is_refused(changes, says):
    fault = _fault(**changes)
    assert fault.field == "blade"
    assert says in fault.allowed["error"]


def test_scoop_beyond_the_lower_half_is_refused():
    stations = _stations((0, 25, 20), (200, 60, 30), (400, 36, 22))
    fault = _fault(
        blade__length_mm=400, blade__stations=stations, blade__toe__scoop={"length_mm": 189, "depth_mm": 2}
    )
    assert "lower half" in fault.allowed["error"]


def test_spine_below_edge_is_refused_at_its_station():
    fault = _fault(blade__stations=_stations((0, 20, 14), (200, 60, 30), (300, 29, 30), (558, 36, 22)))
    assert fault.field == "blade.stations.2"


def test_splice_wider_than_the_shoulder_lets_it_be_is_refused():
    assert "6 mm" in _fault(blade__shoulder__width_mm=47.9).allowed["error"]
    assert read_sheet(
        BuildSheet, changed(short_handle(), blade__shoulder__width_mm=48)
    ).blade.shoulder.width_mm


def test_band_of_density_upside_down_is_refused():
    assert _fault(willow__density_kg_m3={"min": 430, "max": 400}).field == "willow.density_kg_m3"


def test_every_fault_is_told_at_once():
    with pytest.raises(SheetRefused) as refused:
        read_sheet(BuildSheet, changed(short_handle(), blade__width_mm=-3, grips__count="two", build=None))
    assert {f.field for f in refused.value.faults} == {"blade.width_mm", "grips.count", "build"}
