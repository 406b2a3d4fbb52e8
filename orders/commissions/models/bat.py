"""A bat, its rounds over the bench, and what was done and measured there."""

from typing import Any

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from orders.commissions.models.commission import BENCH_STATES, Commission, Proposal
from orders.commissions.states import Cause, Stage, State, Unit
from orders.people.codes import new_code
from orders.people.models import Role, User


class BatQuerySet(models.QuerySet["Bat"]):
    """Which bats."""

    def visible_to(self, user: User) -> "BatQuerySet":
        """What this account may open at all."""
        if user.role == Role.MAKER:
            return self.all()
        if user.role == Role.BENCH_HAND:
            return self.filter(commission__state__in=BENCH_STATES)
        return self.filter(commission__holder=user)

    def at_bench(self) -> "BatQuerySet":
        """Agreed and not done: what the bench has before it."""
        return self.filter(commission__state__in=(State.ACCEPTED, State.MAKING, State.MENDING)).exclude(
            stage=Stage.DONE
        )

    def with_people(self) -> "BatQuerySet":
        """Fetched with commission, player and what was agreed."""
        return self.select_related("commission", "commission__player", "commission__holder", "agreed")


class Bat(models.Model):
    """One bat of a commission. The stage is written by stages.py alone."""

    code = models.CharField(max_length=10, unique=True, default=new_code, editable=False)
    commission = models.ForeignKey(Commission, on_delete=models.CASCADE, related_name="bats")
    ordinal = models.PositiveSmallIntegerField(default=1)
    agreed = models.ForeignKey(Proposal, on_delete=models.PROTECT, related_name="bats", null=True, blank=True)
    stage = models.CharField(max_length=16, choices=Stage, default=Stage.WAITING)
    round = models.PositiveSmallIntegerField(default=1)
    serial = models.CharField(max_length=20, unique=True, null=True, blank=True)
    cleft_label = models.CharField(max_length=40, blank=True)
    version = models.PositiveIntegerField(default=0)
    changed_at = models.DateTimeField(default=timezone.now)
    finished_at = models.DateTimeField(null=True, blank=True)
    delivered_at = models.DateTimeField(null=True, blank=True)

    objects = BatQuerySet.as_manager()

    class Meta:
        ordering = ("commission", "ordinal")
        indexes = (models.Index(fields=["stage", "changed_at"], name="bat_by_stage"),)
        constraints = (
            models.UniqueConstraint(fields=["commission", "ordinal"], name="bat_ordinal_once"),
            models.CheckConstraint(condition=Q(stage__in=Stage.values), name="bat_stage_known"),
            models.CheckConstraint(
                condition=~Q(stage=Stage.DONE) | Q(serial__isnull=False, finished_at__isnull=False),
                name="bat_done_has_serial",
            ),
        )

    def __str__(self) -> str:
        return self.serial or f"bat {self.ordinal} of {self.commission_id}"

    @property
    def is_being_worked_on(self) -> bool:
        """Whether it lies in one of the five stages."""
        return self.stage not in (Stage.WAITING, Stage.INSPECTION, Stage.DONE)


class Round(models.Model):
    """One trip of a bat over the bench, and the stages that it needs."""

    bat = models.ForeignKey(Bat, on_delete=models.CASCADE, related_name="rounds")
    number = models.PositiveSmallIntegerField()
    cause = models.CharField(max_length=10, choices=Cause, default=Cause.MAKING)
    stages = models.JSONField()
    words = models.TextField(_("what is to be done"), blank=True)
    opened_at = models.DateTimeField(default=timezone.now)
    closed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("number",)
        constraints = (
            models.UniqueConstraint(fields=["bat", "number"], name="round_number_once"),
            models.UniqueConstraint(
                fields=["bat"], condition=Q(closed_at__isnull=True), name="round_one_open"
            ),
            models.CheckConstraint(condition=Q(cause__in=Cause.values), name="round_cause_known"),
        )

    def __str__(self) -> str:
        return f"round {self.number} of bat {self.bat_id}"


class BenchEntryQuerySet[Entry: models.Model](models.QuerySet[Entry]):
    """Which entries of the bench still count."""

    def standing(self) -> "BenchEntryQuerySet[Entry]":
        """Neither taken back nor themselves the taking back of another."""
        return self.filter(takes_back__isnull=True, taken_back_by__isnull=True)


class StepDone(models.Model):
    """A step of a stage that was done. Taking it back is another entry."""

    bat = models.ForeignKey(Bat, on_delete=models.CASCADE, related_name="steps")
    round = models.PositiveSmallIntegerField()
    stage = models.CharField(max_length=16, choices=Stage)
    step = models.CharField(max_length=40)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)
    takes_back = models.OneToOneField(
        "self", on_delete=models.PROTECT, related_name="taken_back_by", null=True, blank=True
    )

    objects = BenchEntryQuerySet["StepDone"].as_manager()

    class Meta:
        ordering = ("pk",)
        indexes = (models.Index(fields=["bat", "round", "stage"], name="step_by_stage"),)

    def __str__(self) -> str:
        return f"{self.step} of bat {self.bat_id}"


class Reading(models.Model):
    """What an instrument showed. ``value`` and ``from_toe`` count tenths of the unit and of 1 mm."""

    bat = models.ForeignKey(Bat, on_delete=models.CASCADE, related_name="readings")
    round = models.PositiveSmallIntegerField()
    stage = models.CharField(max_length=16, choices=Stage)
    key = models.CharField(max_length=40)
    from_toe = models.IntegerField(null=True, blank=True)
    value = models.IntegerField()
    unit = models.CharField(max_length=8, choices=Unit)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)
    takes_back = models.OneToOneField(
        "self", on_delete=models.PROTECT, related_name="taken_back_by", null=True, blank=True
    )

    objects = BenchEntryQuerySet["Reading"].as_manager()

    class Meta:
        ordering = ("pk",)
        indexes = (models.Index(fields=["bat", "round", "stage"], name="reading_by_stage"),)
        constraints = (models.CheckConstraint(condition=Q(unit__in=Unit.values), name="reading_unit_known"),)

    def __str__(self) -> str:
        return f"{self.key} of bat {self.bat_id}"

    @property
    def in_unit(self) -> float:
        """The value in its own unit."""
        return float(self.value) if self.unit == Unit.COUNT else self.value / 10

    @property
    def from_toe_mm(self) -> float | None:
        """Where along the bat, in mm from the toe."""
        return None if self.from_toe is None else self.from_toe / 10


class Inspection(models.Model):
    """The finished bat held against its build sheet."""

    bat = models.ForeignKey(Bat, on_delete=models.CASCADE, related_name="inspections")
    round = models.PositiveSmallIntegerField()
    rows: Any = models.JSONField()
    in_tolerance = models.BooleanField()
    reason = models.TextField(blank=True)
    # Outside the Laws, and marked so on the bat itself.
    not_for_play = models.BooleanField(default=False)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.CheckConstraint(
                condition=Q(in_tolerance=True) | ~Q(reason=""), name="inspection_passed_with_reason"
            ),
        )

    def __str__(self) -> str:
        return f"inspection of bat {self.bat_id}"
