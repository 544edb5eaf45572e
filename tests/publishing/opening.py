"""A reader of sealed pages of its own, written from the description in reportgen/publishing/seal.py alone."""

import base64
import hmac
import json
import re
import zlib
from hashlib import pbkdf2_hmac
from pathlib import Path

from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.kdf.hkdf import HKDF
from cryptography.hazmat.primitives.keywrap import InvalidUnwrap, aes_key_unwrap

SIGNS = "0123456789BCDFGHJKLMNPQRSTVWXZbcdfghjklmnpqrstvwxz!$()*+,-.:;=?@"


class DoesNotOpenError(Exception):
    """Neither a part of a text nor anything else comes out."""


def _bytes(written: str) -> bytes:
    bits = "".join(f"{SIGNS.index(sign):06b}" for sign in written)
    return bytes(int(bits[at : at + 8], 2) for at in range(0, len(bits) - 7, 8))


def carried(file: Path) -> str:
    """The text that a published file hands to the shell."""
    found = re.search(r"<pre hidden>(.*)</pre>", file.read_text(encoding="utf-8"))
    assert found is not None, file
    return found[1]


class Opened:
    """An area below upload/, opened with its content key."""

    def __init__(self, upload: Path, area: str, key: bytes) -> None:
        self.folder, self.area, self.key = upload / area, area, key

    def subkey(self, purpose: str) -> bytes:
        return HKDF(SHA256(), 32, self.area.encode(), f"reportgen {purpose}".encode()).derive(self.key)

    def file_of(self, folder: str) -> Path:
        named = hmac.digest(self.subkey("names"), folder.encode(), "sha256")[:16]
        return self.folder / f"{base64.b32encode(named).decode().rstrip('=').lower()}.html"

    def files(self, folder: str) -> dict[str, bytes]:
        """The files of one folder of the area."""
        file = self.file_of(folder)
        if not file.is_file():
            raise DoesNotOpenError(folder)
        try:
            sealed = _bytes(carried(file))
            bound = f"reportgen 1\n{self.area}\n{folder}".encode()
            whole = AESGCM(self.subkey("pages")).decrypt(sealed[:12], sealed[12:], bound)
        except (InvalidTag, ValueError):
            raise DoesNotOpenError(folder) from None
        packed = zlib.decompress(whole[4 : 4 + int.from_bytes(whole[:4], "big")])
        start = 4 + int.from_bytes(packed[:4], "big")
        index = json.loads(packed[4:start])
        return {name: packed[start + at : start + at + length] for name, (at, length) in index.items()}


def open_area(upload: Path, area: str, passphrase: str) -> Opened:
    """A student's area or the library, as its own page opens it. Raises DoesNotOpenError."""
    if not (upload / area / "keys.html").is_file():
        raise DoesNotOpenError(area)
    keys = json.loads(carried(upload / area / "keys.html"))
    typed = passphrase.replace(" ", "").encode()

    def stretched(salt: str, length: int) -> bytes:
        return pbkdf2_hmac("sha256", typed, _bytes(salt), keys["rounds"], length)

    members = keys["members"]
    if "salt" in keys:
        tag = stretched(keys["salt"], 16)
        members = [member for member in members if _bytes(member["tag"]) == tag]
    for member in members:
        try:
            return Opened(upload, area, aes_key_unwrap(stretched(member["salt"], 32), _bytes(member["key"])))
        except InvalidUnwrap:
            continue
    raise DoesNotOpenError(area)


def open_library_from(student: Opened) -> Opened:
    """The library, as a student's page opens it without another passphrase."""
    keys = json.loads(carried(student.folder / "keys.html"))
    key = aes_key_unwrap(student.subkey("keys"), _bytes(keys["library"]))
    return Opened(student.folder.parents[1], "library", key)
