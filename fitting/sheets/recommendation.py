"""The recommendation: a build sheet with a reason for every choice."""

from typing import Literal

from pydantic import Field

from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.record import Record
from fitting.sheets.weighing import Weighing

Value = str | int | float | bool | None


class Because(Record):
    """An answer (a field of the fitting sheet, or null) and the fact of the trade it met."""

    answer: str | None
    fact: str


class Alternative(Record):
    """Another value for one field, with its effect by quantity."""

    value: Value
    effect: dict[str, float] = Field(default_factory=dict)


class Reason(Record):
    """Why one field of the build sheet is as it is."""

    field: str
    value: Value
    because: tuple[Because, ...]
    trade_off: str | None = Field(description="key of what the choice costs")
    alternatives: tuple[Alternative, ...] = ()
    confidence: float = Field(ge=0, le=1)


class Conflict(Record):
    """Wishes or answers that pull apart: what was kept, what it costs, the ways out."""

    key: str = Field(default="wish_against_rule", description="kind of conflict, for its sentence")
    fields: tuple[str, ...]
    kept: str
    given_up: str
    cost: dict[str, float] = Field(default_factory=dict)
    ways_out: tuple[str, ...] = ()


class Caution(Record):
    """Something to be said with this bat, and the answers that called for it."""

    key: str
    answers: tuple[str, ...]


class WholeBat(Record):
    """Another whole bat for the same player, complete and weighed: a ``quicker`` or a ``fuller`` one."""

    key: Literal["quicker", "recommended", "fuller"]
    build: BuildSheet
    weighing: Weighing


class BookStamp(Record):
    """Which book answered."""

    version: int
    hash: str


class Recommendation(Record):
    """The whole answer to one fitting sheet."""

    build: BuildSheet
    reasons: tuple[Reason, ...]
    conflicts: tuple[Conflict, ...]
    cautions: tuple[Caution, ...]
    weighing: Weighing
    book: BookStamp
    model_version: str
    others: tuple[WholeBat, ...] = Field(
        default=(), description="other whole bats; worked out on request, as the alternatives' effects are"
    )
