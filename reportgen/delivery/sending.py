"""Letters -> the server or the outbox, each noted in the journal before and after."""

import sqlite3
import time
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Literal

from reportgen.delivery.journal import note
from reportgen.delivery.letter import Letter
from reportgen.delivery.outbox import write_letter
from reportgen.delivery.server import Server
from reportgen.delivery.smtp import Answer, Connection, NotNowError

Became = Literal["sent", "written", "failed", "unknown", "queued"]
Tell = Callable[[str], None]
_STATES: dict[str, Literal["sent", "failed", "unknown", "queued"]] = {
    "taken": "sent",
    "refused": "failed",
    "unknown": "unknown",
    "later": "queued",
}


@dataclass(frozen=True)
class Pace:
    """How fast mails go, and how long to wait, in seconds, before those that were put off are tried again."""

    per_minute: float = 30.0
    back_off: tuple[float, ...] = (5.0, 30.0, 120.0)


USUAL_PACE = Pace()


def write_all(letters: Iterable[Letter], outbox: Path, journal: sqlite3.Connection, tell: Tell) -> Counter[Became]:
    """Write every letter into the outbox. Raises OSError where one cannot be written; it is queued then, as are those
    after it."""
    became: Counter[Became] = Counter()
    for letter in letters:
        try:
            place = write_letter(letter, outbox, partial(note, journal, letter.id, "sending", "outbox"))
        except OSError:
            note(journal, letter.id, "queued")
            raise
        note(journal, letter.id, "sent", "outbox", place.name)
        tell(f"written {letter.about}: {place}")
        became["written"] += 1
    return became


def send_all(
    letters: Iterable[Letter], server: Server, journal: sqlite3.Connection, pace: Pace, tell: Tell
) -> Counter[Became]:
    """Send every letter over one connection. Those that the server puts off are tried again after each pause of
    `pace`, and are queued for the next run where that does not help. Raises ServerError where none can go this way."""
    became: Counter[Became] = Counter()
    connection = Connection(server)
    waiting = _at_pace(letters, pace)
    try:
        for pause in (*pace.back_off, None):
            put_off: list[Letter] = []
            for letter in waiting:
                try:
                    answer = _sent(letter, connection, journal, pause is None)
                except NotNowError as error:
                    put_off += [letter, *waiting]
                    tell(f"not now: {error}")
                    break
                if answer.kind == "later":
                    put_off.append(letter)
                else:
                    became[_STATES[answer.kind]] += 1
                tell(_line(letter, answer))
            if not put_off or pause is None:
                became["queued"] += len(put_off)
                return became
            connection.close()
            time.sleep(pause)
            waiting = _at_pace(put_off, pace)
    finally:
        connection.close()
    return became


def _sent(letter: Letter, connection: Connection, journal: sqlite3.Connection, last_try: bool) -> Answer:
    answer = connection.send(letter, partial(note, journal, letter.id, "sending", "smtp"), last_try)
    note(journal, letter.id, _STATES[answer.kind], "smtp", answer.says)
    return answer


def _line(letter: Letter, answer: Answer) -> str:
    kind = {"taken": "sent", "later": "put off"}.get(answer.kind, answer.kind)
    to = f" to {', '.join(letter.addresses)}" if answer.kind == "taken" else ""
    return f"{kind} {letter.about}{to}{f': {answer.says}' if answer.says else ''}"


def _at_pace(letters: Iterable[Letter], pace: Pace) -> Iterator[Letter]:
    """The letters, none sooner after the one before than the pace allows."""
    due = time.monotonic()
    for letter in letters:
        time.sleep(max(0.0, due - time.monotonic()))
        due = time.monotonic() + 60 / pace.per_minute
        yield letter
