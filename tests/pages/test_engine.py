"""Where the C library of the layout engine cannot be loaded, what prints says how to get it; all else works."""

import subprocess
import sys
from pathlib import Path

DEMO = Path(__file__).parents[2] / "examples" / "academy"

WITHOUT_PANGO = (
    "import sys\n"
    "from cffi import FFI\n"
    "def dlopen(self, name, flags=0):\n"
    "    raise OSError(f'cannot load library {name}')\n"
    "FFI.dlopen = dlopen\n"
    "from reportgen.__main__ import main\n"
    "main()\n"
)


def without_pango(*arguments: object) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", WITHOUT_PANGO, *map(str, arguments)],
        cwd=DEMO.parents[1], capture_output=True, text=True,
    )  # fmt: skip


def test_a_recap_cannot_be_printed_and_the_last_line_says_what_to_install(tmp_path: Path) -> None:
    done = without_pango("recap", DEMO, "henrik-tavenhall", "--to", tmp_path / "recap.pdf")
    assert done.returncode == 2
    last = done.stderr.splitlines()[-1]
    assert last.startswith("Nothing can be printed: the library Pango cannot be loaded. Install it (")
    assert not (tmp_path / "recap.pdf").exists()


def test_sheets_are_checked_all_the_same() -> None:
    done = without_pango("check", DEMO)
    assert done.returncode == 0
    assert done.stdout.startswith("No problems")
