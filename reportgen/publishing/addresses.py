"""The addresses of students' pages: nobody can guess them, and they stay the same."""

import base64
import hmac
from hashlib import sha256

from reportgen.records.academy import Academy


def token(student_id: str, academy: Academy) -> str:
    """The name of a student's folder in the published site: 128 bits of HMAC-SHA-256 of the id under the academy's
    secret, in base 32 (small letters and digits, so that it can be read out)."""
    digest = hmac.new(academy.secret.encode(), f"student:{student_id}".encode(), sha256).digest()
    return base64.b32encode(digest[:16]).decode().rstrip("=").lower()
