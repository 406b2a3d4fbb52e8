"""The sizes of Law 5.7 as printed: MCC, Laws of Cricket, 2017 Code, 3rd and 4th edition."""

import json

import numpy as np
import pytest
from hypothesis import given, settings

from fitting.bat.outline import edge, local_width, scoop_depth, spine
from fitting.laws import LawRow, law_check
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.faults import read_sheet
from tests.builds import a_build, builds, short_handle


def rows(build=None, level="club", edition=2026):
    sheet = read_sheet(BuildSheet, build or short_handle())
    found = law_check(sheet, level=level, edition=edition)
    return {row.what: row for row in found if row.what != "gauge"}


@pytest.mark.parametrize("edition", [2022, 2026])
@pytest.mark.parametrize(
    ("what", "clause", "limit_mm", "printed"),
    [
        ("overall_length", "5.7.1", 965.2, "38 in / 96.52 cm"),
        ("blade_width", "5.7.2", 107.95, "4.25 in / 10.8 cm"),
        ("blade_depth", "5.7.2", 67.0, "2.64 in / 6.7 cm"),
        ("edge", "5.7.2", 39.624, "1.56 in / 4 cm"),
    ],
)
def test_limit_is_the_smaller_of_the_two_printed(edition, what, clause, limit_mm, printed):
    row = rows(edition=edition)[what]
    assert (row.clause, row.unit, row.coverings) == (clause, "mm", "off")
    assert row.limit == pytest.approx(limit_mm, abs=1e-9)
    assert row.limit_as_printed == printed


def test_values_are_those_of_the_sheet():
    found = rows()
    assert found["overall_length"].value == 558 + 293
    assert found["blade_width"].value == 107
    assert (found["blade_depth"].value, found["blade_depth"].station_from_toe_mm) == (63, 220)
    # a calliper does not find the crown of 1.2 mm
    assert found["edge"].value == pytest.approx(37 - 1.2)
    assert found["handle_share"].value == pytest.approx(100 * 293 / 851)
    assert all(row.margin == pytest.approx(row.limit - row.value) for row in found.values())


def with_width(width_mm):
    build = short_handle()
    build["blade"]["width_mm"] = width_mm
    return build


@pytest.mark.parametrize(
    ("width", "passes", "keeps_margin"), [(106.95, True, True), (107.95, True, False), (107.96, False, False)]
)
def test_width_passes_up_to_the_smaller_limit(width, passes, keeps_margin):
    row = rows(with_width(width))["blade_width"]
    assert (row.passes, row.book_margin_kept) == (passes, keeps_margin)


def with_swell(**depths):
    build = short_handle()
    build["blade"]["stations"][3] |= depths
    return build


@pytest.mark.parametrize(("spine", "passes"), [(67.0, True), (67.02, False)])
def test_depth_of_metric_limit_rules(spine, passes):
    assert rows(with_swell(spine_mm=spine))["blade_depth"].passes is passes


@pytest.mark.parametrize(("edge", "passes"), [(40.8, True), (40.9, False)])
def test_edge_is_measured_without_the_crown(edge, passes):
    assert rows(with_swell(edge_mm=edge))["edge"].passes is passes


def with_handle(code, handle_mm):
    build = short_handle()
    blade = build["blade"]
    blade["length_mm"] = 360
    blade["stations"] = [one for one in blade["stations"] if one["from_toe_mm"] < 360]
    blade["stations"].append({"from_toe_mm": 360, "spine_mm": 36, "edge_mm": 22, "scallop": 1.2})
    build["length_code"] = code
    build["handle"]["length_mm"] = handle_mm
    return build


@pytest.mark.parametrize(
    ("code", "level", "passes", "exempt"),
    [
        ("short_handle", "club", False, False),
        ("harrow", "junior", False, False),
        ("size_6", "junior", True, True),
        ("size_1", "club", True, True),
        ("size_6", "international", False, False),
    ],
)
def test_handle_share_frees_small_sizes_but_not_internationally(code, level, passes, exempt):
    row = rows(with_handle(code, 395), level=level)["handle_share"]  # 395 of 755 is 52.3 %
    assert (row.clause, row.unit, row.passes, row.exempt) == ("5.7.3", "percent", passes, exempt)


def test_handle_share_of_exactly_52_percent_passes():
    assert rows(with_handle("short_handle", 390))["handle_share"].value == pytest.approx(52)
    assert rows(with_handle("short_handle", 390))["handle_share"].passes


def one_row(what, **changes):
    found = law_check(a_build(**changes), level="club", edition=2026)
    return next(row for row in found if row.what == what)


HAIR_MM = 0.001


def as_long_as(overall_mm):
    """A blade of 600 mm with the handle that is left."""
    stations = short_handle()["blade"]["stations"]
    return {
        "blade__length_mm": 600,
        "blade__stations": [*stations[:-1], stations[-1] | {"from_toe_mm": 600}],
        "handle__length_mm": overall_mm - 600,
    }


@pytest.mark.parametrize(
    ("what", "clause", "limit_mm", "changes"),
    [
        ("overall_length", "5.7.1", 965.2, as_long_as),
        ("blade_width", "5.7.2", 107.95, lambda value: {"blade__width_mm": value}),
        (
            "face_film",
            "5.7.4",
            1.0,
            lambda value: {"protection__face_film": {"thickness_mm": value, "mass_g": 15}},
        ),
        (
            "edge_tape",
            "5.7.4",
            1.0,
            lambda value: {"protection__edge_tape": {"thickness_mm": value, "mass_g": 6}},
        ),
        (
            "toe_guard",
            "5.7.5",
            3.0,
            lambda value: {"protection__toe_guard": {"thickness_mm": value, "mass_g": 9}},
        ),
        (
            "other_material_reach",
            "B.2.3",
            82.55,
            lambda value: {"handle__other_material": {"share": 0.05, "reach_into_splice_mm": value}},
        ),
    ],
)
def test_row_passes_at_the_smaller_limit_and_fails_just_over(what, clause, limit_mm, changes):
    at, over = one_row(what, **changes(limit_mm)), one_row(what, **changes(limit_mm + HAIR_MM))
    assert (at.clause, at.limit) == (clause, pytest.approx(limit_mm))
    assert at.passes
    assert at.margin == pytest.approx(0, abs=1e-9)
    assert not over.passes
    assert over.margin == pytest.approx(-HAIR_MM)


@pytest.mark.parametrize(
    ("what", "larger_mm", "changes"),
    [
        ("overall_length", 965.2, as_long_as),
        ("blade_width", 108.0, lambda value: {"blade__width_mm": value}),
        (
            "face_film",
            0.04 * 25.4,
            lambda value: {"protection__face_film": {"thickness_mm": value, "mass_g": 15}},
        ),
        (
            "toe_guard",
            0.12 * 25.4,
            lambda value: {"protection__toe_guard": {"thickness_mm": value, "mass_g": 9}},
        ),
        (
            "other_material_reach",
            82.6,
            lambda value: {"handle__other_material": {"share": 0.05, "reach_into_splice_mm": value}},
        ),
    ],
)
def test_the_larger_of_the_two_printed_limits_is_not_enough(what, larger_mm, changes):
    row = one_row(what, **changes(larger_mm))
    # 38 in and 96.52 cm are the same length
    assert row.passes is (what == "overall_length")


def test_covering_that_is_not_there_has_no_row():
    bare = a_build(protection={"toe_guard": None, "face_film": None, "edge_tape": None})
    found = {row.what for row in law_check(bare, level="club")}
    assert not found & {"toe_guard", "face_film", "edge_tape"}


def test_coverings_are_held_with_themselves_on_and_to_no_margin_of_the_book():
    row = one_row("face_film", protection__face_film={"thickness_mm": 0.9, "mass_g": 15})
    assert (row.coverings, row.passes, row.book_margin_kept) == ("on", True, True)


def test_reach_of_nothing_is_none():
    row = one_row("other_material_reach", handle__other_material={"share": 0, "reach_into_splice_mm": 150})
    assert (row.value, row.passes) == (0, True)


def test_depth_and_edge_are_taken_with_the_scoop_out():
    """The deepest station lies in the scoop: what counts is what the scoop leaves there and beside it."""
    stations = [(0, 40, 20), (112, 62, 30), (300, 50, 28), (558, 36, 22)]
    rows_of = [{"from_toe_mm": x, "spine_mm": s, "edge_mm": e, "scallop": 1.2} for x, s, e in stations]
    build = a_build(
        blade__stations=rows_of,
        blade__toe={"corner_radius_mm": 30, "scoop": {"length_mm": 200, "depth_mm": 20}},
    )
    x = np.linspace(0, 558, 20001)
    left = scoop_depth(build.blade, x)
    found = {row.what: row for row in law_check(build, level="club")}
    assert found["blade_depth"].value == pytest.approx((spine(build.blade, x) - left).max(), abs=0.05)
    assert found["edge"].value == pytest.approx((edge(build.blade, x) - left).max() - 1.2, abs=0.05)
    assert found["blade_depth"].value < 61


@settings(deadline=None, max_examples=60)
@given(builds())
def test_no_place_along_the_blade_is_deeper_thicker_or_wider_than_its_row(build):
    blade = build.blade
    x = np.linspace(0, blade.length_mm, 4001)
    left = scoop_depth(blade, x)
    found = {row.what: row for row in law_check(build, level="club")}
    assert (spine(blade, x) - left).max() <= found["blade_depth"].value + 0.02
    assert (edge(blade, x) - left).max() - blade.face_crown_mm <= found["edge"].value + 0.02
    assert local_width(blade, x).max() <= found["blade_width"].value + 1e-9
    if blade.toe.scoop is None:
        # between two stations a monotone cubic has no peak of its own
        assert found["blade_depth"].value == max(station.spine_mm for station in blade.stations)


def test_margin_of_the_book_is_the_makers():
    book = DEFAULT_BOOK.model_copy(update={"law_margin_mm": 0.9})
    kept = {row.what: row.book_margin_kept for row in law_check(a_build(), level="club", book=book)}
    assert kept["blade_width"]
    assert not one_row("blade_width").book_margin_kept


def test_row_stored_before_the_later_fields_is_still_read():
    row = json.loads(one_row("blade_width").model_dump_json())
    for later in ("exempt", "book_margin_kept", "decided_by_body", "types", "dimension"):
        del row[later]
    assert LawRow.model_validate_json(json.dumps(row)).value == 107
