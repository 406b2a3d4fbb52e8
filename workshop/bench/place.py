"""The place that a tablet stands at: kept in its session, so that a bat of another stage is noticed there."""

from django.contrib.sessions.backends.base import SessionBase

from orders.commissions.states import BENCH_STAGES
from orders.words.states import stage_words

KEY = "bench_place"


def place_of(session: SessionBase) -> str:
    """Return the stage that the tablet was told it stands at, nothing where it stands at none."""
    place = session.get(KEY, "")
    return place if place in BENCH_STAGES else ""


def set_place(session: SessionBase, stage: str) -> None:
    """Tell the tablet where it stands; nothing takes it from its place.

    Raises:
        ValueError: there is no such stage.
    """
    if not stage:
        session.pop(KEY, None)
    elif stage in BENCH_STAGES:
        session[KEY] = str(stage)
    else:
        raise ValueError(stage)


def place_words(session: SessionBase) -> dict[str, str]:
    """Return the tablet's place as key and words; empty where it stands at none."""
    place = place_of(session)
    return {"key": place, "words": stage_words(place)} if place else {}
