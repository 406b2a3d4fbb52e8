"""Clearing away what has served: links, keys of forms, counts, sessions that are over."""

from datetime import timedelta

from django.contrib.sessions.models import Session
from django.utils import timezone

from orders.people.models import OneTimeKey, RateBucket, SignInLink, StaffInvitation

KEEP_KEYS = timedelta(days=2)
KEEP_LINKS = timedelta(days=2)
KEEP_INVITATIONS = timedelta(days=30)


def tidy() -> None:
    """Delete what is of no more use; a periodic job."""
    now = timezone.now()
    RateBucket.objects.filter(until__lt=now).delete()
    OneTimeKey.objects.filter(made_at__lt=now - KEEP_KEYS).delete()
    SignInLink.objects.filter(expires_at__lt=now - KEEP_LINKS).delete()
    StaffInvitation.objects.filter(expires_at__lt=now - KEEP_INVITATIONS).delete()
    Session.objects.filter(expire_date__lt=now).delete()
