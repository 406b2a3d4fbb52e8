"""Signing in by a mailed link: asking for one, and using it once.

Players and guardians have no password: what they can reach is their own only. The link lives ten
minutes, counts once, is worthless once a newer one was asked for, and works only in the browser
that asked. Opened elsewhere, it offers a short code for that first browser. Staff never come in
this way.
"""

import logging
from datetime import timedelta

from django.db import transaction
from django.db.models import F
from django.urls import reverse
from django.utils import timezone

from orders.messages.outbox import post
from orders.people.link_tokens import (
    hash_of_code,
    hash_of_token,
    new_seed,
    read_code,
    same,
    short_code_of,
    token_of,
)
from orders.people.models import SignInLink, User, normal_address

log = logging.getLogger("security")

# A little more than the link's life: the letter about an address without account keeps to it too.
LETTER_IS_USEFUL_FOR = timedelta(minutes=10)


class LinkRefused(Exception):
    """A link or code that opens nothing.

    ``why`` is ``over`` (unknown, used, replaced, out of date), ``other_browser``, ``wrong_code``
    or ``no_tries_left``.
    """

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why


def ask_for_link(email: str, *, browser: str, next_path: str = "", may_create: bool = False) -> None:
    """Write a sign-in letter to an address; what happens here looks the same for every address.

    Args:
        email: as typed.
        browser: the random cookie of the browser that asks.
        next_path: where to go after signing in.
        may_create: an account is made when the link is used by an address that has none; only for
            an address that was left in a fitting.
    """
    address = normal_address(email)
    now = timezone.now()
    seed = new_seed()
    with transaction.atomic():
        account = User.objects.filter(email=address, is_active=True).first()
        known = account.is_holder if account else may_create and not _is_closed(address)
        SignInLink.objects.filter(email=address, used_at__isnull=True, ended_at__isnull=True).update(
            ended_at=now
        )
        SignInLink.objects.create(
            email=address,
            seed=seed,
            token_hash=hash_of_token(token_of(seed)),
            code_hash=hash_of_code(short_code_of(seed), seed),
            browser_hash=hash_of_token(browser),
            may_create=may_create,
            next_path=next_path,
            created_at=now,
            expires_at=now + SignInLink.LIFE,
            ended_at=None if known else now,
        )
        useful_until = now + LETTER_IS_USEFUL_FOR
        if known:
            # The worker derives link and code from the seed; neither stands in the outbox.
            post("sign_in", to=address, context={"sign_in_seed": seed}, useful_until=useful_until)
        elif account:
            staff_page = reverse("people:staff-sign-in")
            post("sign_in_staff", to=address, context={"path": staff_page}, useful_until=useful_until)
        else:
            post("no_account", to=address, context={}, useful_until=useful_until)
    log.info("sign-in letter written, link live: %s", known)


def _is_closed(address: str) -> bool:
    return User.objects.filter(email=address).exists()


def link_of_token(token: str) -> SignInLink | None:
    """Return the live link of a token, without touching it."""
    return SignInLink.objects.live(timezone.now()).filter(token_hash=hash_of_token(token)).first()


def asked_here(link: SignInLink, browser: str) -> bool:
    """Whether the link was asked for in this browser."""
    return bool(browser) and same(link.browser_hash, hash_of_token(browser))


def use_token(token: str, *, browser: str) -> tuple[User, str]:
    """Use a link up; return the account and where to go next.

    Raises:
        LinkRefused: over, or other_browser.
    """
    link = link_of_token(token)
    if link is None:
        raise LinkRefused("over")
    if not asked_here(link, browser):
        raise LinkRefused("other_browser")
    return _use_up(link), link.next_path


def use_code(typed: str, *, browser: str) -> tuple[User, str]:
    """Use the newest link asked for in this browser up by its short code.

    Five wrong codes end the link. An address without an account is answered in the same way.

    Raises:
        LinkRefused: wrong_code, no_tries_left, or over.
    """
    link = SignInLink.objects.filter(browser_hash=hash_of_token(browser)).order_by("-pk").first()
    if link is None or not browser:
        raise LinkRefused("over")
    if not SignInLink.objects.filter(pk=link.pk, tries__lt=SignInLink.TRIES).update(tries=F("tries") + 1):
        raise LinkRefused("no_tries_left")
    if not same(link.code_hash, hash_of_code(read_code(typed), link.seed)):
        _end_when_tried_out(link)
        raise LinkRefused("wrong_code")
    return _use_up(link), link.next_path


def _end_when_tried_out(link: SignInLink) -> None:
    tried_out = SignInLink.objects.filter(pk=link.pk, tries__gte=SignInLink.TRIES, ended_at__isnull=True)
    if tried_out.update(ended_at=timezone.now()):
        log.warning("sign-in link ended after %s wrong codes", SignInLink.TRIES)


def _use_up(link: SignInLink) -> User:
    """Turn the link into an account's sign-in, for whoever gets here first."""
    now = timezone.now()
    with transaction.atomic():
        if not SignInLink.objects.live(now).filter(pk=link.pk).update(used_at=now):
            raise LinkRefused("over")
        if SignInLink.objects.filter(email=link.email, pk__gt=link.pk).exists():
            raise LinkRefused("over")
        account = User.objects.filter(email=link.email).first()
        if account is None and link.may_create:
            account = User.objects.create_holder(link.email)
        if account is None or not account.is_active or not account.is_holder:
            raise LinkRefused("over")
        return account
