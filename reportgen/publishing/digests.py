"""What a part of the site was made from, as a digest: equal digest, equal bytes."""

import json
from collections.abc import Iterable, Mapping
from hashlib import sha256
from importlib.metadata import version
from pathlib import Path

from reportgen import __version__

_ENGINES = ("icalendar", "jinja2", "markdown-it-py", "matplotlib", "pillow", "pydantic", "weasyprint")


def digest_of_files(files: Iterable[Path], root: Path) -> str:
    """A digest over the names (below `root`) and contents of files."""
    found = sha256()
    for file in sorted(files):
        found.update(f"{file.relative_to(root).as_posix()}\0".encode())
        found.update(sha256(file.read_bytes()).digest())
    return found.hexdigest()


def files_below(folder: Path) -> list[Path]:
    """All files of a folder, hidden ones left out; none where the folder is not there."""
    if not folder.is_dir():
        return []
    return [
        f for f in folder.rglob("*") if f.is_file() and not any(p.startswith(".") for p in f.relative_to(folder).parts)
    ]


def program() -> str:
    """The program and the libraries that decide what bytes come out."""
    return " ".join([f"reportgen {__version__}", *(f"{name} {version(name)}" for name in _ENGINES)])


def combined(*digests: str) -> str:
    """One digest of several."""
    return sha256("\n".join(digests).encode()).hexdigest()


def read_store(file: Path) -> dict[str, str]:
    """The digests of the last publish, by the folder they belong to; empty where there was none or it is unreadable."""
    try:
        stored = json.loads(file.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return stored if isinstance(stored, dict) else {}


def write_store(file: Path, digests: Mapping[str, str]) -> None:
    """Keep the digests of this publish."""
    file.parent.mkdir(parents=True, exist_ok=True)
    beside = file.with_suffix(".new")
    beside.write_text(json.dumps(dict(digests), indent=1, sort_keys=True) + "\n", encoding="utf-8")
    beside.replace(file)
