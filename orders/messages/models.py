"""Letters waiting to be sent or sent, and photographs of bats."""

import secrets
from datetime import datetime, timedelta

from django.conf import settings
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from orders.people.codes import new_code


class LetterState(models.TextChoices):
    """Where a letter stands."""

    WAITING = "waiting", _("waiting")
    SENT = "sent", _("sent")
    FAILED = "failed", _("not sent")


class LetterQuerySet(models.QuerySet["Letter"]):
    """Which letters."""

    def due(self, now: datetime) -> "LetterQuerySet":
        """Waiting, their time come, and held by no worker (or by one that died)."""
        return self.filter(state=LetterState.WAITING, next_try_at__lte=now).filter(
            models.Q(held_until__isnull=True) | models.Q(held_until__lte=now)
        )

    def failed(self) -> "LetterQuerySet":
        """Given up: someone in the workshop must look."""
        return self.filter(state=LetterState.FAILED)


class Letter(models.Model):
    """One letter to one person, written in the transaction of its cause, sent by the worker."""

    # After the twelfth try, nearly two days on, someone must look.
    MOST_TRIES = 12

    to = models.EmailField(max_length=254)
    kind = models.CharField(max_length=40)
    context = models.JSONField(default=dict)
    # Fixed here, so that a letter sent twice after a crash is known as the same by whoever receives it.
    message_id = models.CharField(max_length=120, unique=True)
    state = models.CharField(max_length=8, choices=LetterState.choices, default=LetterState.WAITING)
    tries = models.PositiveSmallIntegerField(default=0)
    next_try_at = models.DateTimeField(default=timezone.now)
    # A worker holds a letter until then; if it dies, the letter is free again afterwards.
    held_until = models.DateTimeField(null=True, blank=True)
    # After this the letter is of no use and is not sent.
    useful_until = models.DateTimeField(null=True, blank=True)
    sent_at = models.DateTimeField(null=True, blank=True)
    fault = models.CharField(max_length=200, blank=True)
    commission_code = models.CharField(max_length=10, blank=True, db_index=True)
    created_at = models.DateTimeField(default=timezone.now)

    objects = LetterQuerySet.as_manager()

    class Meta:
        """The worker looks for what is due, oldest first."""

        ordering = ("created_at", "pk")
        indexes = (models.Index(fields=["state", "next_try_at"], name="letter_due"),)
        constraints = (
            models.CheckConstraint(
                condition=models.Q(state__in=LetterState.values), name="letter_state_known"
            ),
        )

    def __str__(self) -> str:
        return f"letter {self.kind} {self.pk}"

    def pause(self) -> timedelta:
        """Return how long to wait after the tries so far: a minute, doubled each time, a day at most."""
        return timedelta(seconds=min(60 * 2 ** max(self.tries - 1, 0), 24 * 3600))


def _photograph_path(photo: "Photo", filename: str) -> str:
    """Name the file at random, whatever it was called where it came from."""
    name = secrets.token_hex(16)
    return f"photographs/{name[:2]}/{name}.jpg"


class Photo(models.Model):
    """A photograph of a bat, decoded and written anew; nothing of the original file is kept."""

    code = models.CharField(max_length=10, unique=True, default=new_code, editable=False)
    commission = models.ForeignKey("commissions.Commission", on_delete=models.CASCADE, related_name="photos")
    bat = models.ForeignKey(
        "commissions.Bat", on_delete=models.CASCADE, related_name="photos", null=True, blank=True
    )
    stage = models.CharField(max_length=20, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="photos_taken")
    file = models.FileField(upload_to=_photograph_path)
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    caption = models.CharField(_("caption"), max_length=200, blank=True)
    shown_to_player = models.BooleanField(default=False)
    created_at = models.DateTimeField(default=timezone.now)

    class Meta:
        """In the order they were taken."""

        ordering = ("created_at", "pk")

    def __str__(self) -> str:
        return f"photograph {self.code}"
