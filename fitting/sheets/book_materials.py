"""The materials part of the book: densities, thicknesses, masses of what a bat is made of and dressed with.

All numbers are from memory of the trade, no source; they are the maker's to edit. The spreads say by how much
one piece differs from the next (one standard deviation): they make the forecast's uncertainty, nothing else.
"""

from pydantic import Field

from fitting.sheets.record import Record
from fitting.sheets.values import Construction


class Dressing(Record):
    """A grip or a covering as it comes: wall or thickness in mm, mass in g."""

    thickness_mm: float = Field(ge=0, le=5)
    mass_g: float = Field(ge=0, le=120)


class Canes(Record):
    """Mean density of a finished handle with its strips and wedges, kg/m3, by construction."""

    plain_cane: float = Field(default=600.0, ge=300, le=1200)
    stiffened_cane: float = Field(default=640.0, ge=300, le=1200)
    lightened_cane: float = Field(default=540.0, ge=300, le=1200)


class Spreads(Record):
    """One standard deviation of each thing that moves the mass of a bat; shares are of its own mass."""

    density_share: float = Field(default=0.015, ge=0, le=0.2, description="of a cleft's measured density")
    depth_mm: float = Field(default=0.3, ge=0, le=3, description="mean depth of the blade as shaped")
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
    canes_kg_m3: Canes = Canes()
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

    def cane_kg_m3(self, construction: Construction) -> float:
        """Density of a construction, kg/m3 at the book's moisture."""
        match construction:
            case "plain_cane":
                return self.canes_kg_m3.plain_cane
            case "stiffened_cane":
                return self.canes_kg_m3.stiffened_cane
            case "lightened_cane":
                return self.canes_kg_m3.lightened_cane


DEFAULT_MATERIALS = Materials()
