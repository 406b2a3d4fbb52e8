"""What else would do, worked out: every alternative's effect by the model, and two other whole bats."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from fitting.bat.weigh import weigh
from fitting.recommend.answer import Answer, answer
from fitting.recommend.draft import Draft
from fitting.recommend.length import is_grown
from fitting.recommend.reasons import value_of
from fitting.recommend.recommend import told
from fitting.recommend.scores import Decision
from fitting.sheets.book import Book
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.fitting_sheet import FittingSheet, MassWish
from fitting.sheets.recommendation import Alternative, Reason, Recommendation, WholeBat
from fitting.sheets.values import Profile
from fitting.sheets.weighing import Weighing

# Field of the build sheet -> the choice behind it.
_OF_BLADE = {
    "profile": "profile",
    "sweet_spot.choice": "sweet_spot",
    "blade.bow_mm": "bow",
    "blade.face_crown_mm": "face",
    "blade.toe.scoop": "scoop",
    "blade.stations.edge_mm": "edges",
    "blade.stations.0.spine_mm": "toe",
}
_OF_HANDLE = {
    "handle.construction": "construction",
    "handle.section_top": "section",
    "handle.section_bottom": "section",
}
_OF_DRESS = {
    "protection.toe_guard": "toe_guard",
    "protection.face_film": "face_film",
    "protection.edge_tape": "edge_tape",
}
QUICKER_G, FULLER_G = 40.0, 30.0
"""How much lighter and heavier the other whole bats are aimed; from memory of the trade."""
_LEAST_APART_G = 8.0


def with_effects(sheet: FittingSheet, book: Book = DEFAULT_BOOK) -> Recommendation:
    """Recommend a bat, with what every alternative would change and the other whole bats.

    An effect is told at the same fullness and the same willow, for whoever weighs one choice against another:
    mass (g), pickup (kg m2), balance, peak and reach of the sweet spot (mm), more than the recommended bat.
    A length's effect is that of the bat that would be recommended in it.
    """
    found = answer(sheet, book)
    recommended = told(found)
    effects = _Effects(found, book)
    reasons = tuple(effects.of(reason) for reason in recommended.reasons)
    return recommended.model_copy(update={"reasons": reasons, "others": other_bats(found, book)})


def whole_bats(sheet: FittingSheet, book: Book = DEFAULT_BOOK) -> tuple[WholeBat, ...]:
    """The recommended bat with the other whole bats, for a player to choose between."""
    found = answer(sheet, book)
    made = WholeBat(key="recommended", build=found.build, weighing=found.solved.weighing)
    return (made, *other_bats(found, book))


def other_bats(found: Answer, book: Book) -> tuple[WholeBat, ...]:
    """Two other whole bats for the same player; none for a child, or where they would be the same bat."""
    if not is_grown(found.sheet):
        return ()
    quicker = _whole("quicker", found, book, "scalloped", -QUICKER_G)
    fuller = _whole("fuller", found, book, "full", FULLER_G)
    return tuple(bat for bat in (quicker, fuller) if bat is not None)


def _whole(key: str, found: Answer, book: Book, profile: Profile, more_g: float) -> WholeBat | None:
    mass = found.solved.weighing.mass_g
    tolerance = found.draft.mass.tolerance_g
    aim = MassWish(
        min=min(max(mass + more_g - tolerance, 450.0), 1600.0), max=min(mass + more_g + tolerance, 1600.0)
    )
    sheet = found.sheet
    # What was felt of the bat in use decided the recommended one; the other two are told from that, and not
    # drawn back: without its balance nothing is known of its pickup.
    present = sheet.present_bat.model_copy(update={"pickup": None, "balance_from_toe_mm": None})
    wishes = sheet.wishes.model_copy(update={"profile": profile, "mass_g": aim})
    asked = sheet.model_copy(update={"wishes": wishes, "present_bat": present})
    other = answer(asked, book)
    apart = other.solved.weighing.mass_g - mass
    if apart * more_g < 0 or abs(apart) < _LEAST_APART_G:
        return None
    return WholeBat.model_validate({"key": key, "build": other.build, "weighing": other.solved.weighing})


@dataclass(frozen=True)
class _Effects:
    """Effects of the alternatives of one answer."""

    found: Answer
    book: Book

    def of(self, reason: Reason) -> Reason:
        """The reason with its alternatives' effects filled in."""
        if not reason.alternatives:
            return reason
        return reason.model_copy(update={"alternatives": self._alternatives(reason)})

    def _alternatives(self, reason: Reason) -> tuple[Alternative, ...]:
        draft, field = self.found.draft, reason.field
        if field in _OF_BLADE:
            name = _OF_BLADE[field]
            return self._by_option(
                reason, getattr(draft.blade, name), lambda option: draft.deciding(name, option)
            )
        if field in _OF_HANDLE:
            name = _OF_HANDLE[field]
            return self._by_option(
                reason, getattr(draft.handle, name), lambda option: draft.deciding(name, option)
            )
        if field in _OF_DRESS:
            name = _OF_DRESS[field]
            return self._by_option(
                reason, getattr(draft.dress, name), lambda option: draft.dressing(name, option)
            )
        worked = {"length_code": self._length, "mass_g": self._mass, "handle.girth_mm": self._girth}.get(
            field
        )
        return reason.alternatives if worked is None else tuple(worked(one) for one in reason.alternatives)

    def _by_option(
        self, reason: Reason, decision: Decision, other: Callable[[str], Draft]
    ) -> tuple[Alternative, ...]:
        """The effect of each is that of the option which gives the field its value, the likeliest one."""
        found = self.found
        options = {
            value_of(reason.field, option, found.draft, found.solved): option
            for option in reversed(decision.others)
        }
        return tuple(
            one.model_copy(update={"effect": self._effect(other(options[one.value]))})
            for one in reason.alternatives
        )

    def _effect(self, other: Draft) -> dict[str, float]:
        solved = self.found.solved
        build = other.build(other.shapes(), solved.fullness, solved.density_kg_m3, tilt_mm=solved.tilt_mm)
        return _more(weigh(build, book=self.book), solved.weighing)

    def _length(self, one: Alternative) -> Alternative:
        sheet = self.found.sheet
        wishes = sheet.wishes.model_copy(update={"length_code": one.value})
        other = answer(sheet.model_copy(update={"wishes": wishes}), self.book)
        return one.model_copy(update={"effect": _more(other.solved.weighing, self.found.solved.weighing)})

    def _mass(self, one: Alternative) -> Alternative:
        """Another mass in the same shape: by the willow alone."""
        made = self.found.solved.weighing
        blade = next(part.mass_g for part in made.parts if part.name == "blade")
        share = 1 + (float(str(one.value)) - made.mass_g) / blade
        other = weigh(self.found.build, book=self.book, density_kg_m3=made.density_kg_m3 * share)
        return one.model_copy(update={"effect": _more(other, made)})

    def _girth(self, one: Alternative) -> Alternative:
        draft = self.found.draft
        handle = replace(draft.handle, girth_mm=float(str(one.value)))
        return one.model_copy(update={"effect": self._effect(replace(draft, handle=handle))})


def _more(other: Weighing, made: Weighing) -> dict[str, float]:
    """What another bat has more than the one that was made."""
    more = {
        "mass_g": round(other.mass_g - made.mass_g, 1),
        "pickup_kg_m2": round(other.inertia_kg_m2.pickup - made.inertia_kg_m2.pickup, 4),
        "balance_from_toe_mm": round(other.balance_from_toe_mm - made.balance_from_toe_mm, 1),
    }
    theirs, ours = other.sweet_spot, made.sweet_spot
    if theirs is not None and ours is not None:
        more["peak_from_toe_mm"] = round(theirs.peak_from_toe_mm - ours.peak_from_toe_mm, 1)
        more["reach_mm"] = round((theirs.to_mm - theirs.from_mm) - (ours.to_mm - ours.from_mm), 1)
    return more
