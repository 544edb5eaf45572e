"""The sender is killed at any moment and started again: no lesson's mail ever reaches the server twice."""

import multiprocessing
import os
import random
import signal
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from pathlib import Path
from threading import Event

import pytest

from reportgen.delivery.journal import open_journal, read_entries
from reportgen.delivery.letter import Letter
from reportgen.delivery.rows import entries
from reportgen.delivery.sending import Pace, send_all, write_all
from reportgen.delivery.server import Server
from tests.delivery.conftest import queue_all
from tests.delivery.post_office import PostOffice, Taken, letters

KILLS = 50
BATCH = 600
AT_ONCE = Pace(per_minute=1e6, back_off=(0.0, 0.0))


def send_the_queued(journal_file: Path, server: Server | Path, batch: list[Letter], begun: Connection) -> None:
    """What a run of the command does once the mails are made: send those that are queued."""
    with open_journal(journal_file) as journal:
        queued = {entry.id for entry in entries(journal) if entry.state == "queued"}
        begun.send(True)
        waiting = [letter for letter in batch if letter.id in queued]
        if isinstance(server, Path):
            write_all(waiting, server, journal, lambda line: None)
        else:
            send_all(waiting, server, journal, AT_ONCE, lambda line: None)


def started(*arguments: object) -> BaseProcess:
    """A sender in a process of its own, when it has opened the journal."""
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload(["reportgen.delivery.sending", "tests.delivery.test_kill"])
    ours, theirs = context.Pipe(duplex=False)
    process = context.Process(target=send_the_queued, args=(*arguments, theirs))
    process.start()
    theirs.close()
    ours.recv()
    ours.close()
    return process


def killed_after(seconds: float, process: BaseProcess) -> bool:
    """Whether it was still at work when it was killed."""
    process.join(seconds)
    process.kill()
    process.join()
    return process.exitcode == -signal.SIGKILL


@pytest.fixture
def journal_file(tmp_path: Path) -> Path:
    return tmp_path / "journal.sqlite"


def test_fifty_kills_at_random_moments_of_one_batch(post_office: PostOffice, journal_file: Path) -> None:
    batch = letters(BATCH)
    with open_journal(journal_file) as journal:
        queue_all(journal, batch)
    moments = random.Random(8)
    goal, reached, cut_short = 0, Event(), 0

    def watch(taken: Taken) -> None:
        if len(post_office.taken) >= goal:
            reached.set()

    post_office.on_taken = watch
    for _ in range(KILLS):
        more = moments.randrange(9)
        goal = len(post_office.taken) + more
        reached.clear()
        process = started(journal_file, post_office.server(), batch)
        while more and not reached.wait(0.05) and process.is_alive():  # ended already where nothing was left to send
            pass
        cut_short += killed_after(moments.uniform(0.0, 0.03), process)
        assert max(post_office.counts.values(), default=0) <= 1
    assert cut_short > KILLS / 2  # a quick machine may have sent the whole batch before the last of them
    last = started(journal_file, post_office.server(), batch)
    last.join()
    assert last.exitcode == 0
    counts = post_office.counts
    states = {entry.message_id: entry.state for entry in read_entries(journal_file)}
    assert set(counts.values()) == {1}
    assert set(states.values()) <= {"sent", "unknown"}
    assert [name for name, state in states.items() if state == "sent" and counts[name] != 1] == []
    assert len([name for name, state in states.items() if state == "unknown"]) <= KILLS


def test_killed_after_the_server_took_it_and_before_the_note_a_mail_is_in_doubt_and_stays_so(
    post_office: PostOffice, journal_file: Path
) -> None:
    batch = letters(3)
    with open_journal(journal_file) as journal:
        queue_all(journal, batch)
    killed: list[int] = []

    def kill_once(taken: Taken) -> None:
        if taken.message_id == "<2@example.org>" and not killed:
            killed.append(process_id[0])
            os.kill(process_id[0], signal.SIGKILL)

    process_id: list[int] = []
    post_office.on_taken = kill_once
    post_office.fail("MAIL", 0.3)  # so that the number of the process is known before the second mail
    process = started(journal_file, post_office.server(), batch)
    process_id.append(process.pid or 0)
    process.join()
    assert process.exitcode == -signal.SIGKILL
    for _ in range(2):
        again = started(journal_file, post_office.server(), batch)
        again.join()
        assert again.exitcode == 0
    assert [entry.state for entry in read_entries(journal_file)] == ["sent", "unknown", "sent"]
    assert post_office.counts == {"<1@example.org>": 1, "<2@example.org>": 1, "<3@example.org>": 1}


def test_the_outbox_survives_kills_too(tmp_path: Path, journal_file: Path) -> None:
    batch = letters(120, size=20_000)
    with open_journal(journal_file) as journal:
        queue_all(journal, batch)
    outbox = tmp_path / "outbox"
    moments = random.Random(9)
    for _ in range(8):
        killed_after(moments.uniform(0.0, 0.08), started(journal_file, outbox, batch))
        for file in outbox.glob("*.eml"):
            assert file.stat().st_size == len(batch[0].data) or file.read_bytes() in {mail.data for mail in batch}
    last = started(journal_file, outbox, batch)
    last.join()
    unknown = {entry.id for entry in read_entries(journal_file) if entry.state == "unknown"}
    there = {file.name for file in outbox.glob("*.eml")}
    wanted = {f"{mail.lesson}-{mail.student}-{mail.revision[:8]}.eml": mail for mail in batch}
    assert {wanted[name].id for name in wanted if name not in there} <= unknown
    assert there <= set(wanted)
