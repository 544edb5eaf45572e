"""A recap that travels by mail may be locked with its reader's passphrase."""

from io import BytesIO

import pikepdf
import pytest

from reportgen.sealing.locked import locked_pdf


@pytest.fixture(scope="module")
def locked() -> bytes:
    plain = BytesIO()
    with pikepdf.new() as pdf:
        pdf.add_blank_page()
        pdf.docinfo["/Title"] = "Mara: recap"
        pdf.save(plain)
    return locked_pdf(plain.getvalue(), "k7m 29d 8hf w3n 4tg qxr")


@pytest.mark.parametrize("passphrase", ["", "k7m 29d 8hf w3n 4tg qxx", "k7m29d8hfw3n4tgqxx"])
def test_no_other_passphrase_opens_it(locked: bytes, passphrase: str) -> None:
    assert b"Mara" not in locked
    with pytest.raises(pikepdf.PasswordError):
        pikepdf.open(BytesIO(locked), password=passphrase)


@pytest.mark.parametrize("typed", ["k7m 29d 8hf w3n 4tg qxr", "k7m29d8hfw3n4tgqxr"])
def test_its_passphrase_opens_it_in_groups_or_all_together_and_aes_256_keeps_it(locked: bytes, typed: str) -> None:
    with pikepdf.open(BytesIO(locked), password=typed) as pdf:
        assert str(pdf.docinfo["/Title"]) == "Mara: recap"
        assert (pdf.encryption.R, pdf.encryption.bits) == (6, 256)
        assert pdf.encryption.stream_method == pikepdf.models.EncryptionMethod.aesv3
        assert pdf.allow.accessibility
