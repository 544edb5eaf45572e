"""The files of an area as they are published sealed: shell, keys, and a bundle for each folder."""

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from reportgen.pages.sealed import carrier, shell_pages
from reportgen.publishing.addresses import token
from reportgen.publishing.keyring import Keyring, Member
from reportgen.publishing.privacy import KEYS
from reportgen.publishing.seal import ROUNDS, AreaKey, wrapped, written
from reportgen.records.academy import Academy

LIBRARY = "library"


@dataclass(frozen=True)
class Seal:
    """What sealing one area takes: its content key, the public page that opens it, and the file with the wrapped
    keys."""

    key: AreaKey
    shell: bytes
    keys: bytes


def place_of(student: str, academy: Academy) -> str:
    """The folder of a student's area below upload/, and its name in everything that is sealed."""
    return f"s/{token(student, academy)}"


@dataclass(frozen=True)
class Seals:
    """How every area of an academy is sealed: those of the students who are members, and the library."""

    students: Mapping[str, Seal]
    library: Seal


def seals_of(students: Iterable[str], keyring: Keyring, academy: Academy, root: Path) -> Seals:
    """The seals of the members among `students`, by id, and of the library."""
    shell, library = shell_pages(academy, root), AreaKey(LIBRARY, keyring.library)
    found = {}
    for name in students:
        if (member := keyring.members.get(name)) is not None:
            key = AreaKey(place_of(name, academy), member.area)
            found[name] = Seal(key, shell(key.area), _student_keys(member, key, library))
    return Seals(found, Seal(library, shell(LIBRARY), _library_keys(keyring)))


def sealed_files(files: Mapping[str, bytes], seal: Seal) -> dict[str, bytes]:
    """The published files of an area: the shell, the wrapped keys, and a bundle for each folder of `files`.

    Neither names, nor how many pages and pictures a folder has, nor their sizes can be told from outside.
    """
    folders: dict[str, dict[str, bytes]] = {}
    for name, data in files.items():
        path = PurePosixPath(name)
        folder = "" if path.parent == PurePosixPath() else path.parent.as_posix()
        folders.setdefault(folder, {})[path.name] = data
    bundles = {
        f"{seal.key.file_name(folder)}.html": carrier(written(seal.key.sealed(folder, inside)))
        for folder, inside in folders.items()
    }
    return {"index.html": seal.shell, KEYS: seal.keys, **bundles}


def is_sealed_by(area: Path, key: AreaKey) -> bool:
    """Whether the published area in a folder is sealed, under this very key."""
    return (area / f"{key.file_name('')}.html").is_file()


def _student_keys(member: Member, area: AreaKey, library: AreaKey) -> bytes:
    """keys.html of a student's area: its content key for the one passphrase, and the library's for whoever is in."""
    entry = {"salt": written(member.salt), "key": written(wrapped(member.area, member.wrapping))}
    return _keys({"rounds": ROUNDS, "members": [entry], "library": written(area.wrapping(library))})


def _library_keys(keyring: Keyring) -> bytes:
    """keys.html of the library: its content key for every member's passphrase, in the order of the members' tags."""
    entries = [
        {
            "tag": written(member.tag),
            "salt": written(member.salt),
            "key": written(wrapped(keyring.library, member.wrapping)),
        }
        for member in sorted(keyring.members.values(), key=lambda member: member.tag)
    ]
    return _keys({"rounds": ROUNDS, "salt": written(keyring.tag_salt), "members": entries})


def _keys(values: Mapping[str, object]) -> bytes:
    return carrier(json.dumps(values, separators=(",", ":")))
