"""One joint solve: how full the blade and how dense the willow, so that the bat meets its mass."""

from dataclasses import dataclass

import numpy as np

from fitting.bat.weigh import heft, weigh
from fitting.curve import FloatArray
from fitting.recommend.draft import Draft
from fitting.recommend.shape import Shapes
from fitting.sheets.build_sheet import BuildSheet, Target
from fitting.sheets.recommendation import Conflict
from fitting.sheets.weighing import Weighing

_GRID = np.linspace(-1.0, 1.0, 401)
_CORRECTIONS = 3


@dataclass(frozen=True)
class Solved:
    """The bat that was found, its weighing, where it lies in its range, and what could not be met."""

    build: BuildSheet
    weighing: Weighing
    fullness: float
    density_kg_m3: float
    conflicts: tuple[Conflict, ...]


@dataclass(frozen=True)
class _Curves:
    """Willow's volume (litres) and everything else (g) over fullness, from three weighings."""

    volume: FloatArray
    other_g: FloatArray

    def at(self, fullness: FloatArray) -> tuple[FloatArray, FloatArray]:
        return np.asarray(np.polyval(self.volume, fullness)), np.asarray(np.polyval(self.other_g, fullness))

    def mass_g(self, fullness: FloatArray, density: float) -> FloatArray:
        volume, other = self.at(fullness)
        return volume * density + other


def solve(draft: Draft, *, hard_hitter: bool) -> Solved:
    """Meet the mass with the least departure from the resting shape and mid density.

    At most six times hefted: three to see how the mass runs, then corrections at the density chosen; then
    weighed once.
    """
    shapes = draft.shapes()
    usual = draft.book.rules.density_usual_kg_m3
    curves = _three_weighings(draft, shapes, usual)
    low, high = _density_bounds(draft, hard_hitter=hard_hitter)
    wanted = draft.mass.target_g
    fullness, density = _least_departure(curves, wanted, (low, high), draft)
    for _ in range(_CORRECTIONS):
        build = draft.build(shapes, fullness, density)
        weighing = heft(build, book=draft.book)
        tried, missed = fullness, wanted - weighing.mass_g
        fullness = float(np.clip(tried + missed / _slope(curves, tried, density), -1, 1))
        if abs(missed) < 1 or abs(fullness - tried) < 0.002:
            break
    return _settled(draft, build, weigh(build, book=draft.book), tried, density)


def _three_weighings(draft: Draft, shapes: Shapes, density: float) -> _Curves:
    places = np.array([-1.0, 0.0, 1.0])
    volumes, others = [], []
    for place in places:
        weighing = heft(draft.build(shapes, float(place), density), book=draft.book)
        willow = sum(part.mass_g for part in weighing.parts if part.name == "blade")
        volumes.append(willow / density)
        others.append(weighing.mass_g - willow)
    return _Curves(np.polyfit(places, volumes, 2), np.polyfit(places, others, 2))


def _density_bounds(draft: Draft, *, hard_hitter: bool) -> tuple[float, float]:
    """Middle of the band, lowest and highest, so that the band stays inside what the maker takes."""
    rules = draft.book.rules
    least = rules.density_hard_hitter_least_kg_m3 if hard_hitter else rules.density_least_kg_m3
    return least + rules.density_half_band_kg_m3, rules.density_most_kg_m3 - rules.density_half_band_kg_m3


def _least_departure(
    curves: _Curves, wanted: float, bounds: tuple[float, float], draft: Draft
) -> tuple[float, float]:
    """Fullness and density that meet the mass nearest to the resting shape and the usual density.

    Where none does, the end of both ranges that comes nearest.
    """
    rules, (low, high) = draft.book.rules, bounds
    volume, other = curves.at(_GRID)
    needed = (wanted - other) / volume
    cost = (_GRID / rules.fullness_spread) ** 2 + (
        (needed - rules.density_usual_kg_m3) / rules.density_spread_kg_m3
    ) ** 2
    possible = (needed >= low) & (needed <= high)
    if not possible.any():
        lightest = float(curves.mass_g(np.array([-1.0]), low)[0])
        return (-1.0, low) if wanted < lightest else (1.0, high)
    best = int(np.argmin(np.where(possible, cost, np.inf)))
    density = float(np.clip(round(float(needed[best])), low, high))
    return float(_GRID[best]), density


def _slope(curves: _Curves, fullness: float, density: float) -> float:
    step = 0.05
    near = curves.mass_g(np.array([fullness - step, fullness + step]), density)
    return float(near[1] - near[0]) / (2 * step)


def _settled(draft: Draft, build: BuildSheet, weighing: Weighing, fullness: float, density: float) -> Solved:
    """Give the sheet its targets: the mass as aimed, or as near as it comes, told as a conflict."""
    conflicts: tuple[Conflict, ...] = ()
    mass = build.mass_g
    if abs(weighing.mass_g - mass.target) > mass.tolerance:
        reached = float(round(weighing.mass_g))
        conflicts = (_unreached(draft, reached, density),)
        mass = Target(target=reached, tolerance=mass.tolerance)
    share = draft.book.rules.pickup_tolerance_share
    pickup = round(weighing.inertia_kg_m2.pickup, 4)
    found = weighing.sweet_spot
    peak = None if found is None else float(round(found.peak_from_toe_mm))
    return Solved(
        build=build.model_copy(
            update={
                "sweet_spot": build.sweet_spot.model_copy(update={"peak_from_toe_mm": peak}),
                "mass_g": mass,
                "pickup_kg_m2": Target(target=pickup, tolerance=round(share * pickup, 5)),
            }
        ),
        weighing=weighing,
        fullness=fullness,
        density_kg_m3=density,
        conflicts=conflicts,
    )


def _unreached(draft: Draft, reached: float, density: float) -> Conflict:
    """The mass that no shape inside the limits reaches, with the numbers."""
    wanted = draft.mass.target_g
    heavier = reached > wanted
    thick = draft.blade.edges_value == "thick"
    ways = ["mass_g"]
    if heavier:
        ways += ["wishes.edges"] if thick else []
        ways += ["toe.scoop", "length_code"]
    else:
        ways += ["profile.full", "grips.count"]
    usual = draft.book.rules.density_usual_kg_m3
    return Conflict(
        key="mass.unreached_light" if heavier else "mass.unreached_heavy",
        fields=tuple(
            ["mass_g", *(one.answer for one in draft.mass.because if one.answer)]
            + (["wishes.edges"] if thick and heavier else [])
        ),
        kept=f"{reached:.0f}",
        given_up=f"{wanted:.0f}",
        cost={"mass_g": round(reached - wanted, 1), "density_kg_m3": round(density - usual, 1)},
        ways_out=tuple(ways),
    )
