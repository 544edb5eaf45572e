"""Whether a picture file is whole and of a size that pages can be made from: a PNG or JPEG, packed frames a JPEG or
WebP."""

import os
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO, TYPE_CHECKING, Literal

from reportgen.errors import ReportgenError
from reportgen.records.bounds import NARROW, PICTURE_BYTES, PICTURE_MEGAPIXELS, PIXELS, WHOLE_MEGAPIXELS
from reportgen.sheets.problems import nearest, shown

if TYPE_CHECKING:
    from PIL import Image

_BROKEN = ("the picture is broken or cut short", "Save it again.")

_MARK, _START_OF_SCAN, _END_OF_IMAGE = 0xFF, 0xDA, b"\xff\xd9"
_WITHOUT_LENGTH = (0x01, *range(0xD0, 0xD8))

_NOTES_OF_PNG = (b"eXIf", b"Raw profile type", b"XML:com.adobe.xmp")
"""Where a PNG says how it lies: the chunk of its EXIF notes, and the names of the texts that others put them into."""


class BrokenPictureError(ReportgenError):
    """A picture that cannot be unpacked, though it looks whole from outside; `file` is where it stands."""

    def __init__(self, file: Path) -> None:
        super().__init__(f"{file}: the picture is broken. Save it again.")
        self.file = file


@contextmanager
def strictly() -> Iterator[None]:
    """Broken pictures are errors here: WeasyPrint, once it is imported, lets them pass everywhere."""
    from PIL import ImageFile

    lenient = ImageFile.LOAD_TRUNCATED_IMAGES
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    try:
        yield
    finally:
        ImageFile.LOAD_TRUNCATED_IMAGES = lenient


Format = Literal["PNG", "JPEG", "WEBP"]
STILLS: tuple[Format, ...] = ("PNG", "JPEG")
PACKED: tuple[Format, ...] = ("JPEG", "WEBP")
"""The formats of a still, and of frames that are packed into one picture."""


def opened_picture(source: Path | IO[bytes], formats: tuple[Format, ...] = STILLS) -> "Image.Image":
    """A picture of one of these `formats` as Pillow opens it, not unpacked yet. Raises what Pillow does."""
    from PIL import Image

    Image.preinit()  # otherwise, to look for the one format, the library loads all that it knows, some forty
    if "WEBP" in formats:
        from PIL import WebPImagePlugin  # noqa: F401  # it is not among those
    return Image.open(source, formats=formats)


def _mend_of_a_name(file: Path) -> str:
    """The mend for a picture that is not there: what is called nearly so, large and small letters told apart."""
    otherwise = "Look at its name, or take the line out."
    try:
        names = [entry.name for entry in file.parent.iterdir() if not entry.name.startswith(".")]
    except OSError:
        return otherwise
    alike = next((name for name in names if name.lower() == file.name.lower()), None)
    if alike is not None:
        return f"There is {shown(alike)}: large and small letters count."
    return nearest(file.name, names, otherwise)


def picture_fault(file: Path, formats: tuple[Format, ...] = STILLS) -> tuple[str, str] | None:
    """(what is wrong, how to mend it) of the picture in `file`; None where it is whole."""
    from PIL import Image, UnidentifiedImageError

    if os.path.exists(file) and not os.path.isfile(file):
        return "this is not a file", "Name the picture itself."
    try:
        if file.stat().st_size > PICTURE_BYTES:
            return f"the file is larger than {PICTURE_BYTES >> 20} MiB", "Save the picture smaller."
        with strictly(), warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with opened_picture(file, formats) as picture:
                if (fault := _shape_fault(picture)) is not None:
                    return fault
                if picture.format == "PNG":
                    picture.verify()
                elif picture.format == "WEBP":
                    if not _is_as_long_as_it_says(file.read_bytes()):
                        return _BROKEN
                elif not _has_its_end(file.read_bytes()):
                    return _BROKEN
    except FileNotFoundError:
        return "the picture is not there", _mend_of_a_name(file)
    except UnidentifiedImageError:
        known = " or ".join("WebP" if name == "WEBP" else name for name in formats)
        return f"the file is not a {known} picture", f"Save it as {known}."
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        return "the picture has far too many pixels", "Save it smaller."
    except Exception as error:
        if isinstance(error, OSError) and error.errno is not None:  # the disk's, not the picture's
            return f"the picture cannot be read ({error.strerror})", "Look at its name and its rights."
        return _BROKEN
    return None


def _is_as_long_as_it_says(webp: bytes) -> bool:
    """Whether a RIFF file holds as many bytes as its head says (RFC 9649, 2.3)."""
    return len(webp) >= 8 + int.from_bytes(webp[4:8], "little")


def _has_its_end(jpeg: bytes) -> bool:
    """Whether the segments before the picture are whole, and its end is marked (ITU-T T.81, annex B): to unpack the
    picture takes fifty times as long, and finds little more than that it was cut short."""
    at = 2
    while at + 4 <= len(jpeg) and jpeg[at] == _MARK:
        kind, length = jpeg[at + 1], int.from_bytes(jpeg[at + 2 : at + 4])
        if kind == _START_OF_SCAN:
            return jpeg.find(_END_OF_IMAGE, at + 2 + length) > 0
        at += 1 if kind == _MARK else 2 if kind in _WITHOUT_LENGTH else 2 + length
    return False


def picture_size(file: Path, formats: tuple[Format, ...] = STILLS) -> tuple[int, int]:
    """Width and height in pixels of a whole picture as it is shown: turned upright by its EXIF note."""
    with opened_picture(file, formats) as picture:
        # A PNG can have its notes behind the picture; to unpack it takes a hundred times as long as to look for them.
        plain = picture.format == "PNG" and not any(name in file.read_bytes() for name in _NOTES_OF_PNG)
        lying = not plain and orientation(picture) in (5, 6, 7, 8)
        return (picture.height, picture.width) if lying else (picture.width, picture.height)


def orientation(picture: "Image.Image") -> int:
    """How an opened picture lies, by its EXIF note: 1 (upright) to 8; 1 where the note is garbled or not there."""
    from PIL import ExifTags

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            said = picture.getexif().get(ExifTags.Base.Orientation)
        except Exception:
            return 1
    return said if isinstance(said, int) and 1 <= said <= 8 else 1


def _shape_fault(picture: "Image.Image") -> tuple[str, str] | None:
    """What is wrong with the size of an opened picture: to unpack it would take more memory than a publish may have, or
    it would be a mere line on a page."""
    width, height = picture.size
    size = f"{width} × {height} pixels"
    in_steps = "progressive" in picture.info
    most = PICTURE_MEGAPIXELS if picture.format == "JPEG" and not in_steps else WHOLE_MEGAPIXELS
    if width * height > most * 1_000_000:
        kind = "a JPEG saved in steps" if in_steps else f"a {picture.format}"
        return f"the picture has {size}, more than {most} million for {kind}", "Save it smaller."
    if max(width, height) > PIXELS or max(width, height) > NARROW * min(width, height):
        return f"the picture has {size}, so it shows no player", "Cut it to the player."
    return None
