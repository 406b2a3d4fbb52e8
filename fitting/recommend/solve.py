"""One joint solve: how full the blade and how dense the willow, so that the bat meets its mass."""

from dataclasses import dataclass, replace

import numpy as np

from fitting.bat.weigh import heft, weigh
from fitting.curve import FloatArray
from fitting.recommend.draft import Draft
from fitting.recommend.mass import MassAim
from fitting.recommend.shape import Shapes
from fitting.recommend.wanted_pickup import WantedPickup
from fitting.sheets.build_sheet import BuildSheet, Target
from fitting.sheets.recommendation import Conflict
from fitting.sheets.weighing import Weighing

_GRID = np.linspace(-1.0, 1.0, 401)
_CORRECTIONS = 3
_NO_CHANGE_KG_M2 = 1e-6


@dataclass(frozen=True)
class Willingness:
    """What willow a player may be given: none too light for a long life, and perhaps what is rare."""

    long_life: bool = False
    rare_willow: bool = False


@dataclass(frozen=True)
class Solved:
    """The bat that was found, its weighing, where it lies in its range, and what could not be met."""

    build: BuildSheet
    weighing: Weighing
    fullness: float
    density_kg_m3: float
    tilt_mm: float
    mass: MassAim
    rare_willow: bool
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


def solve(draft: Draft, willing: Willingness, wanted: WantedPickup | None = None) -> Solved:
    """Meet the mass with the least departure from the resting shape and mid density, then the pickup.

    At most six times hefted for the mass: three to see how it runs, then corrections at the density chosen.
    A wanted pickup is sought by moving wood between toe and shoulder, and, where no mass was wished, by a few
    grams. Then weighed once.
    """
    shapes = draft.shapes()
    usual = draft.book.rules.density_usual_kg_m3
    curves = _three_weighings(draft, shapes, usual)
    bounds = _density_bounds(draft, willing)
    fullness, density, hefted = _for_mass(draft, shapes, curves, bounds)
    tilt = 0.0
    if wanted is not None and not wanted.holds(hefted.inertia_kg_m2.pickup):
        seek = _Seek(draft, shapes, fullness, density, bounds)
        tilt, density, hefted = seek.tilt(hefted, wanted)
        if not wanted.holds(hefted.inertia_kg_m2.pickup) and wanted.may_move_mass:
            draft = _with_mass_for(draft, hefted, wanted)
            fullness, density, _ = _for_mass(draft, shapes, curves, bounds)
            # The tilt stays: only how full and how dense the blade is follows the mass.
            density, _ = _Seek(draft, shapes, fullness, density, bounds).at_mass(tilt)
    build = draft.build(shapes, fullness, density, tilt_mm=tilt)
    return _settled(draft, build, weigh(build, book=draft.book), fullness, density, tilt)


def _for_mass(
    draft: Draft, shapes: Shapes, curves: "_Curves", bounds: tuple[float, float]
) -> tuple[float, float, Weighing]:
    """Fullness and density that meet the draft's mass, and what they heft."""
    wanted = draft.mass.target_g
    fullness, density = _least_departure(curves, wanted, bounds, draft)
    for _ in range(_CORRECTIONS):
        hefted = heft(draft.build(shapes, fullness, density), book=draft.book)
        tried, missed = fullness, wanted - hefted.mass_g
        fullness = float(np.clip(tried + missed / _slope(curves, tried, density), -1, 1))
        if abs(missed) < 1 or abs(fullness - tried) < 0.002:
            break
    return tried, density, hefted


@dataclass(frozen=True)
class _Seek:
    """One blade at one fullness, tilted for a pickup, its mass held by the density."""

    draft: Draft
    shapes: Shapes
    fullness: float
    density: float
    bounds: tuple[float, float]

    def at_mass(self, tilt: float) -> tuple[float, Weighing]:
        """Density that holds the mass at a tilt, and what the bat hefts with it."""
        density = self.density
        for _ in range(2):
            build = self.draft.build(self.shapes, self.fullness, density, tilt_mm=tilt)
            hefted = heft(build, book=self.draft.book)
            blade = next(part.mass_g for part in hefted.parts if part.name == "blade")
            missed = self.draft.mass.target_g - hefted.mass_g
            better = float(np.clip(round(density * (1 + missed / blade)), *self.bounds))
            if abs(missed) < 1 or better == density:
                break
            density = better
        return density, hefted

    def tilt(self, level: Weighing, wanted: WantedPickup) -> tuple[float, float, Weighing]:
        """Tilt, density and hefting that come nearest to a wanted pickup."""
        most = self.draft.book.rules.tilt_most_mm
        pickup = level.inertia_kg_m2.pickup
        side = most if pickup > wanted.nearest(pickup) else -most
        density, hefted = self.at_mass(side)
        end = hefted.inertia_kg_m2.pickup
        goal = wanted.nearest(pickup)
        if most == 0 or abs(end - pickup) < _NO_CHANGE_KG_M2:
            return 0.0, self.density, level
        share = (goal - pickup) / (end - pickup)
        if share >= 1:
            return side, density, hefted
        density, hefted = self.at_mass(side * share)
        return side * share, density, hefted


def _with_mass_for(draft: Draft, hefted: Weighing, wanted: WantedPickup) -> Draft:
    """The same draft with its mass moved for the pickup, which runs with the mass."""
    pickup = hefted.inertia_kg_m2.pickup
    most = draft.book.rules.pickup_mass_shift_g
    shift = (wanted.nearest(pickup) / pickup - 1) * draft.mass.target_g
    return replace(draft, mass=draft.mass.shifted(float(np.clip(shift, -most, most))))


def _three_weighings(draft: Draft, shapes: Shapes, density: float) -> _Curves:
    places = np.array([-1.0, 0.0, 1.0])
    volumes, others = [], []
    for place in places:
        weighing = heft(draft.build(shapes, float(place), density), book=draft.book)
        willow = sum(part.mass_g for part in weighing.parts if part.name == "blade")
        volumes.append(willow / density)
        others.append(weighing.mass_g - willow)
    return _Curves(np.polyfit(places, volumes, 2), np.polyfit(places, others, 2))


def _density_bounds(draft: Draft, willing: Willingness) -> tuple[float, float]:
    """Middle of the band, lowest and highest, so that the band stays inside what the maker takes."""
    rules = draft.book.rules
    least = rules.density_hard_hitter_least_kg_m3 if willing.long_life else rules.density_least_kg_m3
    further = rules.density_rare_kg_m3 if willing.rare_willow else 0.0
    half = rules.density_half_band_kg_m3
    low = least + half if willing.long_life else least + half - further
    return low, rules.density_most_kg_m3 - half + further


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


def _settled(
    draft: Draft, build: BuildSheet, weighing: Weighing, fullness: float, density: float, tilt: float
) -> Solved:
    """Give the sheet its targets: the mass as aimed, or as near as it comes, told as a conflict."""
    conflicts: tuple[Conflict, ...] = ()
    mass = build.mass_g
    if abs(weighing.mass_g - mass.target) > mass.tolerance:
        reached = float(round(weighing.mass_g))
        conflicts = (_unreached(draft, reached, density),)
        mass = Target(target=reached, tolerance=mass.tolerance)
    rules = draft.book.rules
    share = rules.pickup_tolerance_share
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
        tilt_mm=tilt,
        mass=draft.mass,
        rare_willow=not (
            rules.density_least_kg_m3 <= build.willow.density_kg_m3.min
            and build.willow.density_kg_m3.max <= rules.density_most_kg_m3
        ),
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
