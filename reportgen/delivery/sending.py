"""Letters -> the server or the outbox, each noted in the journal before and after."""

import sqlite3
import time
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain
from pathlib import Path
from typing import Literal

from reportgen.delivery.entry import Entry, Reach, Reached, all_of
from reportgen.delivery.letter import Letter
from reportgen.delivery.outbox import close_outbox, write_letter
from reportgen.delivery.rows import note, numbered
from reportgen.delivery.server import Server
from reportgen.delivery.smtp import Answers, Connection, NotNowError

Became = Literal["sent", "written", "partly", "failed", "unknown", "queued"]
Tell = Callable[[str], None]
_STATES: dict[str, Reached] = {"taken": "sent", "refused": "failed", "unknown": "unknown", "later": "queued"}


@dataclass(frozen=True)
class Pace:
    """How fast mails go, and how long to wait, in seconds, before those that were put off are tried again. A server
    that was not heard for `gone` seconds is given up for this run."""

    per_minute: float = 30.0
    back_off: tuple[float, ...] = (5.0, 30.0, 120.0)
    gone: float = 120.0


USUAL_PACE = Pace()


@dataclass(frozen=True)
class ByServer:
    """The mail server that mails go to, and how fast."""

    server: Server
    pace: Pace = USUAL_PACE


def write_all(letters: Iterable[Letter], outbox: Path, journal: sqlite3.Connection, tell: Tell) -> Counter[Became]:
    """Write every letter into the outbox. Raises OSError where one cannot be written; it is queued then, as are those
    after it."""
    became: Counter[Became] = Counter()
    close_outbox(outbox)
    for letter in letters:

        def about_to_appear(letter: Letter = letter) -> None:
            note(journal, letter.id, all_of(letter.addresses, "sending"), "outbox")

        try:
            place = write_letter(letter, outbox, about_to_appear)
        except OSError:
            note(journal, letter.id, all_of(letter.addresses, "queued"), "outbox")
            raise
        note(journal, letter.id, all_of(letter.addresses, "sent"), "outbox", place.name)
        tell(f"written {letter.about}: {place}")
        became["written"] += 1
    return became


def send_all(
    letters: Iterable[Letter], server: Server, journal: sqlite3.Connection, pace: Pace, tell: Tell
) -> Counter[Became]:
    """Send every letter over one connection. Addresses that the server puts off are tried again after each pause of
    `pace`, and are queued for the next run where that does not help, or where the server is gone. Raises ServerError
    where none can go this way."""
    silence, source = _Silence(pace.gone), iter(letters)
    became: Counter[Became] = Counter()
    connection = Connection(server)
    put_off: list[Letter] = []
    try:
        for pause in (*pace.back_off, None):
            again, put_off, cut_short = iter(put_off), [], False
            for letter in _at_pace(chain(again, source), pace):
                silence.begins()
                try:
                    answers = _sent(letter, connection, journal, silence.left)
                except NotNowError as error:
                    silence.ends(heard=error.heard)
                    tell(f"not now: {error}")
                    put_off, cut_short = [*put_off, letter, *again], True
                    break
                silence.ends(heard=any(answer.heard for answer in answers.values()))
                tell(_line(letter, answers))
                if later := tuple(a for a, answer in answers.items() if answer.kind == "later"):
                    put_off.append(replace(letter, addresses=later))
                else:
                    became[_became(numbered(journal, letter.id))] += 1
                if silence.left <= 0:
                    put_off, cut_short = [*put_off, *again], True
                    break
            if (put_off or cut_short) and pause is not None and silence.outlasts(pause):
                tell(f"{server.host} does not answer: what is left waits for the next run")
                pause = None
            if pause is None or not (put_off or cut_short):
                became["queued"] += len(put_off)
                return became
            connection.close()
            time.sleep(pause)
    finally:
        connection.close()
    return became


@dataclass
class _Silence:
    """How long a server has not been heard while something was asked of it; after `at_most` seconds it is gone."""

    at_most: float
    since: float | None = None

    def begins(self) -> None:
        if self.since is None:
            self.since = time.monotonic()

    def ends(self, *, heard: bool) -> None:
        if heard:
            self.since = None

    @property
    def left(self) -> float:
        return self.at_most if self.since is None else self.since + self.at_most - time.monotonic()

    def outlasts(self, pause: float) -> bool:
        return self.since is not None and self.left <= pause


def _sent(letter: Letter, connection: Connection, journal: sqlite3.Connection, patience: float) -> Answers:
    def about_to_end(addresses: Sequence[str]) -> None:
        note(journal, letter.id, all_of(addresses, "sending"), "smtp")

    answers = connection.send(letter, about_to_end, patience)
    happened = {address: Reach(_STATES[answer.kind], answer.says) for address, answer in answers.items()}
    note(journal, letter.id, happened, "smtp")
    return answers


def _became(entry: Entry) -> Became:
    """What became of a mail that nothing more is tried with."""
    if entry.state == "unknown":
        return "unknown"
    return "partly" if entry.reached and entry.missed else "sent" if entry.reached else "failed"


def _line(letter: Letter, answers: Answers) -> str:
    """`sent 3 mara-l 2026-03-05 to mara@example.org; not to gone@example.org: 550 no such user`"""
    by_kind = {kind: [a for a, answer in answers.items() if answer.kind == kind] for kind in _STATES}
    told = [f"sent {letter.about} to {', '.join(by_kind['taken'])}"] if by_kind["taken"] else []
    for kind, words in (("unknown", "unknown"), ("refused", "refused"), ("later", "put off")):
        says = "; ".join(dict.fromkeys(answers[address].says for address in by_kind[kind]))
        if by_kind[kind] and told:
            told.append(f"{'not yet' if kind == 'later' else 'not'} to {', '.join(by_kind[kind])}: {says}")
        elif by_kind[kind]:
            told.append(f"{words} {letter.about}: {says}")
    return "; ".join(told)


def _at_pace(letters: Iterable[Letter], pace: Pace) -> Iterator[Letter]:
    """The letters, none sooner after the one before than the pace allows."""
    due = time.monotonic()
    for letter in letters:
        time.sleep(max(0.0, due - time.monotonic()))
        due = time.monotonic() + 60 / pace.per_minute
        yield letter
