"""Bats at the bench that wait for a word of the maker: a player to be told, an answer that has come."""

from dataclasses import dataclass

from django.urls import reverse
from django.utils.translation import gettext as _

from orders.commissions.models import Bat, Consent, JournalEntry
from orders.commissions.states import About, Answer, Stage


@dataclass(frozen=True)
class Waiting:
    """One bat, what it waits for, and where that is done."""

    bat: Bat
    words: str
    address: str


def waiting_for_maker() -> list[Waiting]:
    """Return the bats whose player has to be told that the wood failed, then those with an answer."""
    bats = {bat.pk: bat for bat in Bat.objects.at_bench().with_people().order_by("commission__number")}
    return [*_untold(bats), *_answered(bats)]


def _untold(bats: dict[int, Bat]) -> list[Waiting]:
    rows = JournalEntry.objects.filter(bat__in=bats, verb__in=("fail_wood", "tell_failed"))
    last = {row.bat_id or 0: row for row in rows.order_by("pk")}
    return [
        Waiting(bat, _("the wood failed; tell the player"), reverse("bench:failed", args=[bat.code]))
        for key, bat in bats.items()
        if key in last and last[key].verb == "fail_wood"
    ]


def _answered(bats: dict[int, Bat]) -> list[Waiting]:
    """Return the last answers of bats that still lie where the question was asked."""
    rows = Consent.objects.filter(bat__in=bats).exclude(answer="", ended_at__isnull=False)
    last = {row.bat_id: row for row in rows.order_by("pk")}
    found = []
    for key, bat in bats.items():
        row = last.get(key)
        if row is None or not row.answer or row.round != bat.round:
            continue
        if row.about == About.AS_BUILT and bat.stage == Stage.INSPECTION:
            yes, no = (
                _("the player takes it so; it can pass"),
                _("the player does not take it so"),
            )
            words = yes if row.answer == Answer.YES else no
            found.append(Waiting(bat, words, reverse("bench:inspection", args=[bat.code])))
        elif row.answer == Answer.YES and bat.stage == Stage.CLEFT_SELECTION:
            words = _("the player would rather have the smaller bat")
            found.append(Waiting(bat, words, reverse("review:review", args=[bat.commission.code])))
    return found
