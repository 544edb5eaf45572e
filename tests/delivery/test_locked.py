"""A recap that travels by mail may be locked with its reader's passphrase."""

from io import BytesIO

import pikepdf
import pytest

from reportgen.delivery.locked import locked_pdf


@pytest.fixture(scope="module")
def locked() -> bytes:
    plain = BytesIO()
    with pikepdf.new() as pdf:
        pdf.add_blank_page()
        pdf.docinfo["/Title"] = "Mara: recap"
        pdf.save(plain)
    return locked_pdf(plain.getvalue(), "k7m 29d 8hf w3n 4tg qxr")


@pytest.mark.parametrize("passphrase", ["", "k7m 29d 8hf w3n 4tg qxx"])
def test_no_other_passphrase_opens_it(locked: bytes, passphrase: str) -> None:
    assert b"Mara" not in locked
    with pytest.raises(pikepdf.PasswordError):
        pikepdf.open(BytesIO(locked), password=passphrase)


def test_its_passphrase_opens_it_and_aes_256_keeps_it(locked: bytes) -> None:
    with pikepdf.open(BytesIO(locked), password="k7m 29d 8hf w3n 4tg qxr") as pdf:
        assert str(pdf.docinfo["/Title"]) == "Mara: recap"
        assert (pdf.encryption.R, pdf.encryption.bits) == (6, 256)
        assert pdf.encryption.stream_method == pikepdf.models.EncryptionMethod.aesv3
        assert pdf.allow.accessibility
