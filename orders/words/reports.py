"""Reports in plain text for whoever works with the commands, and sentences added to their JSON."""

from collections.abc import Iterator
from typing import Any

from django.utils.translation import gettext as _

from fitting.laws import LawRow
from fitting.sheets.book import Edition
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.recommendation import Recommendation
from fitting.sheets.values import Level
from fitting.sheets.weighing import Weighing
from orders.words.effects import say_effect
from orders.words.laws import by_body_words, law_what, level_words
from orders.words.measures import show_length, show_mass
from orders.words.questions import WORDS
from orders.words.reasons import (
    say_caution,
    say_conflict,
    say_ways_out,
    word_reason,
)
from orders.words.sweet_spot import blow_in_numbers, say_peak, say_reach
from orders.words.values import say_value


def with_words(found: Recommendation) -> dict[str, Any]:
    """Return a recommendation as JSON content with a ``words`` beside every reason, conflict and caution."""
    content = found.model_dump(mode="json")
    for row, reason in zip(content["reasons"], found.reasons, strict=True):
        worded = word_reason(reason)
        row["words"] = {
            "field": worded.name,
            "value": worded.value,
            "because": list(worded.because),
            "answers": list(worded.answers),
            "trade_off": worded.trade_off,
            "alternatives": list(worded.alternatives),
            "confidence": worded.sure,
        }
    for row, conflict in zip(content["conflicts"], found.conflicts, strict=True):
        row["words"] = {"conflict": say_conflict(conflict), "ways_out": list(say_ways_out(conflict))}
    for row, caution in zip(content["cautions"], found.cautions, strict=True):
        row["words"] = say_caution(caution.key)
    return content


def report_recommendation(found: Recommendation) -> str:
    """Report a recommendation: the bat in one line, its forecast, conflicts, reasons, cautions."""
    build, weighing = found.build, found.weighing
    lines = [
        _("%(length)s, %(profile)s, %(mass)s")
        % {
            "length": say_value("length_code", build.length_code),
            "profile": say_value("profile", build.profile),
            "mass": show_mass(build.mass_g.target),
        },
        "",
        *_forecast(weighing),
    ]
    if found.conflicts:
        lines += ["", _("What does not go together")]
        for conflict in found.conflicts:
            lines.append(f"- {say_conflict(conflict)}")
            cost = ", ".join(say_effect(conflict.cost, pickup_kg_m2=weighing.inertia_kg_m2.pickup))
            lines += [_("  in numbers: %(cost)s") % {"cost": cost}] if cost else []
            ways = "; ".join(say_ways_out(conflict))
            lines += [_("  ways out: %(ways)s") % {"ways": ways}] if ways else []
    lines += ["", _("Why")]
    for reason in found.reasons:
        worded = word_reason(reason)
        lines.append(f"- {worded.name}: {worded.value} ({worded.sure})")
        lines += [f"    {sentence}" for sentence in worded.because]
        if worded.answers:
            lines.append(_("    from: %(answers)s") % {"answers": ", ".join(worded.answers)})
        if worded.trade_off:
            lines.append(_("    the price: %(price)s") % {"price": worded.trade_off})
        if worded.alternatives:
            lines.append(_("    else: %(others)s") % {"others": "; ".join(worded.alternatives)})
    lines += ["", _("Cautions"), *(f"- {say_caution(caution.key)}" for caution in found.cautions)]
    stamp = {"version": found.book.version, "hash": found.book.hash, "model": found.model_version}
    lines += ["", _("book %(version)s (%(hash)s), model %(model)s") % stamp]
    return "\n".join(lines)


def report_weighing(weighing: Weighing, build: BuildSheet) -> str:
    """Report a weighing: mass by parts, balance, inertia, and whether the sheet's targets are met."""
    lines = [*_forecast(weighing), "", _("Parts")]
    for part in weighing.parts:
        row = {
            "name": part.name.replace("_", " "),
            "mass": f"{part.mass_g:.1f} g",
            "centre": f"{part.centre_from_toe_mm:.1f} mm",
        }
        lines.append(_("  %(name)-12s %(mass)10s   centre %(centre)10s from the toe") % row)
    missed = weighing.mass_g - build.mass_g.target
    met = abs(missed) <= build.mass_g.tolerance
    target = {
        "target": show_mass(build.mass_g.target),
        "tolerance": show_mass(build.mass_g.tolerance),
        "missed": f"{missed:+.1f} g",
    }
    lines += [
        "",
        (
            _("mass asked for: %(target)s ± %(tolerance)s, met (%(missed)s)")
            if met
            else _("mass asked for: %(target)s ± %(tolerance)s, missed by %(missed)s")
        )
        % target,
    ]
    return "\n".join(lines)


def report_laws(rows: tuple[LawRow, ...], level: Level, edition: Edition, types: tuple[str, ...]) -> str:
    """Report a law check, one line a clause, then which types the bat fits and what the level rests on."""
    lines = [
        _("Laws of Cricket, edition in force from %(year)s, level: %(level)s")
        % {"year": edition, "level": WORDS["level"].choices[level][0]}
    ]
    for row in rows:
        unit = "%" if row.unit == "percent" else "mm"
        content = row.model_dump(mode="json")
        lines.append(
            f"  {row.clause:<5}  {law_what(content):<34} {row.value:8.2f} {unit:<2}  "
            + _("limit %(limit)s, margin %(margin)s: %(verdict)s")
            % {"limit": row.limit_as_printed, "margin": f"{row.margin:.2f}", "verdict": _verdict(row)}
        )
    fits = ", ".join(types) if types else _("none: it is not a lawful bat")
    lines.append(_("types that it fits by its handle: %(types)s") % {"types": fits})
    lines.append(level_words(level, edition))
    return "\n".join(lines)


def _verdict(row: LawRow) -> str:
    if row.exempt:
        return _("free of this rule")
    verdict = by_body_words(row.model_dump(mode="json")) or (_("inside") if row.passes else _("TOO LARGE"))
    if row.what in ("blade_depth", "edge", "gauge") and row.station_from_toe_mm is not None:
        place = f"{row.station_from_toe_mm:.0f}"
        return _("%(verdict)s, at %(place)s mm from the toe") % {"verdict": verdict, "place": place}
    return verdict


def _forecast(weighing: Weighing) -> list[str]:
    """Say a weighing line by line; what an older model did not compute has no line."""
    inertia = weighing.inertia_kg_m2
    return [
        _("mass        %(mass)s ± %(spread)s (%(imperial)s), willow of %(density)s kg/m³ at %(moisture)s %%")
        % {
            "mass": show_mass(weighing.mass_g),
            "spread": show_mass(weighing.mass_sd_g),
            "imperial": show_mass(weighing.mass_g, "imperial"),
            "density": f"{weighing.density_kg_m3:.0f}",
            "moisture": f"{weighing.moisture_percent:g}",
        },
        _("overall     %(overall)s") % {"overall": show_length(weighing.overall_length_mm)},
        _("balance     %(balance)s from the toe")
        % {"balance": _with_spread(f"{weighing.balance_from_toe_mm:.1f}", weighing.balance_sd_mm, 1, "mm")},
        _("swell       %(swell)s from the toe")
        % {"swell": show_length(weighing.swell_from_toe_mm, decimals=1)},
        _("pickup      %(pickup)s, about the balance %(balance)s, about the long axis %(long)s")
        % {
            "pickup": _with_spread(f"{inertia.pickup:.4f}", weighing.pickup_sd_kg_m2, 4, "kg m²"),
            "balance": f"{inertia.about_balance:.4f}",
            "long": f"{inertia.about_long_axis:.5f}",
        },
        *_in_the_lower_hand(weighing),
        *_where_it_hits(weighing),
        *_how_it_bends(weighing),
        _("percussion  centre %(place)s from the toe")
        % {"place": show_length(weighing.centre_of_percussion_from_toe_mm)},
    ]


def _with_spread(number: str, spread: float | None, decimals: int, unit: str) -> str:
    return f"{number} {unit}" if spread is None else f"{number} ± {spread:.{decimals}f} {unit}"


def _in_the_lower_hand(weighing: Weighing) -> Iterator[str]:
    hand = weighing.lower_hand
    if hand is not None:
        yield _(
            "lower hand  %(moment)s kg m held level, %(inertia)s kg m² about it, %(place)s from the toe"
        ) % {
            "moment": f"{hand.static_moment_kg_m:.3f}",
            "inertia": f"{hand.inertia_kg_m2:.4f}",
            "place": show_length(hand.axis_from_toe_mm),
        }


def _where_it_hits(weighing: Weighing) -> Iterator[str]:
    sweet = weighing.sweet_spot
    if sweet is None:
        return
    yield _("sweet spot  %(peak)s from the toe, %(reach)s, half width %(half)s") % {
        "peak": say_peak(sweet),
        "reach": say_reach(sweet),
        "half": show_length(sweet.half_width_mm),
    }
    yield f"            {blow_in_numbers(weighing)}"


def _how_it_bends(weighing: Weighing) -> Iterator[str]:
    """Say the frequencies of the bending modes and where the first stands still on the blade."""
    if weighing.modes:
        yield _("modes       %(modes)s Hz; the first stands still %(node)s from the toe") % {
            "modes": ", ".join(f"{mode.frequency_hz:.0f}" for mode in weighing.modes),
            "node": show_length(weighing.modes[0].nodes_from_toe_mm[0]),
        }
