"""The pages of the live desk about the site and its mails."""

from collections.abc import Mapping, Sequence
from typing import Any

from markupsafe import Markup

from reportgen.pages.theme import shipped_templates


def work_page(values: Mapping[str, Any], now: bytes, base: str, nonce: str) -> bytes:
    """Publish, send, upload; `now` is the part of the page that says what came of the last press."""
    shown = Markup(now.decode())  # noqa: S704  made here
    return _made("desk-work.html", {**values, "now": shown, "base": base, "nonce": nonce})


def what_came(state: Any, doubts: Sequence[Any], names: Mapping[str, str], to: str, base: str) -> bytes:
    """What the job at work has told so far, or what came of the last one, and the mails in doubt."""
    values = {"state": state, "doubts": doubts, "names": names, "to": to, "base": base}
    return _made("desk-work-now.html", values)


def mail_page(values: Mapping[str, Any], base: str, nonce: str) -> bytes:
    """A mail as it will go."""
    return _made("desk-mail.html", {**values, "base": base, "nonce": nonce})


def begin_page(code: str, zones: Sequence[str], where: str, base: str, nonce: str) -> bytes:
    """The five questions before an academy is begun; `code` is the language that the page is in."""
    return _made("desk-begin.html", {"code": code, "zones": zones, "where": where, "base": base, "nonce": nonce})


def not_yet_page(base: str) -> bytes:
    """What stands in the place of a student's page while something is wrong in the sheet."""
    return _made("desk-not-yet.html", {"base": base})


def _made(name: str, values: Mapping[str, Any]) -> bytes:
    return shipped_templates().get_template(name).render(**values).encode()
