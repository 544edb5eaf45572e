"""Sealing: keys, wrapping, authenticated encryption of a folder's files. `sealed-open.js` is the other side.

content key  32 random bytes of one area; HKDF-SHA-256 (RFC 5869, the area as salt) gives its subkeys:
             `pages` AES-256-GCM, `names` HMAC of file names, `nonces` HMAC of nonces, `keys` AES-KW of other keys
passphrase   PBKDF2-HMAC-SHA-256 (RFC 8018) gives the key that wraps the content key by AES-KW (RFC 3394)
bundle       the files of one folder, packed, deflated, padded to a power of two, encrypted; area and folder are bound
             in as associated data, so that no bundle can stand in another's place

WHO-IS-KEPT-OUT.md beside this file writes all of it down for who builds another reader.
"""

import base64
import hmac
import json
import zlib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from hashlib import sha256

from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.kdf.hkdf import HKDF
from cryptography.hazmat.primitives.kdf.pbkdf2 import PBKDF2HMAC
from cryptography.hazmat.primitives.keywrap import InvalidUnwrap, aes_key_unwrap, aes_key_wrap

from reportgen.sealing.addresses import base32

FORMAT = "reportgen 2"
"""Begins every label of a subkey and whatever is bound in; what an earlier program sealed, no later door opens."""

ROUNDS = 600_000
"""Rounds of PBKDF2-HMAC-SHA-256: the least that the OWASP Password Storage Cheat Sheet advises."""

KEY_BYTES = 32
SALT_BYTES = 16
TAG_BYTES = 16
NONCE_BYTES = 12
SMALLEST = 1 << 14
"""Bytes of the smallest bundle; every other is a power of two above it."""

SIGNS = "0123456789BCDFGHJKLMNPQRSTVWXZbcdfghjklmnpqrstvwxz!$()*+,-.:;=?@"
"""Base 64 without vowels, so that no word comes about by chance in what is published."""

_BASE64 = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/"
_TO_SIGNS = bytes.maketrans(_BASE64, SIGNS.encode())
_TO_BASE64 = str.maketrans(SIGNS, _BASE64.decode())


def written(data: bytes) -> str:
    """Bytes as SIGNS, the most significant bits first."""
    return base64.b64encode(data).rstrip(b"=").translate(_TO_SIGNS).decode()


def unwritten(signs: str) -> bytes:
    """The bytes that were written so. Raises ValueError."""
    text = signs.translate(_TO_BASE64)
    return base64.b64decode(text + "=" * (-len(text) % 4), validate=True)


def stretched(passphrase: str, salt: bytes) -> bytes:
    """A key from a passphrase, as slowly as ROUNDS asks."""
    return PBKDF2HMAC(SHA256(), KEY_BYTES, salt, ROUNDS).derive(passphrase.encode())


def wrapped(key: bytes, under: bytes) -> bytes:
    """A key wrapped under another (AES-KW, RFC 3394); the same bytes each time."""
    return aes_key_wrap(under, key)


def unwrapped(text: bytes, under: bytes) -> bytes | None:
    """What was wrapped under this key; None where it was another one, or the text was changed."""
    try:
        return aes_key_unwrap(under, text)
    except (InvalidUnwrap, ValueError):
        return None


def subkey(key: bytes, salt: str, purpose: str) -> bytes:
    """The key for one purpose that comes from another (HKDF-SHA-256)."""
    return HKDF(SHA256(), KEY_BYTES, salt.encode(), f"{FORMAT} {purpose}".encode()).derive(key)


def tag_of(stretched_by_tag_salt: bytes) -> bytes:
    """By which the library's door finds a member's entry: an HMAC, under what their passphrase stretches to with the
    salt that all tags share."""
    return hmac.digest(stretched_by_tag_salt, f"{FORMAT} tag".encode(), "sha256")[:TAG_BYTES]


@dataclass(frozen=True)
class AreaKey:
    """The content key of one area: a student's pages, or the library."""

    area: str
    key: bytes

    def _subkey(self, purpose: str) -> bytes:
        return subkey(self.key, self.area, purpose)

    @cached_property
    def _pages(self) -> AESGCM:
        return AESGCM(self._subkey("pages"))

    @cached_property
    def _names(self) -> bytes:
        return self._subkey("names")

    @cached_property
    def _nonces(self) -> bytes:
        return self._subkey("nonces")

    @property
    def mark(self) -> str:
        """By which a publish knows again what it sealed under this key; it tells nothing of the key."""
        return self._subkey("mark").hex()

    def wrapping(self, other: "AreaKey") -> bytes:
        """The content key of another area, for whoever can open this one."""
        return wrapped(other.key, self._subkey("keys"))

    def file_name(self, folder: str) -> str:
        """The published name of a folder's bundle: 128 bits of HMAC in base 32."""
        return base32(hmac.digest(self._names, folder.encode(), "sha256")[:16])

    def sealed(self, folder: str, files: Mapping[str, bytes]) -> bytes:
        """The bundle of a folder: nonce, ciphertext, tag. The same files give the same bytes while the key lives.

        The nonce is an HMAC of all that is encrypted and bound in, so that two texts never share one.
        """
        bound = f"{FORMAT}\n{self.area}\n{folder}".encode()
        text = padded(zlib.compress(packed(files)))
        nonce = hmac.digest(self._nonces, sha256(bound).digest() + text, "sha256")[:NONCE_BYTES]
        return nonce + self._pages.encrypt(nonce, text, bound)


def packed(files: Mapping[str, bytes]) -> bytes:
    """Files as one text: length of the index (4 bytes), index as JSON (name -> [start, length]), contents."""
    index: dict[str, list[int]] = {}
    start = 0
    for name, data in sorted(files.items()):
        index[name] = [start, len(data)]
        start += len(data)
    head = json.dumps(index, separators=(",", ":")).encode()
    return len(head).to_bytes(4, "big") + head + b"".join(data for _, data in sorted(files.items()))


def padded(text: bytes) -> bytes:
    """The length of a text (4 bytes), the text, and zeros up to SMALLEST or the next power of two."""
    whole = len(text).to_bytes(4, "big") + text
    return whole.ljust(max(SMALLEST, 1 << (len(whole) - 1).bit_length()), b"\0")
