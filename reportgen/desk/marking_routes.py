"""Where the desk answers about pictures: to take them in, to show them, to keep and to measure their marks."""

import asyncio
from collections.abc import Callable
from http import HTTPStatus
from typing import Any

from pydantic import ValidationError
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from reportgen.desk.answers import page_of, picture_at, told_by, told_of_sent
from reportgen.desk.guard import PICTURE
from reportgen.desk.lessons import Lessons
from reportgen.desk.marks import Marks, SentChanges, SentMarks, point_names
from reportgen.desk.pictures import SentPicture, take_in
from reportgen.languages.speaking import say, speaking
from reportgen.pages.desk_pages import marks_page
from reportgen.preview.watched import Watched


class _Answers:
    def __init__(self, marks: Marks, lessons: Lessons, watched: Watched, base: str) -> None:
        self.marks, self.lessons, self.watched, self.base = marks, lessons, watched, base

    def told(self, answer: Callable[[], Any]) -> Response:
        return told_by(self.watched, answer)

    def page_of_marks(self, request: Request) -> Response:
        where = {key: request.path_params[key] for key in ("student", "name")}
        with speaking(self.watched.language()):
            try:
                given = self.marks.of_lesson(**where)
                last = self.marks.last_values(**where, metrics=())
            except LookupError:
                return Response(status_code=HTTPStatus.NOT_FOUND)
        lesson = f"{self.base}/lesson/{where['student']}/{where['name']}"
        with speaking(self.watched.language()):
            given |= {"back": [lesson, say("Lesson")], "here": f"{lesson}/marks", "query": "", "blind": False}
        given |= {"number": request.path_params["number"], "last": last}
        return page_of(self.watched, lambda nonce: marks_page(given, point_names(), self.base, nonce))

    def pictures(self, request: Request) -> Response:
        return self.told(lambda: self.marks.pictures(**request.path_params))

    def picture(self, request: Request) -> Response:
        return picture_at(lambda: self.marks.picture(**request.path_params))

    def still(self, request: Request) -> Response:
        return self.told(lambda: self.marks.still(**request.path_params, focus=request.query_params.getlist("metric")))

    def proposed(self, request: Request) -> Response:
        return self.told(lambda: self.marks.proposed(**request.path_params))

    async def keep(self, request: Request) -> Response:
        return await told_of_sent(
            self.watched, request, SentChanges, lambda where, sent: self.marks.keep(**where, sent=sent)
        )

    async def values(self, request: Request) -> Response:
        return await told_of_sent(
            self.watched, request, SentMarks, lambda where, sent: self.marks.values(**where, sent=sent)
        )

    async def take_in(self, request: Request) -> Response:
        try:
            sent = SentPicture.model_validate(dict(request.query_params))
        except ValidationError:
            return Response(status_code=HTTPStatus.BAD_REQUEST)
        data, where = await request.body(), request.path_params
        return await asyncio.to_thread(
            self.told, lambda: {"file": take_in(self.lessons, **where, sent=sent, data=data)}
        )


def marking_routes(marks: Marks, lessons: Lessons, watched: Watched, base: str) -> list[Route]:
    """The routes of pictures and their marks."""
    answers, lesson = _Answers(marks, lessons, watched, base), "/lesson/{student}/{name}"
    return [
        Route(f"{lesson}/{PICTURE}", answers.take_in, methods=["POST"]),
        Route(f"{lesson}/pictures", answers.pictures),
        Route(f"{lesson}/pictures/{{number:int}}", answers.picture),
        Route(f"{lesson}/marks/{{number:int}}", answers.page_of_marks),
        Route(f"{lesson}/marks/{{number:int}}/still", answers.still),
        Route(f"{lesson}/marks/{{number:int}}/proposed", answers.proposed),
        Route(f"{lesson}/marks/{{number:int}}/keep", answers.keep, methods=["POST"]),
        Route(f"{lesson}/marks/{{number:int}}/values", answers.values, methods=["POST"]),
    ]
