"""The weighing: what the model computes of a build sheet."""

from fitting.sheets.record import Record


class Part(Record):
    """One body of the bat."""

    name: str
    mass_g: float
    volume_mm3: float | None
    centre_from_toe_mm: float


class Inertia(Record):
    """Moments of inertia in kg m2; ``about_balance`` and ``pickup`` about axes across the bat."""

    about_balance: float
    pickup: float
    about_long_axis: float


class Weighing(Record):
    """Mass by parts, balance and inertia; the parts add up to the mass."""

    mass_g: float
    mass_sd_g: float
    density_kg_m3: float
    moisture_percent: float
    parts: tuple[Part, ...]
    balance_from_toe_mm: float
    inertia_kg_m2: Inertia
    centre_of_percussion_from_toe_mm: float
    swell_from_toe_mm: float
    overall_length_mm: float
