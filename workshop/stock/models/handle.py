"""Handles one by one, and what befell each."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from orders.people.codes import new_code


class HandleState(models.TextChoices):
    """Where a handle stands."""

    IN_STOCK = "in_stock", _("in stock")
    RESERVED = "reserved", _("reserved for a bat")
    FITTED = "fitted", _("fitted")
    REJECTED = "rejected", _("thrown out")


class Construction(models.TextChoices):
    """How a handle is built up; the values are the build sheet's."""

    PLAIN = "plain_cane", _("plain cane")
    STIFFENED = "stiffened_cane", _("stiffened cane")
    LIGHTENED = "lightened_cane", _("lightened cane")


BOUND_STATES = (HandleState.RESERVED, HandleState.FITTED)


class HandleQuerySet(models.QuerySet["Handle"]):
    """Which handles."""

    def lying_here(self) -> "HandleQuerySet":
        """Neither glued in nor thrown out."""
        return self.filter(state__in=(HandleState.IN_STOCK, HandleState.RESERVED))

    def free(self) -> "HandleQuerySet":
        """In stock and promised to no bat."""
        return self.filter(state=HandleState.IN_STOCK)


class Handle(models.Model):
    """A raw handle as it came: cane spliced up, not turned. Mass in 0.1 g, price in the smallest unit."""

    number = models.PositiveIntegerField(_("number"), unique=True)
    code = models.CharField(max_length=10, unique=True, default=new_code, editable=False)
    mass = models.PositiveIntegerField(_("mass"))
    springs = models.PositiveSmallIntegerField(_("springs"))
    construction = models.CharField(_("construction"), max_length=16, choices=Construction)
    line = models.CharField(_("line"), max_length=200, blank=True)
    batch = models.CharField(_("batch"), max_length=80, blank=True)
    # Not shown to bench hands.
    price = models.PositiveIntegerField(_("price"), null=True, blank=True)
    state = models.CharField(max_length=10, choices=HandleState, default=HandleState.IN_STOCK)
    bat = models.ForeignKey(
        "commissions.Bat", on_delete=models.PROTECT, related_name="handles", null=True, blank=True
    )
    # The trip over the bench that it is fitted in: a rebuilt bat has a second handle.
    round = models.PositiveSmallIntegerField(null=True, blank=True)
    version = models.PositiveIntegerField(default=0)
    taken_in_at = models.DateTimeField(default=timezone.now)

    objects = HandleQuerySet.as_manager()

    class Meta:
        """One handle for a bat's trip over the bench, and one bat for a handle."""

        ordering = ("number",)
        constraints = (
            models.CheckConstraint(condition=Q(state__in=HandleState.values), name="handle_state_known"),
            models.CheckConstraint(
                condition=Q(construction__in=Construction.values), name="handle_construction_known"
            ),
            models.CheckConstraint(
                condition=Q(state__in=BOUND_STATES, bat__isnull=False, round__isnull=False)
                | (~Q(state__in=BOUND_STATES) & Q(bat__isnull=True, round__isnull=True)),
                name="handle_bound_to_a_bat",
            ),
            models.UniqueConstraint(
                fields=["bat", "round"], condition=Q(bat__isnull=False), name="handle_one_for_a_bat"
            ),
        )

    def __str__(self) -> str:
        return self.label

    @property
    def label(self) -> str:
        """The number as it is pencilled on the handle: H and the number."""
        return f"H{self.number:03d}"

    @property
    def mass_g(self) -> float:
        """Mass of the raw handle, g."""
        return self.mass / 10


class HandleEntry(models.Model):
    """One thing that befell a handle; rows are only added."""

    handle = models.ForeignKey(Handle, on_delete=models.PROTECT, related_name="entries")
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
        return f"{self.handle_id} {self.verb}"
