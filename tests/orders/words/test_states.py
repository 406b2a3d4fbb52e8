"""Every key that the verbs know has words, and every letter can be written."""

import re
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from django.conf import settings
from django.utils import timezone

from orders.commissions import consents, promising, snapshots, stages
from orders.commissions.models import Commission, JournalEntry
from orders.commissions.refusals import Refused
from orders.commissions.states import Stage, State
from orders.commissions.transitions import TRANSITIONS
from orders.messages.models import Letter
from orders.messages.rendering import text_of
from orders.words import states as words
from tests.factories import MOMENT, a_bat_in, a_commission, propose_to


def test_every_state_is_worded_for_the_player():
    assert set(words.STANDING) == set(words.NEXT) == {str(state) for state in State}


def test_every_verb_is_told_in_the_journal():
    verbs = {*TRANSITIONS, *stages.STAGE_MOVES, *consents.VERBS, promising.VERB}
    verbs |= {"open", "name_cleft", "fail_wood", "tell_failed"}

    assert set(words.HAPPENED) == verbs


def test_every_refusal_in_the_code_is_worded():
    raised = set()
    for path in Path(settings.BASE_DIR, "orders", "commissions").glob("*.py"):
        raised |= set(re.findall(r'Refused\(\s*"(\w+)"', path.read_text(encoding="utf-8")))
        raised |= set(re.findall(r'else "(not_\w+)"', path.read_text(encoding="utf-8")))

    assert raised
    assert {words.refusal_words(Refused(key, what=("edge",))) for key in raised}


def test_every_term_is_worded():
    assert set(words.TERMS) == {*snapshots.TERMS, "subject_to_willow"}


def test_a_refusal_names_the_sizes_that_break_the_laws():
    said = words.refusal_words(Refused("breaks_the_laws", what=("edge", "blade_width")))

    assert "thickest edge, width of the blade" in said


@pytest.mark.parametrize(
    ("moment", "said"),
    [
        (datetime(2027, 3, 5, 0, 0, tzinfo=UTC), "the end of 4 March 2027"),
        (datetime(2027, 3, 5, 14, 30, tzinfo=UTC), "5 March 2027, 14:30 GMT"),
        (datetime(2027, 6, 30, 23, 0, tzinfo=UTC), "the end of 30 June 2027"),
    ],
)
def test_the_last_moment_is_told_in_the_zone_in_force(moment, said):
    with timezone.override("Europe/London"):
        assert words.last_moment(moment).replace("Mar 2027", "March 2027").replace("Jun ", "June ") == said


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("label", "said"), [("0042", "Cleft 0042 was chosen for it"), ("", "Its cleft was taken from it again")]
)
def test_a_cleft_is_told_as_chosen_or_as_taken_away(player, maker, label, said):
    bat = a_bat_in(Stage.CLEFT_SELECTION, player, maker)
    stages.name_cleft(bat, label, by=maker)
    entry = JournalEntry.objects.filter(verb="name_cleft").latest("pk")
    assert words.journal_line(entry, staff=False).words == said


@pytest.mark.django_db
def test_staff_read_who_and_why_and_players_do_not(player, maker):
    bat = a_bat_in(Stage.SHAPING, player, maker)
    stages.go_back(bat, to=Stage.PRESSING, by=maker, reason="the face is soft")
    entry = JournalEntry.objects.filter(verb="go_back").select_related("by").get()

    assert words.journal_line(entry, staff=True).words == "Back to pressing: “the face is soft” (Moss Maker)"
    assert words.journal_line(entry, staff=False).words == "Back to pressing"


@pytest.mark.django_db
def test_a_late_bat_is_told_honestly(player, maker):
    bat = a_bat_in(Stage.SHAPING, player, maker)
    commission = Commission.objects.get()
    commission.promised_to = timezone.localdate() - timedelta(days=3)

    assert "is late" in words.by_when(commission, bat.agreed)


@pytest.mark.django_db
def test_every_letter_of_a_commission_is_whole_and_names_it(player, maker, workshop):
    from orders.commissions import lifecycle

    commission = a_bat_in(Stage.DONE, player, maker).commission
    for verb, extra in (("withdraw", {}), ("ask_change", {"field": "mass", "words": "lighter"})):
        other = a_commission(player)
        propose_to(other, maker)
        by = maker if verb == "withdraw" else player.holder
        getattr(lifecycle, verb)(other, by=by, at=MOMENT, **extra)
    lapsing = a_commission(player)
    propose_to(lapsing, maker)
    lifecycle.lapse_due(MOMENT.replace(year=2028))
    lifecycle.cancel(a_commission(player), by=player.holder, why="moved abroad", at=MOMENT)

    kinds = set()
    for letter in Letter.objects.exclude(commission_code=""):
        text = text_of(letter)
        kinds.add(letter.kind)
        assert text.subject
        assert re.search(r"\b000\d\b", f"{text.subject}\n{text.body}")
        assert "{{" not in text.body
        assert workshop.name in text.body
    assert commission.reference
    assert kinds == {
        "accepted",
        "accepted_workshop",
        "bat_ready",
        "cancelled",
        "cancelled_workshop",
        "change_asked",
        "commission_opened",
        "commission_received",
        "making_started",
        "proposal_lapsed",
        "proposal_withdrawn",
        "proposed",
    }
