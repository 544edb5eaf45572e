"""What a theme of an academy's own may reach: its own folder, and nothing that would be fetched from elsewhere."""

from pathlib import Path

import pytest

from tests.publishing.conftest import Small
from tests.publishing.small import PETRA, contents, reportgen


def own_theme(academy: Path, theme: str = "look") -> Path:
    """An empty theme of the academy's own."""
    folder = academy / theme
    folder.mkdir(exist_ok=True)
    with (academy / "academy.yaml").open("a", encoding="utf-8") as sheet:
        sheet.write(f"\ntheme: {theme}\n")
    return folder


def told(small: Small) -> list[str]:
    """What a publish says that changes nothing."""
    before = contents(small.site)
    done = reportgen("publish", small.academy, "--to", small.site)
    assert done.exit_code == 2
    assert contents(small.site) == before
    return done.output.splitlines()


@pytest.mark.parametrize("name", ["style.css", "recap.css", "lesson.html", "mail.txt", "library.js", "sealed.css"])
@pytest.mark.parametrize("to", ["beside the academy", "academy.yaml", "a sheet"])
def test_a_link_out_of_the_theme_is_refused(small: Small, tmp_path: Path, name: str, to: str) -> None:
    outside = tmp_path / "outside.txt"
    outside.write_text("{{ academy.name }}", encoding="utf-8")
    places = {"beside the academy": outside, "academy.yaml": small.academy / "academy.yaml",
              "a sheet": small.academy / "students" / PETRA / "student.yaml"}  # fmt: skip
    (own_theme(small.academy) / name).symlink_to(places[to])
    (line, _) = told(small)
    assert line == f"look/{name}:1:1: this is a link that leads out of the theme's folder. Put there what it leads to."


def test_a_folder_that_is_a_link_is_refused_too(small: Small, tmp_path: Path) -> None:
    (tmp_path / "outside").mkdir()
    (own_theme(small.academy) / "more").symlink_to(tmp_path / "outside")
    (line, _) = told(small)
    assert line.startswith("look/more:1:1: this is a link that leads out of the theme's folder.")


def test_a_link_within_the_theme_is_followed(small: Small) -> None:
    look = own_theme(small.academy)
    (look / "mine.css").write_text("h1 { color: #123456 }", encoding="utf-8")
    (look / "style.css").symlink_to("mine.css")
    assert reportgen("publish", small.academy, "--to", small.site).exit_code == 0
    assert "#123456" in (small.site / "upload" / "assets" / "style.css").read_text(encoding="utf-8")


@pytest.mark.parametrize("theme", [".", "look/..", "students", "look"])
def test_a_theme_that_holds_sheets_is_refused(small: Small, theme: str) -> None:
    if theme == "look":
        (small.academy / "look").symlink_to(small.academy / "students" / PETRA)
    elif theme == "look/..":
        (small.academy / "look").mkdir()
    own_theme(small.academy, theme)
    (line, _) = told(small)
    assert "the theme " in line
    assert line.endswith("Put it beside students, as in theme: look.")


@pytest.mark.parametrize("file", ["style.css", "recap.css"])
def test_a_style_that_fetches_something_is_refused_with_its_line(small: Small, file: str) -> None:
    text = "/* a style */\na { background: url(https://example.org/x.png) }\n"
    (own_theme(small.academy) / file).write_text(text, encoding="utf-8")
    (line, _) = told(small)
    assert line.startswith(f"look/{file}:2:17: the style loads https://example.org/x.png, which is not published with ")
