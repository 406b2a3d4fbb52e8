"""What the bench keeps beside steps and readings: how a cleft lies, press, weighings, targets, time.

Rows are only added; taking one back is another row that names it.
"""

from typing import Any

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from orders.commissions.models.bat import BenchEntryQuerySet
from orders.commissions.states import Stage


class Side(models.TextChoices):
    """A broad side of a cleft; end 1 down and side a towards you, edge 1 is on the left."""

    A = "a", _("side A")
    B = "b", _("side B")


class BenchRow(models.Model):
    """One row of the bench: whose bat, in which trip over the bench and stage, by whom and when."""

    bat = models.ForeignKey("commissions.Bat", on_delete=models.CASCADE, related_name="+")
    round = models.PositiveSmallIntegerField()
    stage = models.CharField(max_length=16, choices=Stage)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)
    takes_back = models.OneToOneField(
        "self", on_delete=models.PROTECT, related_name="taken_back_by", null=True, blank=True
    )

    class Meta:
        abstract = True


class Orientation(BenchRow):
    """How a cleft lies in the bat: which end is toe, which broad side face, which edge out."""

    toe_end = models.PositiveSmallIntegerField(_("end that becomes the toe"))
    face_side = models.CharField(_("side that becomes the face"), max_length=1, choices=Side)
    outside_edge = models.PositiveSmallIntegerField(_("edge that is out"))

    objects = BenchEntryQuerySet["Orientation"].as_manager()

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.CheckConstraint(
                condition=Q(toe_end__in=(1, 2), outside_edge__in=(1, 2), face_side__in=Side.values),
                name="orientation_known",
            ),
        )

    def __str__(self) -> str:
        return f"orientation of bat {self.bat_id}"


class PressPass(BenchRow):
    """One pass of the press: what the gauge showed, and what was read after it.

    ``gauge`` counts tenths of the machine's own unit, ``width`` 0.1 mm. ``depths`` has the depths after the
    pass at the press grid, mm, in three lines along the blade (left, centre, right), and may be empty;
    ``rebounds`` up to five heights of a dropped ball, mm, and ``drop`` how it fell: ``height_mm``, ``ball``,
    ``support``. Rebounds are compared only with others of the same drop.
    """

    number = models.PositiveSmallIntegerField()
    tool = models.CharField(max_length=20)
    gauge = models.PositiveIntegerField(null=True, blank=True)
    width = models.PositiveIntegerField(null=True, blank=True)
    depths: Any = models.JSONField(default=dict)
    rebounds: Any = models.JSONField(default=list)
    drop: Any = models.JSONField(default=dict)
    words = models.TextField(blank=True)

    objects = BenchEntryQuerySet["PressPass"].as_manager()

    class Meta:
        ordering = ("pk",)
        indexes = (models.Index(fields=["bat", "round"], name="pass_by_bat"),)

    def __str__(self) -> str:
        return f"pass {self.number} of bat {self.bat_id}"


class ScalesReading(BenchRow):
    """A half-made bat on the scales: mass in 0.1 g, balance in 0.1 mm from the toe, and its condition.

    ``condition`` is a ``fitting.bat.half_made.Condition`` as JSON.
    """

    mass = models.PositiveIntegerField(_("mass"))
    balance = models.PositiveIntegerField(_("balance from the toe"), null=True, blank=True)
    condition: Any = models.JSONField()

    objects = BenchEntryQuerySet["ScalesReading"].as_manager()

    class Meta:
        ordering = ("pk",)
        indexes = (models.Index(fields=["bat", "round"], name="scales_by_bat"),)

    def __str__(self) -> str:
        return f"{self.mass / 10} g of bat {self.bat_id}"


class SolvedFor(models.TextChoices):
    """What the shaping targets were solved for."""

    CLEFT = "cleft", _("the cleft that was chosen")
    PRESS = "press", _("what the press took")
    SCALES = "scales", _("what the scales showed")


class Targets(BenchRow):
    """The agreed bat re-shaped for its cleft: the build sheet that the blade is shaped to.

    ``density`` and its ``spread`` are 0.1 kg/m3 of the pressed blade, ``leave`` is the depth in 0.1 mm that
    shaping leaves on over the targets until the handle is in. Where no blade of this wood meets mass and
    sweet spot there is no ``build_version``, and ``barrier`` says what stops it (``fitting.bat.reshaped``).
    """

    cleft = models.ForeignKey("rack.Cleft", on_delete=models.CASCADE, related_name="+")
    build_version = models.ForeignKey(
        "commissions.BuildVersion", on_delete=models.CASCADE, related_name="+", null=True, blank=True
    )
    cause = models.CharField(max_length=8, choices=SolvedFor)
    density = models.PositiveIntegerField()
    spread = models.PositiveIntegerField()
    leave = models.PositiveSmallIntegerField(default=0)
    barrier: Any = models.JSONField(default=dict, blank=True)

    objects = BenchEntryQuerySet["Targets"].as_manager()

    class Meta:
        ordering = ("pk",)
        indexes = (models.Index(fields=["bat", "round"], name="targets_by_bat"),)

    def __str__(self) -> str:
        return f"targets of bat {self.bat_id}"


class Coat(BenchRow):
    """A coat that was laid on and needs its time: of oil, as a rule."""

    kind = models.CharField(max_length=20)
    number = models.PositiveSmallIntegerField()

    objects = BenchEntryQuerySet["Coat"].as_manager()

    class Meta:
        ordering = ("pk",)
        indexes = (models.Index(fields=["bat", "round"], name="coat_by_bat"),)

    def __str__(self) -> str:
        return f"{self.kind} {self.number} of bat {self.bat_id}"


class Reason(BenchRow):
    """Why a bat goes on with a reading past its limit: the reading's key, its value in tenths, and the words.

    A reading that is worse than the one the words were written for asks for words again.
    """

    about = models.CharField(max_length=40)
    value = models.PositiveIntegerField()
    words = models.TextField()

    objects = BenchEntryQuerySet["Reason"].as_manager()

    class Meta:
        ordering = ("pk",)
        indexes = (models.Index(fields=["bat", "round"], name="reason_by_bat"),)

    def __str__(self) -> str:
        return f"{self.about} of bat {self.bat_id}"


class Spell(models.Model):
    """A person at work on a bat, from when to when; nobody is at two bats at once."""

    bat = models.ForeignKey("commissions.Bat", on_delete=models.CASCADE, related_name="spells")
    round = models.PositiveSmallIntegerField()
    stage = models.CharField(max_length=16, choices=Stage)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="spells")
    began_at = models.DateTimeField(default=timezone.now)
    ended_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("began_at", "pk")
        constraints = (
            models.UniqueConstraint(
                fields=["by"], condition=Q(ended_at__isnull=True), name="spell_one_open_a_person"
            ),
        )

    def __str__(self) -> str:
        return f"spell of {self.by_id} at bat {self.bat_id}"
