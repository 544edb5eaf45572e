"""Still pictures as phones take them, and pictures of films: upright, of a size to work with, written as JPEG.

Of what a phone notes beside a picture the time is kept and nothing else: not the place, not the phone.
"""

import io
import warnings
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from reportgen.films.heic import unpacked
from reportgen.films.needs import FilmError
from reportgen.films.reading import Pixels
from reportgen.records.bounds import PICTURE_BYTES, PICTURE_MEGAPIXELS
from reportgen.sheets.picture_files import strictly

if TYPE_CHECKING:
    from PIL import Image

LONGEST_STILL = 2560
"""Pixels of the longer side of a still that is kept: a player who fills it is marked to 1 mm."""
_QUALITY, _SHOWN_QUALITY = 90, 80
_HEIC = (b"heic", b"heix", b"heim", b"heis", b"mif1", b"msf1", b"hevc", b"hevx")
_TAKEN, _SPLIT, _ZONE = 0x9003, 0x9291, 0x9011
_EXIF_IFD = 0x8769


class StillPicture(NamedTuple):
    """A still, upright, and when its camera says that it was taken; None where it does not."""

    pixels: Pixels
    taken: datetime | None


def still_picture(file: Path, longest: int = LONGEST_STILL) -> StillPicture:
    """A HEIC, JPEG, PNG or WebP, whatever its name ends in, not larger than `longest` pixels. Raises FilmError for what
    is none of these or broken, MissingFilmLibraryError where HEIC cannot be read, OSError."""
    if not file.stat().st_size:
        raise FilmError(f"{file.name}: the file is empty. Copy it from the phone again.")
    if file.stat().st_size > PICTURE_BYTES:
        raise FilmError(f"{file.name}: the file is larger than {PICTURE_BYTES >> 20} MiB. Save the picture smaller.")
    with file.open("rb") as opened:
        head = opened.read(12)
    with strictly(), warnings.catch_warnings():
        warnings.simplefilter("ignore")
        picture = _heic(file) if is_heic(head) else _by_pillow(file)
        taken = _taken(picture)
        picture.thumbnail((longest, longest), reducing_gap=2.0)
        return StillPicture(np.asarray(picture.convert("RGB"), dtype=np.uint8), taken)


def is_heic(data: bytes) -> bool:
    """Whether a file that begins so is a HEIC, by the brand that it says (ISO/IEC 23008-12, 10)."""
    return data[4:8] == b"ftyp" and data[8:12] in _HEIC


def shown_jpeg(pixels: Pixels) -> bytes:
    """A picture of a film to look at, not to mark: small, and packed in a few milliseconds."""
    from PIL import Image

    out = io.BytesIO()
    Image.fromarray(pixels).save(out, "JPEG", quality=_SHOWN_QUALITY)
    return out.getvalue()


def as_jpeg(pixels: Pixels, taken: datetime | None = None) -> bytes:
    """The picture as a JPEG that notes when it was taken, to the millisecond (Exif 2.32, 4.6.5)."""
    from PIL import Image

    picture, notes, out = Image.fromarray(pixels), Image.Exif(), io.BytesIO()
    if taken is not None:
        ifd = notes.get_ifd(_EXIF_IFD)
        ifd[_TAKEN], ifd[_SPLIT] = f"{taken:%Y:%m:%d %H:%M:%S}", f"{taken.microsecond // 1000:03d}"
        if taken.utcoffset() is not None:
            ifd[_ZONE] = taken.isoformat()[-6:]
    picture.save(out, "JPEG", quality=_QUALITY, subsampling=0, exif=notes)
    return out.getvalue()


def _by_pillow(file: Path) -> "Image.Image":
    from PIL import Image, ImageOps, UnidentifiedImageError

    try:
        with Image.open(file, formats=("JPEG", "PNG", "WEBP")) as picture:
            _of_a_size(file, picture.size)
            picture.load()
            notes = picture.getexif()
            upright = ImageOps.exif_transpose(picture)
            upright.info["exif"] = notes.tobytes()
            return upright
    except UnidentifiedImageError:
        raise FilmError(f"{file.name}: this is not a picture. Send it as HEIC, JPEG, PNG or WebP.") from None
    except FilmError:
        raise
    except Exception as error:
        raise _unless_the_disk(error, file) from error


def _heic(file: Path) -> "Image.Image":
    from PIL import Image

    pixels, notes = unpacked(file)
    picture = Image.fromarray(pixels)
    picture.info["exif"] = notes
    return picture


def _of_a_size(file: Path, size: tuple[int, int]) -> None:
    if size[0] * size[1] > PICTURE_MEGAPIXELS * 1_000_000:
        raise FilmError(
            f"{file.name}: the picture has {size[0]} × {size[1]} pixels, more than {PICTURE_MEGAPIXELS} million. "
            "Save it smaller."
        )


def _unless_the_disk(error: Exception, file: Path) -> Exception:
    """What to raise: an error of the disk as it is, anything else as a broken picture."""
    if isinstance(error, OSError) and error.errno is not None:
        return error
    return FilmError(f"{file.name}: the picture is broken or cut short. Copy it from the phone again.")


def _taken(picture: "Image.Image") -> datetime | None:
    from PIL import Image

    notes = Image.Exif()
    try:
        notes.load(picture.info.get("exif") or b"")
        ifd = notes.get_ifd(_EXIF_IFD)
        taken = datetime.strptime(str(ifd[_TAKEN]).strip("\x00 "), "%Y:%m:%d %H:%M:%S")
        part = float("0." + (str(ifd.get(_SPLIT, "")).strip("\x00 ") or "0"))
        zone = str(ifd.get(_ZONE, "")).strip("\x00 ")
        taken = taken.replace(microsecond=int(part * 1_000_000))
        return datetime.fromisoformat(taken.isoformat() + zone) if zone else taken
    except Exception:
        return None
