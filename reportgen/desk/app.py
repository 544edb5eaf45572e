"""What the desk answers: who is due, a lesson to write, the student's page as it will be."""

import asyncio
import json
from collections.abc import AsyncIterator, Callable, Mapping
from dataclasses import dataclass
from http import HTTPStatus
from pathlib import Path
from threading import Event
from typing import Any

from pydantic import ValidationError
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response, StreamingResponse
from starlette.routing import Mount, Route

from reportgen.desk.answers import page_of, told_by
from reportgen.desk.film_routes import film_routes
from reportgen.desk.films import Films
from reportgen.desk.in_words import in_words
from reportgen.desk.lessons import Lessons, SentChange
from reportgen.desk.marking_routes import marking_routes
from reportgen.desk.marks import Marks
from reportgen.desk.second_look_routes import second_look_routes
from reportgen.desk.second_looks import SecondLooks
from reportgen.desk.site_work import SiteWork
from reportgen.desk.work_routes import work_routes
from reportgen.errors import ReportgenError
from reportgen.pages.desk_pages import desk_home, lesson_page
from reportgen.pages.desk_work_pages import not_yet_page
from reportgen.pages.media import media_type
from reportgen.preview.watched import Watched

LOOKS_EVERY = 0.1
"""Seconds between two looks for a change that a page is told of."""
SIGN_OF_LIFE = 10.0
"""Seconds after which a page that waits is written to, so that one that has gone is noticed."""


@dataclass(frozen=True)
class _Desk:
    root: Path
    watched: Watched
    lessons: Lessons
    films: Films
    base: str
    stop: Event

    def home(self, request: Request) -> Response:
        entries = self.lessons.entries()
        troubles = self.watched.troubles()
        return page_of(self.watched, lambda nonce: desk_home(entries, troubles, self.base, nonce))

    def begin(self, request: Request) -> Response:
        """Begin a lesson of today, or go on with today's draft."""
        try:
            name = self.lessons.begin(request.path_params["student"])
        except LookupError:
            return Response(status_code=HTTPStatus.NOT_FOUND)
        except (ReportgenError, OSError) as error:
            return JSONResponse({"says": str(error)}, HTTPStatus.CONFLICT)
        return JSONResponse({"to": f"{self.base}/lesson/{request.path_params['student']}/{name}"})

    def lesson(self, request: Request) -> Response:
        try:
            written = self.lessons.written(**request.path_params)
        except LookupError:
            return Response(status_code=HTTPStatus.NOT_FOUND)
        version = self.watched.version
        return page_of(self.watched, lambda nonce: lesson_page(written, version, self.base, nonce))

    async def change(self, request: Request) -> Response:
        """One value that was typed: it is on disk when this answers."""
        try:
            sent = SentChange.model_validate_json(await request.body())
        except ValidationError:
            return Response(status_code=HTTPStatus.BAD_REQUEST)
        return await asyncio.to_thread(self._change, sent, **request.path_params)

    def _change(self, sent: SentChange, student: str, name: str) -> Response:
        return self._written(lambda: self.lessons.change(student, name, sent))

    def _written(self, write: Callable[[], Mapping[str, Any]]) -> Response:
        return told_by(self.watched, lambda: {**write(), "version": self.watched.version})

    def look(self, request: Request) -> Response:
        """What is wrong in a sheet now, after it was changed."""
        return self._written(lambda: self.lessons.look(**request.path_params))

    def ready(self, request: Request) -> Response:
        return self._written(lambda: self._ready(**request.path_params))

    def _ready(self, student: str, name: str) -> Mapping[str, Any]:
        told = self.lessons.ready(student, name)
        self.films.lesson_is_ready(student, name)
        return told

    def site(self, request: Request) -> Response:
        """A file of the site as it will be: a student's pages, the library, styles."""
        path = request.path_params["path"]
        try:
            found = self.watched.file(f"{path}index.html" if path.endswith("/") else path)
        except Exception as error:  # whatever it is, the desk goes on
            return Response(in_words(error), HTTPStatus.INTERNAL_SERVER_ERROR, media_type="text/plain; charset=utf-8")
        if found is None and self.waits(path):
            return page_of(self.watched, lambda nonce: not_yet_page(self.base), HTTPStatus.NOT_FOUND)
        if found is None:
            return Response(status_code=HTTPStatus.NOT_FOUND)
        return Response(found, media_type=media_type(path) or "text/html; charset=utf-8")

    def waits(self, path: str) -> bool:
        """Whether a path is of a student whose page there is none of so far: something is wrong in the sheets."""
        parts = path.split("/")
        return parts[0] == "s" and len(parts) > 1 and parts[1] in self.watched.students()

    async def changes(self, request: Request) -> Response:
        """Events, one for each change, until the browser goes: the version, and whose files were saved."""
        return StreamingResponse(self._tell(request), media_type="text/event-stream")

    async def _tell(self, request: Request) -> AsyncIterator[str]:
        known, quiet = request.query_params.get("since", ""), 0.0
        while not self.stop.is_set() and not await request.is_disconnected():
            now = self.watched.version
            if now != known:
                known, quiet = now, 0.0
                yield f"data: {json.dumps({'version': now, 'student': self.watched.latest})}\n\n"
            elif quiet >= SIGN_OF_LIFE:
                quiet = 0.0
                yield ": still here\n\n"
            await asyncio.sleep(LOOKS_EVERY)
            quiet += LOOKS_EVERY


def desk_app(root: Path, to: Path, watched: Watched, base: str, stop: Event) -> tuple[Starlette, SiteWork]:
    """The desk of the academy in `root`, which is published into `to`, below the address `base`, and the work on its
    site; `stop` ends what waits for changes."""
    lessons = Lessons(root, watched)
    films, marks = Films(root, watched, lessons), Marks(root, watched, lessons)
    films.sweep()
    desk = _Desk(root, watched, lessons, films, base, stop)
    of_site, work = work_routes(root, to, watched, base)
    routes: list[Any] = [
        *of_site,
        Route("/", desk.home),
        Route("/begin/{student}", desk.begin, methods=["POST"]),
        Route("/lesson/{student}/{name}", desk.lesson),
        Route("/lesson/{student}/{name}/change", desk.change, methods=["POST"]),
        Route("/lesson/{student}/{name}/look", desk.look, methods=["POST"]),
        Route("/lesson/{student}/{name}/ready", desk.ready, methods=["POST"]),
        *second_look_routes(SecondLooks(root, watched), watched, base),
        *marking_routes(marks, lessons, watched, base),
        *film_routes(lessons, films, marks, watched, base),
        Route("/changes", desk.changes),
        Route("/site/{path:path}", desk.site),
    ]
    home = Route(base, lambda request: RedirectResponse(f"{base}/"))
    return Starlette(routes=[home, Mount(base, routes=routes)]), work
