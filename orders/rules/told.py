"""The rules of the book laid out for reading: each option, what speaks for it, the fact behind it."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache

from django.utils.translation import gettext as _

from fitting.facts import FACTS, fact
from fitting.sheets.book import Book
from fitting.sheets.book_rules import Sign
from fitting.sheets.values import JUNIOR_CODES
from orders.words.book import say_book_field
from orders.words.facts import FACT_WORDS
from orders.words.fields import VALUES
from orders.words.measures import show_body, show_length, show_mass
from orders.words.signs import KINDS, say_option, say_sign, say_strength, say_subject

# A bar is drawn this long, in the drawing's own units, for so many points; more is no longer.
BAR, POINTS_OF_A_WHOLE_BAR = 60, 4.0
# Options that are no words of the build sheet.
_UNWORDED = ("1", "2", "3", "4", "own", "next")

# The wish that outranks the signs of a subject.
WISHES: dict[str, str] = {
    "length": "wishes.length_code",
    "sweet_spot": "wishes.sweet_spot",
    "profile": "wishes.profile",
    "edges": "wishes.edges",
    "bow": "wishes.bow",
    "face": "wishes.face",
    "toe": "wishes.toe",
    "construction": "wishes.feel",
    "section": "wishes.handle_section",
    "grade": "wishes.looks_grade",
}


@dataclass(frozen=True)
class Spoken:
    """One sign: when it speaks, how strongly in words and as a bar, its points, its fact's number."""

    when: str
    strength: str
    points: float
    bar: int
    fact: int

    @property
    def points_said(self) -> str:
        """The points as the maker reads them."""
        return f"{self.points:g}"

    @property
    def is_against(self) -> bool:
        """Whether it speaks against its option."""
        return self.points < 0


@dataclass(frozen=True)
class FactTold:
    """A fact: its number on the page, its sentence, and what kind of knowledge it is."""

    number: int
    words: str
    kind: str


@dataclass(frozen=True)
class OptionTold:
    """One option with everything that speaks for or against it."""

    key: str
    name: str
    signs: tuple[Spoken, ...]


@dataclass(frozen=True)
class SubjectTold:
    """One subject of the rule book."""

    key: str
    name: str
    options: tuple[OptionTold, ...]
    facts: tuple[FactTold, ...]


@dataclass(frozen=True)
class Size:
    """One junior size: its name, up to which height, and what is usual in it."""

    name: str
    up_to: str
    overall: str
    mass: str


def subjects_in(book: Book) -> tuple[str, ...]:
    """Return the subjects that the book has signs for, in its order."""
    return tuple(dict.fromkeys(sign.subject for sign in book.rules.signs))


def subject_told(subject: str, book: Book) -> SubjectTold:
    """Lay out one subject."""
    signs = [sign for sign in book.rules.signs if sign.subject == subject]
    numbers = {key: number for number, key in enumerate(dict.fromkeys(sign.fact for sign in signs), start=1)}
    return SubjectTold(
        key=subject,
        name=say_subject(subject),
        options=tuple(
            OptionTold(option, say_option(subject, option), tuple(_spoken(signs, option, numbers)))
            for option in _options_told(subject, signs)
        ),
        facts=tuple(
            FactTold(number, str(FACT_WORDS.get(key, key)), say_kind(key)) for key, number in numbers.items()
        ),
    )


@cache
def options_of(subject: str) -> tuple[str, ...]:
    """Return the options that a subject has, as the book itself takes them."""
    return tuple(option for option in (*VALUES, *_UNWORDED) if _is_option(subject, option))


def _is_option(subject: str, option: str) -> bool:
    try:
        Sign.model_validate({"subject": subject, "option": option, "points": 0, "fact": next(iter(FACTS))})
    except ValueError:
        return False
    return True


def _options_told(subject: str, signs: Iterable[Sign]) -> tuple[str, ...]:
    """Return the options that something speaks for, then those that only a wish leads to.

    Junior lengths go by their table, not by signs.
    """
    spoken = dict.fromkeys(sign.option for sign in signs)
    wished = [one for one in options_of(subject) if one not in JUNIOR_CODES] if subject in WISHES else []
    return (*spoken, *(option for option in wished if option not in spoken))


def say_kind(key: str) -> str:
    """Say what kind of knowledge a fact is, with its source where it is published."""
    found = fact(key)
    if found.kind == "research":
        return _("published: %(source)s") % {"source": found.source}
    return str(KINDS[found.kind])


def bar_of(points: float) -> int:
    """Return how long the bar of these points is drawn."""
    return round(min(abs(points) / POINTS_OF_A_WHOLE_BAR, 1.0) * BAR)


def junior_sizes(book: Book) -> tuple[Size, ...]:
    """Return the table of junior sizes."""
    return tuple(
        Size(
            name=str(VALUES[code]),
            up_to=_("%(metric)s (%(imperial)s)")
            % {"metric": show_body(bound), "imperial": show_body(bound, "imperial")},
            overall=show_length(book.length(code).overall_mm),
            mass=_("%(least)s to %(most)s")
            % {
                "least": show_mass(book.length(code).mass_low_g),
                "most": show_mass(book.length(code).mass_high_g),
            },
        )
        for code, bound in zip(JUNIOR_CODES, book.rules.junior_upper_bounds_mm, strict=True)
    )


def wish_numbers(book: Book) -> Iterator[tuple[str, str]]:
    """Yield what each word of a wish is in numbers: name and value."""
    for name, value in book.wish_numbers.model_dump().items():
        words = say_book_field(f"wish_numbers.{name}")
        if isinstance(value, tuple):
            ends = [show_length(end, decimals=1) for end in value]
            yield words, _("%(least)s to %(most)s") % {"least": ends[0], "most": ends[1]}
        else:
            yield words, show_length(value, decimals=1) if name.endswith("_mm") else f"{value:g}"


def mass_rule(book: Book) -> tuple[str, ...]:
    """Say how the mass is aimed at, with the book's numbers."""
    rules, row = book.rules, book.length("short_handle")
    numbers = {
        "low": show_mass(row.mass_low_g),
        "high": show_mass(row.mass_high_g),
        "light": show_mass(row.mass_low_g + rules.mass_light_share * (row.mass_high_g - row.mass_low_g)),
        "usual": show_mass(row.mass_low_g + rules.mass_usual_share * (row.mass_high_g - row.mass_low_g)),
        "step": show_mass(rules.mass_step_g),
        "tolerance": show_mass(rules.mass_tolerance_g),
        "slack": f"{100 * book.trade_limits_adult.mass_slack_share:g}",
    }
    return tuple(
        words % numbers
        for words in (
            _(
                "Every length has its usual mass; a short handle, for one, weighs %(low)s to %(high)s. With "
                "nothing said it is made %(usual)s, for the young, the light and sore joints %(light)s. "
                "Nobody gets more wood for being strong."
            ),
            _(
                "The bat you use says more: it is where the mass starts from. Too heavy takes %(step)s off, "
                "too light puts as much on."
            ),
            _(
                "A wish is followed as far as the trade makes such bats: %(slack)s %% beyond the usual mass. "
                "A child's bat never goes above the usual mass of its size, whatever is wished."
            ),
            _("It is made to %(tolerance)s more or less."),
        )
    )


def bat_in_use_rule(book: Book) -> str:
    """Say how much the bat in use counts when it is liked."""
    rules = book.rules
    return _(
        "A bat that you like is where yours begins: for the grown its length counts %(points)s points, more "
        "than most answers together, and mass and handle start from it. A pickup that felt right is kept "
        "within %(right)s %%; one too heavy or too light moves by %(step)s %% or more."
    ) % {
        "points": f"{rules.prior_points:g}",
        "right": f"{100 * rules.pickup_right_share:g}",
        "step": f"{100 * rules.pickup_step_share:g}",
    }


def how_sure_rule(book: Book) -> str:
    """Say what makes a choice sure."""
    return _(
        "A choice is the surer the more of the answers that could still change it are given, and the further "
        "it is ahead of the next: %(points)s points ahead is as sure as answers can make it."
    ) % {"points": f"{book.rules.points_of_a_whole_lead:g}"}


def handle_rule(book: Book) -> str:
    """Say how thick the handle is made for a hand."""
    return _(
        "Over the grip the handle is %(share)s %% of your hand's length thick, wrist to tip of the middle "
        "finger: Kong and Lowe (2005) found that people grip hardest so, on bare cylinders and as adults. "
        "It is a start, not a claim about batting. The girth of the bat you use outranks it."
    ) % {"share": f"{100 * book.rules.hand_to_diameter:g}"}


def laws_rule(book: Book) -> str:
    """Say how far inside the Laws the book stays."""
    return _(
        "Every bat stays %(margin)s mm inside every size of Law 5.7 (edition of %(edition)s), and passes the "
        "gauge with as much to spare: willow swells a little in the damp."
    ) % {"margin": f"{book.law_margin_mm:g}", "edition": book.laws_edition}


def _spoken(signs: Iterable[Sign], option: str, numbers: dict[str, int]) -> Iterator[Spoken]:
    for sign in signs:
        if sign.option == option:
            yield Spoken(
                when=say_sign(sign),
                strength=say_strength(sign.points),
                points=sign.points,
                bar=bar_of(sign.points),
                fact=numbers[sign.fact],
            )
