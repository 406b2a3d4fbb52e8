"""What is placed on the demo's clefts: blemishes, and drawn photographs of two of them."""

import io
from datetime import datetime, timedelta
from math import sin
from random import Random

from PIL import Image, ImageDraw

from orders.messages.photographs import Picture
from orders.people.models import User
from workshop.rack.blemishes import most_across, place
from workshop.rack.models import Blemish, Cleft, CleftEntry, CleftPhoto, CleftState
from workshop.rack.photographs import keep

# Of ten blemishes, as they are met; how far they reach, mm.
KINDS = ("speck", "speck", "speck", "stain", "stain", "butterfly", "knot", "knot", "worm", "shake")
REACH = {"speck": (2, 5), "stain": (30, 90), "butterfly": (25, 60), "knot": (5, 12), "worm": (2, 3)}
EVERY, PICTURED = 4, (40, 71)
PHOTO_SIZE = (1200, 240)


def mark_the_wood(chance: Random, clefts: list[Cleft], *, by: User, at: datetime) -> None:
    """Place blemishes on every fourth cleft, and photograph two."""
    for cleft in clefts[::EVERY]:
        if cleft.state != CleftState.REJECTED:
            for _ in range(chance.choice((1, 1, 2))):
                _blemish(chance, cleft, by=by)
    for number in PICTURED:
        _photograph(chance, clefts[number], by=by, at=at - timedelta(days=12))


def _blemish(chance: Random, cleft: Cleft, *, by: User) -> None:
    kind = chance.choice(KINDS)
    side = chance.choice(Blemish.Side.values)
    low, high = REACH.get(kind, (20, 50))
    size = chance.randrange(low * 10, high * 10)
    # A shake runs in from an end; what is no fault of an end lies anywhere.
    at_end = kind == "shake"
    place(
        cleft,
        kind=kind,
        side=side,
        from_end=cleft.length - size // 2 if at_end else chance.randrange(size, cleft.length - size),
        across=chance.randrange(100, most_across(cleft, side) - 100),
        size=size,
        through=kind in ("knot", "shake") and chance.random() < 0.3,
        by=by,
        at=cleft.taken_in_at + timedelta(hours=1),
    )


def _photograph(chance: Random, cleft: Cleft, *, by: User, at: datetime) -> None:
    """Keep a picture with a cleft; it knows no other time than now and is dated afterwards."""
    last = cleft.entries.order_by("-pk").values_list("pk", flat=True).first() or 0
    photo = keep(cleft, draw_grain(chance, cleft.grains or 8), caption="Side A, end 1 on the left", by=by)
    CleftPhoto.objects.filter(pk=photo.pk).update(at=at)
    CleftEntry.objects.filter(cleft=cleft, pk__gt=last).update(at=at)


def draw_grain(chance: Random, grains: int) -> Picture:
    """Draw the broad side of a cleft: pale wood, its grain along it."""
    width, height = PHOTO_SIZE
    image = Image.new("RGB", PHOTO_SIZE, (232, 210, 170))
    draw = ImageDraw.Draw(image)
    for number in range(grains):
        middle = height * (number + 0.5) / grains + chance.uniform(-4, 4)
        bend, slope = chance.uniform(1, 5), chance.uniform(-0.008, 0.008)
        spots = [(x, middle + bend * sin(x / 240 + number) + slope * x) for x in range(0, width + 1, 20)]
        draw.line(spots, fill=(198, 163, 112), width=chance.choice((2, 3, 4)))
    out = io.BytesIO()
    image.save(out, "JPEG", quality=80)
    return Picture(out.getvalue(), width, height)
