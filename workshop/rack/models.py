"""Clefts in stock, the loads they came in, what befell each, and the holds of open proposals on them."""

import secrets
from datetime import date
from typing import Any

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
# Grain that runs out of the wood faster than one in this many is a fault (from memory of the trade).
STEEPEST_RUN_OUT = 12


class MoisturePlace(models.TextChoices):
    """Where on a cleft the meter was held."""

    FACE = "face", _("middle of a broad side")
    EDGE = "edge", _("middle of an edge")
    END = "end", _("near an end")
    WASTE = "waste", _("fresh cut in the waste")


class Load(models.Model):
    """A load of clefts as it was bought: whose trees, when felled, how dried, what a piece cost."""

    code = models.CharField(max_length=10, unique=True, default=new_code, editable=False)
    name = models.CharField(_("name"), max_length=120, unique=True)
    grower = models.CharField(_("grower"), max_length=120, blank=True)
    felled_on = models.DateField(_("felled on"), null=True, blank=True)
    kiln_sheet = models.TextField(_("kiln sheet"), blank=True)
    # Smallest unit of the workshop's currency; not shown to bench hands.
    price_a_piece = models.PositiveIntegerField(_("price a piece"), null=True, blank=True)
    # As delivered; how many of them are on the rack or gone is counted.
    count = models.PositiveIntegerField(_("pieces delivered"), null=True, blank=True)
    arrived_on = models.DateField(_("arrived on"), null=True, blank=True)
    note = models.TextField(_("note"), blank=True)
    version = models.PositiveIntegerField(default=0)

    class Meta:
        """The newest first."""

        ordering = ("-arrived_on", "name")

    def __str__(self) -> str:
        return self.name


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
    load = models.ForeignKey(
        Load, verbose_name=_("load"), on_delete=models.PROTECT, related_name="clefts", null=True, blank=True
    )
    # Its own price where it is not the load's; smallest unit of the currency, not shown to bench hands.
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
    moisture_at = models.CharField(_("moisture read at"), max_length=8, choices=MoisturePlace, blank=True)
    read_on = models.DateField(_("read on"))
    # Grain that leaves the wood by one in so many along it; null is straight.
    run_out = models.PositiveSmallIntegerField(_("run-out, 1 in"), null=True, blank=True)
    # Of the face, percent; null is not judged.
    heartwood = models.PositiveSmallIntegerField(_("heartwood"), null=True, blank=True)
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
            models.CheckConstraint(
                condition=Q(heartwood__isnull=True) | Q(heartwood__lte=100), name="cleft_heartwood_percent"
            ),
            models.CheckConstraint(
                condition=Q(run_out__isnull=True) | Q(run_out__gte=1), name="cleft_run_out_1_in"
            ),
        )

    def __str__(self) -> str:
        return self.label

    @property
    def label(self) -> str:
        """The number as it is pencilled on the cleft's end."""
        return f"{self.number:04d}"

    @property
    def is_straight(self) -> bool:
        """Whether the grain runs along the wood, as far as a bat needs it."""
        return self.run_out is None or self.run_out >= STEEPEST_RUN_OUT

    @property
    def cost(self) -> int | None:
        """What it cost, in the smallest unit of the currency: its own price, or else the load's a piece."""
        if self.price is not None or self.load is None:
            return self.price
        return self.load.price_a_piece

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


class Blemish(models.Model):
    """A fault of the wood, placed on one of the four long sides. Lengths in 0.1 mm.

    End 1 is where width 1 and depth 1 were measured; edge 1 is on the left seen with end 1 down and side A
    towards you. ``across`` counts from edge 1 on the broad sides, on the edges from side A.
    """

    class Kind(models.TextChoices):
        """What it is."""

        KNOT = "knot", _("knot")
        SPECK = "speck", _("speck")
        SHAKE = "shake", _("shake")
        WORM = "worm", _("worm hole")
        STAIN = "stain", _("stain")
        BUTTERFLY = "butterfly", _("butterfly stain")

    class Side(models.TextChoices):
        """Where it shows."""

        A = "a", _("side A")
        B = "b", _("side B")
        EDGE_1 = "edge_1", _("edge 1")
        EDGE_2 = "edge_2", _("edge 2")

    cleft = models.ForeignKey(Cleft, on_delete=models.CASCADE, related_name="blemishes")
    kind = models.CharField(_("kind"), max_length=10, choices=Kind)
    side = models.CharField(_("side"), max_length=6, choices=Side)
    from_end = models.PositiveIntegerField(_("from end 1"))
    across = models.PositiveIntegerField(_("across"))
    size = models.PositiveIntegerField(_("size"))
    # Goes through to the opposite side.
    through = models.BooleanField(_("goes right through"), default=False)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        """From end 1 on."""

        ordering = ("from_end", "pk")
        constraints = (
            models.CheckConstraint(
                condition=Q(side__in=("a", "b", "edge_1", "edge_2")), name="blemish_side_known"
            ),
        )

    def __str__(self) -> str:
        return f"{self.kind} on {self.side} of cleft {self.cleft_id}"

    @property
    def from_end_mm(self) -> float:
        """From end 1, mm."""
        return self.from_end / 10

    @property
    def across_mm(self) -> float:
        """From edge 1 (on an edge: from side A), mm."""
        return self.across / 10

    @property
    def size_mm(self) -> float:
        """How far it reaches along the wood, mm."""
        return self.size / 10


def cleft_photo_path(photo: "CleftPhoto", filename: str) -> str:
    """Return where a photograph lies: nothing of the name that was sent is kept."""
    name = secrets.token_hex(16)
    return f"clefts/{name[:2]}/{name}.jpg"


class CleftPhoto(models.Model):
    """A photograph of a cleft; ``shown_as`` is its copy on the page of a commission, for the player."""

    cleft = models.ForeignKey(Cleft, on_delete=models.CASCADE, related_name="photos")
    code = models.CharField(max_length=10, unique=True, default=new_code, editable=False)
    file = models.FileField(upload_to=cleft_photo_path)
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    caption = models.CharField(_("caption"), max_length=200, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    at = models.DateTimeField(default=timezone.now)
    shown_as = models.ForeignKey(
        "letters.Photo", on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        """In the order in which they were taken."""

        ordering = ("at", "pk")

    def __str__(self) -> str:
        return f"photograph {self.code} of cleft {self.cleft_id}"


class CleftFile(models.Model):
    """A file of clefts as it was read, kept until it is confirmed or given up."""

    code = models.CharField(max_length=10, unique=True, default=new_code, editable=False)
    name = models.CharField(max_length=120)
    # A ``workshop.rack.imports.ParsedFile``: exactly what is stored when it is confirmed.
    parsed: Any = models.JSONField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+")
    at = models.DateTimeField(default=timezone.now)

    def __str__(self) -> str:
        return f"file {self.name}"


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
