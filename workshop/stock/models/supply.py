"""What is used up at the bench, counted by movements."""

from datetime import date

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from orders.people.codes import new_code


class Kind(models.TextChoices):
    """What a supply is."""

    GRIP = "grip", _("grip")
    THREAD = "thread", _("binding thread")
    FILM = "film", _("film")
    TOE_GUARD = "toe_guard", _("toe guard")
    EDGE_TAPE = "edge_tape", _("edge tape")
    GLUE = "glue", _("glue")
    OIL = "oil", _("oil")


class SupplyUnit(models.TextChoices):
    """What a supply is counted in."""

    PIECE = "piece", _("pieces")
    METRE = "metre", _("metres")
    GRAM = "gram", _("grams")


class Verb(models.TextChoices):
    """What moves a count."""

    TAKE_IN = "take_in", _("taken in")
    USE = "use", _("used")
    COUNT = "count", _("counted anew")
    THROW_OUT = "throw_out", _("thrown out")
    TAKE_BACK = "take_back", _("taken back")


# Kinds that spoil: they are opened, and have a day after which they are not used.
SPOILING = (Kind.GLUE, Kind.OIL)


class SupplyQuerySet(models.QuerySet["Supply"]):
    """Which supplies."""

    def there(self) -> "SupplyQuerySet":
        """Of which something is left."""
        return self.filter(left__gt=0)

    def usable(self, day: date) -> "SupplyQuerySet":
        """Of which something is left that may be used on that day."""
        return self.there().filter(Q(use_by__isnull=True) | Q(use_by__gte=day))


class Supply(models.Model):
    """One batch of one thing. Amounts count tenths of the unit, the mass of one unit 0.1 g.

    ``left`` is the sum of its movements, kept beside them so that the database itself refuses to go below
    nothing; movements.py writes both at once.
    """

    code = models.CharField(max_length=10, unique=True, default=new_code, editable=False)
    kind = models.CharField(_("kind"), max_length=10, choices=Kind)
    name = models.CharField(_("name"), max_length=80)
    colour = models.CharField(_("colour"), max_length=40, blank=True)
    unit = models.CharField(_("counted in"), max_length=6, choices=SupplyUnit)
    mass = models.PositiveIntegerField(_("mass of one"), null=True, blank=True)
    batch = models.CharField(_("batch"), max_length=80, blank=True)
    arrived_on = models.DateField(_("arrived on"), default=timezone.localdate)
    opened_on = models.DateField(_("opened on"), null=True, blank=True)
    use_by = models.DateField(_("use by"), null=True, blank=True)
    minimum = models.PositiveIntegerField(_("minimum"), default=0)
    # Of one unit, smallest unit of the currency; not shown to bench hands.
    price = models.PositiveIntegerField(_("price of one"), null=True, blank=True)
    left = models.PositiveIntegerField(default=0)
    version = models.PositiveIntegerField(default=0)

    objects = SupplyQuerySet.as_manager()

    class Meta:
        """By kind and name, what must be used first before the rest."""

        verbose_name_plural = "supplies"
        ordering = ("kind", "name", "colour", F("use_by").asc(nulls_last=True), "arrived_on", "pk")
        constraints = (
            models.CheckConstraint(condition=Q(kind__in=Kind.values), name="supply_kind_known"),
            models.CheckConstraint(condition=Q(unit__in=SupplyUnit.values), name="supply_unit_known"),
            models.CheckConstraint(condition=Q(left__gte=0), name="supply_never_below_nothing"),
        )

    def __str__(self) -> str:
        return ", ".join(part for part in (self.name, self.colour) if part)

    @property
    def in_unit(self) -> float:
        """How much is left, in its unit."""
        return self.left / 10

    @property
    def minimum_in_unit(self) -> float:
        """The least that should be there, in its unit."""
        return self.minimum / 10

    @property
    def mass_g(self) -> float | None:
        """Mass of one unit, g."""
        return None if self.mass is None else self.mass / 10

    @property
    def is_past(self) -> bool:
        """Whether its day is over in the workshop."""
        return self.is_past_on(timezone.localdate())

    def is_past_on(self, day: date) -> bool:
        """Whether its day is over on another."""
        return self.use_by is not None and self.use_by < day


class MovementQuerySet(models.QuerySet["Movement"]):
    """Which movements."""

    def standing(self) -> "MovementQuerySet":
        """Neither taken back nor themselves the taking back of another."""
        return self.filter(takes_back__isnull=True, taken_back_by__isnull=True)


class Movement(models.Model):
    """Something came, went, or was counted; rows are only added. ``amount`` is what it changed, in tenths."""

    supply = models.ForeignKey(Supply, on_delete=models.PROTECT, related_name="movements")
    verb = models.CharField(max_length=10, choices=Verb)
    amount = models.IntegerField()
    bat = models.ForeignKey(
        "commissions.Bat", on_delete=models.SET_NULL, related_name="+", null=True, blank=True
    )
    round = models.PositiveSmallIntegerField(null=True, blank=True)
    words = models.CharField(max_length=500, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)
    takes_back = models.OneToOneField(
        "self", on_delete=models.PROTECT, related_name="taken_back_by", null=True, blank=True
    )

    objects = MovementQuerySet.as_manager()

    class Meta:
        """In the order in which they happened; what comes adds, what goes takes away."""

        ordering = ("at", "pk")
        indexes = (models.Index(fields=["bat", "round"], name="movement_by_bat"),)
        constraints = (
            models.CheckConstraint(condition=Q(verb__in=Verb.values), name="movement_verb_known"),
            models.CheckConstraint(
                condition=(Q(verb=Verb.TAKE_IN) & Q(amount__gt=0))
                | (Q(verb__in=(Verb.USE, Verb.THROW_OUT)) & Q(amount__lt=0))
                | Q(verb__in=(Verb.COUNT, Verb.TAKE_BACK)),
                name="movement_has_its_sign",
            ),
        )

    def __str__(self) -> str:
        return f"{self.verb} {self.amount / 10} of {self.supply_id}"

    @property
    def in_unit(self) -> float:
        """What it changed, in the supply's unit."""
        return self.amount / 10
