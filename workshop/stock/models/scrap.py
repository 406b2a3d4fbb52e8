"""What was lost at the bench, and why."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from orders.commissions.states import Stage


class Cause(models.TextChoices):
    """Why wood fails, in the trade's few words."""

    SPLIT_IN_PRESS = "split_in_press", _("split in the press")
    HIDDEN_FAULT = "hidden_fault", _("hidden fault in the wood")
    OVERCUT = "overcut", _("overcut")
    HANDLE = "handle", _("splice or handle")
    OTHER = "other", _("something else")


class Scrap(models.Model):
    """One piece of wood and the work in it written off; rows are only added. Money in the smallest unit."""

    cause = models.CharField(_("cause"), max_length=16, choices=Cause)
    cleft = models.ForeignKey(
        "rack.Cleft", on_delete=models.PROTECT, related_name="scrap", null=True, blank=True
    )
    bat = models.ForeignKey(
        "commissions.Bat", on_delete=models.SET_NULL, related_name="+", null=True, blank=True
    )
    round = models.PositiveSmallIntegerField(null=True, blank=True)
    stage = models.CharField(max_length=16, choices=Stage, blank=True)
    wood_cost = models.PositiveIntegerField(null=True, blank=True)
    minutes = models.PositiveIntegerField(_("minutes of work"), default=0)
    work_cost = models.PositiveIntegerField(default=0)
    words = models.TextField(_("what happened"))
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        """The newest first."""

        ordering = ("-at", "-pk")
        constraints = (
            models.CheckConstraint(condition=Q(cause__in=Cause.values), name="scrap_cause_known"),
            models.CheckConstraint(condition=~Q(words=""), name="scrap_has_words"),
        )

    def __str__(self) -> str:
        return f"{self.cause} of cleft {self.cleft_id}"
