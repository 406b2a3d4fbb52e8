"""Weighings as the first version of the model kept them: no bending, no response, no sweet spot."""

from typing import Any

from fitting.sheets.weighing import SweetSpot, Weighing

SINCE_MODEL_2 = (
    "balance_sd_mm",
    "pickup_sd_kg_m2",
    "lower_hand",
    "modes",
    "reference_impact",
    "response",
    "sweet_spot",
)


def kept_by_model_1(weighing: dict[str, Any]) -> dict[str, Any]:
    """Return a stored weighing without what came with the second version."""
    return {key: value for key, value in weighing.items() if key not in SINCE_MODEL_2}


def of_model_1(weighing: Weighing) -> Weighing:
    """Return the weighing as it reads when the first version kept it."""
    return Weighing.model_validate(kept_by_model_1(weighing.model_dump()))


def sweet_spot_of(weighing: Weighing) -> SweetSpot:
    """Return the sweet spot of a weighing that has one."""
    assert weighing.sweet_spot is not None
    return weighing.sweet_spot
