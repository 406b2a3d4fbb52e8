"""Words for a bat re-shaped for one cleft: what stops it, what moved, which willow would do."""

from django.utils.translation import gettext as _

from fitting.bat.reshape import Barrier, Reshaped, WillowRange
from orders.words.measures import show_mass


def say_barrier(barrier: Barrier, willow: WillowRange) -> str:
    """Say in one line what stops a re-shaping, with what would do instead."""
    if barrier.stop == "peak":
        return _(
            "the bat would hit hardest %(peak).0f mm above the toe and no longer where it was asked to: "
            "the toe can be neither deeper nor slimmer than it is then; for the sheet's own mass "
            "a cleft of %(least).0f to %(most).0f kg/m³ would do"
        ) % {
            "peak": barrier.peak_from_toe_mm,
            "least": willow.least_kg_m3,
            "most": willow.most_kg_m3,
        }
    values = {
        "needed": barrier.spine_mm,
        "allowed": barrier.spine_allowed_mm,
        "limit": _limit(barrier.limit),
        "density": barrier.density_kg_m3,
        "mass": show_mass(barrier.mass_g),
    }
    if barrier.stop == "too_light":
        return (
            _(
                "needs %(needed).1f mm of spine, and %(allowed).1f mm is the most (%(limit)s): "
                "%(mass)s is all that this willow gives; a cleft of at least %(density).0f kg/m³ would do"
            )
            % values
        )
    return (
        _(
            "may have no more than %(needed).1f mm of spine, and %(allowed).1f mm is the least (%(limit)s): "
            "%(mass)s is the lightest from this willow; a cleft of at most %(density).0f kg/m³ would do"
        )
        % values
    )


def _limit(limit: str) -> str:
    return {
        "spine": _("the trade's limit of its depth"),
        "edge": _("the edge is at its limit"),
        "gauge": _("the gauge of the Laws, with the book's margin"),
        "kink": _("a steeper back would show a kink"),
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
        _("willow of %(least).0f to %(most).0f kg/m³ can become the bat of this sheet at its own mass")
        % {"least": willow.least_kg_m3, "most": willow.most_kg_m3},
    ]
    return "\n".join(lines)
