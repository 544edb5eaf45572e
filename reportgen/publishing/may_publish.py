"""What must hold before anything is published: a folder for it, a sound academy, and that what was sealed stays so."""

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from reportgen.errors import ReportgenError
from reportgen.records.academy import Academy
from reportgen.sealing.privacy import contradiction, is_private, is_sealed, keyring_of, mark_beside
from reportgen.sheets.academy_folder import TOUCH_EVERYBODY, AcademyFolder, Home, SoundAcademy, load_shared, sound
from reportgen.sheets.files import is_the_systems
from reportgen.sheets.reading import read_sheet

if TYPE_CHECKING:
    from reportgen.sealing.keyring import Keyring

Tell = Callable[[str], None]
"""Called with a line for the terminal."""


class CannotPublishError(ReportgenError):
    """Nothing was published; the message says why and how to mend it."""


def check_target(root: Path, to: Path) -> None:
    """Whether the academy in `root` can be published into `to`. Raises CannotPublishError."""
    try:
        home, target = root.resolve(), to.resolve()
    except (OSError, RuntimeError) as error:
        raise CannotPublishError(f"{to} is a link that leads nowhere. Give a folder.") from error
    if target.is_relative_to(home) or home.is_relative_to(target):
        raise CannotPublishError(f"{to} and the academy lie in each other. Give a folder beside the academy.")
    if to.exists() and not to.is_dir():
        raise CannotPublishError(f"{to} is a file. Give a folder.")
    strange = [entry for entry in to.iterdir() if not is_the_systems(entry.name)] if to.is_dir() else []
    if strange and not (to / ".made").is_dir():
        raise CannotPublishError(f"{to} holds files that are not of a publish. Give an empty folder, or a new name.")


def home_of(root: Path, tell: Tell) -> Home:
    """The academy's folder and academy.yaml. Raises NoAcademyError, CannotPublishError."""
    if (root / "academy.yaml").is_file():
        sheet, problems = read_sheet(root / "academy.yaml", "academy.yaml", Academy)
        if sheet is not None and not problems:
            return Home(root, sheet.record)
    _sound(load_shared(root)[0], tell)
    raise AssertionError("academy.yaml has problems, and then it has none")


def shared_by_all(root: Path, tell: Tell) -> tuple[SoundAcademy, Mapping[str, Path]]:
    """The academy with what all students share, and their folders. Raises CannotPublishError."""
    shared, folders = load_shared(root)
    return _sound(shared, tell), folders


def _sound(shared: AcademyFolder, tell: Tell) -> SoundAcademy:
    """What all students share. Tells the problems where that has some, and raises CannotPublishError."""
    for problem in sorted(set(shared.shared_problems)):
        tell(str(problem))
    if shared.shared_problems:
        raise CannotPublishError(TOUCH_EVERYBODY)
    return sound(shared)


def check_stays_sealed(home: Home, keyring: "Keyring | None", to: Path, tell: Tell) -> None:
    """What was sealed stays so. Raises CannotPublishError; KeyringError where the site knows a later keyring."""
    academy, root = home.academy, home.root
    if (problem := contradiction(academy, root)) is not None:
        tell(str(problem))
        raise CannotPublishError("Nothing is published before academy.yaml and the keyring agree.")
    library = to / "upload" / "library"
    if keyring is not None:
        from reportgen.sealing.keyring import check_newest
        from reportgen.sealing.sealed_site import count_in

        check_newest(keyring, keyring_of(root), count_in(library))
    elif is_private(home) or (academy.private is None and is_sealed(library)):
        file = keyring_of(root)
        away = f"delete {mark_beside(file)}, and " if mark_beside(file).exists() else ""
        raise CannotPublishError(
            f"The pages are sealed, and there is no keyring {file}. Put it back, or begin a new one: "
            f"reportgen members add {root} --all. Or lay the pages open to whoever has the address: {away}"
            "write private: link-only into academy.yaml."
        )


@contextmanager
def intact(to: Path) -> Iterator[None]:
    """Within, an OSError is a CannotPublishError: what was published into `to` before still is."""
    try:
        yield
    except OSError as error:
        raise CannotPublishError(
            f"{error.filename or to}: {error.strerror or error}. What was published before is intact."
        ) from error
