"""The Nu checker finds no error in the pages and styles of the demo."""

import subprocess
from pathlib import Path

from tests.access.kinds import NPM
from tests.publishing.small import PETRA
from tests.site.published import Site
from tests.site.sealed import SealedSite

JAR = NPM / "vnu-jar" / "build" / "dist" / "vnu.jar"
JAVA = ("-Xss4m", "-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC")
"""What runs for a few seconds is not worth the last compiler, nor threads of their own that collect garbage."""


def _told(*arguments: str) -> str:
    ended = subprocess.run(
        ["java", *JAVA, "-jar", str(JAR), "--errors-only", *arguments], capture_output=True, text=True, check=False
    )
    assert ended.returncode in (0, 1), ended.stderr
    return "" if ended.returncode == 0 else ended.stdout + ended.stderr


def test_html(site: Site) -> None:
    assert _told("--skip-non-html", str(site.folder)) == ""


def test_the_door_of_sealed_pages(sealed: SealedSite) -> None:
    door, keys = sealed.upload / sealed.area(PETRA) / "index.html", sealed.upload / "library" / "keys.html"
    assert _told(str(door), str(keys)) == ""


def test_styles(site: Site) -> None:
    styles = [str(file) for file in site.folder.rglob("*.css")]
    assert styles
    assert _told("--css", *styles) == ""


def test_it_tells_of_errors(tmp_path: Path) -> None:
    page = tmp_path / "page.html"
    page.write_text('<!doctype html><html lang="en"><title>x</title><img src="x.png">')
    assert "alt" in _told("--skip-non-html", str(tmp_path))
