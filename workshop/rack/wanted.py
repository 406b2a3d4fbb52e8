"""The willow that agreed bats still want."""

from django.urls import reverse

from orders.commissions.builds import build_of
from orders.commissions.models import Bat
from orders.commissions.states import Stage
from workshop.rack.picture import Wanted


def wanted_willow() -> list[Wanted]:
    """Return the band of each agreed bat that has no cleft yet."""
    bats = Bat.objects.at_bench().filter(
        stage__in=(Stage.WAITING, Stage.CLEFT_SELECTION), cleft_label="", agreed__isnull=False
    )
    return [_wanted(bat) for bat in bats.select_related("commission", "agreed__build_version")]


def _wanted(bat: Bat) -> Wanted:
    assert bat.agreed is not None  # noqa: S101
    willow = build_of(bat.agreed.build_version).willow
    return Wanted(
        label=bat.commission.reference,
        address=reverse("bench:bat", args=[bat.code]),
        density_min=willow.density_kg_m3.min,
        density_max=willow.density_kg_m3.max,
        grade=willow.grade,
    )
