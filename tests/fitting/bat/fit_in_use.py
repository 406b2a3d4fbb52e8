"""Fits the regression of a bat in use over many model bats: ``python -m tests.fitting.bat.fit_in_use``.

Prints the constants that stand in ``fitting/bat/in_use.py`` and what else was tried. The bats are drawn from
the book's lengths, profiles, limits and materials, not from the recommendation: a bat in use was made by
anybody, and nothing says that it suits its owner.
"""

from dataclasses import dataclass
from typing import get_args

import numpy as np
from numpy.typing import NDArray

from fitting.bat.in_use import BALANCE_MIDDLE
from fitting.bat.version import MODEL_VERSION
from fitting.bat.weigh import heft
from fitting.sheets.book import Book, LengthRow
from fitting.sheets.book_materials import Canes
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.faults import read_sheet
from fitting.sheets.values import JUNIOR_CODES, Construction, Profile
from tests.builds import changed, short_handle

BATS, SEED = 4000, 1877
Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Sample:
    """Bats weighed: balance over overall length, inertia about the balance over mass times length squared."""

    overall_m: Floats
    mass_kg: Floats
    balance_share: Floats
    inertia_share: Floats
    pickup_kg_m2: Floats

    @property
    def about_balance_kg_m2(self) -> Floats:
        """Inertia about the balance, kg m2."""
        return self.inertia_share * self.mass_kg * self.overall_m**2


@dataclass(frozen=True)
class Fit:
    """Coefficients from the constant up, and the relative spread of the inertia about the balance."""

    coefficients: Floats
    sd_share: float


def sample(bats: int, seed: int) -> Sample:
    """Weigh so many bats drawn by chance from a seed."""
    chance = np.random.default_rng(seed)
    rows = []
    for _ in range(bats):
        build, book = likely_bat(chance)
        weighing = heft(build, book=book)
        mass, overall = weighing.mass_g / 1000, weighing.overall_length_mm / 1000
        inertia = weighing.inertia_kg_m2
        share = inertia.about_balance / (mass * overall**2)
        balance_share = weighing.balance_from_toe_mm / 1000 / overall
        rows.append((overall, mass, balance_share, share, inertia.pickup))
    return Sample(*np.array(rows).T)


def fit(bats: Sample, degree: int = 1) -> Fit:
    """Least squares of the inertia's share over the balance's, about the middle of the balances."""
    terms = np.vander(bats.balance_share - BALANCE_MIDDLE, degree + 1, increasing=True)
    return fit_terms(bats, terms)


def fit_terms(bats: Sample, terms: Floats) -> Fit:
    """Least squares of the inertia's share over any terms."""
    coefficients = np.linalg.lstsq(terms, bats.inertia_share)[0]
    off = bats.inertia_share / (terms @ coefficients) - 1
    return Fit(coefficients, float(np.sqrt(np.sum(off**2) / (len(off) - len(coefficients)))))


def likely_bat(chance: np.random.Generator) -> tuple[BuildSheet, Book]:
    """Draw a bat that a maker might have made, and a book with this handle's own density of cane."""
    row = DEFAULT_BOOK.lengths[chance.integers(len(DEFAULT_BOOK.lengths))]
    junior = row.code in JUNIOR_CODES
    materials = DEFAULT_BOOK.materials
    grip = materials.grip_junior if junior else materials.grip
    across = row.width_mm / DEFAULT_BOOK.length("short_handle").width_mm
    density = float(chance.uniform(340, 450))
    girth = float(chance.uniform(row.girth_low_mm, row.girth_high_mm))
    section = str(chance.choice(["round", "oval"]))
    sheet = changed(
        short_handle(),
        length_code=row.code,
        **_blade(row, across, chance),
        handle__length_mm=row.handle_mm + float(chance.uniform(-5, 5)),
        handle__construction=str(chance.choice(get_args(Construction))),
        handle__section_bottom=section,
        handle__oval_ratio=1.1 if section == "oval" else 1.0,
        handle__girth_mm={"top": girth - 2, "middle": girth, "bottom": girth + 4},
        handle__splice_length_mm=row.splice_mm,
        handle__splice_width_mm=round(42 * across, 1),
        handle__other_material={"share": 0.05, "reach_into_splice_mm": 40},
        grips={
            "count": int(chance.integers(3)),
            "mass_g": grip.mass_g * float(chance.uniform(0.85, 1.15)),
            "wall_mm": grip.thickness_mm,
        },
        willow__density_kg_m3={"min": density - 10, "max": density + 10},
        protection__toe_guard=_perhaps({"thickness_mm": 1, "mass_g": 9}, chance),
        protection__face_film=_perhaps({"thickness_mm": 0.25, "mass_g": 15}, chance),
        protection__edge_tape=_perhaps({"thickness_mm": 0.2, "mass_g": 6}, chance),
        finish__oil_coats=int(chance.integers(1, 4)),
    )
    return read_sheet(BuildSheet, sheet), _with_own_cane(chance)


def _with_own_cane(chance: np.random.Generator) -> Book:
    """No two handles are of one density: the book's spread of canes."""
    materials = DEFAULT_BOOK.materials
    by = 1 + materials.spreads.cane_share * float(np.clip(chance.standard_normal(), -2.5, 2.5))
    own = {
        name: cane.model_copy(update={"density_kg_m3": cane.density_kg_m3 * by})
        for name, cane in materials.canes
    }
    return DEFAULT_BOOK.model_copy(update={"materials": materials.model_copy(update={"canes": Canes(**own)})})


def _perhaps[Covering](covering: Covering, chance: np.random.Generator) -> Covering | None:
    return covering if chance.random() < 0.5 else None


def _blade(row: LengthRow, across: float, chance: np.random.Generator) -> dict[str, object]:
    """From thin to full, in one of the four profiles, with the trade's toe, swell, shoulder and bow."""
    rules, adult = DEFAULT_BOOK.rules, DEFAULT_BOOK.length("short_handle")
    profile = rules.profiles[chance.choice(list(get_args(Profile)))]
    depths, deep, thick = rules.range_of_depths, row.spine_mm / adult.spine_mm, row.edge_mm / adult.edge_mm
    length = row.blade_mm + float(chance.uniform(-5, 5))
    swell = float(chance.uniform(0.34, 0.46)) * length
    tip = length - row.splice_mm
    full = float(chance.uniform(0, 1))
    less, more, resting = depths.less, depths.more, depths.resting

    def depth(usual: float, thin: float, fat: float, scale: float) -> float:
        # each place follows the fullness of the whole, and its maker's hand
        own = float(np.clip(full + chance.normal(0, 0.15), 0, 1))
        return (usual + thin + own * (fat - thin)) * scale

    toe = float(chance.uniform(17, 26)) * deep
    spine = depth(adult.spine_mm, less.swell_mm, more.swell_mm, deep)
    edge = depth(adult.edge_mm, less.edge_mm, more.edge_mm, thick)
    spine_tip = depth(resting.tip_mm, less.tip_mm, more.tip_mm, deep)
    edge_tip = depth(resting.edge_tip_mm, less.edge_mm / 2, more.edge_mm / 2, thick)
    spine_end = depth(resting.shoulder_mm, less.shoulder_mm, more.shoulder_mm, deep)
    edge_end = depth(resting.edge_shoulder_mm, less.edge_mm / 4, more.edge_mm / 4, thick)
    spines = [toe, *(toe + (spine - toe) * np.array(profile.spine_shares)), spine]
    edges = [toe - 4, *(toe - 4 + (edge - toe + 4) * np.array(profile.edge_shares)), edge]
    spines += [spine_tip + (spine - spine_tip) * profile.upper_share, spine_tip, spine_end]
    edges += [edge_tip + (edge - edge_tip) * profile.upper_share, edge_tip, edge_end]
    hollows = [profile.scallop_toe, *(profile.scallop_swell,) * 5, *(profile.scallop_shoulder,) * 2]
    hollow = float(chance.uniform(-1, 1)) * depths.scallop
    places = [0, swell / 4, swell / 2, 3 * swell / 4, swell, (swell + tip) / 2, tip, length]
    scoop = {"length_mm": 105 * length / 558, "depth_mm": float(chance.uniform(4, 13)) * deep}
    return {
        "blade__length_mm": length,
        "blade__width_mm": row.width_mm - float(chance.uniform(0, 2)),
        "blade__stations": [
            {
                "from_toe_mm": float(x),
                "spine_mm": float(max(s, e)),
                "edge_mm": float(e),
                "scallop": float(np.clip(h + hollow, 0.9, 3)),
            }
            for x, s, e, h in zip(places, spines, edges, hollows, strict=True)
        ],
        "blade__face_crown_mm": float(chance.uniform(0, 2)),
        "blade__bow_mm": float(chance.uniform(0, 14)),
        "blade__bow_peak_from_toe_mm": 0.45 * length,
        "blade__toe": {
            "corner_radius_mm": float(chance.uniform(15, 40)) * across,
            "scoop": scoop if chance.random() < 0.15 else None,
        },
        "blade__shoulder": {"length_mm": float(chance.uniform(25, 60)), "width_mm": 58 * across},
    }


def _main() -> None:
    bats = sample(BATS, SEED)
    for degree in (1, 2):
        found = fit(bats, degree)
        print(f"degree {degree}: {np.round(found.coefficients, 5)}  sd {found.sd_share:.5f}")
    balance = bats.balance_share - BALANCE_MIDDLE
    one = np.ones_like(balance)
    for name, term in (
        ("overall", bats.overall_m),
        ("mass / overall", bats.mass_kg / bats.overall_m),
        ("mass / overall cubed", bats.mass_kg / bats.overall_m**3),
    ):
        found = fit_terms(bats, np.stack([one, balance, term - term.mean()]).T)
        print(f"and {name}: {np.round(found.coefficients, 5)}  sd {found.sd_share:.5f}")
    share = fit(bats).sd_share * float(np.mean(bats.about_balance_kg_m2 / bats.pickup_kg_m2))
    print(f"of the pickup, by the linear one: {share:.5f}")
    for name, values in (("balance", bats.balance_share), ("inertia", bats.inertia_share)):
        print(f"share of {name}: {values.min():.4f} to {values.max():.4f}, middle {values.mean():.4f}")
    print(f"mass {bats.mass_kg.min():.3f} to {bats.mass_kg.max():.3f} kg, model version {MODEL_VERSION}")


if __name__ == "__main__":
    _main()
