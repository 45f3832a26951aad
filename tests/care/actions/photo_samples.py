"""Pictures for tests, drawn here: with a place in them, broken, disguised."""

import io
import struct
import zlib
from datetime import date
from functools import cache
from typing import Any

from django.utils import timezone
from PIL import ExifTags, Image

from care.actions.photos import keep_photo
from care.models import Photo
from orchard.models import Tree
from tests.conftest import TODAY

#: 47 degrees 27 minutes north, as a camera writes it; looked for in what is kept.
PLACE = {
    ExifTags.GPS.GPSLatitudeRef: "N",
    ExifTags.GPS.GPSLatitude: (47.0, 27.0, 0.0),
    ExifTags.GPS.GPSLongitudeRef: "W",
    ExifTags.GPS.GPSLongitude: (122.0, 18.0, 36.0),
}
CAMERA = "Box camera of the garden"
XMP = b"<x:xmpmeta xmlns:x='adobe:ns:meta/'><exif:GPSLatitude>47,27N</exif:GPSLatitude></x:xmpmeta>"


def leaf(width: int = 640, height: int = 480, shade: int = 0) -> Image.Image:
    """A picture of no evenness: its left half is green, its right brown."""
    image = Image.new("RGB", (width, height), (40, 120 + shade % 100, 60))
    image.paste((120, 80, shade % 256), (width // 2, 0, width, height))
    return image


def tags(*, orientation: int = 1, taken: str = "2024:05:06 10:11:12") -> Image.Exif:
    exif = Image.Exif()
    exif[ExifTags.Base.Make] = CAMERA
    exif[ExifTags.Base.Orientation] = orientation
    exif.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.DateTimeOriginal] = taken
    exif.get_ifd(ExifTags.IFD.GPSInfo).update(
        {tag.value: value for tag, value in PLACE.items()}
    )
    return exif


def photo_bytes(
    kind: str = "JPEG", *, shade: int = 0, image: Image.Image | None = None, **more: Any
) -> bytes:
    """A photo with a place, a camera and a day in it."""
    kept = io.BytesIO()
    picture = image or leaf(shade=shade)
    written: dict[str, object] = {"exif": tags(**more)}
    if kind == "JPEG":
        written |= {"comment": f"GPS 47.45 -122.31, no. {shade}".encode(), "xmp": XMP}
    picture.save(kept, kind, **written)
    return kept.getvalue()


def large_png(width: int = 12_000, height: int = 12_000, rows: int = 12_000) -> bytes:
    """A picture of one colour: few bytes, many dots."""

    def chunk(kind: bytes, content: bytes) -> bytes:
        crc = zlib.crc32(kind + content)
        return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", crc)

    dots = (b"\0" * (1 + width // 8)) * rows
    header = struct.pack(">IIBBBBB", width, height, 1, 0, 0, 0, 0)
    return b"".join(
        [
            b"\x89PNG\r\n\x1a\n",
            chunk(b"IHDR", header),
            chunk(b"IDAT", zlib.compress(dots, 9)),
            chunk(b"IEND", b""),
        ]
    )


@cache
def tiny(shade: int = 0) -> bytes:
    """A photo that is made ready fast."""
    return photo_bytes(image=leaf(48, 36, shade), shade=shade)


def photo_of(tree: Tree, on: date = TODAY, shade: int = 0, **more: Any) -> Photo:
    """Keep a small photo of a tree; another shade is another photo."""
    facts: dict[str, Any] = {"person": None, "helper": None, "caption": "", **more}
    return keep_photo(
        site=tree.site, tree=tree, on=on, now=timezone.now(), data=tiny(shade), **facts
    )
