"""The files of an area as they are published sealed: shell, keys, and a bundle for each folder."""

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from reportgen.pages.sealed import carried, carrier, shell_pages
from reportgen.records.academy import Academy
from reportgen.sealing.addresses import routing_key, token
from reportgen.sealing.keyring import Keyring, Member
from reportgen.sealing.privacy import KEYS
from reportgen.sealing.seal import ROUNDS, AreaKey, wrapped, written
from reportgen.sheets.academy_folder import Home

LIBRARY = "library"
COUNT = "count"
PICTURES = (".png", ".jpg", ".webp")
"""What stands on a page and is no place of its own."""
PLACES = "places.json"
"""In the first folder of an area: its places, and the key that makes their routes."""


@dataclass(frozen=True)
class Seal:
    """What sealing one area takes: its content key, the public page that opens it, the file with the wrapped keys, and
    what makes the routes of its places (`addresses.route`)."""

    key: AreaKey
    shell: bytes
    keys: bytes
    routing: bytes


def place_of(student: str, academy: Academy) -> str:
    """The folder of a student's area below upload/, and its name in everything that is sealed."""
    return f"s/{token(student, academy)}"


@dataclass(frozen=True)
class Seals:
    """How every area of an academy is sealed: those of the students who are members, and the library."""

    students: Mapping[str, Seal]
    library: Seal


def seals_of(students: Iterable[str], keyring: Keyring, home: Home) -> Seals:
    """The seals of the members among `students`, by id, and of the library."""
    academy = home.academy
    shell, library = shell_pages(home), AreaKey(LIBRARY, keyring.library)
    found = {}
    for name in students:
        if (member := keyring.members.get(name)) is not None:
            key = AreaKey(place_of(name, academy), member.area)
            routing = routing_key(key.area, academy)
            found[name] = Seal(key, shell(key.area), _student_keys(member, key, library), routing)
    return Seals(found, Seal(library, shell(LIBRARY), _library_keys(keyring), routing_key(LIBRARY, academy)))


def sealed_files(files: Mapping[str, bytes], seal: Seal) -> dict[str, bytes]:
    """The published files of an area: the shell, the wrapped keys, and a bundle for each folder of `files`.

    Neither names, nor how many pages and pictures a folder has, nor their sizes can be told from outside.
    """
    folders: dict[str, dict[str, bytes]] = {"": {PLACES: _places(files, seal)}}
    for name, data in files.items():
        path = PurePosixPath(name)
        folder = "" if path.parent == PurePosixPath() else path.parent.as_posix()
        folders.setdefault(folder, {})[path.name] = data
    bundles = {
        f"{seal.key.file_name(folder)}.html": carrier(written(seal.key.sealed(folder, inside)))
        for folder, inside in folders.items()
    }
    return {"index.html": seal.shell, KEYS: seal.keys, **bundles}


def _places(files: Iterable[str], seal: Seal) -> bytes:
    """What the door needs to lead to the places of an area without naming them in an address."""
    places = sorted(name for name in files if not name.endswith(PICTURES))
    return json.dumps({"key": written(seal.routing), "places": places}, separators=(",", ":")).encode()


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
            "salt": written(member.library_salt),
            "key": written(wrapped(keyring.library, member.library_wrapping)),
        }
        for member in sorted(keyring.members.values(), key=lambda member: member.tag)
    ]
    salt = written(keyring.tag_salt)
    return _keys({"rounds": ROUNDS, "salt": salt, "members": entries, COUNT: keyring.sealed_count})


def count_in(library: Path) -> str | None:
    """The sealed count of the keyring that a published library was sealed with; None where it has none."""
    try:
        count = json.loads(carried((library / KEYS).read_bytes()))[COUNT]
    except (OSError, ValueError, KeyError, TypeError):
        return None
    return count if isinstance(count, str) else None


def _keys(values: Mapping[str, object]) -> bytes:
    return carrier(json.dumps(values, separators=(",", ":")))
