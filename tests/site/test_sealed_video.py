"""A drill's video behind a door: it is handed over out of a bundle of its own, and the way back leads to the drill."""

import os
from pathlib import Path

import pytest

from tests.publishing.small import PETRA, reportgen, small_academy
from tests.sheets.test_drill_videos import DRILL, MP4, loaded
from tests.site.sealed import MINE, SealedSite
from tests.site.test_sealed_browser import Browser, Reader

DATA = MP4 + os.urandom(3_000_000)


@pytest.fixture(scope="module")
def with_video(tmp_path_factory: pytest.TempPathFactory) -> SealedSite:
    folder = tmp_path_factory.mktemp("video")
    academy = small_academy(folder / "academy", PETRA)
    (academy / "drills").mkdir()
    (academy / "drills" / "coin.mp4").write_bytes(DATA)
    assert loaded(academy, "coin.mp4")[1] == []
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("REPORTGEN_PASSPHRASE", MINE)
        for command in ["members", "add", academy, "--all"], ["publish", academy, "--to", folder / "site"]:
            assert reportgen(*command).exit_code == 0
    return SealedSite(academy, folder / "site")


@pytest.mark.parametrize("name", ["chromium", "firefox"])
def test_a_video_is_handed_over_and_leads_back(
    request: pytest.FixtureRequest, name: str, with_video: SealedSite
) -> None:
    browser: Browser = request.getfixturevalue(name)
    reader = Reader(browser, f"file://{Path(with_video.upload)}/", with_video)
    reader.unlocks(PETRA, f"drills/{DRILL}.html")
    reader.title_is("Pendulum swings")
    reader.clicks("See it as a video")
    reader.sees("document.querySelector('#open a[download]')")
    assert browser.run("return document.querySelector('#open a[download]').download").endswith("video.mp4")
    assert f"{-(-len(DATA) // 1000)} kB" in reader.text
    reader.clicks("Back to the page")
    reader.title_is("Pendulum swings")
