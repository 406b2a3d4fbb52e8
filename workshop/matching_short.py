"""What willow the bats lack that got no cleft, gathered into as few lines as will do. Pure arithmetic."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from workshop.matching_costs import Wanted, usable_kg_m3

# Rough lengths of adult and of junior clefts are apart by more, those of one kind by less.
LENGTHS_APART_MM = 40.0


@dataclass(frozen=True)
class Short:
    """Clefts that are lacking: how many, for which bats, what each must be.

    Attributes:
        bats: rows of the bats that any such cleft would serve.
        length_mm: least of the cleft; width and depth likewise.
        grade: the least that serves them all.
        raw_from_kg_m3: density of the raw cleft at 12 %, as it is bought, to ``raw_to_kg_m3``.
    """

    bats: tuple[int, ...]
    length_mm: float
    width_mm: float
    depth_mm: float
    grade: int
    raw_from_kg_m3: float
    raw_to_kg_m3: float

    @property
    def count(self) -> int:
        """How many clefts."""
        return len(self.bats)

    @property
    def mass_kg(self) -> tuple[float, float]:
        """What a cleft of just that size weighs at 12 %, kg: what a buyer without a calliper goes by."""
        volume = self.length_mm * self.width_mm * self.depth_mm / 1e9
        return volume * self.raw_from_kg_m3, volume * self.raw_to_kg_m3


def short_of(wanted: Iterable[tuple[int, Wanted]]) -> list[Short]:
    """Gather what bats without a cleft lack; any cleft of a line serves any bat of it.

    Bats of one grade and about one length share a line as long as their densities have a stretch in common:
    taken by the upper end of what each can use, which gives the fewest lines there can be.
    """
    singles = [one for row, bat in wanted if (one := _single(row, bat)) is not None]
    found: list[Short] = []
    for one in sorted(singles, key=lambda short: short.raw_to_kg_m3):
        place = next((at for at, line in enumerate(found) if _goes_with(line, one)), None)
        if place is None:
            found.append(one)
        else:
            found[place] = _joined(found[place], one)
    return sorted(found, key=lambda short: (-short.count, short.grade, short.raw_from_kg_m3))


def _single(row: int, bat: Wanted) -> Short | None:
    usable = usable_kg_m3(bat)
    if usable is None or bat.table is None:
        return None
    return Short(
        bats=(row,),
        length_mm=bat.rough_length_mm,
        width_mm=bat.rough_width_mm,
        depth_mm=float(bat.table.spine_mm.max()) + bat.rough_depth_mm,
        grade=bat.grade,
        raw_from_kg_m3=usable[0] / bat.gain,
        raw_to_kg_m3=usable[1] / bat.gain,
    )


def _goes_with(line: Short, one: Short) -> bool:
    return (
        line.grade == one.grade
        and abs(line.length_mm - one.length_mm) <= LENGTHS_APART_MM
        and one.raw_from_kg_m3 <= line.raw_to_kg_m3
    )


def _joined(line: Short, one: Short) -> Short:
    return replace(
        line,
        bats=(*line.bats, *one.bats),
        length_mm=max(line.length_mm, one.length_mm),
        width_mm=max(line.width_mm, one.width_mm),
        depth_mm=max(line.depth_mm, one.depth_mm),
        raw_from_kg_m3=max(line.raw_from_kg_m3, one.raw_from_kg_m3),
        raw_to_kg_m3=min(line.raw_to_kg_m3, one.raw_to_kg_m3),
    )
