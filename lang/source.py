"""Which text is read, and is it text at all?

In come the bytes of a file, out comes its text with the places of its lines. Offsets count
characters of `Source.text`, from which a byte order mark has been dropped, so that they agree with
what an editor shows. Nothing here touches the disk.
"""

from __future__ import annotations

import codecs
from dataclasses import dataclass
from typing import Final

from ..kernel.finding import Outcome, Place
from .findings import FileTooLarge, NotUtf8, NulCharacter
from .limits import DEFAULT, Limits
from .lines import Lines, lines_of

_OTHER_MARKS: Final = (
    (codecs.BOM_UTF32_LE, "UTF-32"),
    (codecs.BOM_UTF32_BE, "UTF-32"),
    (codecs.BOM_UTF16_LE, "UTF-16"),
    (codecs.BOM_UTF16_BE, "UTF-16"),
)
"""Byte order marks of the encodings that are not read; UTF-32's begins with UTF-16's."""


@dataclass(frozen=True, slots=True)
class Source:
    """A named text; `name` is the file of every `Place` in it."""

    name: str
    text: str

    @property
    def lines(self) -> Lines:
        """Its lines, worked out anew at each call."""
        return lines_of(self.text)

    def place(self, start: int, end: int) -> Place:
        return Place(self.name, start, end)


def read_text(name: str, data: bytes, limits: Limits = DEFAULT) -> Outcome[Source]:
    """The text that the bytes of a file hold, or a finding that says which byte is no text.

    A finding's place counts characters up to the byte; there is no `Source` to draw it from.
    """
    if len(data) > limits.file_size:
        large = FileTooLarge(place=Place(name, 0, 0), size=len(data), most=limits.file_size)
        return Outcome(None, (large,))
    for mark, encoding in _OTHER_MARKS:
        if data.startswith(mark):
            return Outcome(None, (_not_utf8(name, data, 0, encoding),))
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        return Outcome(None, (_not_utf8(name, data, _byte_of(data, error), None),))
    at = text.find("\0")
    if at >= 0:
        byte, line = _bytes_before(data, text, at), text.count("\n", 0, at) + 1
        nul = NulCharacter(place=Place(name, at, at + 1), byte=byte, line=line)
        return Outcome(None, (nul,))
    return Outcome(Source(name, text))


def _byte_of(data: bytes, error: UnicodeDecodeError) -> int:
    """The offset in the file of the byte that could not be decoded; the decoder counts without
    the byte order mark."""
    mark = len(codecs.BOM_UTF8) if data.startswith(codecs.BOM_UTF8) else 0
    return error.start + mark if error.object is not data else error.start


def _bytes_before(data: bytes, text: str, at: int) -> int:
    mark = len(codecs.BOM_UTF8) if data.startswith(codecs.BOM_UTF8) else 0
    return mark + len(text[:at].encode("utf-8"))


def _not_utf8(name: str, data: bytes, byte: int, encoding: str | None) -> NotUtf8:
    before = data[:byte].decode("utf-8-sig")
    return NotUtf8(
        place=Place(name, len(before), len(before)),
        byte=byte,
        value=data[byte],
        line=before.count("\n") + 1,
        encoding=encoding,
    )
