"""The first hour: before there is an academy, the desk asks five things and begins one."""

import re
import secrets
import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from http import HTTPStatus
from pathlib import Path
from zoneinfo import available_timezones

from pydantic import ValidationError
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.routing import Mount, Route

from reportgen.authoring.start import Own, start_academy
from reportgen.desk.guard import policy
from reportgen.desk.guide_links import guide_links
from reportgen.desk.in_words import in_words
from reportgen.errors import ReportgenError
from reportgen.languages.speaking import speaking
from reportgen.pages.desk_work_pages import begin_page
from reportgen.pages.drill_library import library_pages
from reportgen.pages.guide_pages import guide_pages
from reportgen.pages.media import media_type
from reportgen.pages.shared_pages import assets
from reportgen.saying.readers import language_called
from reportgen.sheets.academy_folder import SoundAcademy
from reportgen.sheets.no_academy import no_academy_yet

LANGUAGES = ("en", "de", "fr")
"""Those that pages can be in without a catalogue of the academy's own."""


def where_to_begin(given: Path) -> Callable[[str], Path]:
    """The folder of a new academy by its name: the one that was `given` where that is empty or not there, otherwise one
    in it that is called after the academy."""
    if not given.exists() or (given.is_dir() and not any(given.iterdir())):
        return lambda name: given
    return lambda name: given / _folder_name(name)


def _folder_name(name: str) -> str:
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:60] or "academy"


_PARTS: Mapping[str, Callable[[SoundAcademy], Mapping[str, bytes]]] = {
    "assets": assets,
    "guide": guide_pages,
    "library": library_pages,
}


@lru_cache(maxsize=len(_PARTS) * len(LANGUAGES))
def _files(part: str, language: str) -> Mapping[str, bytes]:
    """The files of a part of the site, in a language. They are shipped, and stay as they are while the desk is open."""
    return _PARTS[part](no_academy_yet(language))


@dataclass(frozen=True)
class Beginning:
    """Begins an academy at `where` its name says, with the `schemas` for editors; `begun` opens the desk of it."""

    where: Callable[[str], Path]
    schemas: Callable[[], Mapping[str, str]]
    begun: Callable[[Path], None]
    base: str

    def page(self, request: Request) -> Response:
        """The five questions, in the language of the browser, or another that was chosen."""
        code, nonce = _language(request), secrets.token_urlsafe(16)
        with speaking(language_called(code, no_academy_yet(code).root)):
            body = begin_page(code, sorted(available_timezones()), str(self.where("").absolute()), self.base, nonce)
        headers = {"Content-Security-Policy": policy(nonce)}
        return Response(body, headers=headers, media_type="text/html; charset=utf-8")

    async def start(self, request: Request) -> Response:
        try:
            own = Own.model_validate_json(await request.body())
        except ValidationError:
            return Response(status_code=HTTPStatus.BAD_REQUEST)
        try:
            academy = start_academy(self.where(own.name), self.schemas(), own)
            self.begun(academy)
        except (ReportgenError, OSError) as error:
            return JSONResponse({"says": in_words(error)}, HTTPStatus.CONFLICT)
        latest = max(academy.glob("students/*/lessons/*.yaml"), key=lambda sheet: sheet.stem)
        return JSONResponse({"to": f"{self.base}/lesson/{latest.parent.parent.name}/{latest.stem}"})

    def site(self, request: Request) -> Response:
        """Style, faces, the guide and the drills that it leads to."""
        part, _, name = request.path_params["path"].partition("/")
        made = _files(part, _language(request)) if part in _PARTS else {}
        found = made.get(name or "index.html")
        if found is None:
            return Response(status_code=HTTPStatus.NOT_FOUND)
        return Response(found, media_type=media_type(name) or "text/html; charset=utf-8")

    def app(self) -> Starlette:
        """What answers until the academy is begun."""
        routes = [
            *guide_links(self.base),
            Route("/", self.page),
            Route("/start", self.start, methods=["POST"]),
            Route("/site/{path:path}", self.site),
        ]
        home = Route(self.base, lambda request: RedirectResponse(f"{self.base}/"))
        return Starlette(routes=[home, Mount(self.base, routes=routes)])


def _language(request: Request) -> str:
    """The language that was chosen on the page, or the first of the browser's that there is; English otherwise."""
    wanted = request.query_params.get("language", "") + "," + request.headers.get("accept-language", "")
    codes = [part.strip()[:2].lower() for part in wanted.split(",")]
    return next((code for code in codes if code in LANGUAGES), LANGUAGES[0])
