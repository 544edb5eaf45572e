"""Templates and styles: the academy's own theme where it has a file, the shipped one for the rest."""

import traceback
from contextlib import suppress
from dataclasses import dataclass, field
from functools import lru_cache
from hashlib import sha256
from pathlib import Path
from typing import NoReturn

from jinja2 import (
    ChoiceLoader,
    FileSystemBytecodeCache,
    FileSystemLoader,
    StrictUndefined,
    TemplateError,
    TemplateNotFound,
)
from jinja2.bccache import Bucket
from jinja2.sandbox import SandboxedEnvironment

from reportgen.errors import ReportgenError
from reportgen.languages.speaking import language_now, say
from reportgen.pages.printing import Stylesheet
from reportgen.pages.prose import prose
from reportgen.records.academy import Academy
from reportgen.records.report import Finding
from reportgen.records.wording import (
    SHAPES,
    amount,
    apart,
    club_name,
    day,
    dose_said,
    full_day,
    likelihood_name,
    limits,
    listed,
    mid_sentence,
    moment_name,
    short_day,
    size,
    slug_name,
    verdict_name,
    way_taken,
    weekday,
)
from reportgen.sheets.problems import shown
from reportgen.sheets.shipped import shipped

DEFAULT = "letter"
EFFECTS_SHOWN = 4
"""How many of the things that can follow from another one a chain shows; a longer one is no picture any more."""


class ThemeError(ReportgenError):
    """A template of a theme cannot be used; the message says where and why."""


def theme_folders(academy: Academy, root: Path) -> list[Path]:
    """Where theme files are looked for, the academy's own folder first."""
    own = [root / academy.theme] if academy.theme else []
    return [*own, shipped("themes") / DEFAULT]


def theme_file(name: str, academy: Academy, root: Path) -> str:
    """The text of a theme's file; raises FileNotFoundError where no theme has it."""
    for folder in theme_folders(academy, root):
        if (folder / name).is_file():
            return (folder / name).read_text(encoding="utf-8")
    raise FileNotFoundError(name)


def stylesheet(name: str, academy: Academy, root: Path) -> Stylesheet:
    """A theme's style for the academy's paper; raises FileNotFoundError where no theme has it."""
    return Stylesheet(name, theme_file(name, academy, root), academy.paper)


def environment(academy: Academy, root: Path) -> SandboxedEnvironment:
    """The templates of the academy's theme. A name that a template misspells is an error; all text is escaped.

    What they are asked to make raises ThemeError where a template of the academy's is wrong.
    """
    folders = tuple(theme_folders(academy, root))
    return _environment(_Key(academy.model_dump_json(), academy), folders, folders[0].stat().st_mtime_ns)


@lru_cache(maxsize=1)
def shipped_templates() -> SandboxedEnvironment:
    """The shipped templates alone: for pages of no academy, and for those that must stand when its theme is wrong."""
    return _templates((shipped("themes") / DEFAULT,))


@dataclass(frozen=True)
class _Key:
    """An academy, the same as another that says the same."""

    says: str
    academy: Academy = field(compare=False)


@lru_cache(maxsize=4)
def _environment(key: _Key, folders: tuple[Path, ...], of: int) -> SandboxedEnvironment:
    """Kept for the process, with its templates: to compile them anew for each student costs as much as two pages. The
    library sees that a template changed, and not that one came which takes the place of a shipped one: for that, `of`
    is the moment at which a name in the academy's theme came or went."""
    made = _templates(folders)
    made.globals.update(academy=key.academy)
    return made


class _Compiled(FileSystemBytecodeCache):
    """Templates as earlier runs compiled them, in the library's own folder for them, which nobody else may write to: to
    compile them takes as long as to lay out a recap. What cannot be kept is compiled again."""

    def dump_bytecode(self, bucket: Bucket) -> None:
        with suppress(OSError):
            super().dump_bytecode(bucket)


@lru_cache(maxsize=1)
def _compiled() -> _Compiled | None:
    made_by = sha256(Path(__file__).read_bytes()).hexdigest()[:16]  # what is below decides how templates are compiled
    try:
        return _Compiled(pattern=f"__reportgen_{made_by}_%s.cache")
    except (OSError, RuntimeError):  # the folder is somebody else's
        return None


class _Templates(SandboxedEnvironment):
    """Says of a template that is wrong in which file and line it is, as of any file that an academy writes."""

    def handle_exception(self, source: str | None = None) -> NoReturn:
        try:
            super().handle_exception(source)
        except Exception as error:
            frames = [(frame.f_code.co_filename, line) for frame, line in traceback.walk_tb(error.__traceback__)]
            places = [place for place in frames if not place[0].endswith(".py")]  # a template is no Python
            own = [place for place in places if not Path(place[0]).is_relative_to(shipped("themes"))]
            if not own and not isinstance(error, TemplateError):
                raise  # not the academy's doing
            file, line = (own or places)[-1]
            raise ThemeError(_told(error, file, line)) from error


def _told(error: Exception, file: str, line: int | None) -> str:
    if isinstance(error, RecursionError):  # the line is where it was given up, which says nothing
        return f"{file}: the template includes itself without end. Look at what it includes."
    if isinstance(error, TemplateNotFound):
        wrong = f"no theme has the file {shown(str(error.name))}, which the template asks for"
    else:
        wrong = f"the template is wrong: {str(error).rstrip('.')}"
    return f"{file}:{line}: {wrong}. Mend that line."


def _templates(folders: tuple[Path, ...]) -> SandboxedEnvironment:
    made = _Templates(
        loader=ChoiceLoader([FileSystemLoader(folder) for folder in folders]),
        extensions=["jinja2.ext.i18n"],
        undefined=StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        bytecode_cache=_compiled(),
    )
    made.filters.update(
        prose=prose,
        day=day,
        short_day=short_day,
        full_day=full_day,
        weekday=weekday,
        club=club_name,
        said=_said,
        span=_span,
        taken=lambda f: way_taken(f.how, f.views),
        words=slug_name,
        heading=say,
        dose=dose_said,
        moment=moment_name,
        verdict=verdict_name,
        likelihood=likelihood_name,
        apart=apart,
        listed=lambda words: listed(list(words)),
        mid_sentence=mid_sentence,
        size=lambda f, value: size(value, f.unit, f.decimals),
    )
    made.install_gettext_callables(  # type: ignore[attr-defined]  # added by the extension
        lambda message: language_now().catalogue.gettext(message),
        lambda one, many, count: language_now().catalogue.ngettext(one, many, count),
        newstyle=True,
        pgettext=lambda context, message: language_now().catalogue.pgettext(context, message),
    )
    made.globals.update(shapes=SHAPES, language=language_now, effects_shown=EFFECTS_SHOWN)
    return made


def _said(finding: Finding, value: float | None = None) -> str:
    return amount(finding.value if value is None else value, finding.unit, finding.decimals, finding.sign)


def _span(finding: Finding) -> str:
    if finding.band is None:
        raise ValueError(f"{finding.metric} has no range")
    return limits(finding.band.low, finding.band.high, finding.unit, finding.decimals, finding.sign)
