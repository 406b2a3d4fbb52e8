"""Every number of the Laws beside its print: MCC, Laws of Cricket, 2017 Code, 3rd and 4th edition."""

from datetime import date

import pytest

from fitting.laws import EDITIONS, edition_on

PRINTED = [
    ("5.7.1", "overall_length", "38 in / 96.52 cm", 965.2),
    ("5.7.2", "blade_width", "4.25 in / 10.8 cm", 107.95),
    ("5.7.2", "blade_depth", "2.64 in / 6.7 cm", 67.0),
    ("5.7.2", "edge", "1.56 in / 4 cm", 39.624),
    ("5.7.4", "covering", "0.04 in / 0.1 cm", 1.0),
    ("5.7.5", "toe_guard", "0.12 in / 0.3 cm", 3.0),
    ("B.2.3", "other_material_reach", "3.25 in / 8.26 cm", 82.55),
    ("B.2.4", "twine_past_junction", "2.5 in / 6.35 cm", 63.5),
    ("B.2.4", "grip_past_junction", "2.75 in / 6.99 cm", 69.85),
    ("B.3.3", "cloth", "0.012 in / 0.3 mm", 0.3),
    ("B.4.2", "repair_wrap", "0.04 in / 0.1 cm", 1.0),
    ("B.4.2", "repair_beyond_damage", "0.79 in / 2 cm", 20.0),
    ("B.4.2", "hard_treatment", "0.004 in / 0.01 cm", 0.1),
    ("B.5", "insert_thickness", "0.35 in / 0.89 cm", 8.89),
    ("B.5", "toe_insert_reach", "2.5 in / 6.35 cm", 63.5),
    ("B.5", "side_insert_reach", "1 in / 2.54 cm", 25.4),
    ("B.6", "marking_thickness", "0.008 in / 0.02 cm", 0.2),
    ("B.6", "marking_zone_of_face", "9 in / 22.86 cm", 228.6),
]


@pytest.mark.parametrize("edition", [2022, 2026])
@pytest.mark.parametrize(("clause", "what", "printed", "smaller_mm"), PRINTED)
def test_size_is_kept_as_printed_and_the_smaller_unit_rules(edition, clause, what, printed, smaller_mm):
    size = EDITIONS[edition].size(what)
    assert (size.clause, size.as_printed) == (clause, printed)
    assert size.mm == pytest.approx(smaller_mm, abs=1e-9)


@pytest.mark.parametrize("edition", [2022, 2026])
def test_no_size_stands_twice_or_without_its_print(edition):
    kept = [size.what for size in EDITIONS[edition].sizes]
    assert sorted(kept) == sorted(what for _clause, what, _printed, _mm in PRINTED)


@pytest.mark.parametrize("edition", [2022, 2026])
@pytest.mark.parametrize(
    ("clause", "what", "percent"), [("5.7.3", "handle_share", 52), ("B.6", "marking_share_of_back", 50)]
)
def test_share_is_kept_as_printed(edition, clause, what, percent):
    share = EDITIONS[edition].share(what)
    assert (share.clause, share.percent, share.as_printed) == (clause, percent, f"{percent} %")


def test_editions_differ_in_laminated_face_and_place_of_type_d_alone():
    third, fourth = EDITIONS[2022], EDITIONS[2026]
    assert (third.number, fourth.number) == (3, 4)
    assert (third.in_force_from, fourth.in_force_from) == (date(2022, 10, 1), date(2026, 10, 1))
    assert (third.sizes, third.shares, third.gauge, third.types) == (
        fourth.sizes,
        fourth.shares,
        fourth.gauge,
        fourth.types,
    )
    assert [one.levels.laminated_face_of_one_piece for one in (third, fourth)] == [False, True]
    assert {one.levels.most_pieces_of_laminated_blade for one in (third, fourth)} == {3}
    assert third.levels.type_d_levels == ("junior",)
    assert fourth.levels.type_d_levels == ("junior", "club")


@pytest.mark.parametrize(
    ("day", "edition"), [(date(2026, 9, 30), 2022), (date(2026, 10, 1), 2026), (None, 2026)]
)
def test_edition_is_the_one_in_force_on_the_day(day, edition):
    assert edition_on(day, 2026) == edition
    assert set(EDITIONS) == {2022, 2026}
