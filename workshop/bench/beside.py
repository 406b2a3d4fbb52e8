"""Two or three clefts laid side by side for one bat: drawn, with what each would make of it."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import prefetch_related_objects
from django.utils.safestring import SafeString
from django.utils.translation import gettext

from fitting.bat.reshape import reshape
from fitting.bat.reshaped import CannotReshape
from orders.money.amounts import show_price
from orders.people.models import Workshop
from orders.words.shaping import say_barrier
from workshop.bench.cleft_picture import draw_cleft
from workshop.bench.lies import best_of, every_lie, lie_words, reasons_against
from workshop.bench.selection import Told, drawn, laid, told, zones_of_work
from workshop.bench.work import Work
from workshop.rack.candidates import Candidate
from workshop.rack.models import CleftPhoto

MOST = 3


@dataclass(frozen=True)
class Beside:
    """One cleft beside others, in words."""

    one: Candidate
    picture: SafeString
    lie: str
    marks: list[Told]
    spoilt: bool
    reasons: list[str]
    reshaped: str
    can_be_reshaped: bool
    price: str
    photos: list[CleftPhoto]


def chosen_beside(found: list[Candidate], codes: Iterable[str]) -> list[Candidate]:
    """Return the clefts to lay side by side: those that were ticked, three at most, else the first."""
    wanted = set(codes)
    ticked = [one for one in found if one.cleft.code in wanted]
    return (ticked or found)[:MOST]


def laid_beside(work: Work, found: Iterable[Candidate], *, with_prices: bool) -> list[Beside]:
    """Return clefts as they stand side by side; prices only for who may see them."""
    return [_beside(work, one, with_price=with_prices) for one in found]


def spoken_against(work: Work, found: Iterable[Candidate]) -> set[str]:
    """Return the codes of the clefts that something speaks against, however they lie."""
    listed = list(found)
    prefetch_related_objects([one.cleft for one in listed], "blemishes")
    zones = zones_of_work(work)
    return {
        one.cleft.code
        for one in listed
        if reasons_against(one.cleft, work.book.bench) or best_of(every_lie(one.cleft, zones)).spoilt_by
    }


def _beside(work: Work, one: Candidate, *, with_price: bool) -> Beside:
    cleft = one.cleft
    how = best_of(every_lie(cleft, zones_of_work(work)))
    words, can = _reshaped(work, one)
    return Beside(
        one=one,
        picture=drawn(draw_cleft(laid(work, cleft, how))),
        lie=lie_words(how.lie),
        marks=told(how.marks),
        spoilt=bool(how.spoilt_by),
        reasons=reasons_against(cleft, work.book.bench),
        reshaped=words,
        can_be_reshaped=can,
        price=_price(one) if with_price else "",
        photos=list(cleft.photos.all()),
    )


def _reshaped(work: Work, one: Candidate) -> tuple[str, bool]:
    """Say whether the bat can be re-shaped for this cleft so that it weighs what was agreed."""
    target = work.build.mass_g.target
    try:
        found = reshape(work.build, one.density.pressed, target, book=work.book)
    except CannotReshape as stopped:
        return say_barrier(stopped.barrier), False
    most = max((moved.spine_mm for moved in found.moved), key=abs)
    if abs(most) < 0.05:
        return gettext("as drawn, to %(mass)s g") % {"mass": f"{target:.0f}"}, True
    words = gettext("to %(mass)s g, the spine moved by %(most)s mm at most")
    return words % {"mass": f"{target:.0f}", "most": f"{most:+.1f}".replace("-", "−")}, True


def _price(one: Candidate) -> str:
    cost = one.cleft.cost
    return "" if cost is None else show_price(cost, Workshop.objects.get().currency)
