"""A publish that is killed outright, at any moment, leaves each student's pages wholly old or wholly new."""

import random
import signal
import time
from multiprocessing import get_context
from pathlib import Path

import pytest

from reportgen.publishing.publish import publish
from tests.publishing.small import BETTINA, PETRA, areas, change_sheet, contents, small_academy

MOMENTS = 100


def _areas(site: Path) -> dict[str, dict[str, bytes]]:
    return {area.name: contents(area) for area in areas(site)}


def _killed_after(seconds: float, academy: Path, site: Path) -> bool:
    """Publish in a process of its own, warm as this one is, and kill it if it has not ended by itself in `seconds`;
    whether it was still at work."""
    child = get_context("fork").Process(target=publish, args=(academy, site))
    child.start()
    child.join(seconds)
    child.kill()
    child.join()
    assert child.exitcode in (0, -signal.SIGKILL)
    return child.exitcode != 0


def test_each_student_is_wholly_old_or_wholly_new_whenever_the_publish_is_killed(tmp_path: Path) -> None:
    academy = small_academy(tmp_path / "academy", PETRA, BETTINA, lessons=1)
    site, states, spent = tmp_path / "site", [], []
    for words in ("A first focus", "A second focus"):
        for student in (PETRA, BETTINA):
            change_sheet(academy, student, words)
        begin = time.monotonic()
        publish(academy, site)
        spent.append(time.monotonic() - begin)
        states.append(_areas(site))
    assert all(states[0][name] != states[1][name] for name in states[0])

    chance, killed, seen = random.Random(7), 0, set()
    now = 1
    for _ in range(MOMENTS):
        now = 1 - now
        for student in (PETRA, BETTINA):
            change_sheet(academy, student, ("A first focus", "A second focus")[now])
        begin = time.monotonic()
        if _killed_after(chance.uniform(0, 1.1 * spent[-1]), academy, site):
            killed += 1
        else:
            spent.append(time.monotonic() - begin)  # a machine that is less busy now is quicker
        found = _areas(site)
        assert sorted(found) == sorted(states[0])
        for name, area in found.items():
            assert area in (states[0][name], states[1][name]), name
        seen.add(tuple(area == states[now][name] for name, area in found.items()))
        if killed % 10 == 0:
            publish(academy, site)
            assert _areas(site) == states[now]
    assert killed > MOMENTS / 2
    assert len(seen) > 1
    publish(academy, site)
    assert _areas(site) == states[now]
    assert not any((site / ".made" / name).exists() for name in ("new", "old"))


def test_the_next_publish_repairs_what_a_kill_left_behind(tmp_path: Path) -> None:
    """Half of a new area in the folder for what is new, and a note that speaks of pages which are not there."""
    academy, site = small_academy(tmp_path / "academy", PETRA, lessons=1), tmp_path / "site"
    publish(academy, site)
    whole = contents(site)
    (area,) = areas(site)
    left = site / ".made" / "new" / "abc" / PETRA
    left.mkdir(parents=True)
    area.rename(left / "half")
    publish(academy, site)
    assert contents(site) == whole


def test_a_kill_between_pages_and_their_note_is_repaired_even_where_the_sheet_is_as_before(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    academy, site = small_academy(tmp_path / "academy", PETRA, lessons=1), tmp_path / "site"
    change_sheet(academy, PETRA, "A first focus")
    publish(academy, site)
    first = _areas(site)

    def killed(*_: object) -> None:
        raise KeyboardInterrupt

    change_sheet(academy, PETRA, "A second focus")
    with monkeypatch.context() as patch:
        patch.setattr("reportgen.publishing.store.Store.write_note", killed)
        with pytest.raises(KeyboardInterrupt):
            publish(academy, site)
    assert _areas(site) != first
    change_sheet(academy, PETRA, "A first focus")
    publish(academy, site)
    assert _areas(site) == first
