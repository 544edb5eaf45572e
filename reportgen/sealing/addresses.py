"""The addresses of students' pages: nobody can guess them, and they stay the same."""

import base64
import hmac

from reportgen.records.academy import Academy
from reportgen.records.report import LessonReport

ROUTE_LETTERS = 16
"""80 bits: no two places of an area have the same route, and none can be guessed."""


def token(student_id: str, academy: Academy) -> str:
    """The name of a student's folder in the published site: 128 bits of HMAC-SHA-256 of the id under the academy's
    secret, in base 32 (small letters and digits, so that it can be read out)."""
    student = f"student:{student_id}".encode("utf-8", "surrogateescape")  # a folder's name can be of any bytes
    return base32(hmac.digest(academy.secret.encode(), student, "sha256")[:16])


def routing_key(area: str, academy: Academy) -> bytes:
    """What makes the routes of a sealed area; whoever may read the area knows it."""
    return hmac.digest(academy.secret.encode(), f"routes:{area}".encode(), "sha256")


def route(place: str, key: bytes) -> str:
    """What the address of a sealed page says behind its #, in the place of the page's own name: a browser keeps
    addresses, and whoever looks at them learns nothing."""
    return base32(hmac.digest(key, place.encode(), "sha256"))[:ROUTE_LETTERS]


def base32(data: bytes) -> str:
    """Bytes in the alphabet of RFC 4648, in small letters and without the signs that fill up."""
    return base64.b32encode(data).decode().rstrip("=").lower()


def area_address(student_id: str, academy: Academy) -> str | None:
    """Where a student's pages begin; None where the academy does not know the address of its site."""
    return None if academy.site is None else f"{academy.site.rstrip('/')}/s/{token(student_id, academy)}/"


def page_address(report: LessonReport, academy: Academy, *, sealed: bool = False) -> str | None:
    """Where a lesson's page is read; None where the academy does not know the address of its site.

    A sealed page is asked for behind a #, which no browser tells the host, by its route.
    """
    area = area_address(report.student, academy)
    page = f"{report.lesson}/index.html"
    if area is None or not sealed:
        return area and f"{area}{page}"
    return f"{area}#{route(page, routing_key(f's/{token(report.student, academy)}', academy))}"
