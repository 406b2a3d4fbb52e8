"""Types A to D and the levels: MCC, Laws of Cricket, Appendix B; ICC playing conditions, July 2025, 5.8.2."""

import pytest

from fitting.laws import law_check, types_at, types_of
from fitting.laws.types import TYPES
from tests.builds import a_build


def with_share(share):
    return a_build(handle__other_material={"share": share, "reach_into_splice_mm": 40})


@pytest.mark.parametrize("edition", [2022, 2026])
@pytest.mark.parametrize(
    ("share", "letters"),
    [(0, "ABCD"), (0.1, "ABCD"), (0.1001, "CD"), (0.2, "CD"), (0.2001, ""), (1, "")],
)
def test_types_hang_on_the_other_material_in_the_handle(edition, share, letters):
    assert "".join(types_of(with_share(share), edition)) == letters


@pytest.mark.parametrize(
    ("level", "edition", "of_right", "by_body"),
    [
        ("international", 2022, "A", ""),
        ("international", 2026, "A", ""),
        ("first_class", 2022, "A", "BC"),
        ("first_class", 2026, "A", "BC"),
        ("club", 2022, "A", "BC"),
        ("club", 2026, "A", "BCD"),
        ("junior", 2022, "A", "BCD"),
        ("junior", 2026, "A", "BCD"),
        (None, 2022, "A", "BC"),
        (None, 2026, "A", "BCD"),
    ],
)
def test_every_type_but_a_is_for_the_national_body(level, edition, of_right, by_body):
    played = types_at(level, edition)
    assert "".join(one.letter for one in played if not one.decided_by_body) == of_right
    assert "".join(one.letter for one in played if one.decided_by_body) == by_body


@pytest.mark.parametrize("edition", [2022, 2026])
@pytest.mark.parametrize(
    ("level", "share", "limit", "passes", "by_body"),
    [
        ("international", 0.1, 10, True, False),
        ("international", 0.1001, 10, False, False),
        ("first_class", 0.1, 20, True, False),
        ("first_class", 0.1001, 20, True, True),
        ("club", 0.2, 20, True, True),
        ("club", 0.2001, 20, False, False),
        ("junior", 0.2, 20, True, True),
        (None, 0.2001, 20, False, False),
    ],
)
def test_share_is_held_to_the_types_of_the_level(edition, level, share, limit, passes, by_body):
    rows = law_check(with_share(share), level=level, edition=edition)
    row = next(row for row in rows if row.what == "other_material")
    assert (row.clause, row.unit, row.limit, row.limit_as_printed) == (
        "B.2.3",
        "percent",
        limit,
        f"{limit} %",
    )
    assert row.value == pytest.approx(100 * share)
    assert row.margin == pytest.approx(limit - 100 * share)
    assert (row.passes, row.decided_by_body) == (passes, by_body)


def test_row_names_the_types_that_would_do():
    (row,) = [
        row for row in law_check(with_share(0.15), level="club", edition=2022) if row.what == "other_material"
    ]
    assert row.types == ("C",)


def test_each_type_may_have_what_the_table_says():
    table = {one.letter: (one.laminated_blade, one.coloured_blade, one.cloth, one.inserts) for one in TYPES}
    assert table == {
        "A": (False, False, False, False),
        "B": (False, False, False, True),
        "C": (False, False, True, True),
        "D": (True, True, True, True),
    }
