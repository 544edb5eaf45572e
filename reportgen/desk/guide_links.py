"""The guide stands beside the instructor's overview in a published site; its links lead to the same things here."""

from starlette.requests import Request
from starlette.responses import RedirectResponse
from starlette.routing import Route


def guide_links(base: str) -> list[Route]:
    """Where the links of the guide lead at the desk: the overview is the desk itself, the library that of the site."""

    def library(request: Request) -> RedirectResponse:
        return RedirectResponse(f"{base}/site/library/{request.path_params['path']}")

    return [
        Route("/site/index.html", lambda request: RedirectResponse(f"{base}/")),
        Route("/upload/library/{path:path}", library),
    ]
