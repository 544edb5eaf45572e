"""A mail as it will be seen, before it goes."""

import base64
import re
from dataclasses import dataclass, field
from email import message_from_bytes, policy

from reportgen.delivery.letter import Letter


@dataclass(frozen=True)
class Attachment:
    """A file that goes with a mail."""

    name: str
    kind: str
    size: int
    data: bytes = field(repr=False)


@dataclass(frozen=True)
class ShownMail:
    """A mail as a mail program shows it; `html` has its pictures within it, None where the mail is text alone."""

    lesson: str
    sender: str
    addresses: tuple[str, ...]
    subject: str
    text: str
    html: str | None
    attachments: tuple[Attachment, ...]


def shown_mail(letter: Letter) -> ShownMail:
    """What is in a letter."""
    mail = message_from_bytes(letter.data, policy=policy.default)
    text, html = mail.get_body(("plain",)), mail.get_body(("html",))
    pictures = {
        str(part["Content-ID"]).strip("<> "): _as_address(part.get_content_type(), part.get_content())
        for part in mail.walk()
        if part["Content-ID"] and not part.is_multipart()
    }
    files = tuple(
        Attachment(part.get_filename() or "", part.get_content_type(), len(data := _bytes(part.get_content())), data)
        for part in mail.iter_attachments()
        if not part["Content-ID"]
    )
    return ShownMail(
        letter.lesson,
        str(mail["From"]),
        letter.addresses,
        str(mail["Subject"]),
        text.get_content() if text else "",
        _with_pictures(html.get_content(), pictures) if html else None,
        files,
    )


def _bytes(content: object) -> bytes:
    return content if isinstance(content, bytes) else str(content).encode()


def _as_address(kind: str, content: object) -> str:
    return f"data:{kind};base64,{base64.b64encode(_bytes(content)).decode()}"


def _with_pictures(html: str, pictures: dict[str, str]) -> str:
    return re.sub(r"cid:([^\"'\s)>]+)", lambda found: pictures.get(found[1], found[0]), html)
