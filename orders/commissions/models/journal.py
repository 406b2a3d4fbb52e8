"""What happened, in order; nothing in it is ever changed or taken out."""

from typing import Any, NoReturn

from django.conf import settings
from django.db import models
from django.utils import timezone

from orders.commissions.models.bat import Bat
from orders.commissions.models.commission import Commission


class AppendOnly(TypeError):
    """Someone tried to change what has been written down."""


class JournalQuerySet(models.QuerySet["JournalEntry"]):
    """Entries to be read; they can be added, and nothing else."""

    def update(self, **kwargs: Any) -> NoReturn:
        """Refuse."""
        raise AppendOnly("the journal is only added to")

    def delete(self) -> NoReturn:
        """Refuse."""
        raise AppendOnly("the journal is only added to")

    def of_commission(self) -> "JournalQuerySet":
        """The moves of the commission itself, without those of its bats."""
        return self.filter(bat__isnull=True)


class JournalEntry(models.Model):
    """One verb: who, when, from where to where."""

    commission = models.ForeignKey(Commission, on_delete=models.CASCADE, related_name="journal")
    bat = models.ForeignKey(Bat, on_delete=models.CASCADE, related_name="journal", null=True, blank=True)
    verb = models.CharField(max_length=20)
    from_state = models.CharField(max_length=16, blank=True)
    to_state = models.CharField(max_length=16)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+", null=True, blank=True
    )
    data = models.JSONField(default=dict, blank=True)
    at = models.DateTimeField(default=timezone.now)

    objects = JournalQuerySet.as_manager()

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return f"{self.verb} {self.commission_id}"

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Write a new entry.

        Raises:
            AppendOnly: the entry is already written.
        """
        if self.pk is not None and not self._state.adding:
            raise AppendOnly("the journal is only added to")
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> NoReturn:
        """Refuse."""
        raise AppendOnly("the journal is only added to")
