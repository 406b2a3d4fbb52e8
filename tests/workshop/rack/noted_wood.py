"""What is noted of clefts beside their numbers, for tests of whole pages: load, marks, weighings, file."""

from datetime import timedelta

from django.utils import timezone

from orders.messages.photographs import read_photograph
from orders.people.models import User
from tests.orders.messages.pictures import picture, upload
from tests.workshop.rack.files_of_clefts import as_csv
from workshop.rack import blemishes, photographs
from workshop.rack.clefts import grade_again, weigh_again
from workshop.rack.delivery import keep_file
from workshop.rack.imports import parse
from workshop.rack.models import Blemish, Cleft, CleftFile, CleftPhoto, CleftState, Load
from workshop.rack.sheets import read_table

PHOTO_CODE = "acleftview"


def a_load(name: str = "Winter felling", **changes: object) -> Load:
    """Note a load."""
    return Load.objects.create(
        **{"name": name, "grower": "Brook Farm", "count": 40, "price_a_piece": 6200, **changes}
    )


def of_load(load: Load, *clefts: Cleft) -> None:
    """Say that clefts came with a load."""
    Cleft.objects.filter(pk__in=[cleft.pk for cleft in clefts]).update(load=load)


def marked(cleft: Cleft, by: User) -> None:
    """Note a blemish of every kind and grade the cleft again."""
    for at, kind in enumerate(Blemish.Kind.values):
        side = Blemish.Side.values[at % 4]
        blemishes.place(
            cleft, kind=kind, side=side, from_end=900 * at, across=300, size=80, through=at == 2, by=by
        )
    grade_again(cleft, grade=2, when="dressing", by=by, words="A fine stain came up.")


def seasoned(cleft: Cleft, by: User, *, weeks: int = 3) -> None:
    """Let a cleft season: a weighing a week, ever nearer to rest."""
    today = timezone.localdate()
    cleft.read_on = today - timedelta(weeks=weeks)
    Cleft.objects.filter(pk=cleft.pk).update(state=CleftState.SEASONING, read_on=cleft.read_on)
    cleft.entries.filter(verb="take_in").update(
        data={"mass": cleft.mass, "moisture": cleft.moisture, "read_on": cleft.read_on.isoformat()}
    )
    cleft.refresh_from_db()
    for week in range(1, weeks + 1):
        weigh_again(
            cleft,
            mass=cleft.mass - 400 // week,
            moisture=cleft.moisture - 14 // week,
            read_on=today - timedelta(weeks=weeks - week),
            by=by,
        )


def photographed(cleft: Cleft, by: User) -> CleftPhoto:
    """Keep a photograph of a cleft, its code known."""
    photo = photographs.keep(cleft, read_photograph(upload(picture())), caption="face", by=by)
    photo.code = PHOTO_CODE
    photo.save(update_fields=["code"])
    return photo


def a_file(by: User) -> CleftFile:
    """Keep a file with a bad row, not confirmed."""
    table = read_table(as_csv({}, {"moisture_percent": 40}))
    return keep_file("clefts.csv", parse(table, today=timezone.localdate(), currency="GBP"), by=by)
