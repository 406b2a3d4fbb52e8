import inspect

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitting.recommend import recommend
from fitting.sheets import build_sheet
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.faults import read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from tests.builds import a_build, builds
from workshop.review.build_form import CROSS_CHECKS, BuildForm, FormRefused
from workshop.review.fields import STATION_COLUMNS, fields_by_name


def refusal_of(form):
    """Why the form makes no sheet, None if it does."""
    try:
        form.read()
    except FormRefused as refused:
        return refused
    return None


def leaves(value, at=""):
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from leaves(inner, f"{at}.{key}" if at else key)
    else:
        yield at


def test_every_field_of_the_sheet_has_a_box():
    full = a_build(
        blade__toe={"corner_radius_mm": 30, "scoop": {"length_mm": 75, "depth_mm": 5}},
        protection={
            name: {"thickness_mm": 1, "mass_g": 5} for name in ("toe_guard", "face_film", "edge_tape")
        },
    ).model_dump(mode="json")
    stations = full["blade"].pop("stations")

    assert set(leaves(full)) - {"build"} == set(fields_by_name())
    assert set(stations[0]) == set(STATION_COLUMNS)


@given(builds())
def test_a_sheet_shown_and_sent_again_is_the_same(build):
    assert BuildForm.of_build(build).read() == build


@given(st.integers(5, 90), st.integers(1000, 2100))
def test_a_recommendation_shown_and_sent_again_is_the_same(age, height):
    found = recommend(read_sheet(FittingSheet, {"player": {"age_years": age, "height_mm": height}}))

    assert BuildForm.of_build(found.build).read() == found.build


@given(st.dictionaries(st.sampled_from(sorted(fields_by_name())), st.text(max_size=12), max_size=6))
def test_whatever_is_typed_is_read_or_refused_by_box(typed):
    form = BuildForm.of_build(a_build())
    changed = BuildForm({**form.typed, **typed}, form.rows)

    refused = refusal_of(changed)
    if refused is None:
        assert isinstance(changed.read(), BuildSheet)
    else:
        known = {*fields_by_name(), "blade.stations"}
        assert {name for name in refused.faults if not name.startswith("blade.stations.")} <= known
        assert changed.with_faults(refused.faults).summary()


def test_stations_are_put_in_order_and_faults_stay_at_their_rows():
    form = BuildForm.of_build(a_build())
    rows = [dict(row) for row in reversed(form.rows)]

    assert BuildForm(form.typed, rows).read() == a_build()
    rows[2]["spine_mm"] = "5"
    with pytest.raises(FormRefused) as refused:
        BuildForm(form.typed, rows).read()
    assert list(refused.value.faults) == ["blade.stations.2.spine_mm"]


def test_every_cross_check_of_the_sheet_is_worded():
    source = inspect.getsource(build_sheet)
    said = {line.split('"')[1] for line in source.splitlines() if "raise ValueError(" in line}

    assert said == set(CROSS_CHECKS)
