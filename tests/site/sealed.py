"""A sealed site as tests look at it from outside, with the passphrases of those who may read it."""

import os
import shutil
import ssl
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from http.server import BaseHTTPRequestHandler, SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread

from reportgen.records.academy import Academy
from reportgen.sealing.keyring import Keyring, read_keyring
from reportgen.sealing.privacy import keyring_of
from reportgen.sealing.sealed_site import place_of
from reportgen.sheets.reading import read_sheet
from tests.delivery.certificates import certificate
from tests.publishing.opening import Opened, open_area
from tests.publishing.small import DEMO, ROOT

MINE = "seven herons at low tide"
GUEST = "guest-gil"


class QuietHandler(SimpleHTTPRequestHandler):
    """Files of a folder, as any plain web host gives them."""

    def log_message(self, format: str, *values: object) -> None:
        pass


@contextmanager
def served(folder: Path, handler: Callable[..., BaseHTTPRequestHandler]) -> Iterator[str]:
    """The https address of a web server; its certificate lies in `folder`."""
    own = certificate(folder)
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(own.chain, own.key)
    with ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        server.socket = context.wrap_socket(server.socket, server_side=True, do_handshake_on_connect=False)
        Thread(target=server.serve_forever, daemon=True).start()
        yield f"https://localhost:{server.server_port}/"
        server.shutdown()


@dataclass(frozen=True)
class SealedSite:
    """The demo with a guest among its members, and its published site."""

    academy: Path
    site: Path

    def publish(self) -> None:
        shutil.copytree(DEMO, self.academy)
        for command in (
            ("members", "add", self.academy, "--all"),
            ("members", "add", self.academy, GUEST, "--library-only"),
            ("publish", self.academy, "--to", self.site, "--jobs", "2"),
        ):
            ended = subprocess.run(
                [sys.executable, "-m", "tests.printed_once", *map(str, command)],
                cwd=ROOT, env={**os.environ, "REPORTGEN_PASSPHRASE": MINE}, capture_output=True, text=True,
            )  # fmt: skip
            assert ended.returncode == 0, ended.stderr

    @property
    def upload(self) -> Path:
        return self.site / "upload"

    def passphrase(self, member: str) -> str:
        return _keyring(self.academy).members[member].passphrase

    def area(self, student: str) -> str:
        return place_of(student, _academy(self.academy))

    def opened(self, member: str) -> Opened:
        area = "library" if member == GUEST else self.area(member)
        return open_area(self.upload, area, self.passphrase(member))


@cache
def _keyring(academy: Path) -> Keyring:
    return read_keyring(keyring_of(academy), MINE)


@cache
def _academy(root: Path) -> Academy:
    sheet, _ = read_sheet(root / "academy.yaml", "academy.yaml", Academy)
    assert sheet is not None
    return sheet.record
