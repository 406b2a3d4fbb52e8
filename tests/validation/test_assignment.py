"""The best assignment, held against every assignment there is and against scipy's own total.

Brute force: a sum is least when no permutation has a smaller one; small cases are tried out whole. Large ones
are held against ``scipy.optimize.linear_sum_assignment`` (Crouse D. F. (2016), On implementing 2D rectangular
assignment algorithms, IEEE Trans. Aerosp. Electron. Syst. 52:1679-1696) on the full matrix and on its
transpose, which the algorithm goes through in another order.
"""

from itertools import permutations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment

from fitting.sheets.book_matching import MatchingBook
from tests.clefts_in_arrays import a_bat, clefts
from workshop.matching import costs_of, match
from workshop.matching_costs import Standing

BOOK = MatchingBook()


@st.composite
def floors(draw):
    """Up to four bats and five clefts: a few densities, grades and due dates, so that many pairs tie."""
    bats = draw(
        st.lists(
            st.builds(
                lambda grade, days: a_bat(grade=grade, days_left=days),
                st.integers(1, 4),
                st.one_of(st.none(), st.floats(-20, 100)),
            ),
            min_size=1,
            max_size=4,
        )
    )
    count = draw(st.integers(0, 5))
    several = {"min_size": count, "max_size": count}
    rack = clefts(
        count,
        density_kg_m3=draw(st.lists(st.floats(320, 500), **several)),
        grade=draw(st.lists(st.integers(1, 4), **several)),
        price=draw(st.lists(st.sampled_from([3000.0, 4500.0, np.nan]), **several)),
        kept_for=draw(st.lists(st.sampled_from([-1, -1, -1, 0, -2]), **several)),
    )
    return bats, rack


def least_of_all(costs):
    """Smallest sum over every way in which each bat gets a cleft of its own, or none."""
    count, width = costs.faults.shape
    free = [*range(width), *([None] * count)]

    def cost(bat, cleft):
        if cleft is None:
            return costs.no_cleft[bat]
        return costs.matrix[bat, cleft] if costs.faults[bat, cleft] == 0 else BOOK.forbidden_points

    return min(
        sum(cost(bat, cleft) for bat, cleft in enumerate(way)) for way in set(permutations(free, count))
    )


@given(floors())
def test_no_other_assignment_of_a_small_floor_costs_less(floor):
    bats, rack = floor
    costs = costs_of(bats, rack, Standing.of(rack, BOOK), BOOK)

    found = match(bats, rack, BOOK)

    assert found.total == pytest.approx(least_of_all(costs))
    told = sum(one.pair.cost for one in found.assigned) + sum(one.no_cleft for one in found.unmatched)
    assert told == pytest.approx(found.total)
    taken = [one.pair.cleft for one in found.assigned]
    assert len(set(taken)) == len(taken)
    assert not any(costs.faults[one.pair.bat, one.pair.cleft] for one in found.assigned)


@pytest.mark.parametrize(("bats", "pieces"), [(60, 400), (150, 120)])
def test_total_of_a_large_floor_is_that_of_the_solver(bats, pieces):
    random = np.random.default_rng(bats)
    wanted = [
        a_bat(grade=int(grade), days_left=float(days))
        for grade, days in zip(random.integers(1, 5, bats), random.uniform(0, 90, bats), strict=True)
    ]
    rack = clefts(
        pieces,
        density_kg_m3=random.normal(390, 30, pieces),
        grade=random.integers(1, 5, pieces),
        price=random.choice([3000.0, 4500.0, 9000.0], pieces),
        age_days=random.uniform(0, 500, pieces),
        depth_mm=random.normal(73, 3, pieces),
    )
    matrix = costs_of(wanted, rack, Standing.of(rack, BOOK), BOOK).matrix

    found = match(wanted, rack, BOOK)

    for full in (matrix, matrix.T):
        rows, columns = linear_sum_assignment(full)
        assert found.total == pytest.approx(full[rows, columns].sum(), rel=1e-12)
    assert len(found.assigned) + len(found.unmatched) == bats
