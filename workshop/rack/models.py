"""Clefts in stock, what befell each, and the holds of open proposals on them."""

from datetime import date

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from orders.people.codes import new_code


class CleftState(models.TextChoices):
    """Where a cleft stands."""

    SEASONING = "seasoning", _("seasoning")
    READY = "ready", _("ready")
    SMALLER = "smaller", _("for a smaller size")
    RESERVED = "reserved", _("reserved")
    USED = "used", _("used")
    REJECTED = "rejected", _("rejected")


FREE_STATES = (CleftState.READY, CleftState.SMALLER)
BOUND_STATES = (CleftState.RESERVED, CleftState.USED)


class CleftQuerySet(models.QuerySet["Cleft"]):
    """Which clefts."""

    def in_stock(self) -> "CleftQuerySet":
        """Lying on the rack: not cut and not thrown out."""
        return self.exclude(state__in=(CleftState.USED, CleftState.REJECTED))

    def free(self, day: date) -> "CleftQuerySet":
        """Ready to be cut, bound to no bat and held by no proposal on that day."""
        held = CleftHold.objects.active(day).values("cleft")
        return self.filter(state__in=FREE_STATES).exclude(pk__in=held)

    def free_today(self) -> "CleftQuerySet":
        """Free on the day that it is now in the workshop."""
        return self.free(timezone.localdate())

    def held_for(self, commission_pk: int) -> "CleftQuerySet":
        """Kept aside today for a proposal of this commission."""
        active = CleftHold.objects.active(timezone.localdate())
        return self.filter(
            state__in=FREE_STATES,
            pk__in=active.filter(proposal__commission=commission_pk).values("cleft"),
        )

    def with_hold(self, day: date) -> "CleftQuerySet":
        """Each with ``held``, whether a proposal holds it on that day."""
        active = CleftHold.objects.active(day).filter(cleft=models.OuterRef("pk"))
        return self.annotate(held=models.Exists(active))


class Cleft(models.Model):
    """A split, seasoned piece of willow. Lengths in 0.1 mm, mass in 0.1 g, moisture in 0.1 %."""

    number = models.PositiveIntegerField(_("number"), unique=True)
    code = models.CharField(max_length=10, unique=True, default=new_code, editable=False)
    load = models.CharField(_("load"), max_length=80, blank=True)
    grower = models.CharField(_("grower"), max_length=120, blank=True)
    # Smallest unit of the workshop's currency; not shown to bench hands.
    price = models.PositiveIntegerField(_("price"), null=True, blank=True)
    grade = models.PositiveSmallIntegerField(_("grade"))
    grains = models.PositiveSmallIntegerField(_("grains"), null=True, blank=True)
    length = models.PositiveIntegerField(_("length"))
    # Near one end, in the middle, near the other end: which end is the toe is decided at the bench.
    width_1 = models.PositiveIntegerField()
    width_2 = models.PositiveIntegerField()
    width_3 = models.PositiveIntegerField()
    depth_1 = models.PositiveIntegerField()
    depth_2 = models.PositiveIntegerField()
    depth_3 = models.PositiveIntegerField()
    mass = models.PositiveIntegerField(_("mass"))
    moisture = models.PositiveIntegerField(_("moisture"))
    read_on = models.DateField(_("read on"))
    straight_grained = models.BooleanField(_("straight grain"), default=True)
    note = models.TextField(_("note"), blank=True)
    state = models.CharField(max_length=10, choices=CleftState.choices, default=CleftState.SEASONING)
    bat = models.ForeignKey(
        "commissions.Bat", on_delete=models.PROTECT, related_name="clefts", null=True, blank=True
    )
    # The trip over the bench that it is cut for: a rebuilt bat has a second cleft.
    round = models.PositiveIntegerField(null=True, blank=True)
    version = models.PositiveIntegerField(default=0)
    taken_in_at = models.DateTimeField(default=timezone.now)

    objects = CleftQuerySet.as_manager()

    class Meta:
        """One cleft for one bat's trip over the bench, and no bat without a cleft of its own."""

        ordering = ("number",)
        constraints = (
            models.CheckConstraint(condition=Q(state__in=CleftState.values), name="cleft_state_known"),
            models.CheckConstraint(condition=Q(grade__gte=1, grade__lte=4), name="cleft_grade_1_to_4"),
            models.CheckConstraint(
                condition=Q(state__in=BOUND_STATES, bat__isnull=False, round__isnull=False)
                | (~Q(state__in=BOUND_STATES) & Q(bat__isnull=True, round__isnull=True)),
                name="cleft_bound_to_a_bat",
            ),
            models.UniqueConstraint(
                fields=["bat", "round"], condition=Q(bat__isnull=False), name="cleft_one_for_a_bat"
            ),
        )

    def __str__(self) -> str:
        return self.label

    @property
    def label(self) -> str:
        """The number as it is pencilled on the cleft's end."""
        return f"{self.number:04d}"

    @property
    def mass_g(self) -> float:
        """Mass, g."""
        return self.mass / 10

    @property
    def moisture_percent(self) -> float:
        """Moisture, percent of the dry mass."""
        return self.moisture / 10

    @property
    def length_mm(self) -> float:
        """Length, mm."""
        return self.length / 10

    @property
    def widths_mm(self) -> tuple[float, float, float]:
        """Widths near one end, in the middle, near the other end, mm."""
        return (self.width_1 / 10, self.width_2 / 10, self.width_3 / 10)

    @property
    def depths_mm(self) -> tuple[float, float, float]:
        """Depths at the same places, mm."""
        return (self.depth_1 / 10, self.depth_2 / 10, self.depth_3 / 10)

    @property
    def sizes(self) -> str:
        """Length, least width and least depth in whole mm, as a maker says them."""
        return f"{self.length_mm:.0f} × {min(self.widths_mm):.0f} × {min(self.depths_mm):.0f}"

    @property
    def widths_shown(self) -> str:
        """The three widths in a line."""
        return " · ".join(f"{width:.1f}" for width in self.widths_mm)

    @property
    def depths_shown(self) -> str:
        """The three depths in a line."""
        return " · ".join(f"{depth:.1f}" for depth in self.depths_mm)


class CleftEntry(models.Model):
    """One thing that befell a cleft; rows are only added."""

    cleft = models.ForeignKey(Cleft, on_delete=models.PROTECT, related_name="entries")
    verb = models.CharField(max_length=20)
    from_state = models.CharField(max_length=10, blank=True)
    to_state = models.CharField(max_length=10, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    data = models.JSONField(default=dict)
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        """In the order in which they happened."""

        ordering = ("at", "pk")

    def __str__(self) -> str:
        return f"{self.cleft_id} {self.verb}"


class CleftHoldQuerySet(models.QuerySet["CleftHold"]):
    """Which holds count."""

    def active(self, day: date) -> "CleftHoldQuerySet":
        """Not released, their proposal open and in time, or accepted and not yet delivered."""
        still_offered = Q(proposal__state="open", until__gte=day)
        still_promised = Q(proposal__state="accepted", proposal__commission__state__in=("accepted", "making"))
        return self.filter(released_at__isnull=True).filter(still_offered | still_promised)

    def over(self, day: date) -> "CleftHoldQuerySet":
        """Not yet released though they no longer count."""
        return self.filter(released_at__isnull=True).exclude(
            pk__in=self.model.objects.active(day).values("pk")
        )


class CleftHold(models.Model):
    """A cleft kept aside for an open proposal until a day."""

    cleft = models.ForeignKey(Cleft, on_delete=models.PROTECT, related_name="holds")
    proposal = models.ForeignKey("commissions.Proposal", on_delete=models.PROTECT, related_name="holds")
    until = models.DateField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    at = models.DateTimeField(default=timezone.now)
    released_at = models.DateTimeField(null=True, blank=True)

    objects = CleftHoldQuerySet.as_manager()

    class Meta:
        """A cleft is held once at a time."""

        ordering = ("at", "pk")
        constraints = (
            models.UniqueConstraint(
                fields=["cleft"], condition=Q(released_at__isnull=True), name="hold_one_at_a_time"
            ),
        )

    def __str__(self) -> str:
        return f"cleft {self.cleft_id} until {self.until}"
