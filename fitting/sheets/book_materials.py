"""The materials part of the book: densities, thicknesses, masses of what a bat is made of and dressed with.

Where no source is named the numbers are from memory of the trade; all are the maker's to edit. The spreads
say by how much one piece differs from the next (one standard deviation): they make the forecast's
uncertainty, nothing else.
"""

from pydantic import Field, model_validator

from fitting.sheets.book_impact import ImpactNumbers
from fitting.sheets.record import Record
from fitting.sheets.values import Construction


class Dressing(Record):
    """A grip or a covering as it comes: wall or thickness in mm, mass in g."""

    thickness_mm: float = Field(ge=0, le=5)
    mass_g: float = Field(ge=0, le=120)


class Modulus(Record):
    """Young's modulus along the grain, GPa, shear deflection left out of it, with the range it may have."""

    gpa: float = Field(gt=0.05, le=40)
    least_gpa: float = Field(gt=0.05, le=40)
    most_gpa: float = Field(gt=0.05, le=40)

    @model_validator(mode="after")
    def _in_its_range(self) -> "Modulus":
        if not self.least_gpa <= self.gpa <= self.most_gpa:
            raise ValueError("gpa from least_gpa to most_gpa")
        return self


class Cane(Record):
    """A construction of the handle: mean density of the finished handle, and how it bends."""

    density_kg_m3: float = Field(ge=300, le=1200, description="with its strips and wedges")
    modulus: Modulus


def _cane(density: float, gpa: float, least: float, most: float) -> Cane:
    return Cane(density_kg_m3=density, modulus=Modulus(gpa=gpa, least_gpa=least, most_gpa=most))


class Canes(Record):
    """The constructions of the handle.

    No modulus of a whole handle is published; 1 to 4 GPa is told for rattan from memory. Where in its range
    a construction lies is calibrated: see "The model" in DEVELOPERS.md.
    """

    plain_cane: Cane = _cane(600, 2.6, 1.0, 4.5)
    stiffened_cane: Cane = _cane(640, 3.8, 2.0, 7.0)
    lightened_cane: Cane = _cane(540, 2.3, 1.0, 4.0)


class Spreads(Record):
    """One standard deviation of each thing that moves the mass of a bat; shares are of its own mass."""

    density_share: float = Field(default=0.015, ge=0, le=0.2, description="of a cleft's measured density")
    depth_mm: float = Field(default=0.3, ge=0, le=3, description="mean depth of the blade as shaped")
    depth_tilt_mm: float = Field(
        default=0.3, ge=0, le=3, description="depth too high at the toe and too low at the shoulder"
    )
    moisture_percent: float = Field(default=0.5, ge=0, le=5, description="of the finished bat")
    cane_share: float = Field(default=0.07, ge=0, le=0.5, description="of a handle that was not weighed")
    binding_share: float = Field(default=0.15, ge=0, le=1)
    glue_share: float = Field(default=0.25, ge=0, le=1)
    grip_share: float = Field(default=0.05, ge=0, le=1)
    covering_share: float = Field(default=0.15, ge=0, le=1)
    oil_share: float = Field(default=0.3, ge=0, le=1)


class Materials(Record):
    """Densities, dimensions and masses of materials and fittings; the maker's to edit."""

    moisture_percent: float = Field(
        default=12.0, ge=4, le=25, description="moisture at which densities and masses are told"
    )
    willow: Modulus = Field(
        default=Modulus(gpa=7.8, least_gpa=7.2, most_gpa=8.5),
        description="at reference density and moisture: static bending (6.6 to 7.8) and a tenth for shear",
    )
    willow_reference_kg_m3: float = Field(default=410.0, ge=250, le=700)
    willow_density_power: float = Field(
        default=0.7, ge=0, le=2, description="modulus over density, Wood Handbook, hardwoods; from memory"
    )
    willow_shear_share: float = Field(
        default=1 / 16, gt=0, le=0.5, description="shear modulus along grain and depth over the modulus"
    )
    canes: Canes = Canes()
    cane_shear_share: float = Field(default=1 / 15, gt=0, le=0.5)
    modulus_per_moisture: float = Field(
        default=0.02, ge=0, le=0.1, description="share lost with each percent of moisture"
    )
    binding_mm: float = Field(default=0.6, ge=0.1, le=3, description="inside the bound girth")
    binding_kg_m3: float = Field(default=850.0, ge=200, le=2000, description="thread with its glue")
    glue_g_m2: float = Field(default=1000.0, ge=0, le=5000, description="of the splice's two sides")
    oil_coat_g_m2: float = Field(
        default=28.0, ge=0, le=200, description="what stays of a coat, of blade surface"
    )
    grip: Dressing = Dressing(thickness_mm=1.5, mass_g=50)
    grip_junior: Dressing = Dressing(thickness_mm=1.3, mass_g=32)
    toe_guard: Dressing = Dressing(thickness_mm=1.0, mass_g=9)
    face_film: Dressing = Dressing(thickness_mm=0.25, mass_g=15)
    edge_tape: Dressing = Dressing(thickness_mm=0.2, mass_g=6)
    spreads: Spreads = Spreads()
    impact: ImpactNumbers = ImpactNumbers()

    def cane_kg_m3(self, construction: Construction) -> float:
        """Density of a construction, kg/m3 at the book's moisture."""
        return self._cane(construction).density_kg_m3

    def cane_modulus_pa(self, construction: Construction, moisture_percent: float) -> float:
        """Bending modulus of a handle, Pa."""
        return self._cane(construction).modulus.gpa * 1e9 * self._softened(moisture_percent)

    def willow_modulus_pa(self, density_kg_m3: float, moisture_percent: float) -> float:
        """Bending modulus of the blade, Pa, from its density at the book's moisture and its moisture."""
        denser = (density_kg_m3 / self.willow_reference_kg_m3) ** self.willow_density_power
        return self.willow.gpa * 1e9 * float(denser) * self._softened(moisture_percent)

    def _cane(self, construction: Construction) -> Cane:
        cane: Cane = getattr(self.canes, construction)
        return cane

    def _softened(self, moisture_percent: float) -> float:
        # 2 % a percent: FPL, Moisture-strength adjustments for wood (wartime report).
        return max(1 - self.modulus_per_moisture * (moisture_percent - self.moisture_percent), 0.2)
