"""Small academies that speak other languages, published once."""

import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po

from reportgen.publishing.publish import publish
from tests.languages.collect import FOLDER, template, written
from tests.publishing.small import BETTINA, MIRO, PETRA, ROOT, small_academy
from tests.site.conftest import chromium

__all__ = ["chromium"]

HENRIK = "henrik-tavenhall"
PLACES = re.compile(r"(\{\w+\}|%\(\w+\)s|%%|<[^>]+>|&\w+;|\n)")


def add_to(file: Path, line: str) -> None:
    """One more line at the end of a sheet."""
    with file.open("a", encoding="utf-8") as sheet:
        sheet.write(f"{line}\n")


def speak(academy: Path, code: str) -> None:
    """Give an academy another language."""
    file = academy / "academy.yaml"
    lines = [line for line in file.read_text(encoding="utf-8").splitlines() if not line.startswith("language:")]
    file.write_text("\n".join([*lines, f"language: {code}"]) + "\n", encoding="utf-8")


def english_pieces(code: str) -> set[str]:
    """Runs of four and more English words that stand between the places of a message and read otherwise in `code`."""
    with (FOLDER / f"{code}.po").open("rb") as read:
        catalogue = read_po(read, locale=code)
    found: set[str] = set()
    for message in catalogue:
        forms = message.id if isinstance(message.id, tuple) else (message.id,)
        told = " ".join(message.string if isinstance(message.string, tuple) else [str(message.string)])
        for form in forms if message.id else ():
            pieces = {" ".join(piece.split()) for piece in PLACES.split(form)}
            found |= {piece for piece in pieces if len(piece.split()) > 3 and piece not in told}
    return found


@pytest.fixture(scope="session")
def german(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site of an academy that speaks German, where Henrik reads French and measures in inches."""
    folder = tmp_path_factory.mktemp("german")
    academy = small_academy(folder / "academy", HENRIK, BETTINA, MIRO)
    speak(academy, "de")
    add_to(academy / "students" / HENRIK / "student.yaml", "language: fr\nunits: imperial")
    publish(academy, folder / "site")
    return folder / "site"


def pseudo(code: str, change: Callable[[str], str]) -> Catalog:
    """A catalogue in which `change` has been at every piece of text, the places and tags left alone."""
    catalog = Catalog(locale=code, fuzzy=False)
    for message in template():
        if message.id:
            forms = message.id if isinstance(message.id, tuple) else (message.id,)
            told = tuple("".join(p if PLACES.fullmatch(p) else change(p) for p in PLACES.split(form)) for form in forms)
            several = (told[0], *[told[-1]] * (catalog.num_plurals - 1))
            catalog.add(message.id, several if len(forms) > 1 else told[0], context=message.context)
    return catalog


@pytest.fixture(scope="session")
def from_the_right(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site of an academy that brought a catalogue of its own, of letters that are written from right to left."""
    folder = tmp_path_factory.mktemp("from-the-right")
    academy = small_academy(folder / "academy", PETRA, lessons=2)
    (academy / "languages").mkdir()
    hebrew = dict(zip("abcdefghijklmnopqrstuvwxyz", "אבגדהוזחטיכלמנסעפצקרשתםןףץ", strict=True))
    catalog = pseudo("he", lambda text: "".join(hebrew.get(sign.lower(), sign) for sign in text))
    (academy / "languages" / "he.po").write_bytes(written(catalog))
    speak(academy, "he")
    # The faces of charts have no Hebrew letters, and a process of its own may say so.
    command = [sys.executable, "-m", "tests.printed_once", "publish", str(academy), "--to", str(folder / "site")]
    ended = subprocess.run(command, cwd=ROOT, capture_output=True, text=True)
    assert ended.returncode == 0, ended.stderr
    return folder / "site"
