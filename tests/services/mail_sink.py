"""A mail server that only takes mail (RFC 5321, the commands a client needs)."""

import socketserver
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from email import message_from_bytes, policy
from email.message import EmailMessage


class _Session(socketserver.StreamRequestHandler):
    server: "MailSink"

    def handle(self) -> None:
        self._say("220 sink")
        while line := self.rfile.readline():
            verb = line.split()[0].upper() if line.split() else b""
            if verb == b"DATA":
                self._take()
            elif verb == b"QUIT":
                self._say("221 bye")
                return
            else:
                self._say("250 ok")

    def _take(self) -> None:
        self._say("354 go on")
        lines = []
        while (line := self.rfile.readline()) not in (b".\r\n", b""):
            lines.append(line)
        time.sleep(self.server.seconds_each)
        self.server.taken.append(
            message_from_bytes(b"".join(lines), policy=policy.default)
        )
        self._say("250 taken")

    def _say(self, line: str) -> None:
        try:
            self.wfile.write(f"{line}\r\n".encode())
        except OSError:
            return  # the client was killed, which is what some tests do


class MailSink(socketserver.ThreadingTCPServer):
    daemon_threads = True

    def __init__(self, seconds_each: float) -> None:
        super().__init__(("127.0.0.1", 0), _Session)
        self.taken: list[EmailMessage] = []
        self.seconds_each = seconds_each

    @property
    def url(self) -> str:
        return f"smtp://127.0.0.1:{self.server_address[1]}"

    def subjects(self) -> list[str]:
        return [str(mail["Subject"]) for mail in self.taken]


@contextmanager
def mail_sink(seconds_each: float = 0.0) -> Iterator[MailSink]:
    with MailSink(seconds_each) as server:
        thread = threading.Thread(target=server.serve_forever, daemon=True)
        thread.start()
        try:
            yield server
        finally:
            server.shutdown()
            thread.join(10)
