"""Bytes of any picture become two small JPEGs that tell no place and no camera.

What came is never kept: it is decoded and written anew from its dots alone. So nothing
travels along, be it where it was taken or a second file behind the picture.
"""

import hashlib
import io
import threading
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from typing import TypeVar

import pillow_heif
from django.utils.translation import gettext
from PIL import ExifTags, Image, ImageCms, ImageOps, UnidentifiedImageError

MOST_BYTES = 12 * 1024 * 1024
MOST_DOTS = 40_000_000
#: More scans than this and a JPEG is made to keep a computer busy; usual are one to ten.
MOST_SCANS = 64
LONGEST_DOTS = 1600
SMALL_DOTS = 320
QUALITY = 82
FORMATS = ("JPEG", "PNG", "WEBP", "AVIF", "HEIF")
_SCAN = b"\xff\xda"
_TAKEN_AT = ("DateTimeOriginal", "DateTimeDigitized")

# A belt for whatever opens a picture elsewhere; the limit here is looked at below.
Image.MAX_IMAGE_PIXELS = MOST_DOTS
# Small pictures inside the file are no concern of ours, and one thread is enough.
pillow_heif.register_heif_opener(
    thumbnails=False, depth_images=False, aux_images=False, decode_threads=1
)
#: Decoding may take 200 MB: of many photos at once, one is worked on at a time.
_ONE_AT_A_TIME = threading.Lock()


Found = TypeVar("Found")


class PhotoError(Exception):
    """A photo that cannot be kept; the message says why, in words for who sent it."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture ready to keep; ``taken_on`` is the day the camera wrote, if it did."""

    whole: bytes
    small: bytes
    width: int
    height: int
    sha256: str
    taken_on: date | None = None

    @property
    def size_bytes(self) -> int:
        """What both files take."""
        return len(self.whole) + len(self.small)


def read_picture(data: bytes) -> Picture:
    """Return a picture made ready to keep.

    It is at most 1600 dots long, upright, in sRGB, on white where it was see-through.

    Raises
    ------
    PhotoError
        It is no picture of a kind we take, too large, or broken.
    """
    if not data:
        raise PhotoError(gettext("The file is empty."))
    if len(data) > MOST_BYTES:
        raise PhotoError(
            gettext("The photo is too large: {limit} MB at most.").format(
                limit=MOST_BYTES // 1024**2
            )
        )
    # Many plugins read what strangers wrote, and each fails in its own way; whatever
    # it is, it is the file's fault and told as that.
    try:
        with _ONE_AT_A_TIME, _opened(data) as image:
            return _made_ready(data, image)
    except PhotoError:
        raise
    except Exception as error:
        raise PhotoError(_broken()) from error


def _broken() -> str:
    return gettext(
        "The photo arrived broken or in part. Take it or choose it once more."
    )


def _opened(data: bytes) -> Image.Image:
    """Return a picture of which only the header was read."""
    try:
        image = Image.open(io.BytesIO(data), formats=FORMATS)
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise PhotoError(_too_many_dots()) from error
    except UnidentifiedImageError as error:
        raise PhotoError(_no_photo(data)) from error
    if image.width * image.height > MOST_DOTS:
        raise PhotoError(_too_many_dots())
    if image.format in ("JPEG", "MPO") and data.count(_SCAN) > MOST_SCANS:
        raise PhotoError(_broken())
    return image


def _too_many_dots() -> str:
    return gettext(
        "The photo has too many dots: {limit} megapixels at most. Make it smaller first."
    ).format(limit=MOST_DOTS // 10**6)


def _no_photo(data: bytes) -> str:
    """Return why bytes that nobody could open are not taken."""
    start = data[:1024].lstrip(b"\xef\xbb\xbf \t\r\n").lower()
    if data.startswith((b"\xff\xd8\xff", b"\x89PNG", b"RIFF")) or data[4:8] == b"ftyp":
        return _broken()
    said = gettext("That file is no photo.")
    if start.startswith(b"<?xml") or b"<svg" in start:
        said = gettext("That is a drawing (SVG), not a photo.")
    elif start.startswith(b"gif8"):
        said = gettext("That is a GIF, not a photo.")
    taken = gettext("Photos may be JPEG, PNG, WebP, AVIF or HEIC.")
    return f"{said} {taken}"


def _made_ready(data: bytes, image: Image.Image) -> Picture:
    taken_on = _read_tags(lambda: _taken_on(image))
    profile = image.info.get("icc_profile")
    # Asking for little lets a JPEG be decoded at a half or a quarter already.
    image.draft("RGB", (LONGEST_DOTS, LONGEST_DOTS))
    image = _in_colour(image)
    image.thumbnail((LONGEST_DOTS, LONGEST_DOTS), Image.Resampling.LANCZOS)
    upright = _read_tags(lambda: ImageOps.exif_transpose(image)) or image
    whole = _bare(_in_usual_colours(upright, profile))
    small = whole.copy()
    small.thumbnail((SMALL_DOTS, SMALL_DOTS), Image.Resampling.LANCZOS)
    return Picture(
        whole=_as_jpeg(whole),
        small=_as_jpeg(small),
        width=whole.width,
        height=whole.height,
        sha256=hashlib.sha256(data).hexdigest(),
        taken_on=taken_on,
    )


def _read_tags(read: Callable[[], Found]) -> Found | None:
    """Return what tags say; a photo whose tags are broken is still a photo."""
    try:
        return read()
    except Exception:  # noqa: BLE001 (each broken block of tags fails in its own way)
        return None


def _taken_on(image: Image.Image) -> date | None:
    tags = image.getexif().get_ifd(ExifTags.IFD.Exif)
    for name in _TAKEN_AT:
        words = tags.get(ExifTags.Base[name])
        if words:
            return datetime.strptime(str(words)[:10], "%Y:%m:%d").date()  # noqa: DTZ007 (a camera's own day)
    return None


def _in_colour(image: Image.Image) -> Image.Image:
    """Return a picture in RGB, laid on white where it is see-through."""
    if image.mode.startswith("I"):  # 16 bits of grey, of which 8 are enough
        image = image.point(lambda value: value / 256).convert("L")
    if image.has_transparency_data:
        clear = image.convert("RGBA")
        white = Image.new("RGBA", clear.size, "white")
        white.alpha_composite(clear)
        white.info = image.info
        return white.convert("RGB")
    return image if image.mode == "RGB" else image.convert("RGB")


def _in_usual_colours(image: Image.Image, profile: bytes | None) -> Image.Image:
    """Return a picture whose colours are right without the profile it came with."""
    if not profile:
        return image
    try:
        theirs = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        usual = ImageCms.createProfile("sRGB")
        turned = ImageCms.profileToProfile(image, theirs, usual, outputMode="RGB")
    except (ImageCms.PyCMSError, OSError, ValueError):
        return image  # a profile of grey or print, or a broken one: near enough
    return turned or image


def _bare(image: Image.Image) -> Image.Image:
    """Return the dots alone: no tags, no comment, no profile."""
    bare = Image.new("RGB", image.size)
    bare.paste(image)
    return bare


def _as_jpeg(image: Image.Image) -> bytes:
    kept = io.BytesIO()
    image.save(kept, "JPEG", quality=QUALITY, optimize=True, progressive=True)
    return kept.getvalue()
