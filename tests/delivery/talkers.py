"""Servers that only talk: they say nothing, too much, or never the end of it."""

import socket
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from threading import Event, Thread

Says = Callable[[socket.socket, Event], None]


@contextmanager
def talking(says: Says) -> Iterator[tuple[int, list[int]]]:
    """The port of a server that only talks, as `says` has it, to whoever connects; and the number of each who did."""
    came: list[int] = []
    stop = Event()
    with socket.create_server(("127.0.0.1", 0)) as listening:

        def serve() -> None:
            while True:
                try:
                    connection, _ = listening.accept()
                except OSError:  # it was closed
                    return
                came.append(len(came) + 1)
                Thread(target=talk, args=(connection,), daemon=True).start()

        def talk(connection: socket.socket) -> None:
            with connection, suppress(OSError):
                says(connection, stop)

        Thread(target=serve, daemon=True).start()
        try:
            yield listening.getsockname()[1], came
        finally:
            stop.set()
            listening.shutdown(socket.SHUT_RDWR)


def silent(connection: socket.socket, stop: Event) -> None:
    """Takes the call, and says nothing."""
    while connection.recv(1000):
        pass


def dripping(connection: socket.socket, stop: Event) -> None:
    """Says its greeting one sign after the other, each before the patience with it ends, and never comes to its end."""
    while not stop.wait(0.02):
        connection.sendall(b"2")


def endless(connection: socket.socket, stop: Event) -> None:
    """Has one more line to say after each line, as fast as it can."""
    while not stop.is_set():
        connection.sendall(b"220-and one thing more\r\n" * 1000)


def one_long_line(connection: socket.socket, stop: Event) -> None:
    """Says a line that has no end."""
    connection.sendall(b"220 ")
    while not stop.is_set():
        connection.sendall(b"x" * 100_000)


def silent_after_the_greeting(connection: socket.socket, stop: Event) -> None:
    """Greets, and then says nothing."""
    connection.sendall(b"220 post.example.org\r\n")
    silent(connection, stop)


def dripping_after_the_greeting(connection: socket.socket, stop: Event) -> None:
    """Greets, and then never comes to the end of what it offers."""
    connection.sendall(b"220 post.example.org\r\n")
    connection.recv(1000)
    while not stop.wait(0.02):
        connection.sendall(b"250-MORE\r\n")
