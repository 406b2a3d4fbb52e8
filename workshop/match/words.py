"""The answer of a matching in words."""

from collections.abc import Mapping
from datetime import date

from django.utils.translation import gettext, gettext_lazy, ngettext

from workshop.match.floor import Floor
from workshop.matching import Assigned, Other, Pair, Unmatched
from workshop.matching_costs import Wanted
from workshop.matching_marks import Way
from workshop.matching_short import Short
from workshop.rack.words import refusal as rack_refusal

PARTS = {
    "mass": gettext_lazy("mass off the target"),
    "peak": gettext_lazy("sweet spot off its place"),
    "shape": gettext_lazy("blade fuller or thinner than drawn"),
    "risk": gettext_lazy("its density may prove not to do"),
    "grade": gettext_lazy("finer than the bat asks for"),
    "money": gettext_lazy("its price"),
    "age": gettext_lazy("new on the rack"),
    "looks": gettext_lazy("marks on it"),
    "kept": gettext_lazy("another one is kept aside for this bat"),
}
FIGURES = {
    "density": gettext_lazy("density, pressed"),
    "mass": gettext_lazy("mass"),
    "peak": gettext_lazy("hits hardest"),
    "way": gettext_lazy("lies with"),
}
# What else can come between a maker and a cleft than the rack itself says.
REFUSALS = {
    "moved_on": gettext_lazy("Somebody else has just changed this bat. Look at it again, then decide."),
    "no_cleft": gettext_lazy("Choose a cleft; none was named, or there is none of that code."),
    "wrong_stage": gettext_lazy("This bat is past the choice of its cleft, or no longer made."),
    "proposal_closed": gettext_lazy("That proposal is no longer open."),
}
# Below this a part is not worth a word.
LEAST_TOLD = 0.5
PEAK_TOLD_MM = 2.0
AS_GOOD = 0.1


def refusal(key: str) -> str:
    """Say why a pair was not taken."""
    return str(REFUSALS[key]) if key in REFUSALS else rack_refusal(key)


def say_fails(counts: Mapping[str, int]) -> list[str]:
    """Say how many clefts fail by what, the most first."""
    return [
        _fail(fault, count) for fault, count in sorted(counts.items(), key=lambda item: -item[1]) if count
    ]


def _fail(fault: str, count: int) -> str:
    words = {
        "no_willow": ngettext(
            "%(n)d cleft: no willow at all can become it",
            "%(n)d clefts: no willow at all can become it",
            count,
        ),
        "kept": ngettext("%(n)d kept for another bat", "%(n)d kept for other bats", count),
        "for_smaller": ngettext(
            "%(n)d put aside for smaller bats", "%(n)d put aside for smaller bats", count
        ),
        "too_short": ngettext("%(n)d too short", "%(n)d too short", count),
        "too_narrow": ngettext("%(n)d too narrow", "%(n)d too narrow", count),
        "too_thin": ngettext("%(n)d not deep enough", "%(n)d not deep enough", count),
        "too_light": ngettext("%(n)d too light", "%(n)d too light", count),
        "too_dense": ngettext("%(n)d too dense", "%(n)d too dense", count),
        "grade": ngettext("%(n)d of too low a grade", "%(n)d of too low a grade", count),
        "run_out": ngettext("%(n)d with grain that runs out", "%(n)d with grain that runs out", count),
        "blemish": ngettext(
            "%(n)d with a fault in the splice or where the ball is hit",
            "%(n)d with faults in the splice or where the ball is hit",
            count,
        ),
        "refused": ngettext("%(n)d refused by you", "%(n)d refused by you", count),
    }
    return words[fault] % {"n": count}


def say_mass(pair: Pair, wanted: Wanted) -> str:
    """Say the mass, its spread and how far it is off."""
    values = {"mass": f"{pair.mass_g:,.0f}", "spread": f"{pair.mass_sd_g:.0f}"}
    off = round(pair.mass_g - wanted.target_g)
    if abs(off) < 1:
        return gettext("%(mass)s ± %(spread)s g, as wanted") % values
    values["off"] = str(abs(off))
    if off > 0:
        return gettext("%(mass)s ± %(spread)s g, %(off)s over") % values
    return gettext("%(mass)s ± %(spread)s g, %(off)s under") % values


def say_peak(pair: Pair, wanted: Wanted) -> str:
    """Say where it hits hardest, to 5 mm, and how far from where it should."""
    values = {"peak": str(5 * round(pair.peak_mm / 5)), "off": f"{abs(pair.peak_mm - wanted.peak_mm):.0f}"}
    off = pair.peak_mm - wanted.peak_mm
    if abs(off) < PEAK_TOLD_MM:
        return gettext("%(peak)s mm from the toe, as wanted") % values
    if off > 0:
        return gettext("%(peak)s mm from the toe, %(off)s higher") % values
    return gettext("%(peak)s mm from the toe, %(off)s lower") % values


def say_way(way: Way) -> str:
    """Say how the cleft lies in the bat."""
    values = {"end": str(way.toe_end), "side": way.face_side.upper()}
    if way.surplus_at == "toe":
        return gettext("toe at end %(end)s, side %(side)s to the face, surplus cut off at the toe") % values
    return gettext("toe at end %(end)s, side %(side)s to the face") % values


def say_parts(pair: Pair) -> list[str]:
    """Say what counts against the pair, the most first."""
    told = sorted(pair.parts.items(), key=lambda item: -item[1])
    return [
        gettext("%(what)s: %(points)s") % {"what": PARTS[part], "points": say_points(points)}
        for part, points in told
        if points >= LEAST_TOLD
    ]


def say_points(points: float) -> str:
    """Say points: whole, but one decimal below ten."""
    return f"{points:.0f}" if abs(points) >= 10 else f"{points:.1f}".removesuffix(".0")


def say_second(floor: Floor, one: Assigned) -> str:
    """Say what the next best is."""
    second = one.second
    if second is None:
        return gettext("no other cleft would do")
    told, free = say_other(floor, second), one.free
    if free is None or free is second:
        return told
    return "; ".join([told, say_other(floor, free)])


def say_other(floor: Floor, other: Other) -> str:
    """Say of another cleft what it costs more, and whose it is now."""
    values = {"cleft": floor.clefts[other.pair.cleft].label, "points": say_points(abs(other.more))}
    if abs(other.more) < AS_GOOD:
        worse = gettext("as good")
    elif other.more < 0:
        worse = gettext("better by %(points)s points") % values
    else:
        worse = gettext("worse by %(points)s points") % values
    values["how"] = worse
    if other.taken_by is None:
        return gettext("%(cleft)s: %(how)s, and free") % values
    values["bat"] = floor.bats[other.taken_by].label
    return gettext("%(cleft)s: %(how)s, but goes to %(bat)s") % values


def say_choice(floor: Floor, other: Other) -> str:
    """Say another cleft in a list to choose from."""
    cleft = floor.clefts[other.pair.cleft]
    values = {
        "other": say_other(floor, other),
        "grade": cleft.grade,
        "density": f"{other.pair.density_kg_m3:.0f}",
        "mass": f"{other.pair.mass_g:,.0f}",
    }
    return gettext("%(other)s (grade %(grade)s, %(density)s kg/m³, %(mass)s g)") % values


def say_none(floor: Floor, one: Unmatched) -> str:
    """Say in a sentence why a bat has no cleft."""
    if not floor.clefts:
        return gettext("No cleft on the rack is ready.")
    if floor.wanted[one.bat].table is None:
        return gettext("No willow at all can become this bat: its sheet asks for what no blade can be.")
    if not one.could:
        return ngettext(
            "The only cleft that is ready would not do.",
            "None of the %(n)s ready clefts would do.",
            len(floor.clefts),
        ) % {"n": len(floor.clefts)}
    takers = list(
        dict.fromkeys(floor.bats[other.taken_by].label for other in one.others if other.taken_by is not None)
    )
    if not takers:
        return gettext("What would do costs more than to wait for a better one.")
    return ngettext(
        "The only cleft that would do goes to a bat that needs it more: %(bats)s.",
        "The %(n)s clefts that would do go to bats that need them more: %(bats)s.",
        one.could,
    ) % {"n": one.could, "bats": ", ".join(takers)}


def say_due(due: date | None, today: date) -> str:
    """Say when a bat is due."""
    if due is None:
        return gettext("no day promised")
    days = (due - today).days
    if days < 0:
        return ngettext("%(n)s day late", "%(n)s days late", -days) % {"n": -days}
    weeks = days // 7
    if days < 15:
        return ngettext("due in %(n)s day", "due in %(n)s days", days) % {"n": days}
    return ngettext("due in %(n)s week", "due in %(n)s weeks", weeks) % {"n": weeks}


def say_short(short: Short) -> dict[str, str]:
    """Say what is to be bought, figure by figure."""
    light, heavy = short.mass_kg
    return {
        "count": ngettext("%(n)s cleft", "%(n)s clefts", short.count) % {"n": short.count},
        "grade": gettext("grade %(grade)s or finer") % {"grade": short.grade},
        "density": f"{short.raw_from_kg_m3:.0f}–{short.raw_to_kg_m3:.0f}",
        "size": f"{_up(short.length_mm)} × {_up(short.width_mm)} × {_up(short.depth_mm)}",
        "mass": f"{light:.2f}–{heavy:.2f}",
    }


def _up(size_mm: float) -> str:
    """A least size in whole mm: never rounded down."""
    return f"{-int(-size_mm // 1):d}"
