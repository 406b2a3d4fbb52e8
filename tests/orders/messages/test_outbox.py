"""Letters: written with their cause, sent once each, tried again when they fail."""

import smtplib
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta

import pytest
from django.core import mail
from django.core.mail.backends.locmem import EmailBackend
from django.db import connection, transaction
from django.template import TemplateDoesNotExist
from django.utils import timezone

from orders.messages.models import Letter, LetterState
from orders.messages.outbox import post
from orders.messages.rendering import text_of
from orders.messages.sending import HOLD, claim_one, send_again, send_due

pytestmark = pytest.mark.django_db


class RefusingBackend(EmailBackend):
    """A mail server that refuses in whatever way it is told to."""

    fault: Exception = OSError("no route")

    def send_messages(self, messages):
        """Refuse."""
        raise self.fault


@pytest.fixture
def refusing(settings):
    """Let the mail server refuse; returns a way to say how."""
    settings.MAILERS = {"default": {"BACKEND": f"{__name__}.RefusingBackend"}}

    def how(fault):
        RefusingBackend.fault = fault

    yield how
    RefusingBackend.fault = OSError("no route")


def write(**more):
    """Write a letter that needs nothing."""
    return post("no_account", to="Ash@Players.Example", context={}, **more)


def test_letter_is_sent_with_the_message_id_it_was_written_with(workshop):
    letter = write()
    assert letter.to == "ash@players.example"
    assert send_due() == 1
    (sent,) = mail.outbox
    assert sent.to == ["ash@players.example"]
    assert sent.subject == "No account with this address"
    assert sent.message()["Message-ID"] == letter.message_id
    assert sent.reply_to == [workshop.email]
    letter.refresh_from_db()
    assert (letter.state, letter.tries, letter.held_until) == (LetterState.SENT, 1, None)
    assert send_due() == 0


@pytest.mark.django_db(transaction=True)
def test_letter_outside_a_transaction_is_refused():
    with pytest.raises(RuntimeError, match="in the transaction of its cause"):
        write()


@pytest.mark.django_db(transaction=True)
def test_letter_of_a_cause_that_failed_is_not_there():
    with transaction.atomic():
        write()
        transaction.set_rollback(True)
    assert send_due() == 0
    assert mail.outbox == []


def test_unknown_kind_is_refused():
    with pytest.raises(TemplateDoesNotExist):
        post("no such letter", to="a@players.example", context={})
    assert not Letter.objects.exists()


def test_failed_letter_waits_longer_each_time_and_is_given_up_in_the_end(workshop, refusing, time_machine):
    now = timezone.now()
    time_machine.move_to(now, tick=False)
    letter = write()
    pauses = []
    while letter.state == LetterState.WAITING:
        assert send_due() == 0
        letter.refresh_from_db()
        if letter.state == LetterState.WAITING:
            pauses.append(int((letter.next_try_at - now).total_seconds() // 60))
            now = letter.next_try_at
            time_machine.move_to(now, tick=False)
    assert pauses == [1, 2, 4, 8, 16, 32, 64, 128, 256, 512, 1024]
    assert letter.state == LetterState.FAILED
    assert letter.tries == 12
    assert letter.fault == "OSError"
    assert list(Letter.objects.failed()) == [letter]


def test_pause_is_never_longer_than_a_day():
    assert Letter(tries=30).pause() == timedelta(hours=24)


def test_failing_letter_is_not_due_before_its_time(workshop, refusing):
    write()
    assert send_due() == 0
    assert claim_one() is None


def test_address_refused_for_good_is_given_up_at_once(workshop, refusing):
    refusing(smtplib.SMTPRecipientsRefused({"ash@players.example": (550, b"no such person")}))
    write()
    send_due()
    assert Letter.objects.get().state == LetterState.FAILED


def test_address_refused_for_now_is_tried_again(workshop, refusing):
    refusing(smtplib.SMTPRecipientsRefused({"ash@players.example": (450, b"busy")}))
    write()
    send_due()
    assert Letter.objects.get().state == LetterState.WAITING


def test_faulty_letter_does_not_keep_the_next_from_being_sent(workshop):
    faulty = post("sign_in", to="a@players.example", context={})
    Letter.objects.filter(pk=faulty.pk).update(kind="gone missing")
    write()
    assert send_due() == 1
    faulty.refresh_from_db()
    assert (faulty.state, faulty.fault) == (LetterState.WAITING, "TemplateDoesNotExist")


def test_letter_that_would_come_too_late_is_not_sent(workshop, time_machine):
    write(useful_until=timezone.now() + timedelta(minutes=10))
    time_machine.move_to(timezone.now() + timedelta(minutes=11))
    assert send_due() == 0
    assert mail.outbox == []
    assert Letter.objects.get().state == LetterState.FAILED


def test_letter_of_a_worker_that_died_is_sent_by_the_next_with_the_same_message_id(workshop, time_machine):
    letter = write()
    assert claim_one() == letter
    assert claim_one() is None
    time_machine.move_to(timezone.now() + HOLD + timedelta(seconds=1))
    assert send_due() == 1
    assert mail.outbox[0].message()["Message-ID"] == letter.message_id
    letter.refresh_from_db()
    assert letter.tries == 2


def test_given_up_letter_can_be_put_back(workshop, refusing, settings):
    letter = write()
    Letter.objects.update(state=LetterState.FAILED, tries=12)
    settings.MAILERS = {"default": {"BACKEND": "django.core.mail.backends.locmem.EmailBackend"}}
    send_again(letter)
    assert send_due() == 1


def test_names_stand_in_a_letter_as_they_are_and_add_no_header(workshop):
    letter = post(
        "staff_invitation",
        to="a@players.example",
        context={"name": "D'Arcy <b>\r\nBcc: spy@evil.test", "by": "M & M", "invitation_seed": "00"},
    )
    workshop.name = "Oak\r\nBcc: spy@evil.test"
    workshop.save()
    text = text_of(letter)
    assert "D'Arcy <b>" in text.body
    assert "M & M invites you" in text.body
    assert "\n" not in text.subject
    assert send_due() == 1
    assert mail.outbox[0].recipients() == ["a@players.example"]
    assert "Bcc" not in mail.outbox[0].message()


def test_on_the_page_instead_nothing_is_sent(workshop, settings, client):
    settings.MAIL_DELIVERY = "page"
    write()
    assert send_due() == 1
    assert mail.outbox == []
    page = client.get("/mail/").content.decode()
    assert "No account with this address" in page
    assert "ash@players.example" in page
    assert "ash@players.example" not in client.get("/mail/?to=bo@").content.decode()


def test_letters_are_shown_to_nobody_where_mail_is_sent(workshop, client, maker_client):
    write()
    assert client.get("/mail/").status_code == 404
    assert maker_client.get("/mail/").status_code == 404


@pytest.mark.django_db(transaction=True)
def test_four_workers_send_each_of_a_hundred_letters_once(workshop):
    with transaction.atomic():
        for n in range(100):
            post("no_account", to=f"p{n}@players.example", context={})

    def work(_n):
        sent = []
        try:
            while letter := claim_one():
                sent.append(letter.pk)
                Letter.objects.filter(pk=letter.pk).update(state=LetterState.SENT)
        finally:
            connection.close()
        return sent

    with ThreadPoolExecutor(4) as pool:
        sent = [key for part in pool.map(work, range(4)) for key in part]
    assert len(sent) == len(set(sent)) == 100
    assert set(Letter.objects.values_list("tries", flat=True)) == {1}
