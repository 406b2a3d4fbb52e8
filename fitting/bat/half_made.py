"""Where a half-made bat stands: what its reading tells of the willow, and what the finished bat will be.

A reading of the scales counts in the condition in which it was taken. It tells the density of this piece of
willow better than the raw cleft did, because the shape that was weighed is nearly the shape that leaves the
bench: what the model has wrong about the one it has wrong about the other.

Everything that is not known exactly (density, depth, handle, glue, dressings, sanding) is one cause with one
standard deviation, which moves the half-made and the finished bat each by its own amount. Given a reading,
causes and finished bat are as likely as a linear model with normal errors makes them: the conditional mean
and covariance of jointly normal quantities (any textbook of estimation).
"""

from dataclasses import dataclass
from math import ceil, sqrt

import numpy as np

from fitting.bat.condition import Believed, Condition, Scales, Standing
from fitting.bat.pending import WEIGHED_CANE_SD_G, Between, dressing_share
from fitting.bat.solid import G_PER_MM3, Body
from fitting.bat.spreads import COVERINGS, Change, depth_changes, scaled
from fitting.bat.weigh import weigh
from fitting.curve import FloatArray
from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.weighing import Weighing

SCALES_SD_G = 0.5
"""Spread of the workshop's scales, g."""
SAFE_SPREADS = 2.0
LEAVE_GRAIN_MM = 0.5
_NOTHING = Change(0.0, 0.0, 0.0)


def stand(
    now: BuildSheet,
    condition: Condition,
    scales: Scales | None,
    believed: Believed,
    *,
    aim: BuildSheet,
    book: Book = DEFAULT_BOOK,
) -> Standing:
    """Tell where a half-made bat stands.

    Args:
        now: the bat with its stations as they were read; stations inside a square top do not matter.
        condition: in which it lies on the scales.
        scales: what was read; None before the first weighing.
        believed: what was known of the willow before.
        aim: the shaping targets, for what nobody has shaped yet, and for the dressings that are to come.
        book: whose materials, losses and spreads count.

    Returns:
        The standing: the reading and all pending lines add up to the forecast's mass. The forecast is of the
        bat if no more were cut than splice, square top, outline and sanding.

    Raises:
        ValueError: a square top as long as the blade.
    """
    before = Between(now, condition, believed.density_kg_m3, aim, book)
    causes = _causes(before, believed.sd_kg_m3)
    if scales is None:
        felt = _felt(before, causes, np.eye(len(causes)))
        forecast = weigh(before.after, book=book, density_kg_m3=believed.density_kg_m3)
        return Standing(
            believed=believed,
            pending=before.lines(),
            after=before.after,
            weighing=_with_spread(forecast, felt),
        )
    shift, left = _given(before, causes, scales)
    sharper = Believed(
        density_kg_m3=believed.density_kg_m3 + float(shift[0]) * believed.sd_kg_m3,
        sd_kg_m3=believed.sd_kg_m3 * sqrt(max(float(left[0, 0]), 0.0)),
    )
    told = Between(now, condition, sharper.density_kg_m3, aim, book)
    pending = told.lines()
    forecast = _forecast(told, scales.mass_g + sum(line.mass_g for line in pending))
    return Standing(
        believed=sharper,
        pending=pending,
        after=told.after,
        weighing=_with_spread(_moved(forecast, told, causes[1:], shift[1:]), _felt(told, causes, left)),
    )


def leave_mm(standing: Standing, *, book: Book = DEFAULT_BOOK) -> float:
    """Tell how much depth to leave over the targets until the handle is in.

    So much that what is not known yet (two standard deviations of the forecast) cannot make the bat too
    light: wood cannot be put back. Never less than the book's own leave.

    Args:
        standing: of the bat as it is.
        book: its least leave.

    Returns:
        Depth over the whole back, mm, to 0.5 mm up.
    """
    blade = standing.after.blade
    area = blade.length_mm * blade.width_mm
    grams_a_mm = standing.weighing.density_kg_m3 * G_PER_MM3 * area
    needed = SAFE_SPREADS * standing.weighing.mass_sd_g / grams_a_mm
    return max(book.bench.shaping_leave_mm, ceil(needed / LEAVE_GRAIN_MM) * LEAVE_GRAIN_MM)


@dataclass(frozen=True)
class _Cause:
    """One thing that is not known exactly: what one standard deviation of it does to both bats."""

    now: Change
    after: Change


def _given(between: Between, causes: list[_Cause], scales: Scales) -> tuple[FloatArray, FloatArray]:
    """Means and covariance of the causes after a reading, in units of their own spreads."""
    whole = between.on_scales.whole
    seen = [[cause.now.mass_g for cause in causes]]
    missed = [scales.mass_g - whole.mass_g]
    noise = [SCALES_SD_G**2]
    if scales.balance_from_toe_mm is not None:
        seen.append([cause.now.moment_g_mm for cause in causes])
        missed.append(scales.mass_g * scales.balance_from_toe_mm - whole.mass_g * float(whole.centre_mm[0]))
        noise.append((scales.mass_g * between.book.bench.balance_read_sd_mm) ** 2)
    rows = np.array(seen)
    gain = rows.T @ np.linalg.inv(rows @ rows.T + np.diag(noise))
    return np.asarray(gain @ np.array(missed)), np.eye(len(causes)) - gain @ rows


def _felt(between: Between, causes: list[_Cause], left: FloatArray) -> Change:
    """Spread of the finished bat: mass (g), balance (mm, in the place of the moment), pickup (kg m2)."""
    whole = between.final.whole
    balance = float(whole.centre_mm[0])
    felt = np.array(
        [
            [cause.after.mass_g for cause in causes],
            [(c.after.moment_g_mm - c.after.mass_g * balance) / whole.mass_g for c in causes],
            [cause.after.pickup_kg_m2 for cause in causes],
        ]
    )
    return Change(*np.sqrt(np.clip(np.diag(felt @ left @ felt.T), 0.0, None)).tolist())


def _causes(between: Between, density_sd: float) -> list[_Cause]:
    """Everything that is not known exactly; the density is the first."""
    spreads, book, pivot = between.book.materials.spreads, between.book, between.pivot
    there, final = between.on_scales.bodies, between.final.bodies
    share = density_sd / between.density_kg_m3
    wet = spreads.moisture_percent / (100 + book.materials.moisture_percent)
    layers = [
        depth_changes(cuts, between.density_kg_m3, pivot, spreads.depth_mm, spreads.depth_tilt_mm)
        for cuts in (between.on_scales.cuts, between.final.cuts)
    ]
    glue = between.final_glue_g / final["handle"].mass_g
    causes = [
        _Cause(scaled(there["blade"], share, pivot), scaled(final["blade"], share, pivot)),
        # A layer left on the half-made bat is still on the finished one.
        *(_Cause(now, after) for now, after in zip(*layers, strict=True)),
        _Cause(_NOTHING, scaled(final["blade"], wet, pivot)),
        _cane(between, glue),
        _same_thing(between, "handle", spreads.glue_share * glue),
        _same_thing(between, "binding", spreads.binding_share),
        *(_same_thing(between, name, dressing_share(book, name)) for name in ("grip", *COVERINGS, "oil")),
    ]
    if not between.condition.sanded and book.bench.sanding_loss_sd_g:
        causes.append(_Cause(_NOTHING, _as_layer(layers[1][0], book.bench.sanding_loss_sd_g)))
    return causes


def _cane(between: Between, glue_share: float) -> _Cause:
    """The cane: unknown by the book's share, unless it was weighed and has lost nothing since."""
    handle = between.final.bodies["handle"]
    weighed = between.after.handle.cane_mass_g is not None
    loose = between.book.materials.spreads.cane_share * (1 - glue_share)
    share = WEIGHED_CANE_SD_G / handle.mass_g if weighed else loose
    after = scaled(handle, share, between.pivot)
    return _Cause(_NOTHING if between.is_raw else _on_scales(between, "handle", share), after)


def _same_thing(between: Between, name: str, share: float) -> _Cause:
    """One thing that is on both bats, or on the finished one alone."""
    body = between.final.bodies.get(name)
    after = _NOTHING if body is None else scaled(body, share, between.pivot)
    return _Cause(_on_scales(between, name, share), after)


def _on_scales(between: Between, name: str, share: float) -> Change:
    body: Body | None = between.on_scales.bodies.get(name)
    return _NOTHING if body is None else scaled(body, share, between.pivot)


def _as_layer(layer: Change, mass_g: float) -> Change:
    """A layer of the blade's back of another mass."""
    factor = mass_g / layer.mass_g
    return Change(mass_g, layer.moment_g_mm * factor, layer.pickup_kg_m2 * factor)


def _forecast(between: Between, mass_g: float) -> Weighing:
    """The finished bat, its willow taken so dense that it has a mass."""
    willow = between.final.bodies["blade"]
    dense = between.density_kg_m3 * (1 + (mass_g - between.final.whole.mass_g) / willow.mass_g)
    return weigh(between.after, book=between.book, density_kg_m3=dense)


def _moved(forecast: Weighing, between: Between, causes: list[_Cause], shift: FloatArray) -> Weighing:
    """Balance and pickup moved by what a reading tells of everything but the density.

    The mass is met already, by the willow: what the causes would add to it is taken out of the blade.
    """
    grams, moment, pickup = (
        float(shift @ np.array(figures))
        for figures in (
            [cause.after.mass_g for cause in causes],
            [cause.after.moment_g_mm for cause in causes],
            [cause.after.pickup_kg_m2 for cause in causes],
        )
    )
    blade = between.final.bodies["blade"]
    out = scaled(blade, grams / blade.mass_g, between.pivot)
    inertia = forecast.inertia_kg_m2
    return forecast.model_copy(
        update={
            "balance_from_toe_mm": forecast.balance_from_toe_mm
            + (moment - out.moment_g_mm) / forecast.mass_g,
            "inertia_kg_m2": inertia.model_copy(
                update={"pickup": inertia.pickup + pickup - out.pickup_kg_m2}
            ),
        }
    )


def _with_spread(forecast: Weighing, felt: Change) -> Weighing:
    return forecast.model_copy(
        update={
            "mass_sd_g": felt.mass_g,
            "balance_sd_mm": felt.moment_g_mm,
            "pickup_sd_kg_m2": felt.pickup_kg_m2,
        }
    )
