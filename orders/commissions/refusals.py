"""Why a verb was refused, as keys; orders/words/states.py words them."""

from collections.abc import Iterable


class Refused(Exception):
    """A verb that was not carried out; nothing was written.

    ``key`` says why: ``not_now`` (wrong state), ``not_yours`` (wrong person), ``moved_on`` (somebody was
    faster), ``lapsed``, ``other_snapshot``, ``guardian_needed``, ``breaks_the_laws``, ``not_done``,
    ``reason_needed``, ``cleft_is_cut``, ``wrong_stage``, ``taken_back``, ``cleft_missing``,
    ``too_much``, ``consent_needed``, ``mark_needed``, ``nothing_to_ask``, ``asked_already``,
    ``answered_already``, ``no_longer_asked``, ``too_many_days``.
    """

    def __init__(self, key: str, *, what: Iterable[str] = ()) -> None:
        self.key = key
        self.what = tuple(what)
        super().__init__(f"{key}: {', '.join(self.what)}" if self.what else key)


class MovedOn(Refused):
    """The record is no longer as it was read."""

    def __init__(self) -> None:
        super().__init__("moved_on")
