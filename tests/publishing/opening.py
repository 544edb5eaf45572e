"""A reader of sealed pages of its own, written from WHO-IS-KEPT-OUT.md alone: `test_seal.py` holds that
every name and number below stands there."""

import base64
import hmac
import json
import re
import zlib
from functools import cache
from pathlib import Path

from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.kdf.hkdf import HKDF
from cryptography.hazmat.primitives.kdf.pbkdf2 import PBKDF2HMAC
from cryptography.hazmat.primitives.keywrap import InvalidUnwrap, aes_key_unwrap

SIGNS = "0123456789BCDFGHJKLMNPQRSTVWXZbcdfghjklmnpqrstvwxz!$()*+,-.:;=?@"
FORMAT = "reportgen 2"
BIG = "big"
BITS = {sign: f"{at:06b}" for at, sign in enumerate(SIGNS)}


class DoesNotOpenError(Exception):
    """Neither a part of a text nor anything else comes out."""


def bytes_of(written: str) -> bytes:
    """What was written in SIGNS, 6 bits each."""
    bits = "".join([BITS[sign] for sign in written])
    whole = len(bits) // 8
    return int(bits[: whole * 8], 2).to_bytes(whole, BIG)


def base32(data: bytes) -> str:
    """Base 32 in small letters, nothing filled up."""
    return base64.b32encode(data).decode().rstrip("=").lower()


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
        return HKDF(SHA256(), 32, self.area.encode(), f"{FORMAT} {purpose}".encode()).derive(self.key)

    def file_of(self, folder: str) -> Path:
        named = hmac.digest(self.subkey("names"), folder.encode(), "sha256")[:16]
        return self.folder / f"{base32(named)}.html"

    def files(self, folder: str) -> dict[str, bytes]:
        """The files of one folder of the area."""
        file = self.file_of(folder)
        if not file.is_file():
            raise DoesNotOpenError(folder)
        try:
            sealed = bytes_of(carried(file))
            bound = f"{FORMAT}\n{self.area}\n{folder}".encode()
            whole = AESGCM(self.subkey("pages")).decrypt(sealed[:12], sealed[12:], bound)
        except (InvalidTag, ValueError, KeyError):
            raise DoesNotOpenError(folder) from None
        packed = zlib.decompress(whole[4 : 4 + int.from_bytes(whole[:4], BIG)])
        start = 4 + int.from_bytes(packed[:4], BIG)
        index = json.loads(packed[4:start])
        return {name: packed[start + at : start + at + length] for name, (at, length) in index.items()}

    def places(self) -> list[str]:
        """The places of the area, by their paths inside it."""
        places: list[str] = json.loads(self.files("")["places.json"])["places"]
        return places

    def route(self, place: str, anchor: str = "") -> str:
        """What stands behind the # of the address for a place (inside this area, or library/...) and an anchor."""
        key = bytes_of(json.loads(self.files("")["places.json"])["key"])

        def letters(text: str) -> str:
            return base32(hmac.digest(key, text.encode(), "sha256"))

        return letters(place)[:16] + (letters(f"{place}#{anchor}")[:8] if anchor else "")


@cache
def stretched(typed: bytes, salt: str, rounds: int) -> bytes:
    """What a passphrase gives, in as many rounds; it takes a while, and every test opens with the same few."""
    return PBKDF2HMAC(SHA256(), 32, bytes_of(salt), rounds).derive(typed)


def open_area(upload: Path, area: str, passphrase: str) -> Opened:
    """A student's area or the library, as its own page opens it. Raises DoesNotOpenError."""
    if not (upload / area / "keys.html").is_file():
        raise DoesNotOpenError(area)
    keys = json.loads(carried(upload / area / "keys.html"))
    typed = passphrase.replace(" ", "").encode()
    rounds, members = keys["rounds"], keys["members"]
    if "salt" in keys:
        tag = hmac.digest(stretched(typed, keys["salt"], rounds), f"{FORMAT} tag".encode(), "sha256")[:16]
        members = [member for member in members if bytes_of(member["tag"]) == tag]
    for member in members:
        try:
            under = stretched(typed, member["salt"], rounds)
            return Opened(upload, area, aes_key_unwrap(under, bytes_of(member["key"])))
        except InvalidUnwrap:
            continue
    raise DoesNotOpenError(area)


def open_library_from(student: Opened) -> Opened:
    """The library, as a student's page opens it without another passphrase."""
    keys = json.loads(carried(student.folder / "keys.html"))
    key = aes_key_unwrap(student.subkey("keys"), bytes_of(keys["library"]))
    return Opened(student.folder.parents[1], "library", key)
