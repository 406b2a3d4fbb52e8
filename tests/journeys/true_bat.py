"""What the scales, the balance and the swings would truly show of a bat at the bench.

The willow of each bat is a little denser or lighter than rack and press tell; its blade is as deep as it was
read last. So a bat lands on its numbers only where it was weighed on the way and the advice was followed.
"""

from dataclasses import dataclass
from math import pi, sqrt

from fitting.bat.condition import Condition
from fitting.bat.in_condition import lay_out
from fitting.bat.in_use import STANDARD_GRAVITY_M_S2, USUAL_AMPLITUDE_DEGREES, small_period_s
from fitting.bat.weigh import PICKUP_AXIS_MM, weigh
from fitting.sheets.build_sheet import Band, BuildSheet
from orders.commissions.models import Bat
from workshop.bench.condition import guessed
from workshop.bench.standing import AtBench
from workshop.bench.work import work_on


@dataclass(frozen=True)
class TrueBat:
    """One bat whose willow is so much denser than believed, as a share of it."""

    bat: Bat
    denser: float

    def _at_bench(self) -> AtBench:
        self.bat.refresh_from_db()
        return AtBench(work_on(Bat.objects.get(pk=self.bat.pk)))

    def on_scales(self, condition: Condition | None = None) -> tuple[float, float]:
        """Return mass in g and balance in mm from the toe, in the condition in which the bat now is."""
        bench = self._at_bench()
        condition = condition or guessed(bench.work)
        materials = bench.work.book.materials
        sheet = bench.now(sanded=condition.sanded)
        density = bench.rack.density_kg_m3 * (1 + self.denser)
        whole = lay_out(sheet, condition, materials, density, materials.moisture_percent).whole
        return round(whole.mass_g, 1), round(float(whole.centre_mm[0]), 1)

    def finished(self) -> dict[str, str]:
        """Return what is read of the finished bat: mass, balance, length, moisture, time of its swings."""
        bench = self._at_bench()
        weighing = weigh(self._sheet(bench), book=bench.work.book)
        arm_mm = weighing.overall_length_mm - PICKUP_AXIS_MM - weighing.balance_from_toe_mm
        torque = weighing.mass_g / 1000 * STANDARD_GRAVITY_M_S2 * arm_mm / 1000
        wider = 1 / small_period_s(1.0, 1, USUAL_AMPLITUDE_DEGREES)
        period = wider * 2 * pi * sqrt(weighing.inertia_kg_m2.pickup / torque)
        seconds = bench.work.book.bench.swing_count * period
        return {
            "mass": f"{weighing.mass_g:.1f}",
            "balance": f"{weighing.balance_from_toe_mm:.1f}",
            "length": f"{weighing.overall_length_mm:.1f}",
            "final_moisture": "12",
            "swing_time": f"{seconds:.1f}",
        }

    def _sheet(self, bench: AtBench) -> BuildSheet:
        sheet = bench.now(sanded=True)
        density = round(bench.rack.density_kg_m3 * (1 + self.denser), 1)
        willow = sheet.willow.model_copy(update={"density_kg_m3": Band(min=density - 0.5, max=density + 0.5)})
        return sheet.model_copy(update={"willow": willow})
