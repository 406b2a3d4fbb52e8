"""A bat that comes back: what its player says, what the maker decides."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone

from orders.people.codes import new_code


class Return(models.Model):
    """One return of one bat, from the player's words to the decision."""

    class State(models.TextChoices):
        ASKED = "asked"
        DECIDED = "decided"
        CLOSED = "closed"

    class Decision(models.TextChoices):
        ADJUST = "adjust"
        REBUILD = "rebuild"
        REFUND = "refund"
        NOTHING_WRONG = "nothing_wrong"

    code = models.CharField(max_length=10, unique=True, default=new_code)
    bat = models.ForeignKey("commissions.Bat", on_delete=models.PROTECT, related_name="returns")
    commission = models.ForeignKey("commissions.Commission", on_delete=models.PROTECT, related_name="returns")
    round = models.PositiveIntegerField(
        null=True, help_text="the trip over the bench that this return led to"
    )
    words = models.TextField()
    answers = models.JSONField(default=dict)
    state = models.CharField(max_length=10, choices=State, default=State.ASKED)
    decision = models.CharField(max_length=15, choices=Decision, blank=True, default="")
    decision_words = models.TextField(blank=True, default="")
    stages = models.JSONField(default=list)
    refund = models.BigIntegerField(null=True, help_text="smallest unit of the workshop's currency")
    asked_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    decided_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+"
    )
    asked_at = models.DateTimeField(default=timezone.now)
    decided_at = models.DateTimeField(null=True)
    closed_at = models.DateTimeField(null=True)

    class Meta:
        ordering = ("-asked_at",)
        constraints = (
            models.UniqueConstraint(
                fields=("bat",), condition=~Q(state="closed"), name="care_return_one_open_per_bat"
            ),
            models.CheckConstraint(
                condition=Q(state__in=("asked", "decided", "closed")), name="care_return_state_known"
            ),
            models.CheckConstraint(
                condition=Q(decision__in=("", "adjust", "rebuild", "refund", "nothing_wrong")),
                name="care_return_decision_known",
            ),
            models.CheckConstraint(
                condition=Q(state="asked", decision="") | (~Q(state="asked") & ~Q(decision="")),
                name="care_return_decided_with_a_decision",
            ),
        )

    def __str__(self) -> str:
        return f"return {self.code}"
