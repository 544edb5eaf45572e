"""Headers with names of any signs: they read back as what was meant, and nothing else comes with them."""

from email import message_from_bytes
from email.header import decode_header, make_header
from email.message import EmailMessage
from email.policy import SMTP, SMTPUTF8, strict
from email.utils import getaddresses

from hypothesis import example, given
from hypothesis import strategies as st

from reportgen.delivery.headers import people_header, text_header
from reportgen.delivery.recipients import address, one_line

LINES = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=300).map(one_line).filter(bool)
LOCALS = st.from_regex(r"[A-Za-z0-9!#$%&'*+/=?^_`{|}~-]{1,20}(\.[a-zA-Z0-9-]{1,20})?", fullmatch=True)


def written(name: str, value: str, policy=SMTP) -> bytes:
    mail = EmailMessage(policy=policy)
    mail[name] = value
    mail["Subject" if name != "Subject" else "To"] = "x"
    return mail.as_bytes()


def decoded(words: str) -> str:
    """Encoded words as RFC 2047 (6.2) has them read: the space between two of them is no part of the text."""
    return str(make_header(decode_header(words)))


@given(st.lists(st.tuples(LINES, LOCALS), min_size=1, max_size=3))
@example([("Eve, other@example.org", "a"), ("\\", "b"), ('"', "c")])
@example([("Ångström, Zoë " * 12, "a"), ("學校, " * 40, "b")])
def test_people_read_back_as_they_were_meant(people: list[tuple[str, str]]) -> None:
    meant = [(name, address(f"{local}@example.org")) for name, local in people]
    data = written("To", people_header("To", meant))
    assert data.isascii()
    assert [line for line in data.split(b"\r\n") if len(line) > 78] == []
    plain = message_from_bytes(data)
    assert plain.keys() == ["To", "Subject"]
    assert [(decoded(name), where) for name, where in getaddresses([str(plain["To"])])] == meant
    strictly = message_from_bytes(data, policy=strict)
    assert [each.addr_spec for each in strictly["To"].addresses] == [where for _, where in meant]
    assert strictly["To"].defects == ()


@given(LINES)
@example("a" * 300)
@example("Miro’s lesson of 14 November 2026")
def test_a_subject_reads_back_as_it_was_meant(text: str) -> None:
    data = written("Subject", text_header("Subject", text))
    assert data.isascii()
    assert [line for line in data.split(b"\r\n") if len(line) > 78] == []
    plain = message_from_bytes(data)
    assert plain.keys() == ["Subject", "To"]
    assert decoded(str(plain["Subject"])) == text


def test_an_address_beyond_ascii_stays_as_it_is() -> None:
    data = written("To", people_header("To", [("Zoë", "zoë@example.org")]), SMTPUTF8)
    assert " <zoë@example.org>\r\n".encode() in data
