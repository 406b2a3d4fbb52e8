"""Where a bat at the bench stands: its weighings in order, what it now is, and its finished forecast.

Every reading of the scales counts in the condition in which it was taken; what one tells of the willow is
what the next begins with. The blade is as deep as it was read; a station that was not read yet counts as its
target and what shaping leaves on.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from math import sqrt

from fitting.bat.condition import Believed, Condition, Scales, Standing
from fitting.bat.half_made import stand
from fitting.bat.in_condition import lay_out
from fitting.bat.last_cuts import Aims
from fitting.bat.pending import Between
from fitting.sheets.build_sheet import BuildSheet, Station
from fitting.sheets.faults import SheetRefused, read_sheet
from orders.commissions.models import Reading
from orders.commissions.refusals import Refused
from orders.commissions.states import Stage
from workshop.bench.asks import reading_at
from workshop.bench.condition import finished_as_agreed, guessed, unfinished
from workshop.bench.models import ScalesReading, Targets
from workshop.bench.press_depths import wood_since
from workshop.bench.targets import all_solved, sheet_of, willow_of
from workshop.bench.work import Work

# Before shaping there is no blade yet that could be weighed as one.
HAS_A_BLADE = (Stage.SHAPING, Stage.HANDLE_FITTING, Stage.FINISHING, Stage.INSPECTION)
# Ordinary readings of a stage that are readings of the scales in a condition that their name tells.
BARE, DRY, FINISHED = "blade_mass", "mass_dry", "mass"
AT_STATIONS = ("spine", "edge_left", "edge_right")
# The place that hits hardest is told to this.
PEAK_TOLERANCE_MM = 5.0
# Further from what cleft and press told than one bat in some hundreds.
DOUBTFUL_SPREADS = 3.0
Depths = dict[tuple[str, int], list[Reading]]


@dataclass(frozen=True)
class Weighed:
    """One reading of the scales: what they showed, in which condition, by whom and when.

    ``row`` is its own row; None where it was read among the numbers of its stage.
    """

    scales: Scales
    condition: Condition
    by: str
    at: datetime
    row: ScalesReading | None


@dataclass(frozen=True)
class Stood:
    """Where a bat stands, with the weighing that it is told from and how much was cut since."""

    standing: Standing
    rack: Believed
    weighed: Weighed | None
    condition: Condition
    cut_since_g: float

    @property
    def is_doubtful(self) -> bool:
        """Whether the scales tell of willow that the cleft can hardly be: rather the condition is wrong."""
        off = abs(self.standing.believed.density_kg_m3 - self.rack.density_kg_m3)
        return self.weighed is not None and off > DOUBTFUL_SPREADS * self.rack.sd_kg_m3


@dataclass(frozen=True)
class AtBench:
    """One bat with everything that was read of it at the bench."""

    work: Work

    @cached_property
    def weighings(self) -> list[Weighed]:
        """Every standing reading of the scales on the wood that the bat now has, in order."""
        rows = ScalesReading.objects.standing().filter(bat=self.work.bat, round=self.work.bat.round)
        own = [_own(row) for row in rows.select_related("by") if self._counts(row.at)]
        return sorted([*own, *self._among_the_numbers()], key=lambda one: one.at)

    @cached_property
    def depths(self) -> Depths:
        """Every standing reading at the stations by key and place, in order."""
        found: Depths = {}
        rows = self.work.bat.readings.standing().filter(key__in=AT_STATIONS, from_toe__isnull=False)
        for row in rows.order_by("at", "pk"):
            if self._counts(row.at):
                found.setdefault((row.key, row.from_toe or 0), []).append(row)
        return found

    @cached_property
    def _since(self) -> datetime | None:
        return wood_since(self.work.bat)

    def _counts(self, at: datetime) -> bool:
        """Whether something was read on the wood that the bat now has."""
        return self._since is None or at >= self._since

    @cached_property
    def _numbers(self) -> dict[str, list[Reading]]:
        keys = (BARE, DRY, FINISHED, "balance", "shaped_width", "width")
        found: dict[str, list[Reading]] = {}
        bat = self.work.bat
        rows = bat.readings.standing().filter(round=bat.round, key__in=keys).select_related("by")
        for row in rows.order_by("at", "pk"):
            if self._counts(row.at):
                found.setdefault(row.key, []).append(row)
        return found

    def _among_the_numbers(self) -> Iterable[Weighed]:
        """The stage's own numbers that are weighings: only the last of each key."""
        for key in (BARE, DRY, FINISHED):
            rows = self._numbers.get(key, [])
            if not rows:
                continue
            row, balance = rows[-1], None
            if key == FINISHED and (found := self._numbers.get("balance")):
                balance = found[-1].in_unit
            condition = (
                finished_as_agreed(self.work)
                if key == FINISHED
                else unfinished(self.work, with_handle=key == DRY)
            )
            scales = Scales(mass_g=row.in_unit, balance_from_toe_mm=balance)
            yield Weighed(scales, condition, row.by.name, row.at, None)

    def depth(self, key: str, place: int, until: datetime | None = None) -> Reading | None:
        """Return what was read at a station: the last before a moment, else the first after it."""
        rows = self.depths.get((key, place), [])
        if until is None:
            return rows[-1] if rows else None
        before = [row for row in rows if row.at <= until]
        return before[-1] if before else (rows[0] if rows else None)

    def now(self, until: datetime | None = None, *, sanded: bool) -> BuildSheet:
        """Return the bat with its blade as it was read, at a moment or now.

        Raises:
            Refused: ``not_a_bat`` where the readings make none.
        """
        targets = self._shaped_to(until or self._last_seen)
        leave = 0.0 if sanded else self.work.leave_mm
        stations = [self._station(one, until, leave).model_dump() for one in targets.blade.stations]
        sheet = targets.model_dump(mode="json")
        sheet["blade"] |= {"stations": stations, "width_mm": self._width(targets.blade.width_mm)}
        try:
            found = read_sheet(BuildSheet, sheet)
        except SheetRefused as error:
            raise Refused("not_a_bat", what=tuple(fault.field for fault in error.faults)) from error
        return self._as_sanded(found) if sanded and self._read_before_sanding else found

    @cached_property
    def _last_seen(self) -> datetime | None:
        """When the blade was last read or weighed."""
        seen = [row.at for rows in self.depths.values() for row in rows[-1:]]
        return max([*seen, *(one.at for one in self.weighings)], default=None)

    def _shaped_to(self, moment: datetime | None) -> BuildSheet:
        """Return the targets that the blade was shaped to at a moment: no calliper finds its hollow.

        Targets that are solved later change nothing of the wood.
        """
        if moment is None or self.work.targets is self.work.build:
            return self.work.targets
        sheets = [sheet for row in self._solved if row.at <= moment and (sheet := sheet_of(row))]
        return sheets[0] if sheets else self.work.targets

    @cached_property
    def _solved(self) -> list[Targets]:
        return all_solved(self.work.bat)

    def _station(self, target: Station, until: datetime | None, leave_mm: float) -> Station:
        place, paper = round(target.from_toe_mm * 10), self.work.paper
        spine, edge = target.spine_mm + leave_mm, target.edge_mm + leave_mm
        # On the sheet a depth has what the calliper does not find: the scoop, and at the side the crown.
        if (row := self.depth("spine", place, until)) is not None:
            spine = row.in_unit + target.spine_mm - reading_at(paper, "spine", target)
        sides = [self.depth(key, place, until) for key in ("edge_left", "edge_right")]
        read = [row.in_unit for row in sides if row is not None]
        if read:
            edge = sum(read) / len(read) + target.edge_mm - reading_at(paper, "edge", target)
        # Where back and edge are all but level, the reading of one may pass the other by its own error.
        return Station.model_construct(
            from_toe_mm=target.from_toe_mm,
            spine_mm=round(spine, 2),
            edge_mm=round(min(edge, spine), 2),
            scallop=target.scallop,
        )

    def _width(self, target_mm: float) -> float:
        widths = [row.in_unit for row in self._numbers.get("width", [])[-3:]]
        shaped = [row.in_unit for row in self._numbers.get("shaped_width", [])[-1:]]
        return max(widths) if widths else (shaped[0] if shaped else target_mm)

    @property
    def _read_before_sanding(self) -> bool:
        """Whether depths were read, none of them on the sanded bat: what was not read is as it should be."""
        if self.work.is_adjustment or not self.depths:
            return False
        return all(row.stage != Stage.FINISHING for rows in self.depths.values() for row in rows)

    def _as_sanded(self, read: BuildSheet) -> BuildSheet:
        """Take off what the sanding has taken since the stations were read."""
        density = self.rack.density_kg_m3
        return Between(read, Condition(handle=True), density, self.work.targets, self.work.book).after

    @cached_property
    def rack(self) -> Believed:
        """What was known of the willow before the blade was weighed: the cleft, and the press's loss.

        Without a cleft any density of the agreed band is as likely as another.
        """
        willow = willow_of(self.work)
        if willow is not None:
            return willow.believed
        band = self.work.targets.willow.density_kg_m3
        return Believed(
            density_kg_m3=(band.min + band.max) / 2, sd_kg_m3=max((band.max - band.min) / sqrt(12), 1.0)
        )

    @cached_property
    def stood(self) -> Stood | None:
        """Where the bat stands; None where there is no blade yet.

        Raises:
            Refused: ``not_a_bat`` where the readings make none.
        """
        if self.work.bat.stage not in HAS_A_BLADE:
            return None
        condition = guessed(self.work)
        weighings = self._each_state_once()
        believed = self.rack
        for one, sheet in weighings[:-1]:
            believed = self._stand(sheet, one.condition, one.scales, believed).believed
        if not weighings:
            standing = self._stand(self.now(sanded=condition.sanded), condition, None, believed)
            return Stood(standing, self.rack, None, condition, 0.0)
        last, sheet = weighings[-1]
        now, lies = self.now(sanded=last.condition.sanded), self._shaped_since(last.condition, condition)
        if now == sheet and lies == last.condition:
            standing = self._stand(sheet, last.condition, last.scales, believed)
            return Stood(standing, self.rack, last, last.condition, 0.0)
        return self._cut_since(last, sheet, now, lies, believed)

    def _shaped_since(self, weighed: Condition, guessed: Condition) -> Condition:
        """Return the condition of a weighing with so much left square as the steps done since then tell."""
        half = self.work.build.blade.length_mm / 2
        was, is_now = (sum(one.square_top_mm > reach for reach in (0.0, half)) for one in (weighed, guessed))
        if is_now >= was:
            return weighed
        names = ("square_top_mm", "square_depth_mm", "square_width_mm")
        return weighed.model_copy(update={name: getattr(guessed, name) for name in names})

    @property
    def expected_g(self) -> float | None:
        """Return what the scales should show by all that is known; None where there is no blade."""
        if self.stood is None:
            return None
        standing = self.stood.standing
        return standing.weighing.mass_g - sum(line.mass_g for line in standing.pending)

    def _cut_since(
        self, last: Weighed, then: BuildSheet, now: BuildSheet, lies: Condition, believed: Believed
    ) -> Stood:
        """Count what readings and steps say was cut since the last weighing off what the scales showed."""
        density = self._stand(then, last.condition, last.scales, believed).believed.density_kg_m3
        off = self._laid(then, last.condition, density) - self._laid(now, lies, density)
        scales = Scales(mass_g=last.scales.mass_g - off)
        return Stood(self._stand(now, lies, scales, believed), self.rack, last, lies, off)

    def _laid(self, sheet: BuildSheet, condition: Condition, density: float) -> float:
        materials = self.work.book.materials
        return lay_out(sheet, condition, materials, density, materials.moisture_percent).whole.mass_g

    def _stand(
        self, now: BuildSheet, condition: Condition, scales: Scales | None, believed: Believed
    ) -> Standing:
        return stand(now, condition, scales, believed, aim=self.work.targets, book=self.work.book)

    def _each_state_once(self) -> list[tuple[Weighed, BuildSheet]]:
        """The weighings with the bat as it then was; of the same bat weighed twice only the last counts."""
        found: list[tuple[Weighed, BuildSheet]] = []
        for one in self.weighings:
            sheet = self.now(one.at, sanded=one.condition.sanded)
            if found and (found[-1][0].condition, found[-1][1]) == (one.condition, sheet):
                found.pop()
            found.append((one, sheet))
        return found

    @cached_property
    def aims(self) -> Aims:
        """What the finished bat should land on, as agreed."""
        build, weighing = self.work.build, self.work.weighing
        peak = build.sweet_spot.peak_from_toe_mm
        if peak is None:
            sweet = weighing.sweet_spot
            peak = sweet.peak_from_toe_mm if sweet else weighing.swell_from_toe_mm
        return Aims(
            mass_g=build.mass_g.target,
            mass_tolerance_g=build.mass_g.tolerance,
            balance_from_toe_mm=weighing.balance_from_toe_mm,
            balance_tolerance_mm=self.work.book.bench.tolerances.balance_mm,
            peak_from_toe_mm=peak,
            peak_tolerance_mm=PEAK_TOLERANCE_MM,
        )


def _own(row: ScalesReading) -> Weighed:
    balance = None if row.balance is None else row.balance / 10
    scales = Scales(mass_g=row.mass / 10, balance_from_toe_mm=balance)
    return Weighed(scales, Condition.model_validate(row.condition), row.by.name, row.at, row)
