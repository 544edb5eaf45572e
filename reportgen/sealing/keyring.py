"""The keyring: members, passphrases and content keys, in one file that only the instructor's passphrase opens.

It stands beside the academy's folder, readable by its owner alone. The ids of the members are written in clear, so that
`members list` and `check` need no passphrase; they are authenticated with the rest.

Each time that it is written it counts one more. The count stands, sealed, in the mark beside it and in the published
library, so that an old keyring put back is noticed: it would let in again who was removed since.
"""

import base64
import json
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
from reportgen.rights import close, write_atomically
from reportgen.sealing.passphrases import as_typed, new_passphrase
from reportgen.sealing.privacy import mark_beside
from reportgen.sealing.seal import (
    KEY_BYTES,
    NONCE_BYTES,
    SALT_BYTES,
    stretched,
    subkey,
    tag_of,
    unwrapped,
    unwritten,
    wrapped,
    written,
)

FORMAT = 2
FIRST_FORMAT = 1
"""Knew neither the count nor keys of the library's own; it is brought up to date as it is read."""
COUNT_BYTES = 16

MARK = """\
The pages of this academy are sealed: while this file is here, reportgen publishes nothing in the open. To open them
on purpose, delete this file and the keyring beside it, and write private: link-only into academy.yaml.
"""
"""What the mark beside a keyring says; the sealed count follows."""

SCRYPT_N, SCRYPT_R, SCRYPT_P = 1 << 17, 8, 1
"""Cost of scrypt (RFC 7914) for the instructor's passphrase, as the OWASP Password Storage Cheat Sheet advises."""


class KeyringError(ReportgenError):
    """The keyring cannot be used; the message says why and how to mend it."""


@dataclass(frozen=True)
class Member:
    """One person's passphrase and what is derived from it, once: the key that wraps the content key of their own pages
    (`wrapping`, with its `salt`), the one that wraps that of the library (`library_wrapping`, with another salt: nobody
    can tell which entry of the library belongs to which area), and the mark by which the library's page finds this
    member's entry (`tag`)."""

    passphrase: str
    salt: bytes
    wrapping: bytes
    library_salt: bytes
    library_wrapping: bytes
    tag: bytes
    area: bytes
    """The content key of this member's own pages, fresh with each passphrase."""


_PARTS = ("salt", "wrapping", "library_salt", "library_wrapping", "tag", "area")


@dataclass(frozen=True)
class Keyring:
    """All members by id, the content key of the library, and the salt of the members' tags; how often this keyring was
    written, and the secret that seals that count, the same as long as the keyring lives.

    Members who are no students of the academy have the library alone.
    """

    members: Mapping[str, Member]
    library: bytes
    tag_salt: bytes
    count: int
    secret: bytes

    @property
    def sealed_count(self) -> str:
        """The count as it may be published: the same signs for the same count, and nobody else can tell it."""
        return written(wrapped(self.count.to_bytes(COUNT_BYTES, "big"), self._counting))

    def count_in(self, sealed: str) -> int | None:
        """The count that this very keyring sealed at some time; None where it was another one, or no count at all."""
        try:
            opened = unwrapped(unwritten(sealed), self._counting)
        except ValueError:
            return None
        return None if opened is None else int.from_bytes(opened, "big")

    @property
    def _counting(self) -> bytes:
        return subkey(self.secret, "keyring", "count")


def empty_keyring() -> Keyring:
    """A keyring without members that was never written, with a library key of its own."""
    return Keyring(MappingProxyType({}), token_bytes(KEY_BYTES), token_bytes(SALT_BYTES), 0, token_bytes(KEY_BYTES))


def with_member(keyring: Keyring, name: str) -> Keyring:
    """The keyring with a new passphrase for `name`, who may have had one before; the library has a fresh key."""
    passphrase, salt = new_passphrase(), token_bytes(SALT_BYTES)
    wrapping = stretched(as_typed(passphrase), salt)
    member = _member(passphrase, salt, wrapping, token_bytes(KEY_BYTES), keyring.tag_salt)
    return _changed(keyring, {**keyring.members, name: member})


def _member(passphrase: str, salt: bytes, wrapping: bytes, area: bytes, tag_salt: bytes) -> Member:
    """A member with what the library asks for, derived anew."""
    typed, library_salt = as_typed(passphrase), token_bytes(SALT_BYTES)
    tag = tag_of(stretched(typed, tag_salt))
    return Member(passphrase, salt, wrapping, library_salt, stretched(typed, library_salt), tag, area)


def without_member(keyring: Keyring, name: str) -> Keyring:
    """The keyring without `name`; the library has a fresh key."""
    return _changed(keyring, {other: member for other, member in keyring.members.items() if other != name})


def _changed(keyring: Keyring, members: dict[str, Member]) -> Keyring:
    return replace(keyring, members=MappingProxyType(dict(sorted(members.items()))), library=token_bytes(KEY_BYTES))


def member_names(file: Path) -> tuple[str, ...]:
    """The ids of the members, as written in clear; nobody has vouched for them yet. Raises KeyringError."""
    return tuple(_read(file)["members"])


def read_keyring(file: Path, passphrase: str) -> Keyring:
    """Open the keyring in `file`; one of an earlier format is brought up to date there, once.

    Raises KeyringError where the passphrase is wrong, the file was changed, or is older than the mark beside it tells;
    OSError where it cannot be brought up to date.
    """
    outside = _read(file)
    try:
        sealed = _bytes(outside["sealed"])
        key = Scrypt(_bytes(outside["salt"]), KEY_BYTES, SCRYPT_N, SCRYPT_R, SCRYPT_P).derive(passphrase.encode())
        bound = _bound(outside["reportgen keyring"], outside["members"])
        inside = json.loads(AESGCM(key).decrypt(sealed[:NONCE_BYTES], sealed[NONCE_BYTES:], bound))
        keyring = _of_first_format(inside) if outside["reportgen keyring"] == FIRST_FORMAT else _keyring(inside)
    except InvalidTag:
        raise KeyringError(
            f"{file} does not open: the passphrase is another one, or the file was changed. Where it is lost, move the "
            "file away and give every member a new passphrase: reportgen members add ACADEMY --all"
        ) from None
    except (KeyError, TypeError, ValueError, AttributeError):
        raise KeyringError(f"{file} is damaged. Put back a copy of it.") from None
    check_newest(keyring, file, _marked(mark_beside(file)))
    return keyring if keyring.count else write_keyring(file, _with_keys_of_the_library(keyring), passphrase)


def check_newest(keyring: Keyring, file: Path, sealed_count: str | None) -> None:
    """Raises KeyringError where `sealed_count`, found elsewhere, is of a later state of this keyring, read from `file`.

    A count that another keyring sealed says nothing of this one. An academy that has a count at all had a keyring that
    counts: one that does not was put back.
    """
    if sealed_count is None:
        return
    newest = keyring.count_in(sealed_count)
    if keyring.count == 0 or (newest is not None and newest > keyring.count):
        raise KeyringError(
            f"{file} is an old copy: members were changed since, and who was removed would be let in again. Put back "
            "the newest one. Where that is lost, move the file away and give every member a new passphrase: "
            "reportgen members add ACADEMY --all"
        )


def _keyring(inside: Mapping[str, Any]) -> Keyring:
    members = {
        name: Member(one["passphrase"], *(_bytes(one[part]) for part in _PARTS))
        for name, one in inside["members"].items()
    }
    library, tag_salt, secret = (_bytes(inside[part]) for part in ("library", "tag_salt", "secret"))
    return Keyring(MappingProxyType(members), library, tag_salt, int(inside["count"]), secret)


def _of_first_format(inside: Mapping[str, Any]) -> Keyring:
    """What the first format holds; what it does not is empty still."""
    members = {
        name: Member(
            one["passphrase"], _bytes(one["salt"]), _bytes(one["wrapping"]), b"", b"", b"", _bytes(one["area"])
        )
        for name, one in inside["members"].items()
    }
    return replace(empty_keyring(), members=MappingProxyType(members), library=_bytes(inside["library"]))


def _with_keys_of_the_library(keyring: Keyring) -> Keyring:
    """With what the first format did not hold. That takes a while for each member."""
    members = {
        name: _member(m.passphrase, m.salt, m.wrapping, m.area, keyring.tag_salt) for name, m in keyring.members.items()
    }
    return replace(keyring, members=MappingProxyType(members))


def write_keyring(file: Path, keyring: Keyring, passphrase: str) -> Keyring:
    """Seal the keyring into `file` with its count one higher, and write the mark beside it; both for their owner's eyes
    alone, each replacing what is there in one step. Returns the keyring as written. Raises OSError."""
    keyring = replace(keyring, count=keyring.count + 1)
    salt, nonce, names = token_bytes(SALT_BYTES), token_bytes(NONCE_BYTES), list(keyring.members)
    inside = {
        "members": {
            name: {"passphrase": m.passphrase} | {part: _text(getattr(m, part)) for part in _PARTS}
            for name, m in keyring.members.items()
        },
        "library": _text(keyring.library),
        "tag_salt": _text(keyring.tag_salt),
        "count": keyring.count,
        "secret": _text(keyring.secret),
    }
    key = Scrypt(salt, KEY_BYTES, SCRYPT_N, SCRYPT_R, SCRYPT_P).derive(passphrase.encode())
    sealed = nonce + AESGCM(key).encrypt(nonce, json.dumps(inside).encode(), _bound(FORMAT, names))
    outside = {"reportgen keyring": FORMAT, "members": names, "salt": _text(salt), "sealed": _text(sealed)}
    _write(file, json.dumps(outside, indent=1) + "\n")
    _write(mark_beside(file), f"{MARK}{keyring.sealed_count}\n")  # after it: a mark is never ahead of its keyring
    return keyring


def _write(file: Path, text: str) -> None:
    write_atomically(file, text.encode(), on_disk=True)  # a lost keyring is every passphrase lost


def _marked(mark: Path) -> str | None:
    """The count that stands in a mark, as its last line; None where there is no mark."""
    try:
        return (mark.read_text(encoding="utf-8", errors="replace").splitlines() or [""])[-1]
    except FileNotFoundError:
        return None


def _read(file: Path) -> dict[str, Any]:
    close(file)
    try:
        outside = json.loads(file.read_text(encoding="utf-8"))
        version, names = outside["reportgen keyring"], outside["members"]
    except OSError as error:
        raise KeyringError(f"{file}: {error.strerror}.") from None
    except (ValueError, KeyError, TypeError):
        raise KeyringError(f"{file} is no keyring, or damaged. Put back a copy of it.") from None
    if version not in (FIRST_FORMAT, FORMAT):
        raise KeyringError(f"{file} was written by a later reportgen. Use that one.")
    if not isinstance(names, list) or not all(isinstance(name, str) for name in names):
        raise KeyringError(f"{file} is no keyring, or damaged. Put back a copy of it.")
    return dict(outside)


def _bound(version: int, names: list[str]) -> bytes:
    return json.dumps(["reportgen keyring", version, names]).encode()


def _text(data: bytes) -> str:
    return base64.b64encode(data).decode()


def _bytes(text: str) -> bytes:
    return base64.b64decode(text, validate=True)
