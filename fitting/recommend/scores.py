"""Options scored against the signs of the book, and how sure the outcome is."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from fitting.recommend.findings import CHOSEN, Findings, field_of
from fitting.sheets.book import Book
from fitting.sheets.book_rules import Rules, Sign, Subject
from fitting.sheets.recommendation import Because

UNANSWERED = "default.unanswered"
WISH = "wish.followed"
CHILD_RULE = "child.simple"


@dataclass(frozen=True)
class Prior:
    """What the present bat speaks for, when it is liked."""

    option: str
    answer: str
    fact: str


@dataclass(frozen=True)
class Decision:
    """The outcome for one subject: the option taken, the points of all, why, and how sure.

    ``overruled`` is the option that the answers led to when a wish went another way.
    """

    option: str
    points: Mapping[str, float]
    because: tuple[Because, ...]
    confidence: float
    overruled: str | None = None
    others: tuple[str, ...] = ()


def choose(
    subject: Subject, findings: Findings, book: Book, wished: str | None = None, field: str | None = None
) -> Decision:
    """Decide one subject by the signs of the book; a wish for it outranks them."""
    return decide(
        [sign for sign in book.rules.signs if sign.subject == subject],
        findings,
        book.rules,
        wish=(wished, field) if wished is not None and field is not None else None,
        all_others=not findings.get(f"{CHOSEN}child"),
    )


def decide(
    signs: Iterable[Sign],
    findings: Findings,
    rules: Rules,
    *,
    wish: tuple[str, str] | None = None,
    prior: Prior | None = None,
    all_others: bool = False,
) -> Decision:
    """Add up the points of every option and take the highest; on a tie the one that stands first in the book.

    A wish (its option and its field) outranks the points. Confidence is
    floor + (1 - floor) x share x lead: share is the weight of the relevant answers that were given, lead is
    how far the winner is ahead of the next, whole at so many points of the book. The other options are told
    in the order of their points: only those that something speaks for, or all of them.
    """
    signs = tuple(signs)
    points: dict[str, float] = {}
    held: list[Sign] = []
    for sign in signs:
        points.setdefault(sign.option, 0.0)
        if all(findings.meets(condition) for condition in sign.when):
            points[sign.option] += sign.points
            held.append(sign)
    if prior is not None:
        points[prior.option] = points.get(prior.option, 0.0) + rules.prior_points
    order = sorted(points, key=lambda option: -points[option])
    winner = order[0]
    if wish is not None:
        facts = [sign.fact for sign in signs if sign.option == wish[0]]
        return _as_wished(wish, order, points, held, rules, facts)
    because = _because(winner, held, prior)
    share = answered_share(signs, findings, points)
    if share < 1 and all(one.answer is None for one in because):
        because = (*because, Because(answer=None, fact=UNANSWERED))
    lead = _lead(points, order, rules)
    return Decision(
        option=winner,
        points=points,
        because=because,
        confidence=confidence(rules, share, lead),
        others=tuple(option for option in order[1:] if all_others or points[option] > 0),
    )


def confidence(rules: Rules, share: float, lead: float) -> float:
    """How sure: floor + (1 - floor) x share of relevant answers x lead of the winner, 0 to 1."""
    floor = rules.confidence_floor
    return round(floor + (1 - floor) * share * lead, 2)


def answered_share(signs: Iterable[Sign], findings: Findings, points: Mapping[str, float]) -> float:
    """Weight of the relevant answers given over the weight of all relevant answers; 1 where none matters.

    A missing answer is relevant while it can still change the outcome: its sign is not settled by another
    answer, and it lifts an option that could yet overtake the winner, or pulls the winner down.
    """
    signs = tuple(signs)
    states = [{one.answer: findings.meets(one) for one in sign.when} for sign in signs]
    still_open = [
        sign
        for sign, state in zip(signs, states, strict=True)
        if None in state.values() and False not in state.values()
    ]
    winner = max(points, key=lambda option: points[option])
    could_win = _could_overtake(winner, points, still_open)
    given: dict[str, float] = {}
    missing: dict[str, float] = {}
    for sign, state in zip(signs, states, strict=True):
        matters = sign in still_open and (
            sign.option in could_win if sign.points > 0 else sign.option == winner and bool(could_win)
        )
        for answer, met in state.items():
            if answer.startswith(CHOSEN):
                continue
            if met is not None:
                given[answer] = max(given.get(answer, 0.0), abs(sign.points))
            elif matters:
                missing[answer] = max(missing.get(answer, 0.0), abs(sign.points))
    whole = sum(given.values()) + sum(missing.values())
    return sum(given.values()) / whole if missing else 1.0


def _could_overtake(winner: str, points: Mapping[str, float], still_open: list[Sign]) -> frozenset[str]:
    """Options that would win if every open answer spoke for them and against the winner."""
    floor = points[winner] + sum(min(sign.points, 0) for sign in still_open if sign.option == winner)
    return frozenset(
        option
        for option in points
        if option != winner
        and points[option] + sum(max(sign.points, 0) for sign in still_open if sign.option == option) > floor
    )


def _as_wished(
    wish: tuple[str, str],
    order: list[str],
    points: Mapping[str, float],
    held: list[Sign],
    rules: Rules,
    facts: list[str],
) -> Decision:
    option, answer = wish
    winner = order[0]
    against = winner != option and points[winner] - points.get(option, 0.0) >= rules.lead_of_conflict
    # A default that no answer supports gives way to a wish without a word.
    answered = any(sign.option == winner and sign.when and sign.points > 0 for sign in held)
    return Decision(
        option=option,
        points={option: 0.0, **points},
        because=(
            Because(answer=answer, fact=WISH),
            *(Because(answer=None, fact=fact) for fact in facts[:1] if fact != CHILD_RULE),
        ),
        confidence=rules.confidence_of_wish_against_rule
        if against and answered
        else rules.confidence_of_wish,
        overruled=winner if against and answered else None,
        others=tuple(other for other in order if other != option and points[other] > 0),
    )


def _because(winner: str, held: list[Sign], prior: Prior | None) -> tuple[Because, ...]:
    found: dict[tuple[str | None, str], Because] = {}
    for sign in held:
        if sign.option != winner or sign.points <= 0:
            continue
        for answer in [field_of(condition.answer) for condition in sign.when] or [None]:
            found[(answer, sign.fact)] = Because(answer=answer, fact=sign.fact)
    if prior is not None and prior.option == winner:
        found[(prior.answer, prior.fact)] = Because(answer=prior.answer, fact=prior.fact)
    return tuple(found.values())


def _lead(points: Mapping[str, float], order: list[str], rules: Rules) -> float:
    """Lead of the winner over the next, 0 to 1: whole once it is as far ahead as the book asks."""
    second = max(points[order[1]], 0.0) if len(order) > 1 else 0.0
    return min(max(points[order[0]] - second, 0.0) / rules.points_of_a_whole_lead, 1.0)
