"""Whoever reaches the port of a watch, with its address or without, takes no more of the computer than is allowed."""

import re
import socket
import struct
import threading
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, suppress
from typing import NamedTuple

import pytest

from reportgen.preview.limits import LIMITS, Limits
from reportgen.preview.server import WatchServer
from reportgen.preview.watched import Watched
from reportgen.sheets.drill_videos import LARGEST_VIDEO
from tests.publishing.small import PETRA, small_academy
from tests.sheets.test_drill_videos import DRILL, MP4, loaded

DEADLINE = 20.0
"""Seconds after which a test gives up; what it waits for comes within one, but a test machine can be busy."""
SHORT = 0.2
"""Seconds in the place of the limits of a real watch."""
VIDEO = f"library/{DRILL}/video.mp4"


class Served(NamedTuple):
    port: int
    base: str
    told: list[str]
    """What stands on the terminal."""

    def request(self, path: str = "", *headers: str) -> bytes:
        """A request by who was told the address."""
        lines = (f"GET {self.base}{path} HTTP/1.1", f"Host: 127.0.0.1:{self.port}", *headers, "", "")
        return "\r\n".join(lines).encode()


@pytest.fixture(scope="module")
def watched(tmp_path_factory: pytest.TempPathFactory) -> Watched:
    """An academy with a video in its library, larger than what the system keeps for a browser that does not read."""
    academy = small_academy(tmp_path_factory.mktemp("limits") / "academy", PETRA, lessons=1)
    (academy / "drills").mkdir()
    with (academy / "drills" / "coin.mp4").open("wb") as video:
        video.write(MP4)
        video.truncate(LARGEST_VIDEO)
    assert loaded(academy, "coin.mp4")[1] == []
    watched = Watched(academy)
    assert watched.file(VIDEO) is not None
    return watched


@contextmanager
def _serving(watched: Watched, limits: Limits = LIMITS) -> Iterator[Served]:
    stop, told = threading.Event(), list[str]()
    server = WatchServer(0, watched, None, stop, told.append, limits)
    serving = threading.Thread(target=server.serve_forever, args=(0.01,))
    serving.start()
    try:
        yield Served(server.server_port, server.base, told)
    finally:
        stop.set()
        with watched.changed:
            watched.changed.notify_all()
        server.shutdown()
        server.server_close()
        serving.join()
        _all_ended()


def _handlers() -> list[threading.Thread]:
    """The threads that answer somebody."""
    return [thread for thread in threading.enumerate() if "process_request_thread" in thread.name]


def _all_ended() -> None:
    for thread in _handlers():
        thread.join(DEADLINE)
    assert _handlers() == []


@pytest.fixture(autouse=True)
def _silent(capfd: pytest.CaptureFixture[str]) -> Iterator[None]:
    """No test leaves a traceback, or anything else, on the terminal."""
    yield
    assert capfd.readouterr() == ("", "")


@contextmanager
def _connected(served: Served) -> Iterator[socket.socket]:
    with socket.create_connection(("127.0.0.1", served.port), timeout=DEADLINE) as connection:
        yield connection


def _rest(connection: socket.socket) -> bytes:
    """What still comes until the connection ends; that the other side does not read on ends it too."""
    came = bytearray()
    with suppress(ConnectionError):
        while piece := connection.recv(65536):
            came += piece
    return bytes(came)


def _answer(served: Served, request: bytes) -> bytes:
    """All that comes to a request, or to as much of it as is read."""
    with _connected(served) as connection:
        with suppress(ConnectionError):
            connection.sendall(request)
        return _rest(connection)


def _status(answer: bytes) -> int:
    return int(answer.split()[1])


def _shows_the_page(served: Served) -> bool:
    answer = _answer(served, served.request(f"s/{PETRA}/index.html"))
    return _status(answer) == 200 and b"Petra" in answer


# the size of a request


def test_a_line_that_is_too_long_is_refused(watched: Watched) -> None:
    with _serving(watched) as served:
        assert _status(_answer(served, served.request("a" * LIMITS.request_bytes))) == 414
        assert _shows_the_page(served)


@pytest.mark.parametrize(
    "headers",
    [
        [f"X-{number}: y" for number in range(10_000)],
        [f"X-{number}:" for number in range(LIMITS.headers)],
        ["X: " + "y" * LIMITS.request_bytes],
        [f"X-{number}: {'y' * 2000}" for number in range(20)],
    ],
    ids=["ten thousand", "one too many", "a long one", "long ones"],
)
def test_headers_that_are_too_many_or_too_long_are_refused(watched: Watched, headers: list[str]) -> None:
    with _serving(watched) as served:
        answer = _answer(served, served.request("", *headers))
        assert (_status(answer), answer.partition(b"\r\n\r\n")[2]) == (431, b"")


def test_what_is_just_allowed_is_answered(watched: Watched) -> None:
    with _serving(watched) as served:
        many = [f"X-{number}: y" for number in range(LIMITS.headers - 1)]  # one is the host
        assert _status(_answer(served, served.request("", *many))) == 200
        long = "X: " + "y" * (LIMITS.request_bytes - len(served.request("", "X: ")))
        assert _status(_answer(served, served.request("", long))) == 200


def test_a_header_without_end_is_read_no_further(watched: Watched) -> None:
    with _serving(watched, Limits(request_seconds=2 * DEADLINE)) as served, _connected(served) as connection:
        connection.sendall(served.request().removesuffix(b"\r\n") + b"X: ")
        with pytest.raises(ConnectionError):
            connection.sendall(b"y" * LARGEST_VIDEO)
        assert _shows_the_page(served)


@pytest.mark.parametrize("says", ["Content-Length: 10000000000", "Content-Length: 1", "Transfer-Encoding: chunked"])
def test_a_body_is_refused_and_not_read(watched: Watched, says: str) -> None:
    with _serving(watched) as served:
        answer = _answer(served, served.request("", says) + b"5\r\nhello\r\n" * 10 + served.request())
        assert _status(answer) == 413
        assert answer.count(b"HTTP/1.1") == 1


def test_no_body_at_all_can_be_said(watched: Watched) -> None:
    with _serving(watched) as served:
        assert _status(_answer(served, served.request("", "Content-Length: 0"))) == 200


def test_nobody_is_asked_for_a_body(watched: Watched) -> None:
    with _serving(watched) as served:
        expecting = b"GET / HTTP/1.1\r\nHost: x\r\nExpect: 100-continue\r\nContent-Length: 1000\r\n\r\n"
        assert _status(_answer(served, expecting)) == 403


def test_of_many_requests_at_once_the_first_is_answered(watched: Watched) -> None:
    with _serving(watched) as served:
        answer = _answer(served, served.request() * 50)
        assert _status(answer) == 200
        assert answer.count(b"HTTP/1.1") == 1
        assert b"Connection: close" in answer


# the time of a request


def test_who_says_nothing_is_left(watched: Watched) -> None:
    with _serving(watched, Limits(request_seconds=SHORT)) as served, _connected(served) as connection:
        assert _rest(connection) == b""


def test_who_sends_a_byte_now_and_then_is_left(watched: Watched) -> None:
    with _serving(watched, Limits(request_seconds=SHORT)) as served, _connected(served) as connection:
        connection.settimeout(SHORT / 10)
        pieces = iter(served.request("", "X: " + "y" * 1000))
        ended = False
        while not ended:
            try:
                connection.send(bytes([next(pieces)]))
                ended = connection.recv(1) == b""
            except TimeoutError:
                continue
            except ConnectionError:
                ended = True
        assert next(pieces)


def test_who_does_not_read_is_left(watched: Watched) -> None:
    with _serving(watched, Limits(answer_seconds=SHORT)) as served, _connected(served) as connection:
        connection.sendall(served.request(VIDEO))
        assert connection.recv(12) == b"HTTP/1.1 200"
        _all_ended()
        assert len(_rest(connection)) < LARGEST_VIDEO


def test_who_reads_gets_all(watched: Watched) -> None:
    with _serving(watched) as served:
        answer = _answer(served, served.request(VIDEO))
        assert len(answer.partition(b"\r\n\r\n")[2]) == LARGEST_VIDEO


def test_who_hangs_up_in_the_middle_is_no_fault(watched: Watched) -> None:
    with _serving(watched) as served:
        for sent in (served.request()[:20], served.request(VIDEO)):
            with _connected(served) as connection:
                connection.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
                connection.sendall(sent)
        assert _shows_the_page(served)
        _all_ended()
        assert served.told == []


# how many at once


def test_silent_connections_are_bounded(watched: Watched) -> None:
    before = threading.active_count()
    with _serving(watched, Limits(connections=8, request_seconds=2 * DEADLINE)) as served, ExitStack() as held:
        for _ in range(8):
            held.enter_context(_connected(served))
        for _ in range(200):
            assert _status(_rest(held.enter_context(_connected(served)))) == 503
        assert threading.active_count() <= before + 8 + 1  # one takes connections
        assert served.told == ["More than 8 connections at once: some were refused. Load the page again in 40 seconds."]


def test_the_page_is_shown_when_the_time_of_silent_connections_is_over(watched: Watched) -> None:
    with _serving(watched, Limits(connections=8, request_seconds=SHORT)) as served, ExitStack() as held:
        silent = [held.enter_context(_connected(served)) for _ in range(8)]
        assert [_rest(connection) for connection in silent] == [b""] * 8
        _all_ended()
        assert _shows_the_page(served)


def _stream(served: Served, held: ExitStack, since: str = "none") -> socket.socket:
    """A connection that waits for changes, and has been told of the first."""
    connection = held.enter_context(_connected(served))
    connection.sendall(served.request(f"changes?since={since}"))
    came = b""
    while b"data: " not in came:
        piece = connection.recv(4096)
        assert piece, came
        came += piece
    return connection


def test_the_oldest_of_many_that_wait_for_changes_ends_for_a_new_one(watched: Watched) -> None:
    with _serving(watched, Limits(streams=4, sign_of_life=2 * DEADLINE)) as served, ExitStack() as held:
        waiting = [_stream(served, held) for _ in range(100)]
        for connection in waiting[:-4]:
            _rest(connection)
        assert _shows_the_page(served)
        for connection in waiting[-4:]:
            connection.setblocking(False)
            with pytest.raises(BlockingIOError):
                connection.recv(1)


def test_who_waits_for_changes_has_to_ask_again_after_a_while(watched: Watched) -> None:
    limits = Limits(stream_seconds=SHORT, sign_of_life=SHORT / 10)
    with _serving(watched, limits) as served, ExitStack() as held:
        connection, signs = _stream(served, held), b""
        while sign := connection.recv(4096):
            signs += sign
            assert len(signs) < 10_000
        assert set(signs.split(b"\n\n")) == {b": still here", b""}


def test_who_waited_for_changes_and_has_gone_is_noticed(watched: Watched) -> None:
    with _serving(watched, Limits(sign_of_life=SHORT / 10)) as served:
        with ExitStack() as held:
            _stream(served, held)
        _all_ended()


# whatever it is, the watch goes on


def test_a_fault_of_our_own_is_a_line(watched: Watched, monkeypatch: pytest.MonkeyPatch) -> None:
    with _serving(watched) as served:
        with monkeypatch.context() as patch:
            patch.setattr(watched, "students", lambda: {"\udcff": "\udcff"})  # no text that can be sent
            assert _answer(served, served.request()) == b""
        (line,) = served.told
        assert re.fullmatch(r"A page was not shown \(UnicodeEncodeError: .*\)\. Load it again; .*", line)
        assert _shows_the_page(served)
