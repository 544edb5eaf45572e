"""Pictures that are dropped on a lesson: each becomes a JPEG in the student's folder and a row of the sheet."""

from contextlib import suppress
from pathlib import Path
from tempfile import TemporaryDirectory

from reportgen.desk.lessons import Lessons
from reportgen.desk.saving import Change
from reportgen.drawing.taking_in import as_kept
from reportgen.errors import ReportgenError
from reportgen.films.needs import FilmError
from reportgen.films.stills import as_jpeg, is_heic, still_picture
from reportgen.records.base import Record
from reportgen.records.words import Checkpoint, View
from reportgen.rights import owner_only

SHORT: dict[View, str] = {"face-on": "fo", "down-the-line": "dtl"}
"""Views in the names of files."""
MOST_OF_A_NAME = 99
"""Pictures of one day, moment and view, before something else must be wrong."""


class SentPicture(Record):
    """What a page says of a picture: from where it was taken, and which moment it shows."""

    view: View
    checkpoint: Checkpoint


def take_in(lessons: Lessons, student: str, name: str, sent: SentPicture, data: bytes) -> str:
    """Keep a picture of a lesson, and write its row; the name under which it is kept. A row that is not written takes
    the picture with it. Raises LookupError, ReportgenError, OSError."""
    sheet = lessons.sheet(student, name)
    kept = _of_heic(data) if is_heic(data) else as_kept(data)
    folder = sheet.parent.parent / "stills"
    folder.mkdir(exist_ok=True)
    place = new_file(folder, f"{name[:10]}-{sent.checkpoint}-{SHORT[sent.view]}", kept)
    row = {"file": f"../stills/{place.name}", "view": sent.view, "checkpoint": sent.checkpoint}
    try:
        lessons.write(student, name, Change(("stills",), None, row, add=True))
    except BaseException:
        place.unlink(missing_ok=True)
        raise
    return place.name


def _of_heic(data: bytes) -> bytes:
    """The JPEG of a HEIC: its reader takes a file, for the owner's eyes alone like all else."""
    with TemporaryDirectory(prefix="reportgen-") as folder:
        file = Path(folder) / "picture.heic"
        file.write_bytes(data)
        try:
            return as_jpeg(still_picture(file).pixels)
        except FilmError as error:
            says = str(error).removeprefix(f"{file.name}: ")
            raise FilmError(says[:1].upper() + says[1:]) from None


def new_file(folder: Path, stem: str, data: bytes, ending: str = "jpg") -> Path:
    """A new file of that name, or of the next that is free: no picture is ever written over."""
    for number in range(1, MOST_OF_A_NAME):
        place = folder / (f"{stem}.{ending}" if number == 1 else f"{stem}-{number}.{ending}")
        try:
            with open(place, "xb", opener=owner_only) as stream:
                try:
                    stream.write(data)
                except BaseException:
                    with suppress(OSError):
                        place.unlink()
                    raise
        except FileExistsError:
            continue
        return place
    raise ReportgenError(f"{folder / stem}.{ending} and {MOST_OF_A_NAME - 1} more are there already. Take some out.")
