"""Pages of the desk, and what it tells its scripts, as they are answered."""

import secrets
from collections.abc import Callable
from http import HTTPStatus
from typing import Any

from starlette.responses import JSONResponse, Response

from reportgen.desk.guard import policy
from reportgen.desk.in_words import in_words
from reportgen.desk.saving import ChangedMeanwhileError
from reportgen.errors import ReportgenError
from reportgen.languages.speaking import speaking
from reportgen.preview.watched import Watched


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
