"""While the library has a problem, the desk shows its last good pages."""

from pathlib import Path
from threading import Event, Thread

from selenium.webdriver.support.ui import WebDriverWait

from reportgen.preview.watched import Watched
from tests.publishing.small import PETRA, small_academy


def test_the_pages_of_a_broken_library_stay_and_the_page_of_problems_has_its_style(tmp_path: Path) -> None:
    academy = small_academy(tmp_path / "academy", PETRA)
    watched, stop = Watched(academy), Event()
    page, version = watched.file("library/index.html"), watched.version
    looking = Thread(target=watched.keep_looking, args=(stop,))
    looking.start()
    try:
        (academy / "metrics").mkdir()
        (academy / "metrics" / "own.yaml").write_text("id: own\n", encoding="utf-8")
        WebDriverWait(watched, 30, 0.02).until(lambda watched: watched.version != version)
    finally:
        stop.set()
        looking.join()
    assert watched.troubles() != []
    assert page is not None
    assert watched.file("library/index.html") == page
    assert watched.file("assets/style.css") is not None
