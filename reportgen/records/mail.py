"""Mail addresses, and what a student's mails hold, as written in academy.yaml and student.yaml."""

from typing import Annotated, Any, Literal, get_args

from pydantic import BeforeValidator, Field, TypeAdapter

from reportgen.records.base import Record
from reportgen.records.bounds import MAILS

_PART = r"[^@\s<>,;:\"\x00-\x1f\x7f-\x9f\u200b-\u200f\u202a-\u202e\u2060-\u206f\ufeff]+"
"""Without what separates addresses, and without signs that nobody sees, which no address has and a header must not."""
Mail = Annotated[str, Field(pattern=rf"^{_PART}@{_PART}\.{_PART}$", max_length=254, description="a mail address")]
Mails = Annotated[tuple[Mail, ...], Field(max_length=MAILS)]

MailAs = Literal["report", "notice"]
"""What a mail holds: the report, or the address of the pages alone."""


class StudentMail(Record):
    """Where a student's mails go, and what they hold."""

    to: Mails = ()
    as_: MailAs | None = Field(default=None, alias="as")


_ADDRESSES: TypeAdapter[tuple[Mail, ...]] = TypeAdapter(tuple[Mail, ...])


def _read_mail(written: Any) -> Any:
    if isinstance(written, list | tuple):
        if len(written) > MAILS:
            raise ValueError(f"has {len(written)} items", f"At most {MAILS}.")
        return StudentMail(to=_ADDRESSES.validate_python(written))
    if written in get_args(MailAs):
        return StudentMail(as_=written)
    if isinstance(written, str):
        raise ValueError(
            "is no list of addresses", "Write it as [mara@example.org], or notice for a mail without report."
        )
    return written


WrittenMail = Annotated[StudentMail, BeforeValidator(_read_mail, json_schema_input_type=Mails | MailAs | StudentMail)]
"""A list of addresses, what a mail holds in one word, or both."""
