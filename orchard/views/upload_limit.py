"""Refuse an upload by the size it announces, without storing a byte of it."""

from django.core.files.uploadedfile import UploadedFile
from django.core.files.uploadhandler import FileUploadHandler
from django.http import HttpRequest


class UploadLimit(FileUploadHandler):
    """Drops what a too large request sends, piece by piece, so that the page can say so.

    Put it first among a request's handlers before anything reads the request's
    fields. Hanging up instead would leave the browser with an error of its own.
    """

    def __init__(self, request: HttpRequest, most_bytes: int) -> None:
        super().__init__(request)
        self.announced_bytes = int(request.META.get("CONTENT_LENGTH") or 0)
        self.is_exceeded = self.announced_bytes > most_bytes

    def receive_data_chunk(self, raw_data: bytes, start: int) -> bytes | None:
        """Pass a piece on to the next handler, or drop it."""
        del start
        return None if self.is_exceeded else raw_data

    def file_complete(self, file_size: int) -> "UploadedFile[bytes] | None":
        """Leave the file to the next handler."""
        del file_size
        return None
