"""A judged lesson -> the mail about it: plain text and HTML with pictures inside, recap and calendar attached."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime, time
from email.errors import NonASCIILocalPartDefect
from email.message import EmailMessage
from email.parser import HeaderParser
from email.policy import SMTP, SMTPUTF8, strict
from hashlib import sha256
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from reportgen.delivery.headers import people_header, text_header
from reportgen.delivery.pictures import Inline
from reportgen.delivery.plain_text import flowed, wrapped
from reportgen.delivery.recipients import NoRecipientError, Recipients, address, domain_of, one_line
from reportgen.errors import ReportgenError
from reportgen.pages.theme import environment
from reportgen.records.academy import Academy
from reportgen.records.report import LessonReport

LARGEST = 5_000_000
"""Bytes that a mail may have; many mailboxes take no more than 10 MB."""


class MailError(ReportgenError):
    """The mail cannot be made; the message says why."""


@dataclass(frozen=True)
class Words:
    """The templates of a theme for mails, each to be filled with the values of one."""

    subject: Callable[[dict[str, Any]], str]
    plain: Callable[[dict[str, Any]], str]
    html: Callable[[dict[str, Any]], str]


def words_of(academy: Academy, root: Path) -> Words:
    """The words of the academy's theme; `root` is the academy's folder."""
    pages = environment(academy, root)
    pages.filters["flowed"] = flowed
    # Compiled templates are kept by their names, and some of these are compiled for pages too, where they escape.
    texts = pages.overlay(autoescape=False, bytecode_cache=None)
    return Words(
        texts.get_template("mail-subject.txt").render,
        texts.get_template("mail.txt").render,
        pages.get_template("mail.html").render,
    )


def revision_of(report: LessonReport) -> str:
    """The digest of everything that the report says: another digest, another revision of the lesson."""
    return sha256(report.model_dump_json(by_alias=True).encode()).hexdigest()


def sender_of(academy: Academy) -> str:
    """The instructor's address, from which mail comes and to which answers go. Raises MailError."""
    if academy.instructor.mail is None:
        raise MailError("The instructor has no address. Write instructor: {name: ..., mail: ...} into academy.yaml.")
    try:
        return address(academy.instructor.mail)
    except NoRecipientError as error:
        raise MailError(f"academy.yaml, instructor: {error}") from None


def message_id(revision: str, academy: Academy) -> str:
    """The name of the mail about a revision, the same each time it is made."""
    return f"<{revision[:40]}@{domain_of(sender_of(academy))}>"


def recap_mail(
    report: LessonReport,
    academy: Academy,
    words: Words,
    to: Recipients,
    pdf: bytes,
    pictures: Mapping[str, Inline],
    *,
    calendar: bytes | None = None,
    page: str | None = None,
    correction: str | None = None,
    corrects: str | None = None,
) -> EmailMessage:
    """The mail about one lesson; the same bytes each time.

    `page` is the address of the lesson's page; `correction` says in one line what changed since the mail whose
    Message-ID is `corrects`. The last of `pictures` are left out where the mail would grow past LARGEST. Raises
    MailError where it is too large even without pictures, or a name cannot be written into a header.
    """
    kept = dict(pictures)
    while True:
        mail = _mail(report, academy, words, to, pdf, kept, calendar, page, correction, corrects)
        size = len(mail.as_bytes())
        if size <= LARGEST:
            break
        if not kept:
            raise MailError(
                f"the mail about {report.student}, {report.lesson}, has {size / 1e6:.1f} MB, more than 5 MB"
            )
        kept.popitem()
    _check_headers(mail, to)
    return mail


def _mail(
    report: LessonReport,
    academy: Academy,
    words: Words,
    to: Recipients,
    pdf: bytes,
    pictures: Mapping[str, Inline],
    calendar: bytes | None,
    page: str | None,
    correction: str | None,
    corrects: str | None,
) -> EmailMessage:
    revision, sender = revision_of(report), sender_of(academy)
    cids = {name: f"{name}.{revision[:12]}@{domain_of(sender)}" for name in pictures}
    values: dict[str, Any] = {
        "report": report,
        "guardian": to.guardian,
        "page": page,
        "correction": correction,
        "pictures": pictures,
        "cids": cids,
        "calendar": calendar is not None,
    }
    mail = EmailMessage(policy=_policy(sender, *to.addresses))
    teacher = one_line(academy.instructor.name)
    subject = one_line(words.subject(values))
    mail["From"] = people_header("From", [(f"{teacher}, {one_line(academy.name)}", sender)])
    mail["To"] = people_header("To", [(to.name, each) for each in to.addresses])
    mail["Reply-To"] = people_header("Reply-To", [(teacher, sender)])
    mail["Subject"] = text_header("Subject", subject)
    mail["Date"] = datetime.combine(report.date, time(12), ZoneInfo(academy.timezone))
    mail["Message-ID"] = message_id(revision, academy)
    if corrects is not None:
        mail["In-Reply-To"] = corrects
        mail["References"] = corrects
    mail.set_content(wrapped(words.plain(values)), cte="quoted-printable")
    mail.add_alternative(words.html(values), subtype="html", cte="quoted-printable")
    page_part = mail.get_payload()[1]  # type: ignore[index]
    for name, picture in pictures.items():
        page_part.add_related(  # type: ignore[union-attr]
            picture.png, "image", "png", cid=f"<{cids[name]}>", disposition="inline", filename=f"{name}.png"
        )
    mail.add_attachment(pdf, "application", "pdf", filename=f"recap-{report.lesson}.pdf")
    if calendar is not None:
        week = f"practice-{report.lesson}.ics"
        mail.add_attachment(calendar, "text", "calendar", filename=week, params={"charset": "utf-8"})
    mail["Content-Language"] = report.language.replace("_", "-")
    for number, part in enumerate(part for part in mail.walk() if part.is_multipart()):
        part.set_boundary(f"=_{revision[:24]}_{number}")  # "=_" stands in no body that is encoded for transport
    return mail


def _policy(*addresses: str) -> Any:
    """Plain ASCII headers, and UTF-8 ones (RFC 6532) only where an address cannot be written otherwise."""
    return SMTP.clone(cte_type="7bit") if all(map(str.isascii, addresses)) else SMTPUTF8.clone(cte_type="7bit")


def _check_headers(mail: EmailMessage, to: Recipients) -> None:
    """Read the headers back as a mail server will: what they name must be exactly whom we mean."""
    read: Any = HeaderParser(policy=strict).parsestr(mail.as_bytes().decode())
    named = tuple(each.addr_spec for each in read["To"].addresses)
    defects = {type(defect) for name in read for defect in read[name].defects} - {NonASCIILocalPartDefect}
    if named != to.addresses or read.keys() != mail.keys() or defects:
        raise MailError(f"the name {to.name!r} cannot be written into a mail. Write it more simply.")
