"""The keyring: members, passphrases and content keys, in one file that only the instructor's passphrase opens.

It stands beside the academy's folder, readable by its owner alone. The ids of the members are written in clear, so that
`members list` and `check` need no passphrase; they are authenticated with the rest.
"""

import base64
import json
import os
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from secrets import token_bytes
from types import MappingProxyType
from typing import Any

from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.kdf.scrypt import Scrypt

from reportgen.errors import ReportgenError
from reportgen.publishing.passphrases import as_typed, new_passphrase
from reportgen.publishing.seal import KEY_BYTES, NONCE_BYTES, SALT_BYTES, stretched

FORMAT = 1
SCRYPT_N, SCRYPT_R, SCRYPT_P = 1 << 17, 8, 1
"""Cost of scrypt (RFC 7914) for the instructor's passphrase, as the OWASP Password Storage Cheat Sheet advises."""


class KeyringError(ReportgenError):
    """The keyring cannot be used; the message says why and how to mend it."""


@dataclass(frozen=True)
class Member:
    """One person's passphrase and what is derived from it, once: the key that wraps content keys (`wrapping`, with
    the salt of this member), and the mark by which the library's page finds this member's entry (`tag`)."""

    passphrase: str
    salt: bytes
    wrapping: bytes
    tag: bytes
    area: bytes
    """The content key of this member's own pages, fresh with each passphrase."""


@dataclass(frozen=True)
class Keyring:
    """All members by id, the content key of the library, and the salt of the members' tags.

    Members who are no students of the academy have the library alone.
    """

    members: Mapping[str, Member]
    library: bytes
    tag_salt: bytes


def empty_keyring() -> Keyring:
    """A keyring without members, with a library key of its own."""
    return Keyring(MappingProxyType({}), token_bytes(KEY_BYTES), token_bytes(SALT_BYTES))


def with_member(keyring: Keyring, name: str) -> Keyring:
    """The keyring with a new passphrase for `name`, who may have had one before; the library has a fresh key."""
    passphrase, salt = new_passphrase(), token_bytes(SALT_BYTES)
    typed = as_typed(passphrase)
    member = Member(
        passphrase,
        salt,
        stretched(typed, salt),
        stretched(typed, keyring.tag_salt, SALT_BYTES),
        token_bytes(KEY_BYTES),
    )
    return _changed(keyring, {**keyring.members, name: member})


def without_member(keyring: Keyring, name: str) -> Keyring:
    """The keyring without `name`; the library has a fresh key."""
    return _changed(keyring, {other: member for other, member in keyring.members.items() if other != name})


def _changed(keyring: Keyring, members: dict[str, Member]) -> Keyring:
    return replace(keyring, members=MappingProxyType(dict(sorted(members.items()))), library=token_bytes(KEY_BYTES))


def member_names(file: Path) -> tuple[str, ...]:
    """The ids of the members, as written in clear; nobody has vouched for them yet. Raises KeyringError."""
    return tuple(_read(file)["members"])


def read_keyring(file: Path, passphrase: str) -> Keyring:
    """Open the keyring in `file`. Raises KeyringError where the passphrase is wrong or the file was changed."""
    outside = _read(file)
    try:
        sealed = _bytes(outside["sealed"])
        key = Scrypt(_bytes(outside["salt"]), KEY_BYTES, SCRYPT_N, SCRYPT_R, SCRYPT_P).derive(passphrase.encode())
        text = AESGCM(key).decrypt(sealed[:NONCE_BYTES], sealed[NONCE_BYTES:], _bound(outside["members"]))
        inside = json.loads(text)
        members = {
            name: Member(one["passphrase"], *(_bytes(one[part]) for part in ("salt", "wrapping", "tag", "area")))
            for name, one in inside["members"].items()
        }
        return Keyring(MappingProxyType(members), _bytes(inside["library"]), _bytes(inside["tag_salt"]))
    except InvalidTag:
        raise KeyringError(
            f"{file} does not open: the passphrase is another one, or the file was changed. Where it is lost, move the "
            "file away and give every member a new passphrase: reportgen members add ACADEMY --all"
        ) from None
    except (KeyError, TypeError, ValueError, AttributeError):
        raise KeyringError(f"{file} is damaged. Put back a copy of it.") from None


def write_keyring(file: Path, keyring: Keyring, passphrase: str) -> None:
    """Seal the keyring into `file`, for its owner's eyes alone, replacing what is there in one step. Raises OSError."""
    salt, nonce, names = token_bytes(SALT_BYTES), token_bytes(NONCE_BYTES), list(keyring.members)
    inside = {
        "members": {
            name: {"passphrase": m.passphrase}
            | {part: _text(getattr(m, part)) for part in ("salt", "wrapping", "tag", "area")}
            for name, m in keyring.members.items()
        },
        "library": _text(keyring.library),
        "tag_salt": _text(keyring.tag_salt),
    }
    key = Scrypt(salt, KEY_BYTES, SCRYPT_N, SCRYPT_R, SCRYPT_P).derive(passphrase.encode())
    sealed = nonce + AESGCM(key).encrypt(nonce, json.dumps(inside).encode(), _bound(names))
    outside = {"reportgen keyring": FORMAT, "members": names, "salt": _text(salt), "sealed": _text(sealed)}
    beside = file.with_name(f".{file.name}.new")
    beside.unlink(missing_ok=True)
    with os.fdopen(os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w", encoding="utf-8") as stream:
        json.dump(outside, stream, indent=1)
        stream.write("\n")
        stream.flush()
        os.fsync(stream.fileno())
    beside.replace(file)


def _read(file: Path) -> dict[str, Any]:
    try:
        outside = json.loads(file.read_text(encoding="utf-8"))
        version, names = outside["reportgen keyring"], outside["members"]
    except OSError as error:
        raise KeyringError(f"{file}: {error.strerror}.") from None
    except (ValueError, KeyError, TypeError):
        raise KeyringError(f"{file} is no keyring, or damaged. Put back a copy of it.") from None
    if version != FORMAT:
        raise KeyringError(f"{file} was written by a later reportgen. Use that one.")
    if not isinstance(names, list) or not all(isinstance(name, str) for name in names):
        raise KeyringError(f"{file} is no keyring, or damaged. Put back a copy of it.")
    return dict(outside)


def _bound(names: list[str]) -> bytes:
    return json.dumps(["reportgen keyring", FORMAT, names]).encode()


def _text(data: bytes) -> str:
    return base64.b64encode(data).decode()


def _bytes(text: str) -> bytes:
    return base64.b64decode(text, validate=True)
