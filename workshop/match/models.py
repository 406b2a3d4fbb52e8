"""What the model once worked out of a bat's willow, and which clefts the maker refused for which bat."""

from typing import Any

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone


class WillowOfBuild(models.Model):
    """The willow table of one build sheet, as the model of one version found it with one book.

    ``key`` stamps sheet, book and model version, so that a row is never wrong and never changed; ``content``
    has the table and the weighing that it goes with.
    """

    key = models.CharField(max_length=64, unique=True)
    content: Any = models.JSONField()
    created_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return self.key[:12]


class PairRefused(models.Model):
    """A cleft that the maker does not want for one bat's present round; it may be thought better of."""

    bat = models.ForeignKey("commissions.Bat", on_delete=models.CASCADE, related_name="+")
    round = models.PositiveSmallIntegerField()
    cleft = models.ForeignKey("rack.Cleft", on_delete=models.CASCADE, related_name="+")
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(
                fields=["bat", "round", "cleft"],
                condition=Q(withdrawn_at__isnull=True),
                name="pair_refused_once",
            ),
        )

    def __str__(self) -> str:
        return f"cleft {self.cleft_id} refused for bat {self.bat_id}"
