"""What a bat's player is asked while it is being made, and the answer, given once."""

from typing import Any

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone

from orders.commissions.models.bat import Bat
from orders.commissions.states import About, Answer
from orders.people.codes import new_code


class ConsentQuerySet(models.QuerySet["Consent"]):
    """Which questions."""

    def open(self) -> "ConsentQuerySet":
        """Asked, not answered, and still of meaning."""
        return self.filter(answer="", ended_at__isnull=True)

    def given(self) -> "ConsentQuerySet":
        """Answered with yes."""
        return self.filter(answer=Answer.YES)


class Consent(models.Model):
    """One question to the player about a bat, with numbers and words, and yes or no. Written by consents.py.

    ``rows`` has the rows of the inspection that are more than the proposal allows; ``length_code`` the
    smaller bat that a failed piece of wood would still make. ``ended_at`` is set when the bat went on or
    back, so that an answer would mean nothing any more.
    """

    code = models.CharField(max_length=10, unique=True, default=new_code, editable=False)
    bat = models.ForeignKey(Bat, on_delete=models.CASCADE, related_name="consents")
    round = models.PositiveSmallIntegerField()
    about = models.CharField(max_length=12, choices=About)
    rows: Any = models.JSONField(default=list)
    length_code = models.CharField(max_length=24, blank=True)
    words = models.TextField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    asked_at = models.DateTimeField(default=timezone.now)
    answer = models.CharField(max_length=3, choices=Answer, blank=True)
    answer_words = models.TextField(blank=True)
    answered_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+", null=True, blank=True
    )
    answered_at = models.DateTimeField(null=True, blank=True)
    ended_at = models.DateTimeField(null=True, blank=True)

    objects = ConsentQuerySet.as_manager()

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(
                fields=["bat"], condition=Q(answer="", ended_at__isnull=True), name="consent_one_open"
            ),
            models.CheckConstraint(condition=Q(about__in=About.values), name="consent_about_known"),
            models.CheckConstraint(
                condition=Q(answer="", answered_by__isnull=True, answered_at__isnull=True)
                | Q(answer__in=Answer.values, answered_by__isnull=False, answered_at__isnull=False),
                name="consent_answered_by_someone",
            ),
        )

    def __str__(self) -> str:
        return f"{self.about} asked of bat {self.bat_id}"

    @property
    def is_open(self) -> bool:
        """Whether it waits for its answer."""
        return not self.answer and self.ended_at is None
