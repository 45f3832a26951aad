"""The line between a phone and the server, which can be cut anywhere for real."""

import socket
import threading
from contextlib import suppress
from urllib.parse import urlsplit

CHUNK_BYTES = 65536


class Line:
    """A relay of bytes: cut, nothing passes and every open connection breaks."""

    def __init__(self, server_url: str) -> None:
        parts = urlsplit(server_url)
        self._server = (parts.hostname or "localhost", parts.port or 80)
        self._open: set[socket.socket] = set()
        self._listening: socket.socket | None = None
        self._port = 0
        self._swallow_at = 0
        self._lock = threading.Lock()
        self.mend()

    @property
    def url(self) -> str:
        """The address the phone uses."""
        return f"http://localhost:{self._port}"

    def mend(self) -> None:
        """Let bytes pass, at the same address as before."""
        one = socket.create_server(("127.0.0.1", self._port))
        self._port = one.getsockname()[1]
        self._listening = one
        threading.Thread(target=self._accept, args=(one,), daemon=True).start()

    def cut(self) -> None:
        """Break every connection, and take no new one."""
        with self._lock:
            listening, self._listening = self._listening, None
            broken, self._open = self._open, set()
        for one in [*broken, *([listening] if listening else [])]:
            with suppress(OSError):
                one.shutdown(socket.SHUT_RDWR)
            one.close()

    def swallow_answer(self, number: int) -> None:
        """Cut the line when the answer to the ``number``-th sending would pass.

        The server has done what was sent then; the phone never hears of it.
        """
        self._swallow_at = number

    def _accept(self, listening: socket.socket) -> None:
        while True:
            try:
                phone, _ = listening.accept()
                server = socket.create_connection(self._server)
            except OSError:
                return
            with self._lock:
                if self._listening is not listening:  # cut in this very moment
                    phone.close()
                    server.close()
                    return
                self._open |= {phone, server}
            sending = threading.Event()
            for pair in (
                (phone, server, sending, True),
                (server, phone, sending, False),
            ):
                threading.Thread(target=self._pass_on, args=pair, daemon=True).start()

    def _pass_on(
        self,
        source: socket.socket,
        target: socket.socket,
        sending: threading.Event,
        is_phone: bool,  # noqa: FBT001 (a thread's argument)
    ) -> None:
        with suppress(OSError):
            while data := source.recv(CHUNK_BYTES):
                if is_phone and data.startswith(b"POST ") and b"/sending/ " in data:
                    sending.set()
                elif not is_phone and sending.is_set():
                    sending.clear()
                    if self._is_swallowed():
                        self.cut()
                        return
                target.sendall(data)
        for one in (source, target):
            with suppress(OSError):
                one.shutdown(socket.SHUT_RDWR)

    def _is_swallowed(self) -> bool:
        self._swallow_at -= 1
        return self._swallow_at == 0
