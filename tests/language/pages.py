"""Reads the explain pages: `# J203: title`, what it means, `## Why`, `## It says`, `## Mended`.

A fenced `dry` block is a program; its info string may set things: `dry set=rows=9 limit=boards=3`.
`file=sizes.dry` makes it another file, there for both programs to use. `escaped` says that `\\xff`
and `\\0` in it stand for bytes that no page can hold. The `text` block is the message as drawn.
What the language itself keeps from happening is shown with a design made by hand: a `python` block
that binds it to `design` stands for the program.
"""

import re
from dataclasses import dataclass

from looking import Asked, pair

MAIN = "example.dry"
BY_HAND = "example.py"

_FENCE = re.compile(r"^```(?P<info>[^\n`]*)\n(?P<body>.*?)^```[ ]*$", re.MULTILINE | re.DOTALL)
_PAGE = re.compile(
    r"\A# (?P<code>[A-Z]\d{3}): (?P<title>[^\n]+)\n\n(?P<means>.+?)\n"
    r"\n## Why\n\n(?P<why>.+?)\n"
    r"\n## It says\n\n(?P<says>.+?)\n"
    r"\n## Mended\n\n(?P<mended>.+)\Z",
    re.DOTALL,
)


@dataclass(frozen=True, slots=True)
class Block:
    """One fenced block: the words of its info string, its body, where it stands in the page."""

    words: tuple[str, ...]
    body: str
    start: int
    end: int

    @property
    def kind(self) -> str:
        return self.words[0] if self.words else ""

    def values(self, name: str) -> list[str]:
        return [w.removeprefix(f"{name}=") for w in self.words if w.startswith(f"{name}=")]

    @property
    def data(self) -> bytes:
        if "escaped" in self.words:
            return re.sub(
                rb"\\x([0-9a-f]{2})|\\0",
                lambda m: bytes([int(m[1], 16) if m[1] else 0]),
                self.body.encode(),
            )
        return self.body.encode()


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    code: str
    title: str
    failing: Asked
    mended: Asked
    message: Block | None
    failing_end: int


def read_page(text: str) -> Page:
    """The page's parts; AssertionError where its form is not kept."""
    form = _PAGE.match(text)
    assert form, "the page has not the form `# CODE: title`, text, Why, It says, Mended"
    blocks = [
        Block(tuple(m["info"].split()), m["body"], m.start(), m.end())
        for m in _FENCE.finditer(text)
    ]
    for block in blocks:
        assert block.kind in ("dry", "python", "text"), f"a fenced block is called {block.kind!r}"
        _check_words(block)
    others = {b.values("file")[0]: b.data for b in blocks if b.values("file")}
    says, mended = form.span("says"), form.span("mended")
    failing = _program(blocks, says)
    messages = [b for b in blocks if b.kind == "text" and says[0] <= b.start < says[1]]
    assert len(messages) <= 1, "more than one message"
    return Page(
        code=form["code"],
        title=form["title"],
        failing=_asked(failing, others),
        mended=_asked(_program(blocks, mended), others),
        message=messages[0] if messages else None,
        failing_end=failing.end,
    )


def with_message(text: str, page: Page, message: str) -> str:
    """The page with its message block rewritten, or put in after the failing program."""
    block = f"```text\n{message}\n```"
    if page.message is None:
        return f"{text[: page.failing_end]}\n\n{block}{text[page.failing_end :]}"
    return text[: page.message.start] + block + text[page.message.end :]


def _check_words(block: Block) -> None:
    for word in block.words[1:]:
        known = word == "escaped" or word.split("=")[0] in ("set", "limit", "file")
        assert known, f"unknown word in an info string: {word!r}"


def _program(blocks: list[Block], span: tuple[int, int]) -> Block:
    """The one program of a section that is not another file."""
    inside = [
        b
        for b in blocks
        if b.kind in ("dry", "python") and not b.values("file") and span[0] <= b.start < span[1]
    ]
    assert len(inside) == 1, f"a section holds {len(inside)} programs, not one"
    return inside[0]


def _asked(block: Block, others: dict[str, bytes]) -> Asked:
    name = BY_HAND if block.kind == "python" else MAIN
    return Asked(
        name=name,
        files={name: block.data, **others},
        settings=dict(map(pair, block.values("set"))),
        limits={name: int(value) for name, value in map(pair, block.values("limit"))},
    )
