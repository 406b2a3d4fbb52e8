"""Where a bat hits hardest, in words as soft as it is known: to 5 mm, in inches to the quarter."""

from django.utils.translation import gettext as _

from fitting.sheets.weighing import ReferenceImpact, SweetSpot, Weighing
from fitting.units import System, factor
from orders.words.drawing import Units, soft_measure_in
from orders.words.measures import show_length, show_mass

# How a drawing names the systems of units.
DRAWN_IN: dict[System, Units] = {"metric": "mm", "imperial": "in"}
SPEED_UNITS: dict[System, str] = {"metric": "km/h", "imperial": "mph"}
# Below this the sweet spot has not moved: nobody could tell.
MOVED_MM = 5.0


def soft_number(place_mm: float, system: System = "metric") -> str:
    """Say a place along the blade without its unit."""
    return soft_measure_in(DRAWN_IN[system])(place_mm)


def soft_place(place_mm: float, system: System = "metric") -> str:
    """Say a place along the blade: ``210 mm``, ``8 1/4 in``."""
    number = soft_number(place_mm, system)
    return _("%(number)s in") % {"number": number} if system == "imperial" else f"{number} {_('mm')}"


def say_peak(sweet: SweetSpot, system: System = "metric") -> str:
    """Say the place that hits hardest, counted from the toe: ``about 210 mm``."""
    return _("about %(place)s") % {"place": soft_place(sweet.peak_from_toe_mm, system)}


def say_reach(sweet: SweetSpot, system: System = "metric") -> str:
    """Say from where to where the bat hits nearly as hard: ``nearly as hard from 165 to 255 mm``."""
    return _("nearly as hard from %(low)s to %(high)s") % {
        "low": soft_number(sweet.from_mm, system),
        "high": soft_place(sweet.to_mm, system),
    }


def say_where(sweet: SweetSpot, system: System = "metric") -> str:
    """Say where a bat hits hardest and how far around it nearly as hard, in one sentence."""
    return _("Hits hardest %(peak)s above the toe, %(reach)s.") % {
        "peak": say_peak(sweet, system),
        "reach": say_reach(sweet, system),
    }


def say_across(sweet: SweetSpot, system: System = "metric") -> str:
    """Say how far a ball may meet the bat beside its middle: the turning of the bat alone, without hands."""
    return _(
        "Off the middle it gives way sooner, because the bat twists: some %(offset)s to either side the ball "
        "is as much slower as at the ends of that reach. Hands that hold against it are not counted."
    ) % {"offset": soft_place(sweet.half_width_mm, system)}


def where_words(weighing: Weighing, system: System = "metric") -> tuple[str, ...]:
    """Say in sentences where the bat hits hardest, how far beside its middle, and for which blow.

    Nothing where the weighing was kept from a model that told no sweet spot.
    """
    sweet, impact = weighing.sweet_spot, weighing.reference_impact
    if sweet is None or impact is None:
        return ()
    return (say_where(sweet, system), say_across(sweet, system), say_blow(impact, sweet, system))


def blow_in_numbers(weighing: Weighing) -> str:
    """Say the reference blow to somebody who works with it, or that an older model had none."""
    impact = weighing.reference_impact
    if impact is None:
        return older_model()
    return _(
        "Told for a ball of %(ball)s at %(speed)s m/s and a bat that turns at %(swing)s rad/s about a point "
        "%(pivot)s from the toe; contact %(contact)s ms. A convention, so that bats can be compared."
    ) % {
        "ball": show_mass(impact.ball_mass_g),
        "speed": f"{impact.ball_speed_m_s:g}",
        "swing": f"{impact.swing_rad_s:.1f}",
        "pivot": show_length(impact.pivot_from_toe_mm),
        "contact": f"{impact.contact_ms:.1f}",
    }


def blow_words(weighing: Weighing, system: System = "metric") -> str:
    """Say the reference blow of a weighing, or that an older model had none."""
    sweet, impact = weighing.sweet_spot, weighing.reference_impact
    if sweet is None or impact is None:
        return older_model()
    return say_blow(impact, sweet, system)


def older_model() -> str:
    """Say why a forecast that was kept from an earlier model tells no sweet spot."""
    return _("older model: where it hits hardest was not computed then")


def has_moved(before: SweetSpot, now: SweetSpot) -> bool:
    """Whether the place that hits hardest moved by as much as it is told."""
    return abs(now.peak_from_toe_mm - before.peak_from_toe_mm) >= MOVED_MM


def say_blow(impact: ReferenceImpact, sweet: SweetSpot, system: System = "metric") -> str:
    """Say the reference blow in plain words: the ball, the swing, and that it is a convention."""
    swing = impact.swing_rad_s * (impact.pivot_from_toe_mm - sweet.peak_from_toe_mm) / 1000
    return _(
        "This is told for one blow: a ball of %(ball)s comes straight at %(speed)s, and the bat swings at it "
        "about the top of its handle, the sweet spot at %(swing)s. It is a convention, so that bats can be "
        "compared, and no stroke of yours: with a slower swing, or against a faster ball, the place lies up "
        "to a finger's width nearer to the handle."
    ) % {
        "ball": show_mass(impact.ball_mass_g) if system == "metric" else say_ounces(impact.ball_mass_g),
        "speed": say_speed(impact.ball_speed_m_s, system),
        "swing": say_speed(swing, system),
    }


def say_speed(speed_m_s: float, system: System = "metric") -> str:
    """Say a speed to 5 km/h or 5 mph."""
    unit = SPEED_UNITS[system]
    speed = speed_m_s * factor("meter / second", "kilometer / hour" if system == "metric" else "mile / hour")
    return f"{5 * round(speed / 5)} {unit}"


def say_ounces(mass_g: float) -> str:
    """Say a small mass in ounces to the tenth."""
    return _("%(ounces)s oz") % {"ounces": f"{mass_g / factor('ounce', 'gram'):.1f}".removesuffix(".0")}
