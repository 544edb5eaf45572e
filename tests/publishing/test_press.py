"""A press prints in a process of its own what this process would print, and nothing is lost with it."""

import os
import signal
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from reportgen.pages.printing import LayoutError, Stylesheet, ToPrint, print_here
from reportgen.publishing.press import Press, press_for
from reportgen.publishing.publish import publish
from reportgen.publishing.survey import written_since
from tests.publishing.conftest import Small
from tests.publishing.small import BETTINA, PETRA, change_sheet, contents

STYLE = Stylesheet("recap.css", "p { color: #123456 }", "A5")


def _text(words: str, *, most_pages: int | None = None) -> ToPrint:
    text = f'<!doctype html><html lang="en"><title>A text</title><p>{words}</p>'
    return ToPrint(text, STYLE, most_pages=most_pages)


@pytest.fixture
def press() -> Iterator[Press]:
    found = Press()
    yield found
    found.end()
    found.process.wait()


def test_prints_the_same_bytes_as_here(press: Press) -> None:
    wanted = [_text("One"), _text("Two"), _text("Three " * 4000)]
    begun = [press.begin(one) for one in wanted]
    assert [result() for result in begun] == [print_here(one)() for one in wanted]


def test_results_can_be_asked_for_in_any_order_and_again(press: Press) -> None:
    one, two = press.begin(_text("One")), press.begin(_text("Two"))
    assert two().pdf != one().pdf
    assert one() == print_here(_text("One"))()


def test_more_pages_than_may_be_are_counted_and_not_written(press: Press) -> None:
    result = press.begin(_text("Long " * 4000, most_pages=2))()
    assert (result.pages > 2, result.pdf) == (True, None)


def test_what_is_wrong_with_a_text_is_told_when_its_result_is_asked_for(press: Press) -> None:
    broken = press.begin(_text('<img src="https://example.org/a.png" alt="none">'))
    sound = press.begin(_text("Sound"))
    assert sound().pages == 1
    with pytest.raises(LayoutError, match=r"nothing is loaded from https://example\.org/a\.png"):
        broken()


def test_where_the_press_is_lost_the_text_is_printed_here(press: Press) -> None:
    first = press.begin(_text("One"))
    os.kill(press.process.pid, signal.SIGKILL)
    second = press.begin(_text("Two"))
    assert [first(), second()] == [print_here(_text("One"))(), print_here(_text("Two"))()]


def test_an_interrupt_is_for_the_one_who_asks(press: Press) -> None:
    assert press.begin(_text("Ready"))().pages == 1
    press.process.send_signal(signal.SIGINT)
    assert press.begin(_text("Still here"))().pages == 1
    assert press.process.poll() is None


def test_the_press_ends_when_nobody_is_left_to_ask() -> None:
    press = Press()
    press.begin(_text("One"))()
    press._to.close()
    assert press.process.wait(timeout=60) == 0
    press._from.close()


def test_pages_are_the_same_with_a_press(small: Small, tmp_path: Path) -> None:
    change_sheet(small.academy, PETRA)
    change_sheet(small.academy, BETTINA)
    with press_for(small.academy, small.site) as press:
        assert press is not None
        assert publish(small.academy, small.site, press=press).made == (BETTINA, PETRA)
    publish(small.academy, tmp_path / "afresh")
    assert contents(small.site) == contents(tmp_path / "afresh")


def test_there_is_none_where_nothing_was_written(small: Small, tmp_path: Path) -> None:
    with press_for(small.academy, small.site) as press:
        assert press is None
    with press_for(small.academy, tmp_path / "a first publish") as press:
        assert press is None


def test_a_file_written_later_is_seen_wherever_it_stands(tmp_path: Path) -> None:
    mark, deep = tmp_path / "mark", tmp_path / "academy" / "students" / "mara"
    deep.mkdir(parents=True)
    mark.touch()
    now = time.time_ns()
    sheet = deep / "sheet.yaml"
    sheet.touch()
    os.utime(mark, ns=(now, now))
    for later, seen in ((-1, False), (0, False), (1, True)):
        os.utime(sheet, ns=(now + later, now + later))
        assert written_since(mark, tmp_path / "academy") is seen
    assert not written_since(tmp_path / "no such mark", tmp_path / "academy")
