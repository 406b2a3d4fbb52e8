"""The materials part of the book: masses and thicknesses of what a bat is made of and dressed with."""

from pydantic import Field

from fitting.sheets.record import Record


class Dressing(Record):
    """A grip or a covering as it comes: wall or thickness in mm, mass in g."""

    thickness_mm: float = Field(ge=0, le=5)
    mass_g: float = Field(ge=0, le=120)


class Materials(Record):
    """Dimensions and masses of fittings; from memory of the trade, the maker's to edit."""

    moisture_percent: float = Field(default=12.0, ge=4, le=25)
    grip: Dressing = Dressing(thickness_mm=1.5, mass_g=50)
    grip_junior: Dressing = Dressing(thickness_mm=1.3, mass_g=32)
    toe_guard: Dressing = Dressing(thickness_mm=1.0, mass_g=9)
    face_film: Dressing = Dressing(thickness_mm=0.25, mass_g=15)
    edge_tape: Dressing = Dressing(thickness_mm=0.2, mass_g=6)
