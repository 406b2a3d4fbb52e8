"""The clefts that agreed bats want and the rack has not, in a line each; the matching says which."""

from datetime import date

from django.utils import timezone
from django.utils.translation import gettext

from workshop.match.floor import matched
from workshop.match.words import say_short


def clefts_short(day: date | None = None) -> list[str]:
    """Return a line for each kind of cleft that is to be bought, and for which bats.

    Bats whose willow the matching has not worked out yet are not in it.
    """
    floor = matched(today=day or timezone.localdate())
    return [
        gettext("%(count)s, %(grade)s, %(density)s kg/m³ as bought, at least %(size)s mm, for %(bats)s")
        % {**say_short(short), "bats": ", ".join(floor.bats[row].label for row in short.bats)}
        for short in floor.short()
    ]
