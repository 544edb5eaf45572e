"""Rosalind, who plays left-handed, with a lesson that was begun and two films of a swing lying beside it."""

import http.client
import json
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from threading import Event
from typing import Any

import yaml

from tests.desk.conftest import DEADLINE, OpenDesk
from tests.publishing.small import sheets

WHO = "rosalind-okevre"
FILMS = Path(__file__).parents[2] / "films"
FACE_ON, DOWN = FILMS / "face-on.mp4", FILMS / "down-the-line.mp4"
FOCUS = ("pelvis-closed-top", "pelvis-open-impact", "knee-flex-transition")
"""Six pictures give them: of top, transition and impact, from both sides."""
TRUTH: dict[str, Any] = json.loads((FILMS / "swing.json").read_text(encoding="utf-8"))["films"]


@dataclass(frozen=True)
class Begun:
    """A lesson that was begun, at a desk that is open."""

    desk: OpenDesk
    name: str

    @property
    def path(self) -> str:
        return f"lesson/{WHO}/{self.name}"

    @property
    def sheet(self) -> Path:
        return self.desk.academy / "students" / WHO / "lessons" / f"{self.name}.yaml"

    @property
    def folder(self) -> Path:
        """Where the films of the lesson lie."""
        return beside(self.desk.academy) / WHO / self.name

    @property
    def stills(self) -> list[dict[str, Any]]:
        written: list[dict[str, Any]] = yaml.safe_load(self.sheet.read_text(encoding="utf-8")).get("stills", [])
        return written

    def get(self, path: str) -> Any:
        status, _, said = self.desk.ask("GET", f"{self.path}/{path}")
        assert status == 200, said
        return json.loads(said)

    def post(self, path: str, body: Any = None) -> tuple[int, Any]:
        status, _, said = self.desk.ask("POST", f"{self.path}/{path}", "" if body is None else json.dumps(body))
        return status, json.loads(said) if said else {}

    def drop(self, name: str, data: bytes) -> tuple[int, Any]:
        """Send a film, as a page does."""
        return self._send(f"film?file={name}", data)

    def drop_picture(self, data: bytes) -> tuple[int, Any]:
        """Send a picture of the top, face-on."""
        return self._send("picture?view=face-on&checkpoint=top", data)

    def _send(self, path: str, data: bytes) -> tuple[int, Any]:
        connection = http.client.HTTPConnection("127.0.0.1", self.desk.port, timeout=DEADLINE)
        headers = {"Origin": f"http://127.0.0.1:{self.desk.port}"}
        connection.request("POST", f"{self.desk.base}{self.path}/{path}", data, headers)
        answer = connection.getresponse()
        said = answer.read().decode()
        connection.close()
        return answer.status, json.loads(said) if said else {}

    def comes_to(self, film: int, moment: str, picture: int) -> None:
        """Wait until a moment is at that picture, by what the desk has on disk."""
        wait_until(lambda: self.picture(film, moment) == picture)

    def picture(self, film: int, moment: str) -> int:
        """The number of the picture of a moment."""
        (found,) = (one for one in self.moments()["films"] if one["number"] == film)
        number: int = found["moments"][moment]["picture"]
        return number

    def moments(self) -> dict[str, Any]:
        """What the page of moments shows, as soon as all films are read."""
        wait_until(lambda: not any(film["reading"] for film in self.get("films")["films"]))
        now: dict[str, Any] = self.get("moments/now")
        return now


def wait_until(holds: Callable[[], bool]) -> None:
    """Return as soon as something holds; most of the time is left to the desk."""
    until = time.monotonic() + DEADLINE
    while not holds():
        assert time.monotonic() < until
        Event().wait(0.05)


def beside(academy: Path) -> Path:
    """Where the films of an academy lie."""
    return academy.with_name(f"{academy.name}.films")


def begun(desk: OpenDesk) -> Begun:
    """Today's lesson."""
    assert desk.ask("POST", f"begin/{WHO}", "")[0] == 200
    return Begun(desk, sheets(desk.academy, WHO)[-1].stem)
