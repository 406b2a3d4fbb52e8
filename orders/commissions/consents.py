"""What the player is asked about a bat that is being made, and the answer: the one writer of consents.

The final inspection finds what a bat is. Where that is more than the proposal allows, the maker cannot
decide it alone: the player is asked with the numbers, answers once, and the bat waits until then.
"""

from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any

from django.db import IntegrityError, transaction
from django.db.models import F
from django.utils import timezone

from orders.commissions import letters
from orders.commissions.models import Bat, Consent, JournalEntry
from orders.commissions.refusals import MovedOn, Refused
from orders.commissions.states import About, Answer, Stage, State
from orders.commissions.transitions import guardian_if_needed
from orders.people.models import User

# What a proposal promises with a tolerance of its own, and that the bat is inside the Laws. All else that the
# inspection looks at is the maker's to judge, with a reason.
PROMISED = frozenset({"mass", "pickup", "law"})
VERBS = ("ask_consent", "ask_smaller", "say_yes", "say_no")
_ASKED_IN = {About.AS_BUILT: Stage.INSPECTION, About.SMALLER_BAT: Stage.CLEFT_SELECTION}
_AT_BENCH = frozenset({State.MAKING, State.MENDING})
Row = Mapping[str, Any]


def beyond_promise(rows: Iterable[Row]) -> list[Row]:
    """Return the rows of an inspection that the player, not the maker, has to accept."""
    return [
        row for row in rows if row["key"] in PROMISED and row["built"] is not None and not row["in_tolerance"]
    ]


def not_accepted(bat: Bat, rows: Iterable[Row]) -> list[Row]:
    """Return the rows beyond the promise that no yes of the player covers.

    A yes covers what was asked and anything nearer to what was agreed, on the same side of it.
    """
    given = [row for consent in _given(bat) for row in consent.rows]
    return [row for row in beyond_promise(rows) if not any(_covers(asked, row) for asked in given)]


def _given(bat: Bat) -> Iterable[Consent]:
    return bat.consents.given().filter(about=About.AS_BUILT, round=bat.round)


def _covers(asked: Row, row: Row) -> bool:
    same = all(asked.get(name) == row.get(name) for name in ("key", "what", "coverings"))
    return same and asked["off"] * row["off"] > 0 and abs(row["off"]) <= abs(asked["off"]) + 1e-9


def open_consent(bat: Bat) -> Consent | None:
    """Return the question that waits for the player's answer."""
    return bat.consents.open().select_related("by").first()


def consents_of_round(bat: Bat) -> list[Consent]:
    """Return what the player was asked about the bat in its present round, the last first."""
    return list(bat.consents.filter(round=bat.round).select_related("by", "answered_by").order_by("-pk"))


def can_ask(bat: Bat, by: User, about: About = About.AS_BUILT) -> bool:
    """Whether the maker may ask the player now."""
    return by.is_maker and bat.stage == _ASKED_IN[about] and bat.commission.state in _AT_BENCH


@transaction.atomic
def ask_consent(
    bat: Bat, *, rows: Iterable[Row], words: str, by: User, at: datetime | None = None
) -> Consent:
    """Ask the player to accept a finished bat that is more off than was agreed.

    Raises:
        Refused: ``not_yours``, ``wrong_stage`` (it has passed, or is worked on), ``nothing_to_ask`` when
            every promise is kept or accepted already, ``reason_needed`` without words, ``asked_already``.
    """
    asked = not_accepted(bat, rows)
    if bat.stage == Stage.INSPECTION and not asked:
        raise Refused("nothing_to_ask")
    found = _ask(bat, About.AS_BUILT, words=words, by=by, at=at, rows=[dict(row) for row in asked])
    letters.consent_asked(found)
    return found


@transaction.atomic
def ask_smaller(
    bat: Bat, *, length_code: str, words: str, by: User, letter: bool = True, at: datetime | None = None
) -> Consent:
    """Ask whether the player would rather have the smaller bat that a failed piece of wood still makes.

    Nothing changes by the question or by a yes alone: what was agreed stands until both agree anew. Without
    ``letter`` another letter of the same transaction asks.
    """
    asked = _ask(bat, About.SMALLER_BAT, words=words, by=by, at=at, length_code=length_code)
    if letter:
        letters.consent_asked(asked)
    return asked


def _ask(bat: Bat, about: About, *, words: str, by: User, at: datetime | None, **content: Any) -> Consent:
    if not can_ask(bat, by, about):
        raise Refused("wrong_stage" if by.is_maker else "not_yours", what=("ask", bat.stage))
    if not words.strip():
        raise Refused("reason_needed")
    now = at or timezone.now()
    # Whoever looks at the bat as it was before cannot pass it beside the question.
    held = Bat.objects.filter(pk=bat.pk, stage=bat.stage, version=bat.version)
    if not held.update(version=F("version") + 1, changed_at=now):
        raise MovedOn
    bat.version += 1
    try:
        with transaction.atomic():
            asked = Consent.objects.create(
                bat=bat, round=bat.round, about=about, words=words.strip(), by=by, asked_at=now, **content
            )
    except IntegrityError:
        raise Refused("asked_already") from None
    verb = "ask_consent" if about == About.AS_BUILT else "ask_smaller"
    _write_down(asked, verb, by=by, at=now)
    return asked


def can_answer(consent: Consent, by: User) -> bool:
    """Whether this person may answer: the holder, for a player under 18 the guardian; once."""
    commission = consent.bat.commission
    return (
        consent.is_open
        and by.pk == commission.holder_id
        and commission.state in _AT_BENCH
        and guardian_if_needed(commission, by)
    )


@transaction.atomic
def answer_consent(
    consent: Consent, *, answer: Answer, words: str, by: User, at: datetime | None = None
) -> None:
    """Keep the player's answer and tell the workshop.

    Raises:
        Refused: ``answered_already``, ``no_longer_asked`` when the bat has gone on or back, ``not_yours``,
            ``guardian_needed`` for a player under 18.
    """
    now = at or timezone.now()
    commission = consent.bat.commission
    if consent.answer:
        raise Refused("answered_already")
    if not consent.is_open or commission.state not in _AT_BENCH:
        raise Refused("no_longer_asked")
    if by.pk != commission.holder_id:
        raise Refused("not_yours")
    if not guardian_if_needed(commission, by, at=now):
        raise Refused("guardian_needed")
    said: dict[str, Any] = {
        "answer": answer,
        "answer_words": words.strip(),
        "answered_by": by,
        "answered_at": now,
    }
    if not Consent.objects.open().filter(pk=consent.pk).update(**said):
        consent.refresh_from_db()
        raise Refused("answered_already" if consent.answer else "no_longer_asked")
    for name, value in said.items():
        setattr(consent, name, value)
    _write_down(consent, "say_yes" if answer == Answer.YES else "say_no", by=by, at=now)
    letters.consent_answered(consent)


def _write_down(consent: Consent, verb: str, *, by: User, at: datetime) -> None:
    bat = consent.bat
    JournalEntry.objects.create(
        commission=bat.commission,
        bat=bat,
        verb=verb,
        from_state=bat.stage,
        to_state=bat.stage,
        by=by,
        at=at,
        data={"round": consent.round, "consent": consent.code, "about": consent.about},
    )
