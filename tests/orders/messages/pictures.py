"""Files that are photographs, and files that only say so."""

import io
import struct
import zlib

import pillow_heif
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image
from PIL.TiffImagePlugin import IFDRational

SECRET_PLACE = b"SECRET-PLACE"


def upload(content: bytes, name: str = "bat.jpg", kind: str = "image/jpeg") -> SimpleUploadedFile:
    """Return a file as a browser sends it."""
    return SimpleUploadedFile(name, content, content_type=kind)


def picture(
    kind: str = "JPEG", size: tuple[int, int] = (120, 60), mode: str = "RGB", **options: object
) -> bytes:
    """Return a picture, its left half red and its right half blue."""
    image = Image.new(mode, size, "blue")
    image.paste("red", (0, 0, size[0] // 2, size[1]))
    out = io.BytesIO()
    image.save(out, kind, **options)
    return out.getvalue()


def from_a_phone() -> bytes:
    """Return a JPEG taken upright: turned in the file, told so in EXIF, with place, XMP and thumbnail."""
    image = Image.new("RGB", (120, 60), "blue")
    image.paste("red", (0, 0, 60, 60))
    exif = Image.Exif()
    exif[0x0112] = 6  # orientation: to be turned by 90 degrees clockwise
    exif[0x010E] = SECRET_PLACE.decode()
    exif.get_ifd(0x8825).update({1: "N", 2: (IFDRational(51), IFDRational(30), IFDRational(0))})
    out = io.BytesIO()
    xmp = b'<x:xmpmeta xmlns:x="adobe:ns:meta/">' + SECRET_PLACE + b"</x:xmpmeta>"
    image.save(out, "JPEG", exif=exif, xmp=xmp, comment=SECRET_PLACE)
    return out.getvalue()


def heic() -> bytes:
    """Return what a telephone calls HEIC."""
    pillow_heif.register_heif_opener()
    return picture("HEIF")


def bomb(side: int = 30_000) -> bytes:
    """Return a PNG of a few bytes that claims to be enormous."""

    def chunk(kind: bytes, content: bytes) -> bytes:
        return (
            struct.pack(">I", len(content)) + kind + content + struct.pack(">I", zlib.crc32(kind + content))
        )

    header = struct.pack(">IIBBBBB", side, side, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", header)
        + chunk(b"IDAT", zlib.compress(b"\0" * 1000))
        + chunk(b"IEND", b"")
    )
