"""What differs between the steps of two editions, in words."""

from collections.abc import Iterator

from django.utils.text import capfirst
from django.utils.translation import gettext as _

from fitting.sheets.book_bench import BenchBook, Step
from orders.commissions.states import Stage
from orders.words.stages import step_words
from orders.words.states import stage_words

# Name in the book, what, before, after.
Row = tuple[str, str, str, str]


def step_differences(old: BenchBook, new: BenchBook) -> Iterator[Row]:
    """Yield a row for every step that is new, gone, moved or otherwise, and one for each new order."""
    before, after = dict(_placed(old)), dict(_placed(new))
    for key in dict.fromkeys([*before, *after]):
        first, second = before.get(key), after.get(key)
        if first != second:
            bench = old if second is None else new
            what = _("Step “%(step)s”") % {"step": step_words(key, bench)}
            yield "bench.steps", what, _said(first), _said(second)
    for work in old.stages:
        earlier = [step.key for step in work.steps if step.key in _keys(new, work.stage)]
        later = [step.key for step in new.work(work.stage).steps if step.key in earlier]
        if earlier != later:
            what = _("Order of the steps, %(stage)s") % {"stage": stage_words(work.stage)}
            moved = [key for one, key in zip(earlier, later, strict=True) if one != key]
            yield "bench.steps", what, "", ", ".join(step_words(key, new) for key in moved)


def _placed(bench: BenchBook) -> Iterator[tuple[str, tuple[str, Step]]]:
    for work in bench.stages:
        for step in work.steps:
            yield step.key, (work.stage, step)


def _keys(bench: BenchBook, stage: str) -> set[str]:
    return {step.key for step in bench.work(stage).steps}


def _said(placed: tuple[str, Step] | None) -> str:
    if placed is None:
        return _("not in the book")
    stage, step = placed
    said = [capfirst(stage_words(Stage(stage))), _("needed") if step.needed else _("not needed")]
    if step.wait_hours:
        said.append(_("%(hours)s h to lie") % {"hours": f"{step.wait_hours:g}"})
    if step.at_rest:
        said.append(_("at rest"))
    return ", ".join(said)
