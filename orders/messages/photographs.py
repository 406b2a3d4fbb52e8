"""Photographs: judged, decoded and written anew, so that nothing of the file sent is kept.

Limits are this project's choice; that there are some, and that they are checked before decoding,
is OWASP ASVS 5.0, 5.2.1 and 5.2.6. Writing the picture anew drops its metadata, the place it was
taken at included (14.2.8).
"""

import io
import os
import time
import warnings
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pillow_heif
from django.conf import settings
from django.core.files.base import ContentFile
from django.core.files.uploadedfile import UploadedFile
from django.db import transaction
from django.urls import reverse
from PIL import Image, ImageFile, ImageOps

from orders.messages.models import Photo
from orders.people import rate_limits
from orders.people.models import User

pillow_heif.register_heif_opener()

MOST_BYTES = 10 * 1024 * 1024
MOST_PIXELS = 40_000_000
MOST_PER_COMMISSION = 20
LONGEST_SIDE = 2048
SHORTEST_SIDE = 16
KINDS = ("JPEG", "PNG", "WEBP", "HEIF")
ACCEPT = "image/jpeg,image/png,image/webp,image/heic,image/heif"
# A file whose row was rolled back is left alone for a day, then removed.
ORPHAN_AFTER_SECONDS = 24 * 3600


class PhotographRefused(ValueError):
    """A photograph that is not taken.

    ``why`` is ``too_big``, ``too_many_pixels``, ``too_small``, ``no_photograph``, ``too_many`` or
    ``too_often``; ``given`` and ``allowed`` are numbers in the unit of the limit (bytes, pixels,
    photographs, seconds to wait); ``given`` is 0 where it was not worth finding out.
    """

    def __init__(self, why: str, *, given: int = 0, allowed: int = 0) -> None:
        super().__init__(why)
        self.why = why
        self.given = given
        self.allowed = allowed


@dataclass(frozen=True)
class Picture:
    """A photograph as it will be kept: JPEG, upright, without metadata."""

    jpeg: bytes
    width: int
    height: int


def read_photograph(upload: "UploadedFile[bytes]") -> Picture:
    """Judge an uploaded file and write its picture anew.

    Raises:
        PhotographRefused: with the reason and the limit.
    """
    size = upload.size or 0
    if size > MOST_BYTES:
        raise PhotographRefused("too_big", given=size, allowed=MOST_BYTES)
    try:
        with warnings.catch_warnings():
            # Our own limit, checked first, is the stricter one.
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            _judge_header(upload)
            return _write_anew(upload)
    except PhotographRefused:
        raise
    except Image.DecompressionBombError:
        raise PhotographRefused("too_many_pixels", allowed=MOST_PIXELS) from None
    except (OSError, SyntaxError, ValueError, EOFError):
        raise PhotographRefused("no_photograph") from None


def _judge_header(upload: "UploadedFile[bytes]") -> None:
    """Look at the size that the file claims, before anything is decoded."""
    upload.seek(0)
    with Image.open(upload, formats=KINDS) as picture:
        if picture.width * picture.height > MOST_PIXELS:
            raise PhotographRefused("too_many_pixels", allowed=MOST_PIXELS)
        if min(picture.size) < SHORTEST_SIDE:
            raise PhotographRefused("too_small", given=min(picture.size), allowed=SHORTEST_SIDE)


def _write_anew(upload: "UploadedFile[bytes]") -> Picture:
    upload.seek(0)
    # The printing of PDFs switches this on for the whole process: half a picture would count as one.
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    with Image.open(upload, formats=KINDS) as sent:
        # A phone's JPEG is many times larger than what is kept: decode no more than that.
        sent.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
        picture = ImageOps.exif_transpose(sent)
        picture.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
        if picture.mode not in {"RGB", "L"}:
            ground = Image.new("RGB", picture.size, "white")
            shown = picture.convert("RGBA")
            ground.paste(shown, mask=shown.getchannel("A"))
            picture = ground
        # A fresh image carries no profile, comment or metadata over.
        bare = Image.new("RGB", picture.size)
        bare.paste(picture.convert("RGB"))
    out = io.BytesIO()
    bare.save(out, "JPEG", quality=85, optimize=True)
    return Picture(out.getvalue(), bare.width, bare.height)


def keep_picture(
    picture: Picture,
    *,
    commission: Any,
    by: User,
    bat: Any = None,
    stage: str = "",
    caption: str = "",
    shown_to_player: bool = False,
) -> Photo:
    """Keep a picture with a commission.

    Raises:
        PhotographRefused: the commission has as many as it may have, or this person sent very many
            within the hour.
    """
    wait = rate_limits.count(rate_limits.PHOTOGRAPHS_BY_PERSON, str(by.pk))
    if wait:
        raise PhotographRefused("too_often", given=wait)
    with transaction.atomic():
        held = Photo.objects.filter(commission=commission).count()
        if held >= MOST_PER_COMMISSION:
            raise PhotographRefused("too_many", given=held + 1, allowed=MOST_PER_COMMISSION)
        photo = Photo(
            commission=commission,
            bat=bat,
            stage=stage,
            by=by,
            width=picture.width,
            height=picture.height,
            caption=caption,
            shown_to_player=shown_to_player,
        )
        photo.file.save("photograph.jpg", ContentFile(picture.jpeg), save=False)
        photo.save()
    return photo


def keep_photograph(upload: "UploadedFile[bytes]", **about: Any) -> Photo:
    """Judge, write anew and keep an uploaded file; arguments as for ``keep_picture``.

    Raises:
        PhotographRefused: with the reason and the limit.
    """
    return keep_picture(read_photograph(upload), **about)


def remove_photograph(photo: Photo) -> None:
    """Delete a photograph, row and then file; ``sweep_files`` catches a file left by a crash."""
    storage, name = photo.file.storage, photo.file.name
    photo.delete()
    transaction.on_commit(lambda: storage.delete(name or ""))


def photographs_listed(photos: Iterable[Photo]) -> list[dict[str, Any]]:
    """Return photographs as ``parts/photos.html`` wants them."""
    return [
        {
            "address": reverse("letters:photograph", args=[photo.code]),
            "width": photo.width,
            "height": photo.height,
            "caption": photo.caption,
        }
        for photo in photos
    ]


def sweep_files() -> int:
    """Remove files older than a day that no row knows; a periodic job. Returns how many."""
    folder = Path(settings.MEDIA_ROOT) / "photographs"
    if not folder.is_dir():
        return 0
    old = time.time() - ORPHAN_AFTER_SECONDS
    files = [path for path in folder.glob("*/*") if path.is_file() and path.stat().st_mtime < old]
    known = set(Photo.objects.values_list("file", flat=True))
    orphans = [path for path in files if path.relative_to(settings.MEDIA_ROOT).as_posix() not in known]
    for path in orphans:
        os.unlink(path)
    return len(orphans)
