"""Sending what lies in the outbox: each letter by one worker, again when it failed.

What is promised: one row for each cause, and that it is delivered at least once. SMTP cannot promise
more (RFC 1047); a letter sent again after a crash carries the same Message-ID.
"""

import logging
import smtplib
from datetime import timedelta
from email.utils import formataddr

from django.conf import settings
from django.core.mail import EmailMessage
from django.db.models import F
from django.utils import timezone

from orders.messages.models import Letter, LetterState
from orders.messages.rendering import text_of
from orders.people.models import Workshop

log = logging.getLogger("letters")

# Longer than any sending takes; then the letter of a worker that died is free for the next.
HOLD = timedelta(minutes=5)


def claim_one() -> Letter | None:
    """Take the next due letter for this worker alone; None when nothing is due.

    Two workers may look at the same row; the UPDATE lets one of them have it.
    """
    while True:
        now = timezone.now()
        key = Letter.objects.due(now).order_by("next_try_at", "pk").values_list("pk", flat=True).first()
        if key is None:
            return None
        if Letter.objects.due(now).filter(pk=key).update(held_until=now + HOLD, tries=F("tries") + 1):
            return Letter.objects.get(pk=key)


def send(letter: Letter) -> bool:
    """Send a claimed letter and note how it went; whether it is on its way."""
    now = timezone.now()
    if letter.useful_until and letter.useful_until <= now:
        _give_up(letter, "too late to be of use")
        return False
    try:
        _deliver(letter)
    except smtplib.SMTPRecipientsRefused as refused:
        if all(code >= 500 for code, _words in refused.recipients.values()):
            _give_up(letter, "the address was refused")
        else:
            _try_later(letter, "the address was refused for now")
        return False
    except Exception as fault:
        # Whatever it is, the other letters must go on; the row tells what happened.
        log.warning("letter %s not sent: %s", letter.pk, type(fault).__name__)
        _try_later(letter, type(fault).__name__)
        return False
    Letter.objects.filter(pk=letter.pk).update(
        state=LetterState.SENT, sent_at=timezone.now(), held_until=None, fault=""
    )
    return True


def send_due() -> int:
    """Send everything that is due; return how many letters went out."""
    sent = 0
    while letter := claim_one():
        sent += send(letter)
    return sent


def send_again(letter: Letter) -> None:
    """Put a letter that was given up back into the outbox."""
    Letter.objects.filter(pk=letter.pk, state=LetterState.FAILED).update(
        state=LetterState.WAITING, tries=0, next_try_at=timezone.now(), held_until=None, useful_until=None
    )


def _deliver(letter: Letter) -> None:
    text = text_of(letter)
    if settings.MAIL_DELIVERY == "page":
        # Shown at /mail/ instead; filled in above all the same, so that a faulty template is seen.
        return
    workshop = Workshop.objects.the_one()
    message = EmailMessage(
        text.subject,
        text.body,
        from_email=formataddr((" ".join(workshop.name.split()) if workshop else "", settings.MAIL_FROM)),
        to=[letter.to],
        reply_to=[workshop.email] if workshop else None,
        headers={"Message-ID": letter.message_id, "Auto-Submitted": "auto-generated"},
    )
    message.send()


def _try_later(letter: Letter, fault: str) -> None:
    if letter.tries >= Letter.MOST_TRIES:
        _give_up(letter, fault)
        return
    Letter.objects.filter(pk=letter.pk).update(
        next_try_at=timezone.now() + letter.pause(), held_until=None, fault=fault[:200]
    )


def _give_up(letter: Letter, fault: str) -> None:
    log.error("letter %s given up: %s", letter.pk, fault)
    Letter.objects.filter(pk=letter.pk).update(state=LetterState.FAILED, held_until=None, fault=fault[:200])
