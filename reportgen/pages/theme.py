"""Templates and styles: the academy's own theme where it has a file, the shipped one for the rest."""

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from functools import lru_cache
from hashlib import sha256
from pathlib import Path

from jinja2 import ChoiceLoader, Environment, FileSystemBytecodeCache, FileSystemLoader, StrictUndefined
from jinja2.bccache import Bucket
from jinja2.loaders import split_template_path

from reportgen.errors import ThemeError
from reportgen.languages.catalogues import ENGLISH
from reportgen.languages.speaking import speaking
from reportgen.pages.allowance import Allowance, unlimited
from reportgen.pages.offered import offer
from reportgen.pages.plain import plain
from reportgen.pages.printing import Stylesheet
from reportgen.pages.sandbox import Sandbox
from reportgen.records.academy import Academy
from reportgen.sheets.academy_folder import Home
from reportgen.sheets.files import leads_out
from reportgen.sheets.shipped import shipped

DEFAULT = "letter"


def theme_folders(home: Home) -> list[Path]:
    """Where theme files are looked for, the academy's own folder first."""
    own = [home.root / home.academy.theme] if home.academy.theme else []
    return [*own, shipped("themes") / DEFAULT]


def theme_file(name: str, home: Home) -> str:
    """The text of a theme's file; raises FileNotFoundError where no theme has it."""
    for folder in theme_folders(home):
        if (folder / name).is_file():
            return _inside(folder / name, folder).read_text(encoding="utf-8-sig")
    raise FileNotFoundError(name)


def _inside(file: Path, folder: Path) -> Path:
    """The file itself. Raises ThemeError where it is a link out of its theme."""
    if leads_out(file, folder):
        raise ThemeError(f"{file}:1: this is a link that leads out of the theme's folder. Put there what it leads to.")
    return file


class _Loader(FileSystemLoader):
    """Templates of one folder, and what no link in it leads to."""

    def get_source(self, environment: Environment, template: str) -> tuple[str, str, Callable[[], bool]]:
        folder = Path(self.searchpath[0])
        _inside(folder.joinpath(*split_template_path(template)), folder)
        return super().get_source(environment, template)


def stylesheet(name: str, home: Home) -> Stylesheet:
    """A theme's style for the academy's paper; raises FileNotFoundError where no theme has it."""
    return Stylesheet(name, theme_file(name, home), home.academy.paper)


def environment(home: Home) -> Sandbox:
    """The templates of the academy's theme. A name that a template misspells is an error; all text is escaped.

    What they are asked to make raises ThemeError where a template of the academy's is wrong.
    """
    folders = tuple(theme_folders(home))
    return _environment(_Key(home.academy.model_dump_json(), home.academy), folders, folders[0].stat().st_mtime_ns)


@lru_cache(maxsize=1)
def shipped_templates() -> Sandbox:
    """The shipped templates alone: for pages of no academy, and for those that must stand when its theme is wrong."""
    return _templates((shipped("themes") / DEFAULT,), unlimited())


@dataclass(frozen=True)
class _Key:
    """An academy, the same as another that says the same."""

    says: str
    academy: Academy = field(compare=False)


@lru_cache(maxsize=4)
def _environment(key: _Key, folders: tuple[Path, ...], of: int) -> Sandbox:
    """Kept for the process, with its templates: to compile them anew for each student costs as much as two pages. The
    library sees that a template changed, and not that one came which takes the place of a shipped one: for that, `of`
    is the moment at which a name in the academy's theme came or went."""
    made = _templates(folders, Allowance())
    with speaking(ENGLISH):  # kept for readers of all languages
        made.globals["academy"] = plain(key.academy)
    return made


class _Compiled(FileSystemBytecodeCache):
    """Templates as earlier runs compiled them, in the library's own folder for them, which nobody else may write to: to
    compile them takes as long as to lay out a recap. What cannot be kept is compiled again."""

    def dump_bytecode(self, bucket: Bucket) -> None:
        with suppress(OSError):
            super().dump_bytecode(bucket)


@lru_cache(maxsize=1)
def _compiled() -> _Compiled | None:
    room = sorted(Path(__file__).parent.glob("*.py"))  # in it is decided how templates are compiled
    made_by = sha256(b"".join(file.read_bytes() for file in room)).hexdigest()[:16]
    try:
        return _Compiled(pattern=f"__reportgen_{made_by}_%s.cache")
    except (OSError, RuntimeError):  # the folder is somebody else's
        return None


def _templates(folders: tuple[Path, ...], allowance: Allowance) -> Sandbox:
    made = Sandbox(
        allowance,
        loader=ChoiceLoader([_Loader(folder, encoding="utf-8-sig") for folder in folders]),
        undefined=StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        bytecode_cache=_compiled(),
    )
    offer(made)
    return made
