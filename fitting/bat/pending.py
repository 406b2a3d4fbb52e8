"""Between a half-made bat and the finished one: both as bodies, and a line for every gain and loss."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from fitting.bat.condition import Condition, Pending
from fitting.bat.in_condition import HalfMade, lay_out
from fitting.bat.parts import cuts_of, glue_g
from fitting.bat.solid import G_PER_MM3, Body
from fitting.bat.spreads import COVERINGS
from fitting.bat.weigh import Solid, pickup_axis_mm, solid_of
from fitting.curve import FloatArray
from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet, Station

WEIGHED_CANE_SD_G = 1.0
"""Spread of a handle that was weighed and has lost nothing since, g."""
_SANDING_ROUNDS = 3
_SHOWN_G = 0.05
_TINY = 1e-6


@dataclass(frozen=True)
class Between:
    """A half-made bat with willow of one density, and what becomes of it."""

    now: BuildSheet
    condition: Condition
    density_kg_m3: float
    aim: BuildSheet
    book: Book

    @cached_property
    def moisture_percent(self) -> float:
        """Moisture that the willow is taken to have.

        What lies within the meter's own spread says nothing: a seasoned bat at rest in its room is as dry as
        it will be.
        """
        usual = self.book.materials.moisture_percent
        off = self.condition.moisture_percent - usual
        beyond = max(abs(off) - self.book.bench.moisture_sd_percent, 0.0)
        return usual + float(np.sign(off)) * beyond

    @cached_property
    def on_scales(self) -> HalfMade:
        """What lies on the scales."""
        return lay_out(
            self.now, self.condition, self.book.materials, self.density_kg_m3, self.moisture_percent
        )

    @cached_property
    def trimmed(self) -> BuildSheet:
        """The bat with its top and its outline shaped to the targets, its dressings those of the targets."""
        aim, now = self.aim.blade, self.now.blade
        stations = now.stations
        if self.condition.square_top_mm:
            square_from = now.length_mm - self.condition.square_top_mm - _TINY
            stations = (
                *(station for station in now.stations if station.from_toe_mm < square_from),
                *(station for station in aim.stations if station.from_toe_mm >= square_from),
            )
        blade = now.model_copy(update={"stations": stations, "width_mm": min(now.width_mm, aim.width_mm)})
        handle = self.aim.handle
        if self._cane_stays and self.condition.cane_g is not None:
            handle = handle.model_copy(update={"cane_mass_g": self.condition.cane_g})
        return self.aim.model_copy(update={"blade": blade, "handle": handle})

    @cached_property
    def after(self) -> BuildSheet:
        """The finished bat if no more were cut than that: sanded, thinner by what makes the book's loss."""
        sheet = self.trimmed
        if self.condition.sanded or self.book.bench.sanding_loss_g == 0:
            return sheet
        before, loss = self._blade_g(sheet), self.book.bench.sanding_loss_g
        layer = loss / (self.density_kg_m3 * G_PER_MM3 * sheet.blade.length_mm * sheet.blade.width_mm)
        sanded = sheet
        for _ in range(_SANDING_ROUNDS):
            sanded = thinner(sheet, layer)
            layer *= loss / (before - self._blade_g(sanded))
        return sanded

    def _blade_g(self, sheet: BuildSheet) -> float:
        """Willow and splice of a blade, g: the sanding goes over both."""
        return _willow_mm3(sheet) * self.density_kg_m3 * G_PER_MM3 + self._splice_g(sheet)

    def _splice_g(self, sheet: BuildSheet) -> float:
        """Cane and glue in the splice, g; the cane is left out where it was weighed: it stays as it is."""
        cuts = cuts_of(sheet)
        glue = glue_g(cuts, self.book.materials)
        if sheet.handle.cane_mass_g is not None:
            return glue
        density = self.book.materials.cane_kg_m3(sheet.handle.construction)
        return glue + float(cuts.along.weight @ cuts.splice.area) * density * G_PER_MM3

    @cached_property
    def final(self) -> Solid:
        """The finished bat as a body."""
        materials = self.book.materials
        return solid_of(self.after, materials, self.density_kg_m3, materials.moisture_percent)

    @cached_property
    def final_glue_g(self) -> float:
        """Glue in the finished joint, g."""
        return glue_g(self.final.cuts, self.book.materials)

    @property
    def pivot(self) -> FloatArray:
        """A point of the pickup axis of the finished bat, mm."""
        return np.array([*pickup_axis_mm(self.after), 0.0])

    @property
    def is_raw(self) -> bool:
        """Whether the handle on the bat is weighed and not yet turned to its girth."""
        return self.condition.handle and self.condition.cane_g is not None and not self.condition.bound

    @property
    def _cane_stays(self) -> bool:
        return self.condition.handle and self.condition.bound

    def lines(self) -> tuple[Pending, ...]:
        """Every gain and loss between the scales and the finished bat; they add up to the difference."""
        found = [*self._wood_lines(), *self._handle_lines(), *self._dressing_lines()]
        more = self.final.whole.mass_g - self.on_scales.whole.mass_g
        drying = more - sum(line.mass_g for line in found)
        meter = self.book.bench.moisture_sd_percent / (100 + self.moisture_percent)
        damp = self.moisture_percent != self.book.materials.moisture_percent
        loose = mass_of(self.on_scales.bodies, "blade") * meter if damp else 0.0
        found.append(Pending(key="drying", mass_g=drying, sd_g=loose))
        return tuple(line for line in found if abs(line.mass_g) >= _SHOWN_G or line.sd_g >= _SHOWN_G)

    def _wood_lines(self) -> list[Pending]:
        bench, usual = self.book.bench, self.book.materials.moisture_percent
        grams = self.density_kg_m3 * G_PER_MM3 * (100 + self.moisture_percent) / (100 + usual)
        there, shaped = self.on_scales, _willow_mm3(self.trimmed)
        wide = self.trimmed.blade.model_copy(update={"width_mm": self.now.blade.width_mm})
        untrimmed = _willow_mm3(self.trimmed.model_copy(update={"blade": wide}))
        top = (there.willow_mm3 - there.recess_mm3 - untrimmed) * grams
        lines = [
            Pending(key="splice_recess", mass_g=-there.recess_mm3 * grams, sd_g=0.0),
            Pending(key="square_top", mass_g=-top, sd_g=self._top_sd_mm3 * grams),
            Pending(key="outline", mass_g=-(untrimmed - shaped) * grams, sd_g=0.0),
        ]
        if not self.condition.sanded:
            sanding = (shaped - _willow_mm3(self.after)) * grams + self._sanded_splice_g
            lines.append(Pending(key="sanding", mass_g=-sanding, sd_g=bench.sanding_loss_sd_g))
        return lines

    @property
    def _top_sd_mm3(self) -> float:
        """How well a top that is still square will be shaped to its depth, mm3."""
        area = self.condition.square_top_mm * (self.now.blade.width_mm - self.now.handle.splice_width_mm / 2)
        return area * self.book.materials.spreads.depth_mm

    @property
    def _sanded_splice_g(self) -> float:
        """What the sanding takes off cane and glue, g."""
        return self._splice_g(self.trimmed) - self._splice_g(self.after)

    def _handle_lines(self) -> list[Pending]:
        spreads, final, there = self.book.materials.spreads, self.final.bodies, self.on_scales.bodies
        glue = self.final_glue_g
        cane = final["handle"].mass_g - glue + self._sanded_splice_g
        lines = []
        if "handle" in there:
            loose = spreads.cane_share * cane if self.is_raw else 0.0
            change = cane + glue - there["handle"].mass_g
            lines.append(Pending(key="turning", mass_g=change, sd_g=loose))
        else:
            weighed = self.after.handle.cane_mass_g is not None
            loose = WEIGHED_CANE_SD_G if weighed else spreads.cane_share * cane
            lines += [
                Pending(key="handle", mass_g=cane, sd_g=loose),
                Pending(key="glue", mass_g=glue, sd_g=spreads.glue_share * glue),
            ]
        thread = final["binding"].mass_g - mass_of(there, "binding")
        lines.append(Pending(key="binding", mass_g=thread, sd_g=spreads.binding_share * abs(thread)))
        return lines

    def _dressing_lines(self) -> list[Pending]:
        lines = []
        for name in ("grip", *COVERINGS, "oil"):
            more = mass_of(self.final.bodies, name) - mass_of(self.on_scales.bodies, name)
            loose = abs(more) * dressing_share(self.book, name)
            lines.append(Pending(key=name, mass_g=more, sd_g=loose))
        return lines


def dressing_share(book: Book, name: str) -> float:
    """Spread of a dressing as a share of its mass."""
    spreads = book.materials.spreads
    return {"grip": spreads.grip_share, "oil": spreads.oil_share}.get(name, spreads.covering_share)


def mass_of(bodies: dict[str, Body], name: str) -> float:
    """Mass of one part, g; 0 where there is none."""
    return bodies[name].mass_g if name in bodies else 0.0


def thinner(sheet: BuildSheet, layer_mm: float) -> BuildSheet:
    """The sheet with every depth of its blade less by a layer."""
    # Not validated: what is tried may lie beyond the sheet's own bounds.
    stations = tuple(
        Station.model_construct(
            from_toe_mm=station.from_toe_mm,
            spine_mm=station.spine_mm - layer_mm,
            edge_mm=station.edge_mm - layer_mm,
            scallop=station.scallop,
        )
        for station in sheet.blade.stations
    )
    blade = sheet.blade.model_copy(update={"stations": stations})
    return sheet.model_copy(update={"blade": blade})


def _willow_mm3(sheet: BuildSheet) -> float:
    cuts = cuts_of(sheet)
    return float(cuts.along.weight @ cuts.willow.area)
