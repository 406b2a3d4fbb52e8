"""Bats without an owner: blanks, part-made and finished ones."""

from typing import Any

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from orders.people.codes import new_code


class BatKind(models.TextChoices):
    """How far it got."""

    BLANK = "blank", _("blank")
    PART_MADE = "part_made", _("part-made")
    FINISHED = "finished", _("finished")


class StockBatState(models.TextChoices):
    """Where it stands."""

    ON_SHELF = "on_shelf", _("on the shelf")
    KEPT = "kept", _("kept for a commission")
    SOLD = "sold", _("sold")
    CUT_UP = "cut_up", _("cut up")


class StockBatQuerySet(models.QuerySet["StockBat"]):
    """Which bats."""

    def here(self) -> "StockBatQuerySet":
        """Neither sold nor cut up."""
        return self.filter(state__in=(StockBatState.ON_SHELF, StockBatState.KEPT))

    def free(self) -> "StockBatQuerySet":
        """On the shelf, for whoever wants it."""
        return self.filter(state=StockBatState.ON_SHELF)


class StockBat(models.Model):
    """A blank, a part-made or a finished bat that has no owner. Mass in 0.1 g, balance in 0.1 mm."""

    number = models.PositiveIntegerField(_("number"), unique=True)
    code = models.CharField(max_length=10, unique=True, default=new_code, editable=False)
    kind = models.CharField(_("kind"), max_length=10, choices=BatKind)
    length_code = models.CharField(_("length"), max_length=30)
    cleft = models.ForeignKey(
        "rack.Cleft", on_delete=models.PROTECT, related_name="stock_bats", null=True, blank=True
    )
    # The bat that it was to be, or was.
    bat = models.ForeignKey(
        "commissions.Bat", on_delete=models.SET_NULL, related_name="+", null=True, blank=True
    )
    build: Any = models.JSONField(null=True, blank=True)
    mass = models.PositiveIntegerField(_("mass"), null=True, blank=True)
    balance = models.PositiveIntegerField(_("balance from the toe"), null=True, blank=True)
    grade = models.PositiveSmallIntegerField(_("grade"), null=True, blank=True)
    state = models.CharField(max_length=10, choices=StockBatState, default=StockBatState.ON_SHELF)
    commission = models.ForeignKey(
        "commissions.Commission", on_delete=models.PROTECT, related_name="stock_bats", null=True, blank=True
    )
    # What it cost so far, and what is asked for it, smallest unit; neither is shown to bench hands.
    cost = models.PositiveIntegerField(null=True, blank=True)
    price = models.PositiveIntegerField(_("price"), null=True, blank=True)
    words = models.TextField(_("words"), blank=True)
    version = models.PositiveIntegerField(default=0)
    laid_by_at = models.DateTimeField(default=timezone.now)

    objects = StockBatQuerySet.as_manager()

    class Meta:
        """Kept for one commission, or for none."""

        ordering = ("number",)
        constraints = (
            models.CheckConstraint(condition=Q(state__in=StockBatState.values), name="stock_bat_state_known"),
            models.CheckConstraint(condition=Q(kind__in=BatKind.values), name="stock_bat_kind_known"),
            models.CheckConstraint(
                condition=Q(grade__isnull=True) | Q(grade__gte=1, grade__lte=4), name="stock_bat_grade_1_to_4"
            ),
            models.CheckConstraint(
                condition=Q(state=StockBatState.KEPT, commission__isnull=False)
                | Q(state=StockBatState.SOLD)
                | Q(
                    state__in=(StockBatState.ON_SHELF, StockBatState.CUT_UP),
                    commission__isnull=True,
                ),
                name="stock_bat_kept_for_one",
            ),
        )

    def __str__(self) -> str:
        return self.label

    @property
    def label(self) -> str:
        """The number as it stands on its tag: S and the number."""
        return f"S{self.number:03d}"

    @property
    def mass_g(self) -> float | None:
        """Mass, g."""
        return None if self.mass is None else self.mass / 10

    @property
    def balance_mm(self) -> float | None:
        """Balance, mm from the toe."""
        return None if self.balance is None else self.balance / 10


class StockBatEntry(models.Model):
    """One thing that befell a stock bat; rows are only added."""

    stock_bat = models.ForeignKey(StockBat, on_delete=models.PROTECT, related_name="entries")
    verb = models.CharField(max_length=20)
    from_state = models.CharField(max_length=10, blank=True)
    to_state = models.CharField(max_length=10, blank=True)
    # Nobody where the worker tidied up.
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    data = models.JSONField(default=dict)
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        """In the order in which they happened."""

        ordering = ("at", "pk")

    def __str__(self) -> str:
        return f"{self.stock_bat_id} {self.verb}"
