"""Whether a picture file is a whole PNG or JPEG of a size that pages can be made from."""

import warnings
from pathlib import Path

MAX_PIXELS = 50_000_000


def picture_fault(file: Path) -> tuple[str, str] | None:
    """(what is wrong, how to mend it) of the picture in `file`; None where it is whole."""
    from PIL import Image, UnidentifiedImageError

    if file.exists() and not file.is_file():
        return "this is not a file", "Name the picture itself."
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(file, formats=("PNG", "JPEG")) as picture:
                if picture.width * picture.height > MAX_PIXELS:
                    return _too_large(f"{picture.width} × {picture.height}")
                if picture.format == "JPEG":
                    picture.draft("RGB", (64, 64))
                    picture.load()
                else:
                    picture.verify()
    except FileNotFoundError:
        return "the picture is not there", "Look at its name, or take the line out."
    except UnidentifiedImageError:
        return "the file is not a PNG or JPEG picture", "Save it as PNG or JPEG."
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        return _too_large("too many")
    except Exception:
        return "the picture is broken or cut short", "Save it again."
    return None


def picture_size(file: Path) -> tuple[int, int]:
    """Width and height in pixels of a whole picture as it is shown: turned upright by its EXIF note.

    A garbled note counts as none.
    """
    from PIL import ExifTags, Image

    with warnings.catch_warnings(), Image.open(file, formats=("PNG", "JPEG")) as picture:
        warnings.simplefilter("ignore")
        try:
            turned = picture.getexif().get(ExifTags.Base.Orientation) in (5, 6, 7, 8)
        except Exception:
            turned = False
        return (picture.height, picture.width) if turned else (picture.width, picture.height)


def _too_large(pixels: str) -> tuple[str, str]:
    return f"the picture has {pixels} pixels, more than 50 million", "Save it smaller."
