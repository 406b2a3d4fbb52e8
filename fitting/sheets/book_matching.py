"""The book's part for matching bats with clefts: what each drawback of a pair costs, in points.

Points have no unit: what counts is how they stand to one another. All are common practice put into numbers,
no source; the maker's to edit. A pair that cannot be and a bat that gets nothing have stated costs too, so
that the whole is one sum to be made least.
"""

from pydantic import Field, model_validator

from fitting.sheets.record import Record

MOST_POINTS = 100_000.0


def _points(default: float, description: str) -> float:
    """Return a field of points."""
    field: float = Field(default=default, ge=0, le=MOST_POINTS, description=description)
    return field


class MatchingBook(Record):
    """What counts against giving a cleft to a bat, and against giving it none."""

    mass_points: float = _points(20, "a mass off the target by its whole tolerance; rises with the square")
    peak_points: float = _points(10, "a sweet spot off by peak_off_mm; rises with the square")
    peak_off_mm: float = Field(default=5, gt=0, le=50)
    shape_points: float = _points(6, "a blade at the end of what it can be; rises with the square")
    risk_points: float = _points(60, "a cleft whose true density would certainly not do")
    grade_points: float = _points(8, "each grade finer than the bat asks for")
    money_points: float = _points(6, "a cleft of the rack's middle price; in proportion")
    age_points: float = _points(4, "a cleft that has just come; falls to none with its time on the rack")
    age_full_days: float = Field(default=365, gt=0, le=3650, description="after which a cleft is old stock")
    looks_points: float = _points(2, "each speck or stain on the face")
    blemish_points: float = _points(3, "each fault that stays in the bat, outside splice and hitting zone")
    kept_points: float = _points(30, "another cleft than the one that is kept aside for the bat")
    no_cleft_points: float = _points(150, "a bat that gets no cleft")
    proposed_points: float = _points(40, "a bat that is only proposed and gets no cleft")
    due_points: float = _points(150, "more for one that is due; rises from none over due_days")
    due_days: float = Field(default=60, gt=0, le=730)
    forbidden_points: float = Field(
        default=1_000_000.0, ge=10_000, le=1e9, description="a pair that cannot be; above all else"
    )
    reach_sds: float = Field(
        default=1, ge=0, le=3, description="spreads by which a density may lie outside what the bat can use"
    )
    run_out_least: int = Field(default=12, ge=1, le=100, description="grain leaves the wood by 1 in so many")
    offers_most: int = Field(default=5, ge=1, le=20, description="other clefts told beside the best one")

    @model_validator(mode="after")
    def _forbidden_above_none(self) -> "MatchingBook":
        most = max(self.no_cleft_points + self.due_points, self.proposed_points)
        if self.forbidden_points <= 10 * most:
            raise ValueError("forbidden_points above ten times what a bat without a cleft costs")
        return self

    def no_cleft(self, days_left: float | None, *, proposed: bool = False) -> float:
        """Return what leaving a bat without a cleft costs that is due in so many days (None: no day told)."""
        if proposed:
            return self.proposed_points
        if days_left is None:
            return self.no_cleft_points
        share = min(max(1 - days_left / self.due_days, 0.0), 1.0)
        return self.no_cleft_points + self.due_points * share
