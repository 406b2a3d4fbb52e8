"""Showing a draft to somebody else: a link that reads it and does nothing more."""

import secrets

from django.db.models import Q
from django.utils import timezone

from orders.interview.models import Fitting, SharedDraft
from orders.people.link_tokens import hash_of_token
from orders.people.models import User


def may_share(fitting: Fitting, user: User | None) -> bool:
    """Whether whoever sees this draft may show it on: its holder, or who began it while it has none."""
    return fitting.is_draft and (
        fitting.holder_id is None or (user is not None and fitting.holder_id == user.pk)
    )


def share(fitting: Fitting) -> str:
    """Make the link's token (256 random bits), which is told here and never again.

    A draft has one link at a time: an older one shows nothing from now on.
    """
    token = secrets.token_urlsafe(32)
    now = timezone.now()
    made = {"token_hash": hash_of_token(token), "made_at": now, "expires_at": now + SharedDraft.LIFE}
    SharedDraft.objects.update_or_create(fitting=fitting, defaults=made)
    return token


def stop_sharing(fitting: Fitting) -> None:
    """End the link of a draft, if it has one."""
    SharedDraft.objects.filter(fitting=fitting).delete()


def link_of(fitting: Fitting) -> SharedDraft | None:
    """Return the link that shows this draft now."""
    return SharedDraft.objects.live(timezone.now()).filter(fitting=fitting).first()


def draft_of_token(token: str) -> Fitting | None:
    """Return the draft that a link shows; None for a link that is wrong, ended or out of date."""
    live = SharedDraft.objects.live(timezone.now()).filter(token_hash=hash_of_token(token))
    found = live.select_related("fitting").first()
    return found.fitting if found else None


def tidy_shared() -> None:
    """Delete the links that show nothing any more; a periodic job."""
    over = Q(expires_at__lte=timezone.now()) | ~Q(fitting__state=Fitting.State.DRAFT)
    SharedDraft.objects.filter(over).delete()
