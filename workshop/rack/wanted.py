"""The willow that agreed bats still want."""

from django.urls import reverse

from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.faults import read_sheet
from orders.commissions.models import Bat, Proposal
from orders.commissions.states import Stage
from workshop.rack.picture import Wanted


def wanted_willow() -> list[Wanted]:
    """Return the band of each agreed bat that has no cleft yet."""
    bats = Bat.objects.at_bench().filter(
        stage__in=(Stage.WAITING, Stage.CLEFT_SELECTION), cleft_label="", agreed__isnull=False
    )
    return [_wanted(bat, bat.agreed) for bat in bats.select_related("commission", "agreed") if bat.agreed]


def _wanted(bat: Bat, agreed: Proposal) -> Wanted:
    willow = read_sheet(BuildSheet, agreed.build()).willow
    return Wanted(
        label=bat.commission.reference,
        address=reverse("bench:bat", args=[bat.code]),
        density_min=willow.density_kg_m3.min,
        density_max=willow.density_kg_m3.max,
        grade=willow.grade,
    )
