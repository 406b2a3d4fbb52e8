"""The one way to write a letter: a row in the transaction of its cause."""

import uuid
from datetime import datetime
from typing import Any, Protocol
from urllib.parse import urlsplit

from django.conf import settings
from django.db import connection
from django.template.loader import get_template
from django.utils import timezone

from orders.messages.models import Letter
from orders.people.models import normal_address


class HasCode(Protocol):
    """A commission, as far as a letter needs one."""

    code: str


def post(
    kind: str,
    *,
    to: str,
    context: dict[str, Any],
    commission: HasCode | None = None,
    useful_until: datetime | None = None,
) -> Letter:
    """Put a letter into the outbox; the worker sends it once the transaction has ended well.

    Args:
        kind: the letter's template, ``templates/letters/<kind>.txt``, its first line the subject.
        to: the mail address.
        context: what the template needs, as JSON: text, numbers, paths; no records, no secrets.
        commission: the commission that it is about, if any.
        useful_until: the letter is dropped when it cannot be sent before.

    Raises:
        TemplateDoesNotExist: there is no such kind.
        RuntimeError: called outside a transaction.
    """
    if not connection.in_atomic_block:
        raise RuntimeError("a letter is written in the transaction of its cause")
    get_template(f"letters/{kind}.txt")
    return Letter.objects.create(
        kind=kind,
        to=normal_address(to),
        context=context,
        message_id=f"<{uuid.uuid4().hex}@{urlsplit(settings.SITE_URL).hostname}>",
        commission_code=commission.code if commission else "",
        useful_until=useful_until,
        next_try_at=timezone.now(),
    )
