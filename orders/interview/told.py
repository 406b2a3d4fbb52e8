"""The draft page: the bat as it would be made, with the reason, price and certainty of every choice."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import partial
from typing import Any

from django.utils.translation import gettext as _

from fitting.answers import Boxes
from fitting.laws import edition_on, law_check
from fitting.questions import UNSURE, pages
from fitting.recommend.pickup import PRESENT_SD
from fitting.sheets.book import Book
from fitting.sheets.faults import read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.recommendation import Conflict, Reason, Recommendation
from fitting.units import System
from orders.commissions.book_in_force import book_in_force
from orders.commissions.shown import Difference, Figure, differences
from orders.interview.asked import answered_words, words_of
from orders.interview.drafts import is_complete, situation
from orders.interview.models import Fitting
from orders.interview.preview import figures_of, is_left_handed, recommended
from orders.words.choices import SUBJECTS, subject_of
from orders.words.drawing import drawing_for
from orders.words.effects import say_effect
from orders.words.forecast import say_lower_hand
from orders.words.lawful import Lawful, law_rows_worded, lawful_words
from orders.words.laws import level_words
from orders.words.measures import say_pickup, show_length, show_mass
from orders.words.pickup import picks_up_like, pickup_reference
from orders.words.questions import PAGES
from orders.words.reasons import (
    FAIRLY_SURE_FROM,
    SURE_FROM,
    WordedReason,
    say_caution,
    say_confidence,
    say_conflict,
    say_ways_out,
    word_reason,
)
from orders.words.sweet_spot import DRAWN_IN, say_ounces, where_words
from orders.words.units import system_of

PICKUP = "pickup_kg_m2"
# Between one dot and two; both are to be talked about.
A_LITTLE_FROM = 0.3
# The choices a player decides by; the others stand folded below them.
MAIN_CHOICES = frozenset(
    {
        "length_code",
        "mass_g",
        PICKUP,
        "sweet_spot.choice",
        "profile",
        "blade.bow_mm",
        "blade.face_crown_mm",
        "blade.stations.edge_mm",
        "blade.stations.0.spine_mm",
        "handle.construction",
        "handle.section_bottom",
        "handle.girth_mm",
        "grips",
        "willow.grade",
        "willow.density_kg_m3",
        "protection.toe_guard",
        "protection.face_film",
    }
)
# Of a child's bat only these are talked about: common practice, no source.
CHILDS_CHOICES = frozenset(
    {"length_code", "mass_g", PICKUP, "handle.girth_mm", "grips", "willow.grade", "protection.toe_guard"}
)


@dataclass(frozen=True)
class ToldChoice:
    """One choice in words, with one to four dots for how sure it is."""

    words: WordedReason
    value: str
    dots: int
    sure: str


@dataclass(frozen=True)
class ToldConflict:
    """Wishes or answers that pull apart, and the ways out."""

    words: str
    cost: tuple[str, ...]
    ways_out: tuple[str, ...]


@dataclass(frozen=True)
class Subject:
    """The choices of one subject: those to decide by, and the small ones."""

    title: str
    main: tuple[ToldChoice, ...]
    small: tuple[ToldChoice, ...]


@dataclass(frozen=True)
class ToldAnswer:
    """One answer as it was given; empty words where there is none."""

    ask: str
    words: str
    unsure: bool


@dataclass(frozen=True)
class ToldChapter:
    """The answers of one page, and where to change them."""

    title: str
    page: str
    answers: tuple[ToldAnswer, ...]


@dataclass(frozen=True)
class Told:
    """All of the draft page."""

    drawing: Mapping[str, Any]
    figures: tuple[Figure, ...]
    differences: tuple[Difference, ...]
    subjects: tuple[Subject, ...]
    conflicts: tuple[ToldConflict, ...]
    cautions: tuple[str, ...]
    where: tuple[str, ...]
    feel: str
    lawful: Lawful
    laws: tuple[Mapping[str, Any], ...]
    level_words: str
    edition: int
    answers: tuple[ToldChapter, ...]
    to_talk_about: tuple[str, ...]
    book: str
    model_version: str
    is_child: bool = field(default=False)


def told(fitting: Fitting) -> Told | None:
    """Return the draft page of a fitting; None while there is no bat to tell of."""
    book = book_in_force()
    found = recommended(fitting.sheet, book) if is_complete(fitting) else None
    if found is None:
        return None
    sheet = read_sheet(FittingSheet, fitting.sheet)
    edition = edition_on(sheet.play_from, book.laws_edition)
    rows = law_check(found.build, level=sheet.level, edition=edition, book=book)
    system = system_of(fitting.answers)
    is_child = situation(fitting).is_junior
    subjects = tuple(_subjects(found, book, CHILDS_CHOICES if is_child else MAIN_CHOICES))
    return Told(
        drawing=drawing_for(
            found.build,
            found.weighing,
            paper=True,
            left_handed=is_left_handed(fitting.sheet),
            units=DRAWN_IN[system],
        ),
        figures=tuple(figures_of(found, sheet, book, system)),
        differences=tuple(differences(sheet, found.build, found.weighing)),
        where=where_words(found.weighing, system),
        feel=say_lower_hand(found.weighing, sheet.present_bat),
        lawful=lawful_words(rows, sheet.level, system),
        subjects=subjects,
        conflicts=tuple(_conflict(one, found, book, system) for one in found.conflicts),
        cautions=tuple(say_caution(one.key) for one in found.cautions),
        laws=tuple(law_rows_worded(rows)),
        level_words=level_words(sheet.level, edition),
        edition=edition,
        answers=tuple(_answers(fitting)),
        to_talk_about=_to_talk_about(subjects),
        book=f"{found.book.version} · {found.book.hash}",
        model_version=found.model_version,
        is_child=is_child,
    )


def _subjects(found: Recommendation, book: Book, main: frozenset[str]) -> Iterator[Subject]:
    for key, title in SUBJECTS.items():
        reasons = [reason for reason in found.reasons if subject_of(reason.field) == key]
        if reasons:
            yield Subject(
                str(title),
                tuple(_choice(reason, found, book) for reason in reasons if reason.field in main),
                tuple(_choice(reason, found, book) for reason in reasons if reason.field not in main),
            )


def _choice(reason: Reason, found: Recommendation, book: Book) -> ToldChoice:
    dots, sure = how_sure(reason.confidence)
    words = word_reason(reason)
    value = words.value
    if reason.field == PICKUP:
        value = picks_up_like(found.build, found.weighing, book)
    return ToldChoice(words=words, value=value, dots=dots, sure=sure)


def how_sure(confidence: float) -> tuple[int, str]:
    """Return one to four dots and the words: a number between 0 and 1 says nothing to anybody."""
    dots = 1 + sum(confidence >= step for step in (A_LITTLE_FROM, FAIRLY_SURE_FROM, SURE_FROM))
    return dots, say_confidence(confidence)


def _to_talk_about(subjects: tuple[Subject, ...]) -> tuple[str, ...]:
    """List the choices that rest on little, five at most, for the talk with the maker."""
    weak = [choice.words.name for subject in subjects for choice in subject.main if choice.dots == 1]
    return tuple(weak[:5])


def _conflict(conflict: Conflict, found: Recommendation, book: Book, system: System) -> ToldConflict:
    cost = say_effect(
        conflict.cost,
        pickup_kg_m2=found.weighing.inertia_kg_m2.pickup,
        mass=show_mass if system == "metric" else say_ounces,
        length=partial(show_length, system=system),
    )
    return ToldConflict(_conflict_words(conflict, found, book), cost, say_ways_out(conflict))


def _conflict_words(conflict: Conflict, found: Recommendation, book: Book) -> str:
    """Say a conflict; what a pickup is in figures is told as the mass of a bat that lifts so."""
    if conflict.key != "pickup.present":
        return say_conflict(conflict)
    reference = pickup_reference(found.build.length_code, book)
    return _(
        "By its measures the bat you use picks up %(yours)s; "
        "at this mass and length the new one picks up %(new)s."
    ) % {
        "yours": say_pickup(float(conflict.given_up), reference, conflict.cost.get(PRESENT_SD)),
        "new": say_pickup(float(conflict.kept), reference),
    }


def _answers(fitting: Fitting) -> Iterator[ToldChapter]:
    """Yield every question that was asked, page by page, with its answer."""
    answers: Mapping[str, Boxes] = fitting.answers
    from_page: dict[str, list[ToldAnswer]] = {}
    titles: dict[str, str] = {}
    for page in pages(situation(fitting)):
        titles[page.key] = str(PAGES[page.key])
        from_page[page.key] = [
            ToldAnswer(
                str(words_of(question, answers).ask),
                answered_words(question, answers.get(question.key, {}), answers),
                answers.get(question.key, {}).get("") == UNSURE,
            )
            for question in page.questions
        ]
    for key, rows in from_page.items():
        yield ToldChapter(titles[key], key, tuple(rows))
