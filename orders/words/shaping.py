"""Words for a bat re-shaped for one cleft: what stops it, what moved, which willow would do."""

from math import ceil, floor

from django.utils.translation import gettext as _

from fitting.bat.reshaped import Barrier, Reshaped, WillowRange
from orders.words.measures import show_mass


def say_barrier(barrier: Barrier, willow: WillowRange | None = None) -> str:
    """Say in one line what stops a re-shaping, and as far as it is known with what would do instead."""
    if barrier.stop == "peak":
        stopped = _(
            "the bat would hit hardest %(peak).0f mm above the toe and no longer where it was asked to: "
            "the toe can be neither deeper nor slimmer than it is then"
        ) % {"peak": barrier.peak_from_toe_mm}
        return f"{stopped}; {say_willow(willow)}" if willow else stopped
    values = {
        "needed": barrier.spine_mm,
        "allowed": barrier.spine_allowed_mm,
        "limit": _limit(barrier.limit),
        "mass": show_mass(barrier.mass_g),
    }
    if barrier.stop == "too_light":
        stopped = (
            _(
                "needs %(needed).1f mm of spine, and %(allowed).1f mm is the most (%(limit)s): "
                "%(mass)s is all that this willow gives"
            )
            % values
        )
    else:
        stopped = (
            _(
                "may have no more than %(needed).1f mm of spine, "
                "and %(allowed).1f mm is the least (%(limit)s): %(mass)s is the lightest from this willow"
            )
            % values
        )
    return f"{stopped}; {_would_do(barrier)}"


def _would_do(barrier: Barrier) -> str:
    """Say which cleft would do, rounded to the side that does."""
    if barrier.density_kg_m3 is None:
        return _("no cleft would do for this mass and this sweet spot")
    if barrier.stop == "too_light":
        return _("a cleft of at least %(density)d kg/m³ would do") % {"density": ceil(barrier.density_kg_m3)}
    return _("a cleft of at most %(density)d kg/m³ would do") % {"density": floor(barrier.density_kg_m3)}


def say_willow(willow: WillowRange) -> str:
    """Say which willow can become a bat at its own mass."""
    if willow.least_kg_m3 is None or willow.most_kg_m3 is None:
        return _("no willow can become the bat of this sheet at its own mass")
    return _("willow of %(least)d to %(most)d kg/m³ can become the bat of this sheet at its own mass") % {
        "least": ceil(willow.least_kg_m3),
        "most": floor(willow.most_kg_m3),
    }


def _limit(limit: str) -> str:
    return {
        "spine": _("the trade's limit of its depth"),
        "edge": _("the edge is at its limit"),
        "gauge": _("the gauge of the Laws, with the book's margin"),
        "kink": _("a steeper back would show a kink"),
        "scoop": _("the scoop would leave too little wood"),
        "swell": _("the thickest point would wander"),
        "laws": _("the Laws, with the book's margin"),
    }.get(limit, limit)


def report_shaping(found: Reshaped, willow: WillowRange) -> str:
    """Report a re-shaped bat: its figures, every station's move, and the willow that can become it."""
    weighing = found.weighing
    lines = [
        _("mass %(mass)s, balance %(balance).0f mm from the toe, pickup %(pickup).4f kg m²")
        % {
            "mass": show_mass(weighing.mass_g),
            "balance": weighing.balance_from_toe_mm,
            "pickup": weighing.inertia_kg_m2.pickup,
        }
    ]
    if weighing.sweet_spot is not None:
        lines.append(
            _("hits hardest %(peak).0f mm from the toe, nearly as hard from %(low).0f to %(high).0f mm")
            % {
                "peak": weighing.sweet_spot.peak_from_toe_mm,
                "low": weighing.sweet_spot.from_mm,
                "high": weighing.sweet_spot.to_mm,
            }
        )
    lines += ["", _("from the toe    spine     edge  scallop     moved: spine     edge")]
    for station, moved in zip(found.build.blade.stations, found.moved, strict=True):
        lines.append(
            f"{station.from_toe_mm:9.1f} mm  {station.spine_mm:7.2f}  {station.edge_mm:7.2f}  "
            f"{station.scallop:7.3f}          {moved.spine_mm:+7.2f}  {moved.edge_mm:+7.2f}"
        )
    lines += [
        "",
        say_willow(willow),
    ]
    return "\n".join(lines)
