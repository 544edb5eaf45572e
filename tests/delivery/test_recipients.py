"""Who gets the mail, and names and addresses that can do no harm in a header."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportgen.delivery.recipients import NoRecipientError, address, one_line, recipients
from reportgen.records.academy import Instructor
from tests.delivery.conftest import Demo


def test_an_adult_gets_it_at_every_address_once(demo: Demo) -> None:
    mails = ("petra@example.org", "petra@example.net", "petra@example.org")
    student = demo.student("petra-lumsgate").model_copy(update={"mail": mails})
    to = recipients(student, demo.report("petra-lumsgate"))
    assert (to.addresses, to.guardian) == (("petra@example.org", "petra@example.net"), None)


def test_for_a_minor_it_goes_to_the_guardian_alone(demo: Demo) -> None:
    student = demo.student("miro-tavenhall").model_copy(update={"mail": ("miro@example.org",)})
    to = recipients(student, demo.report("miro-tavenhall"))
    assert (to.addresses, to.guardian) == (("henrik.tavenhall@example.org",), "Henrik Tavenhall")


@pytest.mark.parametrize("guardian", [None, Instructor(name="Henrik Tavenhall")])
def test_a_minor_without_a_guardians_address_gets_nothing(demo: Demo, guardian: Instructor | None) -> None:
    student = demo.student("miro-tavenhall").model_copy(update={"guardian": guardian, "mail": ("miro@example.org",)})
    with pytest.raises(NoRecipientError, match="no guardian's address"):
        recipients(student, demo.report("miro-tavenhall"))


def test_an_adult_without_an_address_gets_nothing(demo: Demo) -> None:
    student = demo.student("petra-lumsgate").model_copy(update={"mail": ()})
    with pytest.raises(NoRecipientError, match="has no address"):
        recipients(student, demo.report("petra-lumsgate"))


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
