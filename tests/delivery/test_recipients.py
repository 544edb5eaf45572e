"""Who gets the mail, and names and addresses that can do no harm in a header."""

import unicodedata
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportgen.delivery.recipients import NoRecipientError, address, one_line, recipients
from reportgen.records.academy import Instructor
from reportgen.records.mail import StudentMail
from tests.delivery.conftest import TODAY, Demo

MIROS = StudentMail(to=("miro@example.org",))


def test_an_adult_gets_it_at_every_address_once(demo: Demo) -> None:
    mails = ("petra@example.org", "petra@example.net", "petra@example.org")
    student = demo.student("petra-lumsgate").model_copy(update={"mail": StudentMail(to=mails)})
    to = recipients(student, "petra-lumsgate", TODAY)
    assert (to.addresses, to.guardian) == (("petra@example.org", "petra@example.net"), None)


def test_for_a_minor_it_goes_to_the_guardian_alone(demo: Demo) -> None:
    student = demo.student("miro-tavenhall").model_copy(update={"mail": MIROS})
    to = recipients(student, "miro-tavenhall", TODAY)
    assert (to.addresses, to.guardian) == (("henrik.tavenhall@example.org",), "Henrik Tavenhall")


@pytest.mark.parametrize("guardian", [None, Instructor(name="Henrik Tavenhall")])
def test_a_minor_without_a_guardians_address_gets_nothing(demo: Demo, guardian: Instructor | None) -> None:
    student = demo.student("miro-tavenhall").model_copy(update={"guardian": guardian, "mail": MIROS})
    with pytest.raises(NoRecipientError, match="no guardian's address"):
        recipients(student, "miro-tavenhall", TODAY)


def test_who_has_come_of_age_since_the_lesson_gets_it_and_the_guardian_does_not(demo: Demo) -> None:
    assert demo.report("miro-tavenhall").person.stage == "junior"
    student = demo.student("miro-tavenhall").model_copy(update={"mail": MIROS})
    eighteen = date(student.born.year + 18, student.born.month, student.born.day)
    day_before = recipients(student, "miro-tavenhall", eighteen - timedelta(days=1))
    assert day_before.addresses == ("henrik.tavenhall@example.org",)
    to = recipients(student, "miro-tavenhall", eighteen)
    assert (to.addresses, to.name, to.guardian) == (("miro@example.org",), "Miro Tavenhall", None)


def test_an_adult_without_an_address_gets_nothing(demo: Demo) -> None:
    student = demo.student("petra-lumsgate").model_copy(update={"mail": StudentMail()})
    with pytest.raises(NoRecipientError, match="has no address"):
        recipients(student, "petra-lumsgate", TODAY)


@pytest.mark.parametrize(
    ("written", "sent_to"),
    [
        ("Mara.Lind+golf@Example.ORG", "Mara.Lind+golf@example.org"),
        ("mara@bücher.example", "mara@xn--bcher-kva.example"),
        ("mära@example.org", "mära@example.org"),
        ("o'hara@example.org", "o'hara@example.org"),
    ],
)
def test_addresses_keep_their_local_part_and_get_an_ascii_domain(written: str, sent_to: str) -> None:
    assert address(written) == sent_to


@pytest.mark.parametrize(
    "written",
    [
        "a\nb@example.org", "a\u2028b@example.org", "a\x1b@example.org", "a b@example.org", "a(b)@example.org",
        "a@b@example.org", ".a@example.org", "a..b@example.org", "a.@example.org", '"a"@example.org', "a\\@example.org",
        "[a]@example.org", "@example.org", "a@straße.example", "a@exa\u200dmple.org", "a@.example", "a@-..org",
    ],
)  # fmt: skip
def test_addresses_that_could_mean_another_are_refused(written: str) -> None:
    with pytest.raises(NoRecipientError):
        address(written)


@given(st.text(max_size=80))
def test_one_line_is_one_line_that_nothing_decodes(text: str) -> None:
    line = one_line(text)
    assert line.splitlines() in ([], [line])
    assert "=?" not in line
    assert not any(unicodedata.category(sign) == "Cc" for sign in line)
    assert one_line(line) == line


def test_one_line_keeps_names_of_every_script() -> None:
    for name in ("Zoë Ångström", "Ивана Петрова", "山田 花子", "محمد", "O’Brien, Jr."):
        assert one_line(name) == name
