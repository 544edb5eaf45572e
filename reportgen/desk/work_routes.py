"""What the desk answers about the site and its mails: publish, send, upload, and the mail as it will go."""

from collections.abc import Mapping
from dataclasses import dataclass
from http import HTTPStatus
from pathlib import Path
from typing import Literal

from pydantic import ValidationError
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from reportgen.delivery.showing import ShownMail
from reportgen.desk.answers import page_of, told_of_sent
from reportgen.desk.guide_links import guide_links
from reportgen.desk.in_words import in_words
from reportgen.desk.site_work import SiteWork
from reportgen.errors import ReportgenError
from reportgen.languages.speaking import say, speaking
from reportgen.pages.desk_work_pages import mail_page, what_came, work_page
from reportgen.preview.watched import Watched
from reportgen.records.base import Record

IN_A_MAIL = "default-src 'none'; img-src data:; style-src 'unsafe-inline'; frame-ancestors 'self'"
"""What a mail that is shown may load: nothing but what it holds."""


class _Asked(Record):
    """What a press asks for."""

    what: Literal["publish", "send", "upload"]
    dry: bool = False
    student: str | None = None
    by: Literal["outbox", "server"] = "outbox"
    correction: bool = False
    seen: tuple[str, ...] | None = None


class _Settled(Record):
    """A person's word on a mail in doubt, by its number."""

    mail: int
    arrived: bool


class _Word(Record):
    word: str


@dataclass(frozen=True)
class _Work:
    work: SiteWork
    watched: Watched
    base: str

    def _now(self) -> bytes:
        """What the job at work has told so far, or what came of the last one, as a part of a page."""
        work = self.work
        return what_came(work.jobs.state, work.doubts, self.watched.students(), str(work.to), self.base)

    def home(self, request: Request) -> Response:
        """All that is done with the site, for everybody or for one student."""
        student = request.query_params.get("student")
        names = self.watched.students()
        if student is not None and student not in names:
            return Response(status_code=HTTPStatus.NOT_FOUND)
        work = self.work
        values: Mapping[str, object] = {
            "student": student,
            "who": names.get(student or ""),
            "to": str(work.to),
            "outbox": str(work.outbox),
            "server": work.server,
            "locked": work.locked,
            "command": work.command,
            "confirmed": work.confirmed,
            "running": work.jobs.state.running,
            "version": self.watched.version,
        }
        return page_of(self.watched, lambda nonce: work_page(values, self._now(), self.base, nonce))

    def now(self, request: Request) -> Response:
        with speaking(self.watched.language()):
            return JSONResponse({"running": self.work.jobs.state.running, "html": self._now().decode()})

    async def start(self, request: Request) -> Response:
        """Begin what a press asks for."""
        try:
            asked = _Asked.model_validate_json(await request.body())
        except ValidationError:
            return Response(status_code=HTTPStatus.BAD_REQUEST)
        with speaking(self.watched.language()):
            if asked.student is not None and asked.student not in self.watched.students():
                return Response(status_code=HTTPStatus.NOT_FOUND)
            try:
                begun = self._begun(asked)
            except (ReportgenError, OSError) as error:
                return JSONResponse({"says": in_words(error)}, HTTPStatus.CONFLICT)
            if not begun:
                return JSONResponse({"says": say("Something else is still at work. Wait for it.")}, HTTPStatus.CONFLICT)
        return JSONResponse({})

    def _begun(self, asked: _Asked) -> bool:
        if asked.what == "publish":
            return self.work.publish(asked.student, dry=asked.dry)
        if asked.what == "send":
            return self.work.send(asked.student, asked.by, correction=asked.correction, dry=asked.dry)
        return self.work.upload(asked.seen)

    async def settle(self, request: Request) -> Response:
        """Whether a mail in doubt arrived, or goes again."""
        return await told_of_sent(
            self.watched, request, _Settled, lambda _, sent: self.work.settle(sent.mail, arrived=sent.arrived)
        )

    def stop(self, request: Request) -> Response:
        self.work.stop_upload()
        return JSONResponse({})

    async def word(self, request: Request) -> Response:
        """The instructor's passphrase, which no answer and no line of a log repeats."""
        try:
            word = _Word.model_validate_json(await request.body()).word
        except ValidationError:
            return Response(status_code=HTTPStatus.BAD_REQUEST)
        try:
            self.work.unlock(word)
        except (ReportgenError, OSError) as error:
            return JSONResponse({"says": in_words(error)}, HTTPStatus.CONFLICT)
        return JSONResponse({})

    def mail(self, request: Request) -> Response:
        """A student's mail as it will go, or why none goes."""
        student = request.path_params["student"]
        again = "again" in request.query_params
        with speaking(self.watched.language()):
            try:
                mail, says = self.work.mail(student, correction=again)
            except LookupError:
                return Response(status_code=HTTPStatus.NOT_FOUND)
            except Exception as error:  # whatever it is, the desk goes on
                mail, says = None, in_words(error)
        who = self.watched.students()[student]
        values = {"student": student, "who": who, "mail": mail, "says": says, "again": again}
        values |= {"outbox": str(self.work.outbox), "server": self.work.server}
        return page_of(self.watched, lambda nonce: mail_page(values, self.base, nonce))

    def body(self, request: Request) -> Response:
        """The formatted part of a mail."""
        mail = self._shown(request)
        if mail is None or mail.html is None:
            return Response(status_code=HTTPStatus.NOT_FOUND)
        headers = {"Content-Security-Policy": IN_A_MAIL}
        return Response(mail.html, headers=headers, media_type="text/html; charset=utf-8")

    def attachment(self, request: Request) -> Response:
        mail, number = self._shown(request), request.path_params["number"]
        if mail is None or number >= len(mail.attachments):
            return Response(status_code=HTTPStatus.NOT_FOUND)
        file = mail.attachments[number]
        return Response(file.data, media_type=file.kind)

    def _shown(self, request: Request) -> ShownMail | None:
        try:
            return self.work.mail(request.path_params["student"], correction="again" in request.query_params)[0]
        except (LookupError, ReportgenError, OSError):
            return None


def work_routes(root: Path, to: Path, watched: Watched, base: str) -> tuple[list[Route], SiteWork]:
    """The routes of the site and its mails, and the work that they begin."""
    desk = _Work(SiteWork(root, to, watched), watched, base)
    routes = [
        *guide_links(base),
        Route("/publishing", desk.home),
        Route("/publishing/now", desk.now),
        Route("/publishing/start", desk.start, methods=["POST"]),
        Route("/publishing/doubt", desk.settle, methods=["POST"]),
        Route("/publishing/stop", desk.stop, methods=["POST"]),
        Route("/publishing/word", desk.word, methods=["POST"]),
        Route("/mail/{student}", desk.mail),
        Route("/mail/{student}/body", desk.body),
        Route("/mail/{student}/file/{number:int}", desk.attachment),
    ]
    return routes, desk.work
