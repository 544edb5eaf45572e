"""Where the desk answers about second looks: to begin one, to show its pictures, to keep what was set."""

import asyncio
from http import HTTPStatus
from typing import Any

from pydantic import ValidationError
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from reportgen.desk.answers import page_of, picture_at, told_by
from reportgen.desk.in_words import in_words
from reportgen.desk.marks import SentChanges, point_names
from reportgen.desk.second_looks import SecondLooks
from reportgen.errors import ReportgenError
from reportgen.languages.speaking import say, speaking
from reportgen.pages.desk_pages import marks_page, second_looks_page
from reportgen.preview.watched import Watched
from reportgen.records.base import Line, Record


class _Marker(Record):
    """Who marks; None for the instructor."""

    by: Line | None = None


class _Answers:
    def __init__(self, looks: SecondLooks, watched: Watched, base: str) -> None:
        self.looks, self.watched, self.base = looks, watched, base

    def home(self, request: Request) -> Response:
        """What was marked again, and what it tells."""
        try:
            rounds, figures, says = self.looks.rounds(), self.looks.figures(), None
        except ReportgenError as error:
            rounds, figures, says = [], (), in_words(error)
        return page_of(self.watched, lambda nonce: second_looks_page(rounds, figures, says, self.base, nonce))

    async def begin(self, request: Request) -> Response:
        by = await self._marker(await request.body())
        return await asyncio.to_thread(told_by, self.watched, lambda: self._begun(by))

    def _begun(self, by: str | None) -> dict[str, Any]:
        name, marker = self.looks.begin(by)
        return {"to": f"{self.base}/again/{name}/marks/0", "by": marker}

    def page_of_marks(self, request: Request) -> Response:
        name, number = request.path_params["name"], request.path_params["number"]
        with speaking(self.watched.language()):
            given = {
                "who": say("A second look"),
                "back": [f"{self.base}/again", say("How sure your marks are")],
                "here": f"{self.base}/again/{name}/marks",
                "query": f"?{request.url.query}" if request.url.query else "",
                "focus": [],
                "pictures": list(self.looks.pictures(name)),
                "number": number,
                "last": {},
                "blind": True,
            }
            names = point_names()
        return page_of(self.watched, lambda nonce: marks_page(given, names, self.base, nonce))

    def picture(self, request: Request) -> Response:
        return picture_at(lambda: self.looks.picture(**request.path_params))

    def still(self, request: Request) -> Response:
        return told_by(self.watched, lambda: self.looks.still(**request.path_params))

    async def keep(self, request: Request) -> Response:
        try:
            sent = SentChanges.model_validate_json(await request.body())
            by = _Marker.model_validate(dict(request.query_params)).by
        except ValidationError:
            return Response(status_code=HTTPStatus.BAD_REQUEST)
        where = request.path_params
        return await asyncio.to_thread(told_by, self.watched, lambda: self.looks.keep(**where, sent=sent, by=by))

    async def _marker(self, body: bytes) -> str | None:
        try:
            return _Marker.model_validate_json(body or b"{}").by
        except ValidationError:
            return None


def second_look_routes(looks: SecondLooks, watched: Watched, base: str) -> list[Route]:
    """The routes of second looks."""
    answers, one = _Answers(looks, watched, base), "/again/{name}"
    return [
        Route("/again", answers.home),
        Route("/again/begin", answers.begin, methods=["POST"]),
        Route(f"{one}/pictures/{{number:int}}", answers.picture),
        Route(f"{one}/marks/{{number:int}}", answers.page_of_marks),
        Route(f"{one}/marks/{{number:int}}/still", answers.still),
        Route(f"{one}/marks/{{number:int}}/keep", answers.keep, methods=["POST"]),
    ]
