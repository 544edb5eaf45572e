"""A PDF that only a passphrase opens."""

from io import BytesIO

import pikepdf


def locked_pdf(pdf: bytes, passphrase: str) -> bytes:
    """The PDF encrypted with AES-256 (ISO 32000-2, revision 6); a screen reader may read it all the same.

    A PDF has two passwords that open it, and readers take them letter by letter: one is the passphrase as it is
    printed, in groups with spaces, the other the same without them.
    """
    out = BytesIO()
    with pikepdf.open(BytesIO(pdf)) as opened:
        allowed = pikepdf.Permissions(accessibility=True)
        together = "".join(passphrase.split())
        opened.save(out, encryption=pikepdf.Encryption(owner=together, user=passphrase, R=6, allow=allowed))
    return out.getvalue()
