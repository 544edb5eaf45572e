"""What a browser's profile folder holds: every file as it lies there, and unpacked where it is packed."""

import base64
from collections.abc import Iterable, Iterator
from pathlib import Path

MOZ_LZ4 = b"mozLz40\0"
"""How a file begins that Firefox packed: then comes the length of what is in it, and one block of LZ4."""


def contents(profile: Path) -> Iterator[tuple[Path, bytes]]:
    """Every file of a profile, and beside it what is packed in it."""
    for file in sorted(profile.rglob("*")):
        if file.is_file():
            data = file.read_bytes()
            yield file, data
            if data.startswith(MOZ_LZ4):
                yield file, unpacked(data[len(MOZ_LZ4) + 4 :])


def unpacked(block: bytes) -> bytes:
    """A block of LZ4, by the LZ4 Block Format Description: literals, then a copy of what is out already, and again."""
    out, at = bytearray(), 0

    def length(begun: int) -> int:
        nonlocal at
        more = 255 if begun == 15 else 0
        while more == 255:
            more = block[at]
            begun += more
            at += 1
        return begun

    while at < len(block):
        token = block[at]
        at += 1
        literals = length(token >> 4)
        out += block[at : at + literals]
        at += literals
        if at >= len(block):
            break
        back = int.from_bytes(block[at : at + 2], "little")
        at += 2
        for _ in range(length(token & 15) + 4):
            out.append(out[-back])
    return bytes(out)


def told_in(profile: Path, words: Iterable[str]) -> set[tuple[str, str]]:
    """Which of the words stand in which files, in small letters or capitals, in letters of one byte or of two."""
    sought = {word: {_plain(word.encode()), _plain(word.encode("utf-16-le"))} for word in words}
    found = set()
    for file, data in contents(profile):
        small = _plain(data)
        found |= {(word, file.name) for word, ways in sought.items() if any(way in small for way in ways)}
    return found


def secrets_in(profile: Path, secrets: Iterable[bytes]) -> set[str]:
    """The files in which one of the secrets stands: its bytes, or these written as digits in letters of any size."""
    secrets = list(secrets)
    as_bytes = {way for secret in secrets for way in (secret, _swapped(secret), _swapped(secret[1:]))}
    as_digits = {_plain(digits.encode()) for secret in secrets for digits in _digits(secret)}
    found = set()
    for file, data in contents(profile):
        small = _plain(data)
        if any(way in data for way in as_bytes) or any(way in small for way in as_digits):
            found.add(file.name)
    return found


def _plain(data: bytes) -> bytes:
    """Small letters without the zeros that fill up letters of two bytes, and empty pages of files."""
    return data.lower().replace(b"\0", b"")


def _swapped(data: bytes) -> bytes:
    """The bytes of each pair the other way round."""
    return bytes(byte for pair in zip(data[1::2], data[::2], strict=False) for byte in pair)


def _digits(secret: bytes) -> Iterator[str]:
    """The bytes as hexadecimal digits, and as those of base 64 wherever they begin in what is written."""
    yield secret.hex()
    for start in range(3):
        whole = secret[start : start + (len(secret) - start) // 3 * 3]
        yield base64.b64encode(whole).decode()
        yield base64.urlsafe_b64encode(whole).decode()
