"""Without the extra `film`, what needs it says so with the line that installs it, and the rest works."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
BLOCKED = """
import sys
from pathlib import Path
for name in ("av", "pi_heif", "ai_edge_litert"):
    sys.modules[name] = None
from reportgen.errors import ReportgenError
FILM, HEIC = Path("tests/films/face-on.mp4"), Path("tests/films/turned.heic")
"""


def said(code: str) -> str:
    """What a fresh interpreter without the extra's libraries prints."""
    done = subprocess.run([sys.executable, "-c", BLOCKED + code], capture_output=True, text=True, check=True, cwd=ROOT)
    return done.stdout


@pytest.mark.parametrize(
    ("call", "what"),
    [
        ("from reportgen.films.reading import film_facts as read; read(FILM)", "Reading films"),
        ("from reportgen.films.sound import strikes_heard as read; read(FILM)", "Reading films"),
        ("from reportgen.films.stills import still_picture as read; read(HEIC)", "Reading HEIC"),
        (
            "import numpy; from reportgen.films.crops import Cutter; from reportgen.films.following import found_in\n"
            "    found_in(Cutter(numpy.zeros((64, 64, 3), 'uint8')))",
            "Proposing",
        ),
    ],
)  # fmt: skip
def test_what_needs_it_says_how_to_install_it(call: str, what: str) -> None:
    line = said(f"try:\n    {call}\nexcept ReportgenError as error:\n    print(error)")
    assert line.startswith(what)
    assert "pip install 'reportgen[film]'" in line


def test_a_jpeg_is_read_all_the_same() -> None:
    code = (
        "import numpy; from reportgen.films.stills import as_jpeg, still_picture\n"
        "import tempfile; file = Path(tempfile.mkdtemp()) / 'one.jpg'\n"
        "file.write_bytes(as_jpeg(numpy.zeros((40, 60, 3), 'uint8'))); print(still_picture(file).pixels.shape)"
    )
    assert said(code) == "(40, 60, 3)\n"


def test_the_demo_academy_is_checked_all_the_same() -> None:
    code = "from reportgen.cli import main; main(['check', 'examples/academy'], standalone_mode=False)"
    assert said(code).startswith("No problems")
