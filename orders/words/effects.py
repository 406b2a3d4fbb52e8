"""What a choice changes, in words: lighter or heavier, nearer the toe, longer in the middle."""

from collections.abc import Callable, Iterator, Mapping

from django.utils.translation import gettext as _

from orders.words.measures import show_length, show_mass

# Below these a change is not worth a word: g, mm, and per cent of a pickup.
LEAST_G, LEAST_MM, LEAST_PERCENT = 2.0, 2.0, 0.5


def say_effect(
    effect: Mapping[str, float],
    *,
    pickup_kg_m2: float,
    mass: Callable[[float], str] = show_mass,
    length: Callable[[float], str] = show_length,
) -> tuple[str, ...]:
    """Say every change that can be noticed.

    Args:
        effect: changes by quantity, as in a conflict's cost or an alternative's effect.
        pickup_kg_m2: of the recommended bat, so that a change of pickup is told as a share of it.
        mass: shows grams in the reader's unit.
        length: shows millimetres in the reader's unit.
    """
    return tuple(_phrases(effect, pickup_kg_m2, mass, length))


def _phrases(
    effect: Mapping[str, float],
    pickup: float,
    mass: Callable[[float], str],
    length: Callable[[float], str],
) -> Iterator[str]:
    grams = effect.get("mass_g", 0.0)
    if abs(grams) >= LEAST_G:
        yield (_("%(mass)s heavier") if grams > 0 else _("%(mass)s lighter")) % {"mass": mass(abs(grams))}
    share = 100 * effect.get("pickup_kg_m2", 0.0) / pickup
    if abs(share) >= LEAST_PERCENT:
        text = _("%(share).1f %% heavier to lift") if share > 0 else _("%(share).1f %% lighter to lift")
        yield text % {"share": abs(share)}
    for key, (more, less) in _LENGTHS.items():
        change = effect.get(key, 0.0)
        if abs(change) >= LEAST_MM:
            yield (more if change > 0 else less)() % {"by": length(abs(change))}
    speed = effect.get("exit_speed_percent", 0.0)
    if abs(speed) >= LEAST_PERCENT:
        text = _("%(share).1f %% more speed") if speed > 0 else _("%(share).1f %% less speed")
        yield text % {"share": abs(speed)}
    density = effect.get("density_kg_m3", 0.0)
    if density:
        text = _("willow %(by).0f kg/m³ denser") if density > 0 else _("willow %(by).0f kg/m³ lighter")
        yield text % {"by": abs(density)}


# Words for more and for less of each length, asked for when they are said, in the reader's language.
_LENGTHS: dict[str, tuple[Callable[[], str], Callable[[], str]]] = {
    "balance_from_toe_mm": (
        lambda: _("balances %(by)s nearer the hands"),
        lambda: _("balances %(by)s nearer the toe"),
    ),
    "peak_from_toe_mm": (
        lambda: _("hits hardest %(by)s higher up"),
        lambda: _("hits hardest %(by)s lower down"),
    ),
    "reach_mm": (lambda: _("a middle %(by)s longer"), lambda: _("a middle %(by)s shorter")),
    "edge_mm": (lambda: _("edges %(by)s thicker"), lambda: _("edges %(by)s thinner")),
    "girth_mm": (lambda: _("a handle %(by)s thicker round"), lambda: _("a handle %(by)s thinner round")),
    "overall_length_mm": (lambda: _("%(by)s longer"), lambda: _("%(by)s shorter")),
}
