"""What is done to a fitting: begun, answered, left to a mail address, claimed, given a player, sent."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from django.db import transaction
from django.db.models import Q
from django.http import HttpRequest
from django.utils import timezone

from fitting.answers import (
    AnswerFault,
    AnswerRefused,
    Boxes,
    sheet_from,
    situation_of,
    understand,
)
from fitting.questions import Question, Situation
from orders.commissions.lifecycle import open_commission
from orders.commissions.models import Commission
from orders.interview.access import COOKIE_LASTS, browser_hash
from orders.interview.models import Fitting
from orders.messages.outbox import post
from orders.people.models import ADULT_AGE, Player, User, normal_address
from orders.people.players import PlayerRefused, add_player

# Two saves of one page may meet: the second reads again what the first has written.
ATTEMPTS = 3
LONGEST_CALLED = 120


class Elsewhere(Exception):
    """Answers changed in another tab or on another device since the page was opened."""


class DraftRefused(ValueError):
    """Something that cannot be done with this fitting, as a key.

    ``unfinished``, ``sent``, ``meanwhile`` (handed over or sent since it was read), ``no_holder``,
    ``no_player``, ``age_differs``, ``born_needed``, ``guardian_needed``, ``staff_address`` or what
    PlayerRefused says.
    """

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why


@dataclass(frozen=True)
class Saved:
    """What became of the answers of a page: faults by box; everything else is kept."""

    fitting: Fitting
    faults: tuple[AnswerFault, ...] = field(default=())


def begin(*, user: User | None, browser: str) -> Fitting:
    """Begin a fitting: for an account, for somebody at the counter (by the maker), or for a browser."""
    if user is not None and user.is_holder:
        return Fitting.objects.create(holder=user)
    if user is not None and user.is_maker:
        return Fitting.objects.create(begun_by=user)
    return Fitting.objects.create(browser_hash=browser)


def situation(fitting: Fitting) -> Situation:
    """Return what decides which questions this fitting asks."""
    return situation_of(fitting.answers, at_counter=fitting.begun_by_id is not None)


def is_complete(fitting: Fitting) -> bool:
    """Whether the required questions are answered."""
    return not sheet_from(fitting.answers, situation(fitting)).missing


def save_answers(
    fitting: Fitting,
    questions: tuple[Question, ...],
    given: Mapping[str, Boxes],
    *,
    version: int,
    window: str,
    whole_page: bool,
) -> Saved:
    """Save the answers of a page, each that can be read; faulty ones leave what stood before.

    Args:
        fitting: as it was read.
        questions: those of the page.
        given: the boxes by question, as typed.
        version: of the fitting when the page was opened.
        window: marks the page as it was opened; what this page itself saved meanwhile, box by box, is
            no change elsewhere.
        whole_page: the page is being left, so a required answer may no longer be missing.

    Raises:
        Elsewhere: answers of this page differ from what was saved meanwhile in another place.
        DraftRefused: it is sent, nothing can be changed.
    """
    for _attempt in range(ATTEMPTS):
        if not fitting.is_draft:
            raise DraftRefused("sent")
        answers, faults = _with_page(fitting, questions, given, whole_page=whole_page)
        if answers == fitting.answers:
            return Saved(fitting, faults)
        if version != fitting.version and not (window and window == fitting.saved_in):
            raise Elsewhere
        if _store(fitting, answers, window=window):
            return Saved(fitting, faults)
        fitting.refresh_from_db(fields=["answers", "sheet", "sheet_before", "state", "version", "saved_in"])
    raise Elsewhere


def _with_page(
    fitting: Fitting, questions: tuple[Question, ...], given: Mapping[str, Boxes], *, whole_page: bool
) -> tuple[dict[str, Any], tuple[AnswerFault, ...]]:
    """Return all answers with those of the page put in, and the faults of the page."""
    answers: dict[str, Any] = dict(fitting.answers)
    faults: list[AnswerFault] = []
    others = {**fitting.answers, **given}
    for question in questions:
        boxes = _filled(given.get(question.key, {}))
        faults += _take(question, boxes, answers, others, whole_page=whole_page)
    return answers, tuple(faults)


def _take(
    question: Question,
    boxes: dict[str, Any],
    answers: dict[str, Any],
    others: Mapping[str, Boxes],
    *,
    whole_page: bool,
) -> list[AnswerFault]:
    """Put one answer among the others if it can be read; return its faults."""
    try:
        understood = understand(question, boxes, others)
    except AnswerRefused as refused:
        return list(refused.faults)
    if question.required and understood.is_empty:
        missing = AnswerFault(question.key, question.parts[0].key, "required", "", question.parts[0])
        return [missing] if whole_page else []
    if boxes:
        answers[question.key] = boxes
    else:
        answers.pop(question.key, None)
    return []


def _filled(boxes: Boxes) -> dict[str, Any]:
    """Drop empty boxes; text is kept as typed but for spaces around it."""
    tidy = {key: text.strip() if isinstance(text, str) else list(text) for key, text in boxes.items()}
    return {key: text for key, text in tidy.items() if text}


def _store(fitting: Fitting, answers: dict[str, Any], *, window: str) -> bool:
    """Write answers and sheet if the row still has its version; tell whether it had."""
    sheet = sheet_from(answers, situation_of(answers, at_counter=fitting.begun_by_id is not None)).sheet
    new = {
        "answers": answers,
        "sheet": sheet,
        "sheet_before": fitting.sheet_before if sheet == fitting.sheet else fitting.sheet,
        "saved_in": window,
        "version": fitting.version + 1,
        "changed_at": timezone.now(),
    }
    row = Fitting.objects.filter(pk=fitting.pk, version=fitting.version, state=Fitting.State.DRAFT)
    if not row.update(**new):
        return False
    for name, value in new.items():
        setattr(fitting, name, value)
    return True


def call(fitting: Fitting, name: str) -> None:
    """Note whom a fitting begun at the counter is for, so that it is found again without a mail address."""
    if fitting.begun_by_id is None or fitting.holder_id is not None:
        return
    called = " ".join(name.split())[:LONGEST_CALLED]
    Fitting.objects.drafts().filter(pk=fitting.pk, holder=None).update(called=called)
    fitting.called = called


def leave_to_address(fitting: Fitting, email: str) -> None:
    """Let a draft wait for whoever signs in with this address."""
    Fitting.objects.drafts().filter(pk=fitting.pk, holder=None).update(waiting_for=normal_address(email))


@transaction.atomic
def hand_to(fitting: Fitting, email: str, *, name: str, sign_in_path: str) -> User:
    """Give a fitting begun at the counter to its player's (or guardian's) account, and write to them.

    Raises:
        DraftRefused: ``staff_address``, somebody who works here cannot hold it; ``meanwhile``.
    """
    address = normal_address(email)
    account = User.objects.filter(email=address).first()
    if account is None:
        account = User.objects.create_holder(address, name=name.strip())
    if not account.is_holder:
        raise DraftRefused("staff_address")
    _change(fitting, holder=account, waiting_for="", called="")
    post("fitting_waits", to=address, context={"name": account.name, "path": sign_in_path})
    return account


def claim_at_sign_in(request: HttpRequest, user: User) -> None:
    """Hand over the drafts that were left to this address, and those begun in this browser.

    A draft that waits for another address is not touched.
    """
    if not user.is_holder:
        return
    waiting = Q(waiting_for=user.email)
    browser = browser_hash(request)
    if browser:
        waiting |= Q(browser_hash=browser, waiting_for="")
    Fitting.objects.drafts().filter(waiting, holder=None).update(holder=user, browser_hash="", waiting_for="")


@transaction.atomic
def say_who(
    fitting: Fitting,
    *,
    player: Player | None,
    name: str,
    born: date | None,
    relation: str,
    today: date,
    own_name: str = "",
) -> Player:
    """Say whom the bat is for: a player of the account already, or a new one.

    ``own_name`` is the holder's, for an account that has none yet.

    Raises:
        DraftRefused: see there; the holder's account answers for anybody under 18.
    """
    holder = fitting.holder
    if holder is None:
        raise DraftRefused("no_holder")
    age = situation(fitting).age_years
    if age is None:
        raise DraftRefused("unfinished")
    if player is None:
        player = _new_player(
            holder, name=name, born=born, relation=relation, child=age < ADULT_AGE, today=today
        )
    _check_age(player, age, today)
    if own_name and not holder.name:
        holder.name = own_name.strip()
        holder.save(update_fields=["name"])
    _change(fitting, player=player)
    return player


def _change(fitting: Fitting, **columns: Any) -> None:
    """Write columns of a draft that is still held as it was read; what is sent stays as it was sent."""
    row = Fitting.objects.drafts().filter(pk=fitting.pk, holder=fitting.holder_id)
    if not row.update(**columns):
        raise DraftRefused("meanwhile")
    for name, value in columns.items():
        setattr(fitting, name, value)


def _new_player(
    holder: User, *, name: str, born: date | None, relation: str, child: bool, today: date
) -> Player:
    if child and born is None:
        raise DraftRefused("born_needed")
    if child and not relation.strip():
        raise DraftRefused("guardian_needed")
    try:
        return add_player(holder, name=name, born=born, relation=relation, today=today)
    except PlayerRefused as refused:
        raise DraftRefused(refused.why) from refused


def _check_age(player: Player, age: int, today: date) -> None:
    """Hold the age that the bat is fitted to against the date of birth, where there is one."""
    born = player.age_on(today)
    if born is None and age < ADULT_AGE:
        raise DraftRefused("born_needed")
    if born is not None and born != age:
        raise DraftRefused("age_differs")


@transaction.atomic
def send(fitting: Fitting, *, by: User, today: date) -> Commission:
    """Send a fitting to the maker: it becomes a commission.

    For somebody under 18 the guardian's own session sends it; for an adult the maker may, who filled it
    in with them.

    Raises:
        DraftRefused: unfinished, sent, no_holder, no_player, guardian_needed, age_differs, born_needed.
    """
    if not fitting.is_draft:
        raise DraftRefused("sent")
    if not is_complete(fitting):
        raise DraftRefused("unfinished")
    if fitting.holder is None:
        raise DraftRefused("no_holder")
    if fitting.player is None:
        raise DraftRefused("no_player")
    age = situation(fitting).age_years or 0
    if age < ADULT_AGE and fitting.holder_id != by.pk:
        raise DraftRefused("guardian_needed")
    _check_age(fitting.player, age, today)
    commission = open_commission(fitting=fitting, by=by)
    # What an answer moved is of interest while answering only.
    Fitting.objects.filter(pk=fitting.pk).update(sheet_before={}, saved_in="")
    return commission


def forget_abandoned() -> None:
    """Delete drafts that nobody holds once their browser has forgotten them too; a periodic job."""
    unused_since = timezone.now() - timedelta(seconds=COOKIE_LASTS)
    Fitting.objects.drafts().filter(holder=None, changed_at__lt=unused_since).delete()
