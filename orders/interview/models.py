"""A fitting: the answers as typed, and the fitting sheet that they make."""

from datetime import datetime, timedelta
from typing import Any

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from orders.people.codes import new_code


class FittingQuerySet(models.QuerySet["Fitting"]):
    """Which fittings are meant, by name."""

    def drafts(self) -> "FittingQuerySet":
        """Fittings that are not yet sent to the maker."""
        return self.filter(state=Fitting.State.DRAFT)

    def held_by(self, user: Any) -> "FittingQuerySet":
        """Fittings that this account holds."""
        return self.filter(holder=user)

    def waiting_for_address(self, address: str) -> "FittingQuerySet":
        """Drafts without a holder that were left to this mail address."""
        return self.drafts().filter(holder=None, waiting_for=address.lower()).exclude(waiting_for="")


class Fitting(models.Model):
    """One interview, from its first answer to its sending."""

    class State(models.TextChoices):
        """Whether answers can still be changed."""

        DRAFT = "draft", _("being filled in")
        SENT = "sent", _("sent to the maker")

    code = models.CharField(max_length=10, unique=True, default=new_code, editable=False)
    holder = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="fittings"
    )
    player = models.ForeignKey(
        "people.Player", models.PROTECT, null=True, blank=True, related_name="fittings"
    )
    begun_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    # Whom a fitting begun at the counter is for, as the maker calls them, until it is handed over.
    called = models.CharField(max_length=120, blank=True, default="")
    browser_hash = models.CharField(max_length=64, blank=True, default="", db_index=True)
    waiting_for = models.EmailField(blank=True, default="", db_index=True)
    answers = models.JSONField(default=dict, blank=True)
    sheet = models.JSONField(default=dict, blank=True)
    # The sheet before the answers saved last, so that a page can say what they moved.
    sheet_before = models.JSONField(default=dict, blank=True)
    state = models.CharField(max_length=8, choices=State, default=State.DRAFT)
    # Which opened page saved last: its own earlier saves are no change elsewhere.
    saved_in = models.CharField(max_length=10, blank=True, default="")
    version = models.PositiveIntegerField(default=0)
    created_at = models.DateTimeField(default=timezone.now)
    changed_at = models.DateTimeField(default=timezone.now)
    sent_at = models.DateTimeField(null=True, blank=True)

    objects = FittingQuerySet.as_manager()

    class Meta:
        """A fitting that is sent has somebody to make for and somebody who answers for it."""

        ordering = ("-changed_at", "-pk")
        constraints = (
            models.CheckConstraint(name="fitting_state_known", condition=Q(state__in=("draft", "sent"))),
            models.CheckConstraint(
                name="fitting_sent_has_holder",
                condition=~Q(state="sent") | (Q(holder__isnull=False) & Q(player__isnull=False)),
            ),
        )

    def __str__(self) -> str:
        return self.code

    @property
    def is_draft(self) -> bool:
        """Whether answers can still be changed."""
        return self.state == self.State.DRAFT


class SharedDraftQuerySet(models.QuerySet["SharedDraft"]):
    """Which links still show something."""

    def live(self, now: datetime) -> "SharedDraftQuerySet":
        """Not out of date, and of a fitting that is still a draft."""
        return self.filter(expires_at__gt=now, fitting__state=Fitting.State.DRAFT)


class SharedDraft(models.Model):
    """A link by which somebody without an account reads a draft; made on purpose, one at a time.

    There is a row as long as the link is worth anything: ending it deletes the row. Of the link's token
    only a hash is stored, so that a copy of the database opens nothing.
    """

    LIFE = timedelta(days=30)

    fitting = models.OneToOneField(Fitting, models.CASCADE, related_name="shared")
    token_hash = models.CharField(max_length=64, unique=True)
    made_at = models.DateTimeField(default=timezone.now)
    expires_at = models.DateTimeField()

    objects = SharedDraftQuerySet.as_manager()

    def __str__(self) -> str:
        return self.fitting.code
