"""Files beside the place where the program is called are no part of it, whatever they are named."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.publishing.conftest import Small
from tests.publishing.small import BETTINA, PETRA, ROOT, change_sheet

COMMAND = Path(sys.executable).with_name("reportgen")
NAMES = ("gzip", "multiprocessing", "json", "pickle", "signal", "weasyprint", "reportgen", "sitecustomize")


@pytest.fixture
def elsewhere(tmp_path: Path) -> Path:
    """A folder with modules that leave a trace when they are run."""
    folder = tmp_path / "elsewhere"
    folder.mkdir()
    for name in NAMES:
        (folder / f"{name}.py").write_text(f"open({str(tmp_path / 'ran')!r}, 'a').write({name!r})\n", encoding="utf-8")
    return folder


@pytest.mark.parametrize("changed", [(PETRA,), (PETRA, BETTINA)], ids=["one process", "workers"])
def test_no_module_of_the_current_folder_is_run(small: Small, elsewhere: Path, changed: tuple[str, ...]) -> None:
    for student in changed:
        change_sheet(small.academy, student)
    published = subprocess.run(
        [COMMAND, "publish", small.academy, "--to", small.site, "--jobs", "2"],
        cwd=elsewhere, env={**os.environ, "PYTHONPATH": str(ROOT)}, capture_output=True, text=True,
    )  # fmt: skip
    assert published.returncode == 0, published.stderr
    assert published.stdout.startswith(f"{len(changed)} student")
    assert not (elsewhere.parent / "ran").exists()
