"""Photographs: what is taken, what is kept of it, and who sees it."""

import io
import resource
import time

import pytest
from django.utils.datastructures import MultiValueDict
from PIL import Image, ImageFile

from orders.messages.forms import PhotographForm
from orders.messages.photographs import (
    LONGEST_SIDE,
    MOST_BYTES,
    PhotographRefused,
    read_photograph,
)
from tests.orders.messages.pictures import SECRET_PLACE, bomb, from_a_phone, heic, picture, upload

SVG = b'<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)" width="9" height="9"/>'
NOT_PHOTOGRAPHS = {
    "svg": upload(SVG, "bat.svg", "image/svg+xml"),
    "svg called jpg": upload(SVG),
    "gif": upload(picture("GIF"), "bat.gif", "image/gif"),
    "bmp": upload(picture("BMP")),
    "tiff": upload(picture("TIFF")),
    "page": upload(b"<html><script>alert(1)</script></html>"),
    "script with a gif's first bytes": upload(b"GIF89a/*" + b"\0" * 30 + b"*/=1;alert(1)"),
    "text": upload(b"this is no picture"),
    "cut off jpeg": upload(picture("JPEG", (800, 600))[:900]),
    "cut off png": upload(picture("PNG", (800, 600), "RGB")[:200]),
    "jpeg's first bytes only": upload(b"\xff\xd8\xff\xe0"),
    "test virus": upload(rb"X5O!P%@AP[4\PZX54(P^)7CC)7}$EICAR-STANDARD-ANTIVIRUS-TEST-FILE!$H+H*"),
    "nothing": upload(b""),
}


def is_red(image: Image.Image, x: int, y: int) -> bool:
    """Whether a point is red rather than blue."""
    red, _green, blue = image.convert("RGB").crop((x, y, x + 1, y + 1)).tobytes()
    return red > 200 and blue < 60


@pytest.mark.parametrize("name", NOT_PHOTOGRAPHS)
def test_file_that_is_no_photograph_is_refused(name):
    with pytest.raises(PhotographRefused, match="no_photograph"):
        read_photograph(NOT_PHOTOGRAPHS[name])


@pytest.mark.parametrize("name", ["cut off jpeg", "cut off png"])
def test_file_that_is_cut_off_is_refused_after_a_pdf_was_printed(name, monkeypatch):
    # What importing WeasyPrint does to the whole process.
    monkeypatch.setattr(ImageFile, "LOAD_TRUNCATED_IMAGES", True)
    with pytest.raises(PhotographRefused, match="no_photograph"):
        read_photograph(NOT_PHOTOGRAPHS[name])


@pytest.mark.parametrize(
    "content", [picture("JPEG"), picture("PNG"), picture("WEBP"), heic()], ids=["jpeg", "png", "webp", "heic"]
)
def test_photograph_is_kept_as_a_jpeg_written_anew(content):
    kept = read_photograph(upload(content))
    assert (kept.width, kept.height) == (120, 60)
    assert kept.jpeg != content
    image = Image.open(io.BytesIO(kept.jpeg))
    assert image.format == "JPEG"
    assert is_red(image, 20, 30)


def test_place_and_everything_else_beside_the_picture_is_gone_and_it_stands_upright():
    content = from_a_phone()
    assert SECRET_PLACE in content
    kept = read_photograph(upload(content))
    assert (kept.width, kept.height) == (60, 120)
    image = Image.open(io.BytesIO(kept.jpeg))
    # Turned clockwise, the left half is on top.
    assert is_red(image, 30, 20)
    assert not is_red(image, 30, 100)
    assert SECRET_PLACE not in kept.jpeg
    assert b"http://ns.adobe.com" not in kept.jpeg
    assert b"Exif" not in kept.jpeg
    assert not image.getexif()
    assert "comment" not in image.info


def test_page_hidden_behind_a_picture_is_gone():
    content = picture("PNG") + b"<script>alert(1)</script>"
    assert b"<script>" not in read_photograph(upload(content)).jpeg


@pytest.mark.parametrize("mode", ["RGBA", "LA", "P", "L", "1", "I;16"])
def test_every_kind_of_png_is_taken(mode):
    kept = read_photograph(upload(png_in(mode)))
    assert Image.open(io.BytesIO(kept.jpeg)).mode == "RGB"


def png_in(mode):
    """Return a grey PNG of that mode."""
    out = io.BytesIO()
    Image.new("L", (64, 64), 128).convert(mode).save(out, "PNG")
    return out.getvalue()


def test_large_photograph_is_made_smaller():
    kept = read_photograph(upload(picture("JPEG", (4000, 3000))))
    assert (kept.width, kept.height) == (LONGEST_SIDE, LONGEST_SIDE * 3 // 4)


def test_picture_that_claims_to_be_enormous_is_refused_before_it_is_decoded():
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    began = time.monotonic()
    with pytest.raises(PhotographRefused, match="too_many_pixels") as refused:
        read_photograph(upload(bomb()))
    assert time.monotonic() - began < 1
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < 100 * 1024
    assert refused.value.allowed == 40_000_000


def test_picture_of_a_few_points_too_many_is_refused():
    with pytest.raises(PhotographRefused, match="too_many_pixels"):
        read_photograph(upload(bomb(6325)))


def test_file_of_too_many_bytes_is_refused():
    with pytest.raises(PhotographRefused, match="too_big") as refused:
        read_photograph(upload(picture() + b"\0" * MOST_BYTES))
    assert refused.value.allowed == MOST_BYTES


@pytest.mark.parametrize(
    ("sent", "words"),
    [
        (upload(b"this is no picture"), "JPEG, PNG, WebP and HEIC are taken."),
        (upload(bomb()), "more than the 40 million points"),
        (upload(picture() + b"\0" * MOST_BYTES), "10.0 MB; a photograph may have 10 MB"),
        (upload(picture(size=(8, 8))), "8 points across; at least 16"),
        (upload(b""), "This file is empty"),
        (None, "Choose a photograph."),
    ],
    ids=["no photograph", "enormous", "too many bytes", "tiny", "empty", "none"],
)
def test_refusal_is_said_at_the_field_and_the_caption_kept(sent, words):
    files = MultiValueDict({"photograph": [sent]} if sent else {})
    form = PhotographForm({"caption": "toe after two nets"}, files)
    assert not form.is_valid()
    assert words in str(form.errors["photograph"])
    assert 'value="toe after two nets"' in str(form["caption"])
