"""Where the desk answers about films: to take them in, to show what they have, to choose moments and to keep them."""

import asyncio
from collections.abc import Callable
from dataclasses import dataclass
from http import HTTPStatus
from pathlib import Path
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from reportgen.desk.answers import page_of, picture_at, told_by, told_of_sent
from reportgen.desk.film_words import film_shown
from reportgen.desk.films import Films
from reportgen.desk.guard import FILM
from reportgen.desk.in_words import in_words
from reportgen.desk.inbox import arrived, taken_from
from reportgen.desk.keeping import Keeping, SentKeep
from reportgen.desk.kept_films import KeptFilms
from reportgen.desk.lessons import Lessons
from reportgen.desk.marks import Marks
from reportgen.desk.moments import Moments, SentMove, SentWord
from reportgen.desk.pictures import SentPicture, take_in
from reportgen.films.needs import MissingFilmLibraryError, film_libraries
from reportgen.pages.desk_film_pages import moments_page
from reportgen.preview.watched import Watched
from reportgen.rights import owner_only
from reportgen.sheets.inbox import inbox_of


@dataclass(frozen=True)
class _Answers:
    lessons: Lessons
    films: Films
    marks: Marks
    moments: Moments
    keeping: Keeping
    kept: KeptFilms
    watched: Watched
    base: str

    def told(self, answer: Callable[[], Any]) -> Response:
        return told_by(self.watched, answer)

    def listed(self, request: Request) -> Response:
        """The films of a lesson, those of it that were kept, what the inbox has, and what is missing to read films."""
        return self.told(lambda: self._listed(**request.path_params))

    def _listed(self, student: str, name: str) -> dict[str, Any]:
        films = self.films.of_lesson(student, name)
        academy = self.watched.folder.academy
        here = {(Path(one.note.name).name, one.note.size) for one in films}
        found = [one for one in arrived(academy) if (one.file.name, one.size) not in here]
        inbox = inbox_of(academy) if academy else None
        return {
            "films": [film_shown(one) for one in films],
            "inbox": [{"name": one.name, "film": one.film} for one in found],
            "folder": None if inbox is None else str(inbox),
            "again": [one.name for one in self.kept.of_lesson(student, name)],
            "missing": _missing(),
        }

    async def take(self, request: Request) -> Response:
        """A film that is dropped: written to the disk as it comes."""
        called = Path(request.query_params.get("file", "").replace("\\", "/")).name or "film.mov"
        where: list[Path] = []

        def place() -> dict[str, Any]:
            where.append(self.films.place_for(**request.path_params, called=called))
            return {}

        answer = await asyncio.to_thread(self.told, place)
        if not where:
            return answer
        try:
            with open(where[0], "xb", opener=owner_only) as stream:
                async for part in request.stream():
                    await asyncio.to_thread(stream.write, part)
        except OSError as error:
            self.films.drop(where[0])
            return JSONResponse({"says": in_words(error)}, HTTPStatus.UNPROCESSABLE_ENTITY)
        except BaseException:  # the page has gone
            self.films.drop(where[0])
            raise
        return await asyncio.to_thread(self.told, lambda: {"number": self.films.take(where[0], called)})

    def take_from_inbox(self, request: Request) -> Response:
        """A file of the inbox that is taken by a press: copied, the inbox stays as it is."""
        return self.told(lambda: self._take_from_inbox(request))

    def _take_from_inbox(self, request: Request) -> dict[str, Any]:
        where: Any = request.path_params
        one = taken_from(self.watched.folder.academy, request.query_params.get("file", ""))
        if not one.film:
            sent = SentPicture.model_validate({key: request.query_params.get(key) for key in ("view", "checkpoint")})
            return {"file": take_in(self.lessons, **where, sent=sent, data=one.file.read_bytes())}
        return {"number": self.films.take_copy(**where, file=one.file)}

    def open_again(self, request: Request) -> Response:
        """A film of the student's folder that is opened again by a press."""
        called = request.query_params.get("file", "")
        return self.told(lambda: {"number": self.kept.open(**request.path_params, called=called)})

    def remove(self, request: Request) -> Response:
        return self.told(lambda: self.films.remove(**request.path_params))

    def picture(self, request: Request) -> Response:
        return picture_at(lambda: self.films.picture(**request.path_params))

    def page(self, request: Request) -> Response:
        """The page of moments."""
        where: Any = request.path_params
        try:
            self.lessons.sheet(**where)
        except LookupError:
            return Response(status_code=HTTPStatus.NOT_FOUND)
        who = self.watched.students()[where["student"]]
        return page_of(self.watched, lambda nonce: moments_page({**where, "who": who}, self.base, nonce))

    def now(self, request: Request) -> Response:
        return self.told(lambda: self.moments.now(**request.path_params))

    def confirm(self, request: Request) -> Response:
        return self.told(lambda: self.moments.confirm(**request.path_params))

    async def move(self, request: Request) -> Response:
        return await told_of_sent(
            self.watched, request, SentMove, lambda where, sent: self.moments.move(**where, sent=sent)
        )

    async def word(self, request: Request) -> Response:
        return await told_of_sent(
            self.watched, request, SentWord, lambda where, sent: self.moments.word(**where, sent=sent)
        )

    async def keep(self, request: Request) -> Response:
        return await told_of_sent(self.watched, request, SentKeep, self._keep)

    def _keep(self, where: dict[str, Any], sent: SentKeep) -> dict[str, Any]:
        first = self.keeping.keep(**where, sent=sent)
        numbers = [one["number"] for one in self.marks.pictures(**where) if one["file"] == first]
        return {"to": f"{self.base}/lesson/{where['student']}/{where['name']}/marks/{(numbers or [0])[0]}"}


def _missing() -> str | None:
    try:
        film_libraries()
    except MissingFilmLibraryError as error:
        return str(error)
    return None


def film_routes(lessons: Lessons, films: Films, marks: Marks, watched: Watched, base: str) -> list[Route]:
    """The routes of films and their moments."""
    moments, lesson = Moments(films, marks), "/lesson/{student}/{name}"
    answers = _Answers(
        lessons, films, marks, moments, Keeping(lessons, films, moments), KeptFilms(lessons, films), watched, base
    )
    one = f"{lesson}/films/{{number:int}}"
    return [
        Route(f"{lesson}/{FILM}", answers.take, methods=["POST"]),
        Route(f"{lesson}/inbox", answers.take_from_inbox, methods=["POST"]),
        Route(f"{lesson}/films", answers.listed),
        Route(f"{lesson}/films/again", answers.open_again, methods=["POST"]),
        Route(f"{one}/remove", answers.remove, methods=["POST"]),
        Route(f"{one}/word", answers.word, methods=["POST"]),
        Route(f"{one}/{{picture:int}}.jpg", answers.picture),
        Route(f"{lesson}/moments", answers.page),
        Route(f"{lesson}/moments/now", answers.now),
        Route(f"{lesson}/moments/move", answers.move, methods=["POST"]),
        Route(f"{lesson}/moments/keep", answers.keep, methods=["POST"]),
        Route(f"{lesson}/moments/{{moment}}/confirm", answers.confirm, methods=["POST"]),
    ]
