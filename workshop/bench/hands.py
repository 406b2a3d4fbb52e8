"""Who is at a bat, worded for its page: in whose hands it is, since when, and how long each was at it."""

from dataclasses import dataclass

from orders.people.models import User
from orders.words.stages import wait_words
from orders.words.states import stage_words
from workshop.bench.page import time_words
from workshop.bench.spells import open_spell, time_spent
from workshop.bench.waits import waits_of
from workshop.bench.work import Work


@dataclass(frozen=True)
class Hands:
    """In whose hands a bat is: the reader's own, another's, or nobody's."""

    name: str
    since: str
    is_mine: bool

    @property
    def is_others(self) -> bool:
        """Whether somebody else has it."""
        return bool(self.name) and not self.is_mine


@dataclass(frozen=True)
class Minutes:
    """How long one person was at the bat in one stage."""

    stage: str
    name: str
    minutes: int
    here: bool


def hands_of(work: Work, user: User) -> Hands:
    """Return in whose hands the bat is in its stage."""
    held = open_spell(work.bat)
    if held is None:
        return Hands("", "", is_mine=False)
    return Hands(held.by.name, time_words(held.began_at), is_mine=held.by_id == user.pk)


def minutes_of(work: Work) -> list[Minutes]:
    """Return the minutes at the bat by stage and person."""
    return [
        Minutes(stage_words(row.stage), row.name, row.minutes, here=row.stage == work.bat.stage)
        for row in time_spent(work.bat)
    ]


def waits_said(work: Work) -> list[str]:
    """Say what the bat waits for and until when."""
    return [wait_words(wait.key, wait.until, work.book.bench) for wait in waits_of(work)]
