"""The addresses of students' pages: nobody can guess them, and they stay the same."""

import base64
import hmac
from hashlib import sha256

from reportgen.records.academy import Academy
from reportgen.records.report import LessonReport


def token(student_id: str, academy: Academy) -> str:
    """The name of a student's folder in the published site: 128 bits of HMAC-SHA-256 of the id under the academy's
    secret, in base 32 (small letters and digits, so that it can be read out)."""
    student = f"student:{student_id}".encode("utf-8", "surrogateescape")  # a folder's name can be of any bytes
    digest = hmac.new(academy.secret.encode(), student, sha256).digest()
    return base64.b32encode(digest[:16]).decode().rstrip("=").lower()


def page_address(report: LessonReport, academy: Academy, *, sealed: bool = False) -> str | None:
    """Where a lesson's page is read; None where the academy does not know the address of its site.

    A sealed page is asked for behind a #, which no browser tells the host.
    """
    if academy.site is None:
        return None
    behind = "#/" if sealed else ""
    return f"{academy.site.rstrip('/')}/s/{token(report.student, academy)}/{behind}{report.lesson}/index.html"
