"""In which condition a bat lies on the scales, as far as its stage and the steps done tell."""

from statistics import mean

from fitting.bat.condition import Condition
from orders.commissions.models import Reading
from orders.commissions.models.bat import BenchEntryQuerySet
from orders.commissions.states import Stage
from workshop.bench.models import Coat
from workshop.bench.press_depths import wood_since
from workshop.bench.work import Work
from workshop.rack.clefts import cleft_of_round
from workshop.stock.handles import handle_of

# As long as none of them is done and no station was read, the whole piece is still a block.
SHAPED_BY = frozenset({"rough_out", "hollow", "leave_toe_deep", "rough_to_leave"})
# Any of them tells that nothing is left square below the shoulder.
TOP_SHAPED_BY = frozenset({"shape_shoulders", "last_cuts", "turn_to_girth", "bind"})
USUAL_MOISTURE_PERCENT = 12.0
MOISTURE_LEAST, MOISTURE_MOST = 4.0, 30.0


def guessed(work: Work) -> Condition:
    """Return the condition that stage and steps tell; whoever weighs can correct it."""
    if work.is_adjustment or work.bat.stage == Stage.INSPECTION:
        return finished_as_agreed(work)
    bat, build = work.bat, work.build
    done = set(bat.steps.standing().filter(round=bat.round).values_list("step", flat=True))
    finishing = bat.stage == Stage.FINISHING
    handle = finishing or "glue_and_clamp" in done
    turned = finishing or "turn_to_girth" in done
    covered = "coverings" in done
    protection = build.protection
    found = Condition(
        handle=handle,
        cane_g=_raw_handle_g(work) if handle and not turned else None,
        bound=finishing or "bind" in done,
        sanded="sand" in done,
        grips=build.grips.count if "grip" in done else 0,
        toe_guard=covered and protection.toe_guard is not None,
        face_film=covered and protection.face_film is not None,
        edge_tape=covered and protection.edge_tape is not None,
        oil_coats=_coats(work, done),
        moisture_percent=_moisture(work),
    )
    if finishing or done & TOP_SHAPED_BY:
        return found
    return with_square_top(work, found, whole=not handle and _nothing_shaped(work, done))


def finished_as_agreed(work: Work) -> Condition:
    """Return the condition in which the agreed bat leaves the workshop."""
    return Condition.finished(work.build, moisture_percent=_moisture(work))


def unfinished(work: Work, *, with_handle: bool) -> Condition:
    """Return the condition of a bare blade with its square top, or of a bound bat without its dressings."""
    if with_handle:
        return Condition(handle=True, bound=True, moisture_percent=_moisture(work))
    return with_square_top(work, Condition(moisture_percent=_moisture(work)))


def with_square_top(work: Work, condition: Condition, *, whole: bool = False) -> Condition:
    """Return a condition with the block that the book leaves square below the shoulder, or a whole block.

    It is as deep as the wood was dressed or, where it is whole, pressed; and as wide as the blade.
    """
    length = min(work.book.bench.square_top_mm, work.build.blade.length_mm / 2)
    if whole:
        length = square_most_mm(work)
    if length <= 0:
        return condition
    block = {
        "square_top_mm": length,
        "square_depth_mm": _pressed_depth(work) if whole else _block_depth(work),
        "square_width_mm": _number(work, "shaped_width") or work.build.blade.width_mm,
    }
    return condition.model_copy(update=block)


def _raw_handle_g(work: Work) -> float | None:
    """Mass of the handle as it went in, g: as read at the bench, else as it stands in the stock."""
    read = _number(work, "handle_mass")
    if read is not None:
        return read
    handle = handle_of(work.bat)
    return None if handle is None else handle.mass_g


def square_most_mm(work: Work) -> float:
    """Return how far down the shoulder a block can reach and still be one end of a blade."""
    return work.build.blade.length_mm - 1


def _nothing_shaped(work: Work, done: set[str]) -> bool:
    return not done & SHAPED_BY and not _rows(work, "spine", "edge_left", "edge_right").exists()


def _pressed_depth(work: Work) -> float:
    """Mean depth of the wood out of the press along its middle, mm."""
    depths = [row.in_unit for row in _rows(work, "depth_after")]
    return round(mean(depths), 1) if depths else _block_depth(work)


def _block_depth(work: Work) -> float:
    """Depth of the wood below the shoulder, mm: the press does not reach the splice."""
    rows = _rows(work, "depth_before").order_by("-from_toe", "-pk")
    if (row := rows.first()) is not None:
        return float(row.in_unit)
    cleft = cleft_of_round(work.bat)
    if cleft is not None:
        return float(min(cleft.depths_mm))
    deepest = max(station.spine_mm for station in work.targets.blade.stations)
    return round(deepest + work.book.bench.rough_depth_mm, 1)


def _coats(work: Work, done: set[str]) -> int:
    bat = work.bat
    laid = Coat.objects.standing().filter(bat=bat, round=bat.round, kind="oil").count()
    if laid:
        return min(laid, 10)
    return work.build.finish.oil_coats if "oil" in done else 0


def _moisture(work: Work) -> float:
    found = _number(work, "moisture", "final_moisture") or USUAL_MOISTURE_PERCENT
    return min(max(found, MOISTURE_LEAST), MOISTURE_MOST)


def _rows(work: Work, *keys: str) -> BenchEntryQuerySet[Reading]:
    rows = work.bat.readings.standing().filter(round=work.bat.round, key__in=keys)
    since = wood_since(work.bat)
    return rows if since is None else rows.filter(at__gte=since)


def _number(work: Work, *keys: str) -> float | None:
    row: Reading | None = _rows(work, *keys).order_by("pk").last()
    return None if row is None else row.in_unit
