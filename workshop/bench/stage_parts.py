"""Each stage's own part of its page: the template and what stands in it."""

from collections.abc import Callable
from datetime import datetime
from typing import Any

from django.utils.functional import SimpleLazyObject

from orders.commissions.states import Stage
from workshop.bench import finishing, handle, pressing, reasons, selection, shaping
from workshop.bench.materials import kinds_at, to_take, used
from workshop.bench.standing import AtBench
from workshop.bench.standing_page import block_of
from workshop.bench.targets_page import targets_told
from workshop.bench.work import Work

PARTS: dict[Stage, Callable[[Work], dict[str, Any]]] = {
    Stage.CLEFT_SELECTION: selection.context,
    Stage.PRESSING: pressing.context,
    Stage.SHAPING: shaping.context,
    Stage.HANDLE_FITTING: handle.context,
    Stage.FINISHING: finishing.context,
}

# What a stage still asks for beside steps, readings and cleft, each as one word of
# ``orders.words.stages.missing_words``; looked at before the bat passes on.
MISSING: dict[Stage, Callable[[Work, datetime], tuple[str, ...]]] = {
    Stage.CLEFT_SELECTION: selection.missing_words,
    Stage.PRESSING: pressing.missing_words,
    Stage.HANDLE_FITTING: reasons.missing_words,
}


def missing_of(work: Work, now: datetime) -> tuple[str, ...]:
    """Return what the present stage's own part still asks for at a moment."""
    found = MISSING.get(Stage(work.bat.stage))
    return found(work, now) if found else ()


def part_of(work: Work) -> dict[str, Any]:
    """Return the template of the present stage's own part under ``stage_template``, and its context.

    Handle and materials go with the steps that need them, in whichever stage the maker has put those.
    """
    stage, at_bench = Stage(work.bat.stage), AtBench(work)
    materials = {"materials": to_take(work), "materials_used": used(work), "takes": bool(kinds_at(work))}
    return {
        "stage_template": f"bench/stage_{stage}.html",
        **materials,
        **handle.panel(work),
        # Worked out only where the page shows it: not for an answer that is one part of the page.
        "standing": SimpleLazyObject(lambda: block_of(at_bench)),
        "targets": SimpleLazyObject(lambda: targets_told(work, at_bench)),
        **PARTS[stage](work),
    }
