"""Photographs of clefts, judged and written anew as every other, and shown to the player of its bat."""

import os
import time
from pathlib import Path

from django.conf import settings
from django.core.files.base import ContentFile
from django.db import transaction

from orders.commissions.refusals import Refused
from orders.commissions.states import Stage
from orders.messages.photographs import (
    ORPHAN_AFTER_SECONDS,
    PhotographRefused,
    Picture,
    keep_picture,
    remove_photograph,
)
from orders.people import rate_limits
from orders.people.models import User
from workshop.rack.history import note_down
from workshop.rack.models import Cleft, CleftPhoto

MOST_OF_A_CLEFT = 12
FOLDER = "clefts"


def keep(cleft: Cleft, picture: Picture, *, caption: str, by: User) -> CleftPhoto:
    """Keep a picture with a cleft.

    Raises:
        PhotographRefused: the cleft has as many as it may have, or this person sent very many lately.
    """
    wait = rate_limits.count(rate_limits.PHOTOGRAPHS_BY_PERSON, str(by.pk))
    if wait:
        raise PhotographRefused("too_often", given=wait)
    with transaction.atomic():
        held = cleft.photos.count()
        if held >= MOST_OF_A_CLEFT:
            raise PhotographRefused("too_many", given=held + 1, allowed=MOST_OF_A_CLEFT)
        photo = CleftPhoto(cleft=cleft, by=by, width=picture.width, height=picture.height, caption=caption)
        photo.file.save("cleft.jpg", ContentFile(picture.jpeg), save=False)
        photo.save()
        note_down(cleft, "photograph", {"words": caption}, by=by)
    return photo


@transaction.atomic
def show(photo: CleftPhoto, *, by: User) -> None:
    """Lay a copy of the photograph on the page of the commission that the cleft is reserved for.

    Raises:
        Refused: "no_bat" (the cleft is bound to none).
        PhotographRefused: the commission has as many photographs as it may have.
    """
    bat = photo.cleft.bat
    if bat is None:
        raise Refused("no_bat")
    if photo.shown_as_id is not None:
        return
    with photo.file.open("rb") as file:
        picture = Picture(file.read(), photo.width, photo.height)
    photo.shown_as = keep_picture(
        picture,
        commission=bat.commission,
        bat=bat,
        stage=Stage.CLEFT_SELECTION,
        by=by,
        caption=photo.caption,
        shown_to_player=True,
    )
    photo.save(update_fields=["shown_as"])
    note_down(photo.cleft, "photograph_shown", {"commission": bat.commission.reference}, by=by)


@transaction.atomic
def hide(photo: CleftPhoto, *, by: User | None) -> None:
    """Take the copy off the commission's page again."""
    shown = photo.shown_as
    if shown is None:
        return
    photo.shown_as = None
    photo.save(update_fields=["shown_as"])
    note_down(photo.cleft, "photograph_hidden", {"commission": shown.commission.reference}, by=by)
    remove_photograph(shown)


def hide_all(cleft: Cleft, *, by: User | None) -> None:
    """Take every copy off the page of a commission whose bat the cleft is no longer for."""
    for photo in cleft.photos.exclude(shown_as=None).select_related("shown_as__commission", "cleft"):
        hide(photo, by=by)


@transaction.atomic
def remove(photo: CleftPhoto, *, by: User) -> None:
    """Delete a photograph, its copy on a commission's page with it; row first, then file."""
    hide(photo, by=by)
    note_down(photo.cleft, "photograph_off", {"words": photo.caption}, by=by)
    storage, name = photo.file.storage, photo.file.name
    photo.delete()
    transaction.on_commit(lambda: storage.delete(name or ""))


def sweep_files() -> int:
    """Remove files of clefts older than a day that no row knows; a periodic job. Returns how many."""
    folder = Path(settings.MEDIA_ROOT) / FOLDER
    if not folder.is_dir():
        return 0
    old = time.time() - ORPHAN_AFTER_SECONDS
    files = [path for path in folder.glob("*/*") if path.is_file() and path.stat().st_mtime < old]
    known = set(CleftPhoto.objects.values_list("file", flat=True))
    orphans = [path for path in files if path.relative_to(settings.MEDIA_ROOT).as_posix() not in known]
    for path in orphans:
        os.unlink(path)
    return len(orphans)
