"""A PDF that only a passphrase opens."""

from io import BytesIO

import pikepdf


def locked_pdf(pdf: bytes, passphrase: str) -> bytes:
    """The PDF encrypted with AES-256 (ISO 32000-2, revision 6); a screen reader may read it all the same."""
    out = BytesIO()
    with pikepdf.open(BytesIO(pdf)) as opened:
        allowed = pikepdf.Permissions(accessibility=True)
        opened.save(out, encryption=pikepdf.Encryption(owner=passphrase, user=passphrase, R=6, allow=allowed))
    return out.getvalue()
