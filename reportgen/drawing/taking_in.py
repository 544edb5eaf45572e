"""A picture as a phone or a camera made it -> the JPEG that a student's folder keeps."""

from io import BytesIO

from PIL import Image, UnidentifiedImageError

from reportgen.drawing.unpacking import UPRIGHT, plain
from reportgen.errors import ReportgenError
from reportgen.records.bounds import NARROW, PICTURE_MEGAPIXELS, PIXELS, WHOLE_MEGAPIXELS
from reportgen.sheets.picture_files import orientation, strictly

QUALITY = 92
"""Of the JPEG: the joints are looked for in it once more."""
_READ = ("JPEG", "PNG", "WEBP")


def as_kept(data: bytes) -> bytes:
    """The picture as a JPEG of the same size, upright. Nothing that was noted beside it is kept, place and time among
    it, but for what its colours mean. Raises ReportgenError where it is no such picture, broken or too large."""
    try:
        with strictly(), Image.open(BytesIO(data), formats=_READ) as opened:
            _look_at_size(opened)
            colours = opened.info.get("icc_profile") if opened.mode in ("RGB", "RGBA") else None
            lies, shown = orientation(opened), plain(opened)
            upright = shown.transpose(UPRIGHT[lies]) if lies in UPRIGHT else shown.copy()
    except ReportgenError:
        raise
    except UnidentifiedImageError:
        raise ReportgenError("This is no JPEG, PNG or WebP picture. Save it as one of these.") from None
    except Exception as error:
        raise ReportgenError("The picture is broken. Save it again.") from error
    out = BytesIO()
    upright.info.clear()
    upright.save(out, "JPEG", quality=QUALITY, icc_profile=colours)
    return out.getvalue()


def _look_at_size(opened: Image.Image) -> None:
    """Raises ReportgenError where a lesson could not use the picture, or unpacking it would fill the memory."""
    width, height = opened.size
    most = PICTURE_MEGAPIXELS if opened.format == "JPEG" and "progressive" not in opened.info else WHOLE_MEGAPIXELS
    if width * height > most * 1_000_000:
        raise ReportgenError(f"The picture has {width} × {height} pixels, more than {most} million. Save it smaller.")
    if max(width, height) > PIXELS or max(width, height) > NARROW * min(width, height):
        raise ReportgenError(f"The picture has {width} × {height} pixels, so it shows no player. Cut it to the player.")
