"""Bats against clefts by arrays: what can become what, at what cost, who goes first, who gets none."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitting.bat.reshaped import MassLine, WillowPoint, WillowRange, WillowTable
from fitting.bat.weigh import weigh
from fitting.recommend import recommend
from fitting.sheets.book_matching import MatchingBook
from fitting.sheets.default_book import DEFAULT_BOOK
from tests.clefts_in_arrays import a_bat, a_table, clefts, marks
from tests.sheets import fitting
from workshop.matching import match
from workshop.matching_costs import SOMEBODY_ELSES, Standing, priced, usable_kg_m3, wanted_of
from workshop.willow import RawCleft, cleft_density, pressing_of

BOOK = MatchingBook()
IN_RANGE = 400.0


def held_against(bat, rack, book=BOOK):
    return priced(bat, rack, Standing.of(rack, book), book, row=0)


def fails(bat, **cleft):
    """What fails for the only cleft there is."""
    (unmatched,) = match([bat], clefts(1, **cleft), BOOK).unmatched
    return set(unmatched.fails)


# what one bat would be in one cleft


def test_bat_inside_its_range_meets_its_mass_and_peak_between_two_points():
    found = held_against(a_bat(gain=1.0), clefts(1, density_kg_m3=395.0))

    assert found.mass_g[0] == pytest.approx(1165)
    assert found.peak_mm[0] == pytest.approx(210)
    assert found.faults[0] == 0


@pytest.mark.parametrize(("raw", "mass"), [(365.0, 1155.0), (475.0, 1175.0)])
def test_bat_beyond_its_range_is_off_its_mass_by_the_straight_line(raw, mass):
    found = held_against(a_bat(gain=1.0), clefts(1, density_kg_m3=raw))

    assert found.mass_g[0] == pytest.approx(mass)
    assert found.parts["mass"][0] == pytest.approx(BOOK.mass_points * (10 / 14) ** 2)


def test_usable_densities_end_where_the_mass_leaves_its_tolerance():
    assert usable_kg_m3(a_bat()) == pytest.approx((370 - 7, 470 + 7))


def test_pressed_density_is_that_of_the_single_cleft_and_bat():
    build = recommend(fitting()).build
    weighing = weigh(build)
    line = MassLine(volume_mm3=2e6, other_g=315)
    willow = WillowRange(least_kg_m3=370, most_kg_m3=480, thinnest=line, as_drawn=line, fullest=line)
    point = WillowPoint(
        density_kg_m3=400, mass_g=1165, mass_sd_g=22, peak_from_toe_mm=208, balance_from_toe_mm=358,
        pickup_kg_m2=0.19, spine_mm=63,
    )  # fmt: skip
    bat = wanted_of(build, WillowTable(willow=willow, points=(point,)), weighing, book=DEFAULT_BOOK)
    raw = RawCleft(
        length_mm=710, widths_mm=(118, 117, 116), depths_mm=(76, 75, 74), mass_g=2500, moisture_percent=11
    )
    one = cleft_density(raw, pressing_of(build, weighing, DEFAULT_BOOK.bench), DEFAULT_BOOK.bench)

    found = held_against(bat, clefts(1, density_kg_m3=one.at_12, density_sd_kg_m3=one.at_12_sd))

    assert found.density_kg_m3[0] == pytest.approx(one.pressed)
    assert found.density_sd_kg_m3[0] == pytest.approx(one.pressed_sd)


def test_spread_of_the_mass_is_the_clefts_own_in_place_of_the_models():
    """A cleft known as well as the model's usual one leaves the spread; one known less widens it."""
    bat = a_bat(gain=1.0, gain_sd=0.0)
    usual, vague = held_against(
        bat, clefts(2, density_kg_m3=420.0, density_sd_kg_m3=[420 * bat.density_share, 42.0])
    ).mass_sd_g

    assert usual == pytest.approx(20)
    assert vague == pytest.approx(np.sqrt(20**2 + 850**2 * (0.1**2 - bat.density_share**2)))


# what forbids a pair


@pytest.mark.parametrize(
    ("cleft", "fault"),
    [
        ({"length_mm": 582.9}, "too_short"),
        ({"width_mm": 112.9}, "too_narrow"),
        ({"depth_mm": 68.5}, "too_thin"),
        ({"density_kg_m3": 330.0}, "too_light"),
        ({"density_kg_m3": 480.0}, "too_dense"),
        ({"grade": 3}, "grade"),
        ({"run_out": 11.0}, "run_out"),
        ({"kept_for": SOMEBODY_ELSES}, "kept"),
        ({"kept_for": 1}, "kept"),
        ({"for_smaller": True}, "for_smaller"),
    ],
)
def test_cleft_is_refused_for_what_it_lacks(cleft, fault):
    assert fails(a_bat(), **cleft) == {fault}


def test_wood_put_aside_for_smaller_bats_does_for_a_juniors():
    assert len(match([a_bat(junior=True)], clefts(1, for_smaller=True), BOOK).assigned) == 1


def test_bat_that_no_willow_can_become_gets_none():
    assert fails(a_bat(table=None)) == {"no_willow"}


@pytest.mark.parametrize(
    "cleft",
    [
        {"length_mm": 583.0, "width_mm": 113.0, "depth_mm": 70.0},
        {"run_out": 12.0},
        {"kept_for": 0},
        {"grade": 2},
        # lighter than any that does, by less than its own spread
        {"density_kg_m3": 362 / 1.05},
    ],
)
def test_cleft_that_just_does_is_taken(cleft):
    assert len(match([a_bat()], clefts(1, **cleft), BOOK).assigned) == 1


def test_dense_willow_needs_less_depth():
    """The blade is re-shaped thinner: 60 mm at the swell instead of 64."""
    bat = a_bat(gain=1.0)

    light, dense = held_against(bat, clefts(2, density_kg_m3=[372.0, 468.0], depth_mm=67.0)).faults

    assert light != 0
    assert dense == 0


def test_blemish_that_lies_in_the_splice_whichever_end_is_toe_refuses_the_cleft():
    both_ends = marks((0, "knot", "b", 60.0, 10.0, True), (0, "knot", "b", 523.0, 10.0, True))

    (unmatched,) = match([a_bat()], clefts(1, both_ends, length_mm=583.0), BOOK).unmatched

    assert unmatched.fails == unmatched.alone == {"blemish": 1}


# what a pair costs


@pytest.mark.parametrize(
    ("better", "worse", "part", "more"),
    [
        ({"grade": 4}, {"grade": 2}, "grade", 2 * BOOK.grade_points),
        ({"price": 3000.0}, {"price": 6000.0}, "money", None),
        ({"age_days": 400.0}, {"age_days": 0.0}, "age", BOOK.age_points),
    ],
)
def test_finer_dearer_and_newer_wood_costs_more(better, worse, part, more):
    columns = {name: [value, worse[name]] for name, value in better.items()}
    rack = clefts(2, density_kg_m3=IN_RANGE, **columns)

    found = held_against(a_bat(grade=4), rack)
    match_of_both = match([a_bat(grade=4)], rack, BOOK)

    cheap, dear = found.parts[part]
    assert dear - cheap == pytest.approx(more) if more else dear == pytest.approx(2 * cheap)
    assert match_of_both.assigned[0].pair.cleft == 0
    assert match_of_both.assigned[0].others[0].more == pytest.approx(dear - cheap)


def test_money_counts_by_the_racks_middle_price_and_an_unknown_one_counts_as_such():
    money = Standing.of(clefts(4, price=[2000.0, 4000.0, 8000.0, np.nan]), BOOK).money

    assert money == pytest.approx([BOOK.money_points * share for share in (0.5, 1, 2, 1)])


def test_rack_without_any_price_counts_no_money():
    assert Standing.of(clefts(2), BOOK).money == pytest.approx([0, 0])


def test_density_as_drawn_costs_no_change_of_shape_and_its_ends_the_whole():
    bat = a_bat(gain=1.0)

    found = held_against(bat, clefts(3, density_kg_m3=[420.0, 370.0, 470.0]))

    assert found.parts["shape"] == pytest.approx([0, BOOK.shape_points, BOOK.shape_points])


def test_risk_is_the_chance_that_the_true_density_would_not_do():
    """At the very end of what does, half; a spread inside, 16 %."""
    bat = a_bat(gain=1.0, gain_sd=0.0)

    found = held_against(bat, clefts(2, density_kg_m3=[363.0, 371.0], density_sd_kg_m3=8.0))

    assert found.parts["risk"] == pytest.approx(
        [BOOK.risk_points * 0.5, BOOK.risk_points * 0.15866], rel=1e-3
    )


# the whole floor


def test_urgent_bat_goes_first_when_clefts_are_short():
    late, soon = a_bat(days_left=90), a_bat(days_left=3)

    found = match([late, soon], clefts(1), BOOK)

    assert [one.pair.bat for one in found.assigned] == [1]
    (unmatched,) = found.unmatched
    assert (unmatched.bat, unmatched.could, unmatched.fails) == (0, 1, {})
    assert [other.taken_by for other in unmatched.others] == [1]


def test_proposed_bat_takes_no_cleft_from_an_agreed_one():
    agreed, proposed = a_bat(days_left=200), a_bat(days_left=1, proposed=True)

    found = match([proposed, agreed], clefts(1), BOOK)

    assert [one.pair.bat for one in found.assigned] == [1]


def test_bat_that_only_one_cleft_suits_gets_it_though_another_likes_it_better():
    """The first would save the price of a grade, the second would go without."""
    choosy, easy = a_bat(grade=1), a_bat(grade=2)
    rack = clefts(2, grade=[1, 2], price=[3000.0, 9000.0])

    found = match([easy, choosy], rack, BOOK)

    assert [(one.pair.bat, one.pair.cleft) for one in found.assigned] == [(0, 1), (1, 0)]
    second = found.assigned[0].others[0]
    assert (second.pair.cleft, second.taken_by) == (0, 1)


def test_cleft_that_costs_more_than_none_is_left_on_the_rack():
    """Offered all the same, with what it costs over going without."""
    book = BOOK.model_copy(update={"no_cleft_points": 1.0, "due_points": 0.0})

    (unmatched,) = match([a_bat(grade=4)], clefts(1, grade=1, price=5000.0), book).unmatched

    assert unmatched.could == 1
    assert unmatched.others[0].taken_by is None
    assert unmatched.others[0].more > 0


def test_others_are_the_cheapest_in_their_order():
    rack = clefts(9, price=[float(price) for price in (9, 2, 7, 4, 6, 5, 8, 3, 1)])

    (assigned,) = match([a_bat()], rack, BOOK).assigned

    assert assigned.pair.cleft == 8
    assert [other.pair.cleft for other in assigned.others] == [1, 7, 3, 5, 4]
    assert assigned.could == 9


def test_best_free_cleft_is_told_however_many_better_ones_are_taken():
    rack = clefts(9, price=[float(price) for price in range(1, 10)])

    found = match([a_bat() for _ in range(8)], rack, BOOK)

    for one in found.assigned:
        assert one.free is not None
        assert one.free.pair.cleft == 8
        assert one.second is one.others[0]
        assert one.others[0].taken_by is not None


def test_cleft_that_the_maker_refused_for_one_bat_is_left_to_the_others():
    bats = [a_bat(refused=np.array([0]), days_left=1), a_bat(days_left=90)]

    found = match(bats, clefts(1), BOOK)

    assert [one.pair.bat for one in found.assigned] == [1]
    assert found.unmatched[0].alone == {"refused": 1}


def test_cleft_that_is_kept_aside_for_a_bat_goes_before_a_somewhat_better_one():
    rack = clefts(2, price=[3000.0, 9000.0], kept_for=[-1, 0])

    (kept,) = match([a_bat(has_kept=True)], rack, BOOK).assigned
    (free,) = match([a_bat()], rack, BOOK).assigned

    assert (kept.pair.cleft, free.pair.cleft) == (1, 0)
    assert kept.others[0].pair.parts["kept"] == BOOK.kept_points


def test_parts_add_up_to_the_cost():
    on_face = marks((0, "speck", "a", 300.0, 3.0, False), (0, "stain", "b", 300.0, 3.0, False))

    (assigned,) = match([a_bat()], clefts(1, on_face, grade=1, price=3000.0, age_days=10.0), BOOK).assigned

    assert sum(assigned.pair.parts.values()) == pytest.approx(assigned.pair.cost)
    assert assigned.pair.parts["looks"] == BOOK.looks_points
    assert set(assigned.pair.parts) == {
        "mass",
        "peak",
        "shape",
        "risk",
        "grade",
        "money",
        "age",
        "looks",
        "kept",
    }


def test_empty_rack_leaves_every_bat_without():
    found = match([a_bat(), a_bat()], clefts(0), BOOK)

    assert [one.bat for one in found.unmatched] == [0, 1]
    assert found.total == 2 * BOOK.no_cleft_points
    assert all((one.fails, one.could, one.others) == ({}, 0, ()) for one in found.unmatched)


def test_no_bats_is_no_match():
    assert match([], clefts(3), BOOK).total == 0


def test_due_day_raises_the_cost_of_none_evenly_up_to_its_day():
    costs = [BOOK.no_cleft(days) for days in (None, 400, BOOK.due_days, BOOK.due_days / 2, 0, -20)]

    assert costs == [150, 150, 150, 225, 300, 300]


def test_forbidden_pair_must_cost_far_more_than_none():
    with pytest.raises(ValueError, match="forbidden_points"):
        MatchingBook(no_cleft_points=90_000.0, forbidden_points=100_000.0)


@given(st.permutations(range(6)))
def test_order_of_the_clefts_does_not_matter(order):
    prices = np.array([3000.0, 4100, 5300, 6700, 7100, 8900])
    bats = [a_bat(days_left=days) for days in (5, 20, 50)]

    found = match(bats, clefts(6, price=prices[list(order)]), BOOK)

    assert sorted(prices[order[one.pair.cleft]] for one in found.assigned) == [3000, 4100, 5300]


def test_table_of_one_density_serves_for_a_whole_rack():
    """A very choosy bat: one point, straight lines to both sides."""
    one = a_table(
        least_kg_m3=420.0,
        most_kg_m3=420.0,
        density_kg_m3=np.array([220.0, 420.0, 620.0]),
        mass_g=np.array([765.0, 1165.0, 1565.0]),
        mass_sd_g=np.full(3, 20.0),
        peak_mm=np.full(3, 208.0),
        spine_mm=np.full(3, 63.0),
    )

    found = held_against(replace(a_bat(gain=1.0), table=one), clefts(2, density_kg_m3=[415.0, 420.0]))

    assert found.mass_g == pytest.approx([1155, 1165])
