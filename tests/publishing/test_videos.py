"""A video beside a drill is published with the library, once; every page of the drill leads to it."""

from pathlib import Path
from urllib.parse import urljoin

import html5lib
import pytest

from tests.publishing.conftest import Small
from tests.publishing.opening import open_area
from tests.publishing.small import PETRA, reportgen
from tests.sheets.test_drill_videos import DRILL, MP4, loaded
from tests.site.sealed import MINE, SealedSite


def with_video(academy: Path) -> None:
    (academy / "drills").mkdir()
    (academy / "drills" / "coin.mp4").write_bytes(MP4)
    _, problems = loaded(academy, "coin.mp4")
    assert problems == []


def links_of(page: bytes) -> list[str]:
    tree = html5lib.parse(page, namespaceHTMLElements=False)
    return [link.get("href", "") for link in tree.iter("a")]


def test_a_video_stands_in_the_library_once_and_both_pages_lead_there(small: Small) -> None:
    with_video(small.academy)
    assert reportgen("publish", small.academy, "--to", small.site).exit_code == 0
    upload = small.site / "upload"
    (video,) = [file.relative_to(upload).as_posix() for file in upload.rglob("*.mp4")]
    assert (upload / video).read_bytes() == MP4
    pages = [page.relative_to(upload).as_posix() for page in upload.rglob(f"{DRILL}.html")]
    assert len(pages) == 2
    for page in pages:
        assert video in [urljoin(page, link) for link in links_of((upload / page).read_bytes())]


def test_a_video_that_was_taken_away_is_taken_off(small: Small) -> None:
    with_video(small.academy)
    assert reportgen("publish", small.academy, "--to", small.site).exit_code == 0
    (small.academy / "drills" / f"{DRILL}.md").unlink()
    assert reportgen("publish", small.academy, "--to", small.site).exit_code == 0
    assert list(small.site.rglob("*.mp4")) == []


def test_sealed_a_video_is_in_a_bundle_of_its_own(small: Small, monkeypatch: pytest.MonkeyPatch) -> None:
    with_video(small.academy)
    monkeypatch.setenv("REPORTGEN_PASSPHRASE", MINE)
    assert reportgen("members", "add", small.academy, "--all").exit_code == 0
    assert reportgen("publish", small.academy, "--to", small.site).exit_code == 0
    sealed = SealedSite(small.academy, small.site)
    library = open_area(sealed.upload, "library", sealed.passphrase(PETRA))
    assert library.files(DRILL) == {"video.mp4": MP4}
    assert not any(name.endswith(".mp4") for name in library.files(""))
    page = sealed.opened(PETRA).files("drills")[f"{DRILL}.html"]
    assert f"../../../library/{DRILL}/video.mp4" in links_of(page)
