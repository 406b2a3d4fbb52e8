"""Spreads against finite differences: each cause moved in the book or the sheet, the bat weighed again."""

import numpy as np
import pytest
from hypothesis import given, settings

from fitting.bat.parts import cuts_of
from fitting.bat.sections import splice_width
from fitting.bat.solid import KG_M2, tensor_about, together
from fitting.bat.weigh import heft, solid_of
from fitting.sheets.book_materials import Canes, Materials, Spreads
from fitting.sheets.default_book import DEFAULT_BOOK
from tests.builds import a_build, builds

BOOK = Spreads()
DENSITY = 410.0
NOTHING = dict.fromkeys(Spreads.model_fields, 0.0)
FULL = a_build(
    protection={
        "toe_guard": {"thickness_mm": 1, "mass_g": 9},
        "face_film": {"thickness_mm": 0.25, "mass_g": 15},
        "edge_tape": {"thickness_mm": 0.2, "mass_g": 6},
    }
)


def weighed(build=FULL, materials=None, *, density=DENSITY, moisture=12.0):
    book = DEFAULT_BOOK.model_copy(update={"materials": materials or Materials()})
    return heft(build, book=book, density_kg_m3=density, moisture_percent=moisture)


def figures(weighing):
    return np.array([weighing.mass_g, weighing.balance_from_toe_mm, weighing.inertia_kg_m2.pickup])


def spreads(weighing):
    return np.array([weighing.mass_sd_g, weighing.balance_sd_mm, weighing.pickup_sd_kg_m2])


def spread_by(cause, build=FULL, density=DENSITY):
    """The forecast's spreads where one cause alone is uncertain, by the book's own amount."""
    only = Spreads(**{**NOTHING, cause: getattr(BOOK, cause)})
    return spreads(weighed(build, Materials(spreads=only), density=density))


def moved(build=FULL, materials=None, **more):
    """By how much mass, balance and pickup change from the plain forecast."""
    return np.abs(figures(weighed(build, materials, **more)) - figures(weighed()))


def with_canes(share):
    canes = {
        name: getattr(Canes(), name).model_copy(
            update={"density_kg_m3": (1 + share) * getattr(Canes(), name).density_kg_m3}
        )
        for name in Canes.model_fields
    }
    return Materials(canes=Canes(**canes))


def deeper(at):
    """Every station deeper by ``at`` of its place, mm."""
    rows = []
    for station in FULL.blade.stations:
        by = at(station.from_toe_mm)
        row = station.model_dump(mode="json")
        rows.append({**row, "spine_mm": row["spine_mm"] + by, "edge_mm": row["edge_mm"] + by})
    return a_build(blade__stations=rows, protection=FULL.protection.model_dump(mode="json"))


def willow_moved(build):
    """By how much the figures change with the willow of another sheet between this one's other parts.

    Cane, glue and oil of a deeper splice are left out of the spread of the hand-work: 0.7 g of 7.5 g.
    """
    plain, other = (solid_of(sheet, Materials(), DENSITY, 12.0) for sheet in (FULL, build))
    whole = together(list({**plain.bodies, "blade": other.bodies["blade"]}.values()))
    pickup = float(tensor_about(whole, plain.pivot)[2, 2]) * KG_M2
    return np.abs(np.array([whole.mass_g, whole.centre_mm[0], pickup]) - figures(weighed()))


def middle_mm():
    """Middle of the back's surface without the splice: where a lean leaves the mass as it is."""
    cuts = cuts_of(FULL)
    bare = cuts.along.weight * (cuts.at.width - splice_width(FULL, cuts.along.x))
    return float(bare @ cuts.along.x / bare.sum())


CAUSES = {
    "density_share": lambda: moved(density=DENSITY * (1 + BOOK.density_share)),
    "moisture_percent": lambda: moved(moisture=12 + BOOK.moisture_percent),
    "cane_share": lambda: moved(materials=with_canes(BOOK.cane_share)),
    "binding_share": lambda: moved(materials=Materials(binding_kg_m3=850 * (1 + BOOK.binding_share))),
    "glue_share": lambda: moved(materials=Materials(glue_g_m2=1000 * (1 + BOOK.glue_share))),
    "oil_share": lambda: moved(materials=Materials(oil_coat_g_m2=28 * (1 + BOOK.oil_share))),
    "grip_share": lambda: moved(
        FULL.model_copy(
            update={"grips": FULL.grips.model_copy(update={"mass_g": 50 * (1 + BOOK.grip_share)})}
        )
    ),
    "depth_mm": lambda: willow_moved(deeper(lambda x: BOOK.depth_mm)),
    "depth_tilt_mm": lambda: willow_moved(deeper(lambda x: BOOK.depth_tilt_mm * (middle_mm() - x) / 279)),
}


@pytest.mark.parametrize("cause", CAUSES)
def test_spread_of_each_cause_is_what_moving_it_moves(cause):
    told, found = spread_by(cause), CAUSES[cause]()
    print(f"{cause:18} told {told}, moved {found}")
    mass, balance, pickup = told
    if cause == "depth_tilt_mm":
        # a lean about the middle leaves the mass: what is left of it is the curves' between the stations
        assert mass == pytest.approx(0, abs=1e-9)
        assert found[0] < 0.1
    else:
        assert mass == pytest.approx(found[0], rel=0.02)
    # a balance is no straight line over the causes: 0.02 mm
    assert balance == pytest.approx(found[1], rel=0.03, abs=0.02)
    assert pickup == pytest.approx(found[2], rel=0.03)


def test_every_cause_of_the_book_is_tried_here_but_the_coverings():
    assert set(CAUSES) | {"covering_share"} == set(Spreads.model_fields)


def test_coverings_spread_each_on_its_own():
    """Guard at the toe, film and tape along the blade: three masses that do not vary together."""
    share = BOOK.covering_share
    changes = []
    for name in ("toe_guard", "face_film", "edge_tape"):
        covering = getattr(FULL.protection, name)
        heavier = covering.model_copy(update={"mass_g": covering.mass_g * (1 + share)})
        dressed = FULL.model_copy(update={"protection": FULL.protection.model_copy(update={name: heavier})})
        changes.append(moved(dressed))
    assert spread_by("covering_share") == pytest.approx(np.sqrt(np.sum(np.square(changes), axis=0)), rel=0.02)


def test_spreads_are_the_roots_of_the_sums_of_squares():
    parts = [spread_by(cause) for cause in Spreads.model_fields]
    assert spreads(weighed()) == pytest.approx(np.sqrt(np.sum(np.square(parts), axis=0)), rel=1e-9)


def test_bats_made_by_chance_scatter_as_the_forecast_says():
    """Six causes at once, 500 bats: their scatter is the forecast's within 10 % (it is known to 3 %)."""
    causes = ("density_share", "moisture_percent", "cane_share", "binding_share", "glue_share", "oil_share")
    only = Spreads(**{**NOTHING, **{cause: getattr(BOOK, cause) for cause in causes}})
    chance = np.random.default_rng(20)
    made = []
    for _ in range(500):
        z = dict(zip(causes, chance.standard_normal(len(causes)), strict=True))
        off = {cause: z[cause] * getattr(BOOK, cause) for cause in causes}
        materials = with_canes(off["cane_share"]).model_copy(
            update={
                "binding_kg_m3": 850 * (1 + off["binding_share"]),
                "glue_g_m2": 1000 * (1 + off["glue_share"]),
                "oil_coat_g_m2": 28 * (1 + off["oil_share"]),
            }
        )
        bat = weighed(
            materials=materials,
            density=DENSITY * (1 + off["density_share"]),
            moisture=12 + off["moisture_percent"],
        )
        made.append(figures(bat))
    told = spreads(weighed(materials=Materials(spreads=only)))
    scatter = np.std(made, axis=0, ddof=1)
    print("told", told, "scatter", scatter)
    assert scatter == pytest.approx(told, rel=0.1)
    # and about the forecast, not beside it
    assert (np.abs(np.mean(made, axis=0) - figures(weighed())) < 0.15 * told).all()


@settings(max_examples=40)
@given(builds())
def test_known_density_narrows_mass_and_pickup(build):
    open_, known = spreads(heft(build)), spreads(heft(build, density_kg_m3=DENSITY))
    assert (known > 0).all()
    mass, _balance, pickup = known < open_
    assert mass
    assert pickup


def test_wider_band_of_willow_spreads_more():
    found = [
        spreads(heft(a_build(willow__density_kg_m3={"min": 410 - half, "max": 410 + half})))
        for half in (0, 10, 20, 40)
    ]
    assert (np.diff(found, axis=0) > 0).all()
    assert found[0] == pytest.approx(spreads(heft(a_build(), density_kg_m3=410.0)), rel=1e-12)


def test_weighed_cane_narrows_every_spread():
    plain, known = (spreads(weighed(a_build(handle__cane_mass_g=grams))) for grams in (None, 165.0))
    assert (known < plain).all()


def test_more_grips_spread_less_than_as_many_times_one():
    one, three = (spread_by("grip_share", a_build(grips__count=count))[0] for count in (1, 3))
    assert three / one == pytest.approx(3**0.5, rel=1e-9)


def test_book_without_spreads_tells_none():
    assert spreads(weighed(materials=Materials(spreads=Spreads(**NOTHING)))) == pytest.approx(np.zeros(3))
