"""A real mail server on this machine, with encryption and sign-in, that counts and that fails where a test says."""

import asyncio
import ssl
from collections import Counter, defaultdict, deque
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from email import message_from_bytes
from email.policy import default

from aiosmtpd.controller import Controller
from aiosmtpd.smtp import SMTP, AuthResult, Envelope, Session, syntax

from reportgen.delivery.letter import Letter
from reportgen.delivery.server import Server
from tests.delivery.certificates import Certificate

USER, PASSWORD = "ilda@example.org", "an-invented-password"
DROP, ENDLESS = "drop", "endless"


@dataclass
class Taken:
    """A mail that the server took."""

    message_id: str
    addresses: tuple[str, ...]
    data: bytes


@dataclass
class PostOffice:
    """What the server saw, and what it shall answer instead of doing its work: for each stage, in order, a reply, DROP
    to cut the connection, ENDLESS for an answer without an end, or a number of seconds to be slow."""

    port: int = 0
    taken: list[Taken] = field(default_factory=list)
    connections: int = 0
    signed_in: int = 0
    faults: dict[str, deque[str | float]] = field(default_factory=lambda: defaultdict(deque))
    on_taken: Callable[[Taken], None] = lambda taken: None
    commands: list[str] = field(default_factory=list)

    def fail(self, stage: str, *answers: str | float) -> None:
        self.faults[stage].extend(answers)

    @property
    def counts(self) -> Counter[str]:
        return Counter(taken.message_id for taken in self.taken)

    def server(self, **changed: object) -> Server:
        usual = {
            "host": "localhost", "port": self.port, "security": "starttls", "user": USER, "password": PASSWORD,
            "timeout": 10.0, "after_data": 10.0,
        }  # fmt: skip
        return Server(**{**usual, **changed})  # type: ignore[arg-type]

    async def fault(self, stage: str, smtp: "_Smtp") -> str | None:
        self.commands.append(stage)
        if not self.faults[stage]:
            return None
        answer = self.faults[stage].popleft()
        if isinstance(answer, float):
            await asyncio.sleep(answer)
            return None
        if answer == ENDLESS:
            while not smtp.transport.is_closing():
                smtp.transport.write(b"250-and one thing more\r\n" * 1000)
                await asyncio.sleep(0)
            return "421 gone"
        if answer == DROP:
            smtp.transport.abort()
            return "421 gone"
        return answer


class _Smtp(SMTP):
    office: PostOffice

    def connection_made(self, transport: asyncio.BaseTransport) -> None:
        encrypted = self._original_transport is not None
        self.office.connections += not encrypted
        super().connection_made(transport)

    @syntax("DATA")
    async def smtp_DATA(self, arg: str) -> None:  # noqa: N802  the library calls it so
        answer = await self.office.fault("DATA", self)
        if answer is not None:
            await self.push(answer)
            return
        if self.office.faults["mid-DATA"]:
            self.office.faults["mid-DATA"].popleft()
            await self.push("354 go on")
            await self._reader.read(500)
            self.transport.abort()
            return
        await super().smtp_DATA(arg)


class _Handler:
    def __init__(self, office: PostOffice) -> None:
        self.office = office

    async def handle_MAIL(  # noqa: N802
        self, server: _Smtp, _s: Session, envelope: Envelope, address: str, options: list[str]
    ) -> str:
        if (answer := await self.office.fault("MAIL", server)) is not None:
            return answer
        envelope.mail_from = address
        return "250 OK"

    async def handle_RCPT(  # noqa: N802
        self, server: _Smtp, _s: Session, envelope: Envelope, address: str, options: list[str]
    ) -> str:
        if (answer := await self.office.fault("RCPT", server)) is not None:
            return answer
        envelope.rcpt_tos.append(address)
        return "250 OK"

    async def handle_DATA(self, server: _Smtp, _s: Session, envelope: Envelope) -> str:  # noqa: N802
        answer = await self.office.fault("after DATA", server)
        if answer is not None and answer != "421 gone":
            return answer
        data = bytes(envelope.content or b"")
        message_id = str(message_from_bytes(data, policy=default)["Message-ID"])
        taken = Taken(message_id, tuple(envelope.rcpt_tos), data)
        self.office.taken.append(taken)
        self.office.on_taken(taken)
        return "250 OK"

    def authenticate(
        self, server: SMTP, session: Session, envelope: Envelope, mechanism: str, data: object
    ) -> AuthResult:
        known = (getattr(data, "login", b""), getattr(data, "password", b"")) == (USER.encode(), PASSWORD.encode())
        self.office.signed_in += known
        return AuthResult(success=known, handled=False)


class _Controller(Controller):
    def __init__(self, office: PostOffice, context: ssl.SSLContext | None, from_the_start: bool) -> None:
        self.office, self.context, self.from_the_start = office, context, from_the_start
        self._handler = _Handler(office)
        super().__init__(self._handler, hostname="127.0.0.1", port=0, ssl_context=context if from_the_start else None)

    def factory(self) -> SMTP:
        made = _Smtp(
            self._handler,
            hostname="post.example.org",
            tls_context=None if self.from_the_start else self.context,
            require_starttls=self.context is not None and not self.from_the_start,
            auth_required=self.context is not None and not self.from_the_start,
            auth_require_tls=not self.from_the_start,
            authenticator=self._handler.authenticate,
            enable_SMTPUTF8=True,
            data_size_limit=20_000_000,
        )
        made.office = self.office
        return made

    def _trigger_server(self) -> None:
        assert self.server is not None
        self.port = self.server.sockets[0].getsockname()[1]
        super()._trigger_server()


def opened(office: PostOffice, shown: Certificate | None, from_the_start: bool = False) -> Controller:
    """The server, running in a thread of its own until `stop`; without a certificate it offers no encryption."""
    context = None
    if shown is not None:
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        context.load_cert_chain(shown.chain, shown.key)
    controller = _Controller(office, context, from_the_start)
    controller.start()
    office.port, office.connections = controller.port, 0  # the controller has tried it once
    return controller


def letters(count: int, size: int = 1500) -> list[Letter]:
    """Prepared letters of about `size` bytes, each to a student of its own, numbered from 1."""
    return [letter(number, size) for number in range(1, count + 1)]


def letter(number: int, size: int = 1500, to: Iterable[str] | None = None) -> Letter:
    addresses = tuple(to or [f"student-{number}@example.org"])
    head = (
        f"From: Ilda <ilda@example.org>\r\nTo: {', '.join(addresses)}\r\nSubject: Your lesson\r\n"
        f"Message-ID: <{number}@example.org>\r\n\r\n"
    )
    body = ".a line that begins with a dot\r\n" + ("x" * 70 + "\r\n") * (size // 72)
    return Letter(number, f"student-{number}", "2026-11-19", f"{number:064x}", "ilda@example.org", addresses,
                  (head + body).encode())  # fmt: skip
