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


class LowerHand(Record):
    """What the lower hand feels: an axis across the handle at its middle.

    ``static_moment_kg_m`` is mass times the distance of the balance from that axis (times g it is the torque
    that keeps the bat level); ``inertia_kg_m2`` the moment of inertia about the axis.
    """

    axis_from_toe_mm: float
    static_moment_kg_m: float
    inertia_kg_m2: float


class Mode(Record):
    """One bending mode of the bat, free at both ends: frequency, and where it stands still, from the toe."""

    frequency_hz: float
    nodes_from_toe_mm: tuple[float, ...]


class ReferenceImpact(Record):
    """The blow that a response curve is told for: the ball's mass and speed, and how fast the bat turns.

    The bat turns about an axis ``pivot_from_toe_mm`` along it; ``contact_ms`` is how long ball and bat touch
    at the peak.
    """

    ball_mass_g: float
    ball_speed_m_s: float
    swing_rad_s: float
    pivot_from_toe_mm: float
    contact_ms: float


class ResponsePoint(Record):
    """The ball's speed off the bat where it meets the middle of the face at one place along the blade."""

    from_toe_mm: float
    exit_speed_m_s: float


class SweetSpot(Record):
    """The place that hits hardest and its reach: along the blade and, at the peak, to either side.

    ``from_mm`` to ``to_mm`` is where the speed off the bat stays within 3 % of the peak's, or to the end of
    the range looked at; ``half_width_mm`` is the offset across where it has fallen by 3 %.
    """

    peak_from_toe_mm: float
    from_mm: float
    to_mm: float
    half_width_mm: float


class Weighing(Record):
    """What the model computes of a build sheet; the parts add up to the mass.

    The fields with a default were not computed by the first version of the model: weighings kept from that
    time lack them.
    """

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
    balance_sd_mm: float | None = None
    pickup_sd_kg_m2: float | None = None
    lower_hand: LowerHand | None = None
    modes: tuple[Mode, ...] = ()
    reference_impact: ReferenceImpact | None = None
    response: tuple[ResponsePoint, ...] = ()
    sweet_spot: SweetSpot | None = None
