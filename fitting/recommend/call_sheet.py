"""The maker's call sheet: what to ask on the phone, five lines at most, as keys and numbers."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Literal

from fitting.questions import QUESTIONS, Question, Situation, applies
from fitting.recommend.findings import CHOSEN, Findings, field_of, findings_of, with_marks
from fitting.recommend.length import choose_length, goes_by_junior_table, is_child, is_grown
from fitting.recommend.unlikely import unlikely
from fitting.sheets.book import Book
from fitting.sheets.book_rules import Sign, Subject
from fitting.sheets.fitting_sheet import FittingSheet, PresentBat
from fitting.sheets.recommendation import Conflict, Recommendation

MOST_LINES = 5
# Conflicts beyond these wait behind what was left open: they stand on the maker's page anyway.
FIRST_CONFLICTS = 2
PRESENT_BAT = "present_bat"
MASS, GIRTH = "mass_g", "handle.girth_mm"
GIVES_WAY = "wishes.gives_way_first"

# What each subject decides, and the wish that decides it instead.
DECIDES: dict[Subject, tuple[str, str | None]] = {
    "length": ("length_code", "length_code"),
    "length_child": ("length_code", "length_code"),
    "sweet_spot": ("sweet_spot.choice", "sweet_spot"),
    "profile": ("profile", "profile"),
    "edges": ("blade.stations.edge_mm", "edges"),
    "bow": ("blade.bow_mm", "bow"),
    "face": ("blade.face_crown_mm", "face"),
    "toe": ("blade.stations.0.spine_mm", "toe"),
    "scoop": ("blade.toe.scoop", None),
    "construction": ("handle.construction", "feel"),
    "section": ("handle.section_bottom", "handle_section"),
    "toe_guard": ("protection.toe_guard", None),
    "face_film": ("protection.face_film", None),
    "edge_tape": ("protection.edge_tape", None),
    "grade": ("willow.grade", "looks_grade"),
}


@dataclass(frozen=True)
class CallLine:
    """One thing to ask.

    ``key``: of an unanswered line the question of the interview (``present_bat`` for all about the bat in
    use), of a conflict its key, of an unlikely answer what is unlikely. ``answers``: the fields of the
    fitting sheet that it is about. ``touches``: the fields of the build sheet that an answer could change.
    ``numbers``: mm, g, kg m2 by name.
    """

    kind: Literal["unlikely", "conflict", "unanswered"]
    key: str
    answers: tuple[str, ...]
    touches: tuple[str, ...] = ()
    numbers: dict[str, float] = field(default_factory=dict)
    conflict: Conflict | None = None


def call_sheet(sheet: FittingSheet, found: Recommendation, book: Book) -> tuple[CallLine, ...]:
    """Return what to ask on the phone: what was hardly meant so, what pulls apart, what was left open.

    A wrong number spoils whatever rests on it, so it comes first. Open answers follow by how far they
    could still move a choice: the sum, over the choices, of how unsure the choice is times how much of
    the winner's lead that answer alone can take.
    """
    findings = _findings(sheet, found, book)
    doubted = [
        CallLine("unlikely", one.key, one.answers, numbers=one.numbers)
        for one in unlikely(sheet, found, findings, book)
    ]
    apart = [
        CallLine("conflict", one.key, one.fields, numbers=dict(one.cost), conflict=one)
        for one in found.conflicts
        if not _asked_already(one, doubted)
    ]
    still_open = _unanswered(sheet, found, findings, book)
    lines = [*doubted, *apart[:FIRST_CONFLICTS], *still_open, *apart[FIRST_CONFLICTS:]]
    return tuple(lines[:MOST_LINES])


def _asked_already(conflict: Conflict, doubted: list[CallLine]) -> bool:
    """Whether the wish behind a conflict is asked about already."""
    wishes = {name for name in conflict.fields if name.startswith("wishes.")}
    return bool(wishes) and any(wishes <= set(line.answers) for line in doubted)


def _findings(sheet: FittingSheet, found: Recommendation, book: Book) -> Findings:
    code = found.build.length_code
    known = with_marks(findings_of(sheet, book), sheet, code, book)
    return known.knowing(
        child=is_child(sheet, code),
        profile=found.build.profile,
        sweet_spot=found.build.sweet_spot.choice,
    )


@dataclass
class _Open:
    """A question that was left open: how far an answer could move the bat, and what it could move."""

    influence: float = 0.0
    touches: dict[str, None] = field(default_factory=dict)

    def add(self, influence: float, touches: str) -> None:
        self.influence += influence
        self.touches[touches] = None


def _unanswered(sheet: FittingSheet, found: Recommendation, findings: Findings, book: Book) -> list[CallLine]:
    """The open questions that could still change a choice, the one that could most first."""
    asked = _questions_open(sheet)
    unsure = {reason.field: 1 - reason.confidence for reason in found.reasons}
    weights: dict[str, _Open] = {}
    for answer, influence, touches in _influences(sheet, found, findings, book, unsure):
        question = asked.get(answer)
        if question is not None and influence > 0:
            weights.setdefault(question, _Open()).add(influence, touches)
    order = sorted(weights, key=lambda key: -weights[key].influence)
    return [
        CallLine(
            "unanswered",
            key,
            tuple(name for name, question in asked.items() if question == key),
            touches=tuple(weights[key].touches),
        )
        for key in order
    ]


def _questions_open(sheet: FittingSheet) -> dict[str, str]:
    """Fields of the sheet that were left open, with the question that asks for each of this player.

    Of a bat of which nothing was said one asks once.
    """
    situation = Situation(sheet.player.age_years)
    no_bat = sheet.present_bat == PresentBat()
    given = sheet.model_dump(mode="json", exclude_none=True)
    return {
        name: PRESENT_BAT if no_bat and name.startswith(f"{PRESENT_BAT}.") else question.key
        for question in QUESTIONS
        if applies(question, situation) and not _is_answered(question, given)
        for name in question.fields
    }


def _is_answered(question: Question, given: dict[str, object]) -> bool:
    return any(_at(given, name) is not None for name in question.fields)


def _at(content: object, name: str) -> object:
    for part in name.split("."):
        content = content.get(part) if isinstance(content, dict) else None
    return content


def _influences(
    sheet: FittingSheet, found: Recommendation, findings: Findings, book: Book, unsure: dict[str, float]
) -> Iterator[tuple[str, float, str]]:
    """Yield an open answer, how far it could move a choice (0 to 1), and the choice."""
    for subject, (decided, wish) in DECIDES.items():
        wished = wish is not None and getattr(sheet.wishes, wish) is not None
        if wished or not _is_scored(subject, sheet, findings, book):
            continue
        signs = [sign for sign in book.rules.signs if sign.subject == subject]
        for answer, share in _shares(signs, findings, _prior(subject, sheet, book)).items():
            yield answer, share * unsure.get(decided, 0.0), decided
    if sheet.wishes.mass_g is None:
        yield "present_bat.mass_g", unsure.get(MASS, 0.0), MASS
    if sheet.present_bat.grip_girth_mm is None and sheet.player.hand_length_mm is None:
        yield "player.hand_length_mm", unsure.get(GIRTH, 0.0), GIRTH
    if found.conflicts:
        yield GIVES_WAY, 1.0, found.conflicts[0].fields[0]


def _is_scored(subject: Subject, sheet: FittingSheet, findings: Findings, book: Book) -> bool:
    """Whether the signs of a subject decide: a junior's size goes by the table unless near the next."""
    if subject not in {"length", "length_child"}:
        return True
    by_table = goes_by_junior_table(sheet, book)
    if subject == "length":
        return not by_table
    points = choose_length(sheet, findings, book)[1].points.values()
    return by_table and sum(each > 0 for each in points) > 1


def _prior(subject: Subject, sheet: FittingSheet, book: Book) -> dict[str, float]:
    """What the bat in use speaks for: its length, where a grown player likes it."""
    code = sheet.present_bat.length_code
    if subject != "length" or code is None or not sheet.present_bat.liked or not is_grown(sheet):
        return {}
    return {code: book.rules.prior_points}


def _shares(signs: list[Sign], findings: Findings, prior: dict[str, float]) -> dict[str, float]:
    """How much of the winner's lead each open answer alone could take, 0 to 1, by field of the sheet.

    Nothing where all that is open together could not take it.
    """
    points: dict[str, float] = {}
    waiting: list[tuple[Sign, set[str]]] = []
    for sign in signs:
        points.setdefault(sign.option, 0.0)
        met = {one.answer: findings.meets(one) for one in sign.when}
        if all(met.values()):
            points[sign.option] += sign.points
        elif False not in met.values():
            waiting.append((sign, {name for name, state in met.items() if state is None}))
    for option, more in prior.items():
        points[option] = points.get(option, 0.0) + more
    winner = max(points, key=lambda option: points[option], default="")
    shares: dict[str, float] = {}
    for option in (each for each in points if each != winner):
        lead = points[winner] - points[option]
        taking = [
            (name, abs(sign.points))
            for sign, names in waiting
            for name in names
            if (sign.option == option and sign.points > 0) or (sign.option == winner and sign.points < 0)
        ]
        if sum(taken for _, taken in taking) <= lead:
            continue
        for name, taken in taking:
            behind = None if name.startswith(CHOSEN) else field_of(name)
            if behind is not None:
                shares[behind] = max(shares.get(behind, 0.0), taken / max(lead, taken))
    return shares
