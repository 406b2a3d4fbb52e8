"""The last fittings run through two editions of the book: what the new one would change."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from time import monotonic

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from fitting.recommend import recommend
from fitting.sheets.book import Book
from fitting.sheets.faults import SheetRefused, read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.recommendation import Reason, Recommendation
from orders.commissions.models import Commission
from orders.interview.preview import recommended
from orders.words.pickup import PLAIN_CHILD, PLAIN_PLAYER
from orders.words.reasons import say_caution, say_conflict
from orders.words.values import say_field, say_value

MOST_FITTINGS = 50
SECONDS = 12.0
# What is less than this is neither felt nor measured: g, kg m2, mm.
LEAST_G, LEAST_KG_M2, LEAST_MM = 0.5, 0.0001, 0.5
# What a book can break in the arithmetic; whatever else goes wrong is a fault of the program.
BROKEN = (ValueError, ArithmeticError, LookupError, RuntimeError, StopIteration)

# Fields of the build sheet that are numbers but stand for a choice.
_CHOSEN_NUMBERS = frozenset(
    {
        "blade.bow_mm",
        "blade.face_crown_mm",
        "blade.length_mm",
        "blade.width_mm",
        "blade.toe.scoop",
        "handle.length_mm",
        "handle.girth_mm",
        "handle.other_material",
        "finish.knocked_in_minutes",
    }
)
# Told among the quantities.
_TOLD_ELSEWHERE = frozenset({"mass_g", "pickup_kg_m2", "sweet_spot.peak_from_toe_mm"})


# Told of every fitting in this order.
MASS = gettext_lazy("mass")
PICKUP = gettext_lazy("pickup")
PEAK = gettext_lazy("hits hardest")
SPREAD = gettext_lazy("give and take of the mass")


@dataclass(frozen=True)
class Moved:
    """One choice or measure: what, from, to."""

    what: str
    before: str
    after: str


@dataclass(frozen=True)
class Quantity:
    """Mass, pickup, peak: by how much, in its unit; nothing where it is the same."""

    what: str
    change: float
    words: str


@dataclass(frozen=True)
class Row:
    """One fitting whose recommendation changes; ``fails`` where the new book makes no bat of it."""

    code: str
    reference: str
    first_name: str
    choices: tuple[Moved, ...] = ()
    measures: tuple[Moved, ...] = ()
    quantities: tuple[Quantity, ...] = ()
    said: tuple[str, ...] = ()
    fails: bool = False


@dataclass(frozen=True)
class Tried:
    """What came of it: how many there were and were run, the fittings that change, the greatest changes."""

    there: int
    run: int
    rows: tuple[Row, ...]
    greatest: tuple[tuple[Quantity, str], ...]
    choices: tuple[tuple[str, int], ...]

    @property
    def unchanged(self) -> int:
        """How many fittings come to the same bat."""
        return self.run - len(self.rows)

    @property
    def fails(self) -> tuple[str, ...]:
        """Fittings of which the new book makes no bat."""
        return tuple(row.reference for row in self.rows if row.fails)


def run(old: Book, new: Book, *, clock: Callable[[], float] = monotonic) -> Tried:
    """Run the last fittings through both books, newest first, until the time is over."""
    kept = list(Commission.objects.select_related("player").order_by("-number")[:MOST_FITTINGS])
    ends = clock() + SECONDS
    rows: list[Row] = []
    count = 0
    for commission in kept:
        if clock() >= ends:
            break
        count += 1
        row = _compared(commission, old, new)
        if row is not None:
            rows.append(row)
    return Tried(len(kept), count, tuple(rows), tuple(_greatest(rows)), _counted(rows))


def makes_no_bat(book: Book) -> tuple[str, ...]:
    """Return which plain players the book makes no bat for; a book that does cannot be in force."""
    found = []
    for player, words in ((PLAIN_PLAYER, _("a grown player")), (PLAIN_CHILD, _("a child"))):
        try:
            recommend(read_sheet(FittingSheet, {"sheet": 1, "player": player}), book)
        except BROKEN:
            found.append(words)
    return tuple(found)


def differing(before: Recommendation, after: Recommendation) -> dict[str, tuple[Moved, ...]]:
    """Return the choices and the smaller measures in which two recommendations differ."""
    earlier = {reason.field: reason for reason in before.reasons}
    moved = [
        (reason, Moved(say_field(reason.field), *_values(earlier.get(reason.field), reason)))
        for reason in after.reasons
        if reason.field not in _TOLD_ELSEWHERE
        and (reason.field not in earlier or earlier[reason.field].value != reason.value)
    ]
    return {
        "choices": tuple(one for reason, one in moved if _is_choice(reason, earlier.get(reason.field))),
        "measures": tuple(one for reason, one in moved if not _is_choice(reason, earlier.get(reason.field))),
    }


def quantities(before: Recommendation, after: Recommendation) -> Iterator[Quantity]:
    """Yield mass, pickup, peak and the mass's give and take where they differ."""
    old, new = before.weighing, after.weighing
    mass = new.mass_g - old.mass_g
    if abs(mass) >= LEAST_G:
        yield Quantity(str(MASS), mass, _("%(change)s g") % {"change": _signed(mass, 0)})
    pickup = new.inertia_kg_m2.pickup - old.inertia_kg_m2.pickup
    if abs(pickup) >= LEAST_KG_M2:
        yield Quantity(
            str(PICKUP),
            pickup,
            _("%(change)s kg m² (%(share)s %%)")
            % {
                "change": _signed(pickup, 4),
                "share": _signed(100 * pickup / old.inertia_kg_m2.pickup, 1),
            },
        )
    if old.sweet_spot and new.sweet_spot:
        peak = new.sweet_spot.peak_from_toe_mm - old.sweet_spot.peak_from_toe_mm
        if abs(peak) >= LEAST_MM:
            yield Quantity(str(PEAK), peak, _("%(change)s mm") % {"change": _signed(peak, 0)})
    spread = new.mass_sd_g - old.mass_sd_g
    if abs(spread) >= LEAST_G:
        yield Quantity(str(SPREAD), spread, _("%(change)s g") % {"change": _signed(spread, 1)})


def _compared(commission: Commission, old: Book, new: Book) -> Row | None:
    first_name = commission.player.name.split()[0] if commission.player.name.split() else ""
    try:
        # The book in force has often answered this sheet before; the one that is tried never has.
        before = recommended(commission.sheet, old)
        sheet = read_sheet(FittingSheet, commission.sheet)
    except (SheetRefused, *BROKEN):
        # A sheet of an older program that the book in force cannot answer either says nothing of the new one.
        return None
    if before is None:
        return None
    try:
        after = recommend(sheet, new)
    except BROKEN:
        return Row(commission.code, commission.reference, first_name, fails=True)
    moved, numbers = differing(before, after), tuple(quantities(before, after))
    said = tuple(_newly_said(before, after))
    if not (any(moved.values()) or numbers or said):
        return None
    return Row(
        commission.code,
        commission.reference,
        first_name,
        choices=moved["choices"],
        measures=moved["measures"],
        quantities=numbers,
        said=said,
    )


def _newly_said(before: Recommendation, after: Recommendation) -> Iterator[str]:
    """Yield conflicts and cautions that only one of the two says; the same in other figures is no news."""
    old, new = (
        {(one.key, one.fields): say_conflict(one) for one in found.conflicts}
        | {(one.key, ()): say_caution(one.key) for one in found.cautions}
        for found in (before, after)
    )
    for key, words in new.items():
        if key not in old:
            yield _("New: %(words)s") % {"words": words}
    for key, words in old.items():
        if key not in new:
            yield _("No longer: %(words)s") % {"words": words}


def _values(earlier: Reason | None, reason: Reason) -> tuple[str, str]:
    before = say_value(reason.field, earlier.value) if earlier is not None else ""
    return before, say_value(reason.field, reason.value)


def _is_choice(reason: Reason, earlier: Reason | None) -> bool:
    """Tell whether a field is a choice in words, not a measure that the solve came to."""
    values = (reason.value, earlier.value if earlier is not None else None)
    return (
        reason.field in _CHOSEN_NUMBERS
        or reason.field.startswith("protection.")
        or not all(isinstance(value, float) for value in values)
    )


def _greatest(rows: Iterable[Row]) -> Iterator[tuple[Quantity, str]]:
    """Yield the greatest change of each quantity with the fitting it is of."""
    found: dict[str, tuple[Quantity, str]] = {}
    for row in rows:
        for quantity in row.quantities:
            best = found.get(quantity.what)
            if best is None or abs(quantity.change) > abs(best[0].change):
                found[quantity.what] = (quantity, row.reference)
    # In the order in which every fitting tells them, whichever changed first.
    yield from (found[what] for what in map(str, (MASS, PICKUP, PEAK, SPREAD)) if what in found)


def _counted(rows: Iterable[Row]) -> tuple[tuple[str, int], ...]:
    """Count the fittings in which each choice changes, the most first."""
    counts: dict[str, int] = {}
    for row in rows:
        for what in dict.fromkeys(moved.what for moved in row.choices):
            counts[what] = counts.get(what, 0) + 1
    return tuple(sorted(counts.items(), key=lambda item: (-item[1], item[0])))


def _signed(change: float, decimals: int) -> str:
    return f"{change:+.{decimals}f}".replace("-", "−")
