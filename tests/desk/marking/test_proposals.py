"""What is proposed and nobody has confirmed reaches no sheet, no value and no page."""

from pathlib import Path

import pytest

from tests.desk.conftest import OpenDesk
from tests.desk.marking.page import (
    ASKED,
    CALLUM,
    FOCUS,
    KEYS,
    LESSON,
    Marking,
    marks,
    say_in_sheet,
    sheet_of,
    without_marks,
)


class TestAProposalCountsForNothing:
    """The marks of the still before are shown as places to start from."""

    @pytest.fixture
    def begun(self, academy: Path, desk: OpenDesk, page: Marking) -> bytes:
        """What the sheet says while everything on the picture is only proposed."""
        without_marks(academy)
        say_in_sheet(academy, "draft: true")
        page.open(desk)
        assert page.shown("hollow") >= set(ASKED)
        assert not page.shown("set") - {"scale-from", "scale-to"}
        return sheet_of(academy).read_bytes()

    def test_it_gives_no_value(self, begun: bytes, page: Marking) -> None:
        assert page.values() == dict.fromkeys(FOCUS, "–")

    def test_it_is_in_no_sheet_after_a_reload(self, begun: bytes, academy: Path, page: Marking) -> None:
        page.driver.refresh()
        page.ready()
        assert sheet_of(academy).read_bytes() == begun

    def test_the_next_picture_and_back_confirm_nothing(self, begun: bytes, academy: Path, page: Marking) -> None:
        page.keys(KEYS["page down"])
        page.until("document.getElementById('which').innerText.startsWith('6')")
        page.keys(KEYS["page up"])
        page.until("document.getElementById('which').innerText.startsWith('5')")
        assert sheet_of(academy).read_bytes() == begun

    def test_closing_confirms_nothing(self, begun: bytes, academy: Path, desk: OpenDesk, page: Marking) -> None:
        page.driver.get(desk.home)
        page.until("document.getElementById('students')")
        assert sheet_of(academy).read_bytes() == begun

    def test_ready_confirms_nothing(self, begun: bytes, academy: Path, desk: OpenDesk, page: Marking) -> None:
        page.driver.get(f"{desk.home}lesson/{CALLUM}/{LESSON}")
        page.find("#ready").click()
        page.until("!document.getElementById('ready')")
        assert not marks(academy)

    def test_skipping_and_exchanging_confirm_nothing(self, begun: bytes, academy: Path, page: Marking) -> None:
        page.keys("n", "n", "x", "b", "l", "0")
        page.until("document.querySelector('#values li')")
        page.driver.refresh()
        page.ready()
        assert sheet_of(academy).read_bytes() == begun

    def test_a_kept_mark_beside_it_takes_none_along(self, begun: bytes, academy: Path, page: Marking) -> None:
        page.keys(KEYS["enter"])
        page.saved()
        assert list(marks(academy)) == ["lead-ankle"]

    def test_a_touch_that_a_second_finger_breaks_off_sets_none(
        self, begun: bytes, academy: Path, page: Marking
    ) -> None:
        page.touch("touchStart", (300, 300))
        page.touch("touchStart", (300, 300), (500, 500))
        page.touch("touchEnd")
        page.driver.refresh()
        page.ready()
        assert sheet_of(academy).read_bytes() == begun


def test_enter_confirms_one_proposal_as_it_is(academy: Path, desk: OpenDesk, page: Marking) -> None:
    without_marks(academy)
    page.open(desk)
    page.keys(KEYS["enter"])
    page.saved()
    assert marks(academy) == {"lead-ankle": {"at": marks(academy, 2)["lead-ankle"], "by": "confirmed"}}
