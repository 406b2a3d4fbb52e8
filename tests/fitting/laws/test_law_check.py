"""The sizes of Law 5.7 as printed: MCC, Laws of Cricket, 2017 Code, 3rd and 4th edition."""

from datetime import date

import pytest

from fitting.laws import EDITIONS, edition_on, law_check
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.faults import read_sheet
from tests.builds import short_handle


def rows(build=None, level="club", edition=2026):
    sheet = read_sheet(BuildSheet, build or short_handle())
    return {row.what: row for row in law_check(sheet, level=level, edition=edition)}


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


@pytest.mark.parametrize(
    ("day", "edition"), [(date(2026, 9, 30), 2022), (date(2026, 10, 1), 2026), (None, 2026)]
)
def test_edition_is_the_one_in_force_on_the_day(day, edition):
    assert edition_on(day, 2026) == edition
    assert set(EDITIONS) == {2022, 2026}
