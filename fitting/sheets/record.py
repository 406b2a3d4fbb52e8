"""The base of every frozen record that goes in or out of the core."""

from pydantic import BaseModel, ConfigDict


class Record(BaseModel):
    """A frozen record: unknown fields, loose types, NaN and infinity are refused."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True, allow_inf_nan=False)
