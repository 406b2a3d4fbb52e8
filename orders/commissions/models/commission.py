"""A commission, its build sheets and its proposals."""

from datetime import date, datetime
from typing import Any

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from orders.commissions.states import ChangeField, Origin, ProposalState, State
from orders.people.codes import new_code
from orders.people.models import Role, User

# What a bench hand may open: commissions whose bats are, or were, on the bench.
BENCH_STATES = (State.ACCEPTED, State.MAKING, State.READY, State.DELIVERED, State.BACK, State.MENDING)
# Nothing more happens to these by itself.
CLOSED_STATES = (State.REFUNDED, State.CANCELLED)


class BookVersion(models.Model):
    """One edition of the workshop's book; the newest is the one in force."""

    number = models.PositiveIntegerField(unique=True)
    content = models.JSONField()
    hash = models.CharField(max_length=64)
    created_at = models.DateTimeField(default=timezone.now)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+", null=True)
    note = models.CharField(max_length=500, blank=True)

    class Meta:
        ordering = ("-number",)

    def __str__(self) -> str:
        return f"book {self.number}"


class CommissionQuerySet(models.QuerySet["Commission"]):
    """Which commissions, by name."""

    def visible_to(self, user: User) -> "CommissionQuerySet":
        """What this account may open at all."""
        if user.role == Role.MAKER:
            return self.all()
        if user.role == Role.BENCH_HAND:
            return self.filter(state__in=BENCH_STATES)
        return self.filter(holder=user)

    def with_people(self) -> "CommissionQuerySet":
        """Fetched with player and holder."""
        return self.select_related("player", "holder")

    def with_bats(self) -> "CommissionQuerySet":
        """Fetched with what a list needs to draw each bat."""
        return self.prefetch_related("proposals", "builds", "bats")

    def awaiting_review(self) -> "CommissionQuerySet":
        """Waiting for the maker to propose."""
        return self.filter(state__in=(State.SENT, State.CHANGE_ASKED))

    def awaiting_answer(self) -> "CommissionQuerySet":
        """Waiting for the holder to answer a proposal."""
        return self.filter(state=State.PROPOSED)

    def at_work(self) -> "CommissionQuerySet":
        """Agreed and not yet ready."""
        return self.filter(state__in=(State.ACCEPTED, State.MAKING, State.MENDING))

    def late(self, today: date) -> "CommissionQuerySet":
        """Promised for an earlier day than today and not ready."""
        return self.at_work().filter(promised_to__lt=today)

    def came_back(self) -> "CommissionQuerySet":
        """Sent back by their players and not yet decided."""
        return self.filter(state=State.BACK)

    def ready(self) -> "CommissionQuerySet":
        """Made, and waiting to be delivered."""
        return self.filter(state=State.READY)

    def running(self) -> "CommissionQuerySet":
        """Neither cancelled nor refunded."""
        return self.exclude(state__in=CLOSED_STATES)


class Commission(models.Model):
    """Everything from a sent fitting on. The state is written by lifecycle.py alone."""

    code = models.CharField(max_length=10, unique=True, default=new_code, editable=False)
    number = models.PositiveIntegerField(unique=True)
    player = models.ForeignKey("people.Player", on_delete=models.PROTECT, related_name="commissions")
    holder = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="commissions")
    fitting = models.OneToOneField(
        "interview.Fitting", on_delete=models.PROTECT, related_name="commission", null=True, blank=True
    )
    sheet = models.JSONField()
    state = models.CharField(max_length=12, choices=State, default=State.SENT)
    version = models.PositiveIntegerField(default=0)
    promised_from = models.DateField(null=True, blank=True)
    promised_to = models.DateField(null=True, blank=True)
    created_at = models.DateTimeField(default=timezone.now)
    changed_at = models.DateTimeField(default=timezone.now)
    cancelled_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+", null=True, blank=True
    )
    cancelled_why = models.TextField(blank=True)
    # Name, number, serial and cleft, folded alike on every database; see searching.py.
    search_text = models.TextField(blank=True, editable=False)

    objects = CommissionQuerySet.as_manager()

    class Meta:
        ordering = ("-number",)
        indexes = (models.Index(fields=["state", "changed_at"], name="commission_by_state"),)
        constraints = (
            models.CheckConstraint(condition=Q(state__in=State.values), name="commission_state_known"),
            models.CheckConstraint(
                condition=Q(promised_from__isnull=True, promised_to__isnull=True)
                | Q(promised_from__lte=F("promised_to")),
                name="commission_promise_in_order",
            ),
        )

    def __str__(self) -> str:
        return self.reference

    @property
    def reference(self) -> str:
        """The number as people say it: ``0412``."""
        return f"{self.number:04d}"

    @property
    def for_under_18(self) -> bool:
        """Whether the player is under 18 today, so that only the guardian may agree."""
        return self.player.needs_guardian(timezone.localdate())


class BuildVersionQuerySet(models.QuerySet["BuildVersion"]):
    """Which build sheets."""

    def newest_first(self) -> "BuildVersionQuerySet":
        """As a history is read."""
        return self.order_by("-number")


class BuildVersion(models.Model):
    """A build sheet as it once stood, with its weighing. Never changed, only followed by another."""

    commission = models.ForeignKey(Commission, on_delete=models.CASCADE, related_name="builds")
    number = models.PositiveIntegerField()
    origin = models.CharField(max_length=12, choices=Origin)
    parent = models.ForeignKey(
        "self", on_delete=models.PROTECT, related_name="children", null=True, blank=True
    )
    build = models.JSONField()
    weighing = models.JSONField()
    # Reasons, conflicts and cautions of the recommendation; empty for the others.
    reasons = models.JSONField(default=dict, blank=True)
    book_number = models.PositiveIntegerField()
    book_hash = models.CharField(max_length=64)
    model_version = models.CharField(max_length=20)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+", null=True, blank=True
    )
    note = models.TextField(blank=True)
    created_at = models.DateTimeField(default=timezone.now)

    objects = BuildVersionQuerySet.as_manager()

    class Meta:
        ordering = ("number",)
        constraints = (
            models.UniqueConstraint(fields=["commission", "number"], name="build_number_once"),
            models.CheckConstraint(condition=Q(origin__in=Origin.values), name="build_origin_known"),
        )

    def __str__(self) -> str:
        return f"build {self.number} of {self.commission_id}"


class ProposalQuerySet(models.QuerySet["Proposal"]):
    """Which proposals."""

    def open(self) -> "ProposalQuerySet":
        """Offered and not yet answered."""
        return self.filter(state=ProposalState.OPEN)

    def due_to_lapse(self, now: datetime) -> "ProposalQuerySet":
        """Open past their time."""
        return self.open().filter(valid_until__lte=now)


class Proposal(models.Model):
    """A build sheet with price and date, offered to the player.

    ``snapshot`` is what the player sees and, by accepting, agrees to; it is made when the proposal
    is and never again.
    """

    code = models.CharField(max_length=10, unique=True, default=new_code, editable=False)
    commission = models.ForeignKey(Commission, on_delete=models.CASCADE, related_name="proposals")
    number = models.PositiveIntegerField()
    build_version = models.ForeignKey(BuildVersion, on_delete=models.PROTECT, related_name="proposals")
    price = models.BigIntegerField(_("price in the currency's smallest unit"))
    currency = models.CharField(max_length=3)
    tax = models.CharField(max_length=120, blank=True)
    ready_from = models.DateField()
    ready_to = models.DateField()
    valid_until = models.DateTimeField()
    subject_to_willow = models.BooleanField(default=True)
    words = models.TextField(blank=True)
    state = models.CharField(max_length=12, choices=ProposalState, default=ProposalState.OPEN)
    snapshot = models.JSONField()
    snapshot_hash = models.CharField(max_length=64)
    change_field = models.CharField(max_length=12, choices=ChangeField, blank=True)
    change_words = models.TextField(blank=True)
    created_at = models.DateTimeField(default=timezone.now)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    answered_at = models.DateTimeField(null=True, blank=True)
    answered_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+", null=True, blank=True
    )

    objects = ProposalQuerySet.as_manager()

    class Meta:
        ordering = ("number",)
        constraints = (
            models.UniqueConstraint(fields=["commission", "number"], name="proposal_number_once"),
            models.UniqueConstraint(
                fields=["commission"], condition=Q(state=ProposalState.OPEN), name="proposal_one_open"
            ),
            models.UniqueConstraint(
                fields=["commission"], condition=Q(state=ProposalState.ACCEPTED), name="proposal_one_accepted"
            ),
            models.CheckConstraint(condition=Q(state__in=ProposalState.values), name="proposal_state_known"),
            models.CheckConstraint(condition=Q(price__gte=0), name="proposal_price_not_negative"),
            models.CheckConstraint(
                condition=Q(ready_from__lte=F("ready_to")), name="proposal_ready_in_order"
            ),
            models.CheckConstraint(
                condition=Q(change_field="") | Q(change_field__in=ChangeField.values),
                name="proposal_change_known",
            ),
            models.CheckConstraint(
                condition=~Q(state=ProposalState.ACCEPTED)
                | Q(answered_by__isnull=False, answered_at__isnull=False),
                name="proposal_accepted_by_someone",
            ),
        )

    def __str__(self) -> str:
        return f"proposal {self.number} of {self.commission_id}"

    def is_valid(self, now: datetime) -> bool:
        """Whether it can still be accepted."""
        return self.state == ProposalState.OPEN and now < self.valid_until

    def build(self) -> dict[str, Any]:
        """The build sheet as offered."""
        return dict(self.snapshot["build"])
