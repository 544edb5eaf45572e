"""A case of the fuzz: an academy that somebody could have, and the machine on which it is published."""

import base64
import json
import os
import shutil
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from reportgen.sheets.shipped import shipped
from tests.publishing.small import DEMO

STUDENTS = {"petra-lumsgate": 1, "miro-tavenhall": 1, "annika-drosselby": 2}
"""Student -> how many of the latest lessons: one with a watched site, a growing junior with stills, one with tables."""
OF_THE_CONTENT = (
    "drills/pendulum-swings.md",
    "metrics/tempo-ratio.yaml",
    "bands/pelvis-open-impact.yaml",
    "practice.yaml",
)
"""What an academy can have of its own, in the place of what is shipped."""
CATALOGUE = "languages/pt.po"
THEME = "look"


@dataclass(frozen=True)
class Link:
    """A symbolic link to a path."""

    to: str


@dataclass(frozen=True)
class Folder:
    """An empty folder."""


@dataclass(frozen=True)
class Pipe:
    """A named pipe, which nobody writes to."""


Entry = bytes | Link | Folder | Pipe
Files = dict[str, Entry]


@dataclass(frozen=True)
class Case:
    """What differs from the academy of `base`: path in it -> what stands there, None for nothing; and the variables of
    the environment that are set."""

    changed: Mapping[str, Entry | None]
    environment: Mapping[str, str] = field(default_factory=dict)

    def written(self) -> str:
        """As a text that `read` understands."""
        changed = {path: _as_json(entry) for path, entry in sorted(self.changed.items())}
        return (
            json.dumps({"changed": changed, "environment": dict(self.environment)}, indent=1, ensure_ascii=True) + "\n"
        )

    @property
    def touched(self) -> set[str]:
        """The students in whose folders alone something differs; None stands for what is not in one."""
        parts = [path.split("/") for path in self.changed]
        return {p[1] if p[0] == "students" and len(p) > 2 and p[1] in STUDENTS else "" for p in parts}


def read(text: str) -> Case:
    """The case of a text that `Case.written` made."""
    known = json.loads(text)
    return Case({path: _from_json(entry) for path, entry in known["changed"].items()}, known["environment"])


@cache
def base() -> Mapping[str, bytes]:
    """The academy from which every case is made: path -> bytes."""
    files = {"academy.yaml": (DEMO / "academy.yaml").read_bytes() + b"\nprivate: link-only\n"}
    for student, lessons in STUDENTS.items():
        folder = DEMO / "students" / student
        old = sorted((folder / "lessons").glob("*.yaml"))[:-lessons]
        for file in sorted(folder.rglob("*")):
            if file.is_file() and file not in old:
                files[file.relative_to(DEMO).as_posix()] = file.read_bytes()
    return files


@cache
def shipped_text(path: str) -> str:
    """A text of the shipped content or theme that an academy may have as its own."""
    folder, _, name = path.partition("/")
    if path == CATALOGUE:
        return "\n\n".join((shipped("content") / "languages" / "fr.po").read_text(encoding="utf-8").split("\n\n")[:60])
    at = shipped("themes") / "letter" / name if folder == THEME else shipped("content") / path
    return at.read_text(encoding="utf-8")


def write(case: Case, root: Path) -> None:
    """Write the case's academy into `root`, which is emptied first."""
    shutil.rmtree(root, ignore_errors=True)
    for path, entry in {**base(), **case.changed}.items():
        _write(root / path, entry)


def _write(at: Path, entry: Entry | None) -> None:
    if entry is None:
        return
    try:
        at.parent.mkdir(parents=True, exist_ok=True)
        if isinstance(entry, bytes):
            at.write_bytes(entry)
        elif isinstance(entry, Link):
            at.symlink_to(entry.to)
        elif isinstance(entry, Folder):
            at.mkdir(exist_ok=True)
        else:
            os.mkfifo(at)
    except (OSError, ValueError):  # no such name on this machine, or something else stands there
        return


def _as_json(entry: Entry | None) -> object:
    if isinstance(entry, bytes):
        try:
            return entry.decode("utf-8")
        except UnicodeDecodeError:
            return {"base64": base64.b64encode(entry).decode("ascii")}
    if isinstance(entry, Link):
        return {"link": entry.to}
    return None if entry is None else {"kind": type(entry).__name__}


def _from_json(entry: object) -> Entry | None:
    if isinstance(entry, str):
        return entry.encode("utf-8")
    if not isinstance(entry, dict):
        return None
    if "base64" in entry:
        return base64.b64decode(entry["base64"])
    return Link(entry["link"]) if "link" in entry else {"Folder": Folder, "Pipe": Pipe}[entry["kind"]]()
