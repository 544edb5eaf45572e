"""Pages of the desk, and what it tells its scripts, as they are answered."""

import asyncio
import secrets
from collections.abc import Callable
from http import HTTPStatus
from pathlib import Path
from typing import Any, TypeVar

from pydantic import ValidationError
from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, Response

from reportgen.desk.guard import policy
from reportgen.desk.in_words import in_words
from reportgen.desk.saving import ChangedMeanwhileError
from reportgen.errors import ReportgenError
from reportgen.languages.speaking import speaking
from reportgen.pages.media import media_type
from reportgen.preview.watched import Watched
from reportgen.records.base import Record

Sent = TypeVar("Sent", bound=Record)


def page_of(watched: Watched, make: Callable[[str], bytes], status: HTTPStatus = HTTPStatus.OK) -> Response:
    """The page that `make` makes for the nonce of its scripts, in the academy's language."""
    nonce = secrets.token_urlsafe(16)
    with speaking(watched.language()):
        body = make(nonce)
    headers = {"Content-Security-Policy": policy(nonce)}
    return Response(body, status, headers, "text/html; charset=utf-8")


def told_by(watched: Watched, answer: Callable[[], Any]) -> Response:
    """What `answer` says, or in words why it says nothing, in the academy's language."""
    with speaking(watched.language()):
        try:
            return JSONResponse(answer())
        except LookupError:
            return Response(status_code=HTTPStatus.NOT_FOUND)
        except ChangedMeanwhileError as error:
            return JSONResponse({"says": str(error), "now": error.now}, HTTPStatus.CONFLICT)
        except (ReportgenError, OSError) as error:
            return JSONResponse({"says": in_words(error)}, HTTPStatus.UNPROCESSABLE_ENTITY)


async def told_of_sent(
    watched: Watched, request: Request, kind: type[Sent], answer: Callable[[dict[str, Any], Sent], Any]
) -> Response:
    """What `answer` says to where a page is and what it has sent, a record of that kind, in a thread of its own: others
    are answered meanwhile."""
    try:
        sent = kind.model_validate_json(await request.body())
    except ValidationError:
        return Response(status_code=HTTPStatus.BAD_REQUEST)
    return await asyncio.to_thread(told_by, watched, lambda: answer(request.path_params, sent))


def picture_at(find: Callable[[], Path]) -> Response:
    """The picture that `find` finds."""
    try:
        file = find()
    except LookupError:
        return Response(status_code=HTTPStatus.NOT_FOUND)
    return FileResponse(file, media_type=media_type(file.name) or "image/jpeg")
