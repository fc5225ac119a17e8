"""Which block does a statement stand in? The pieces of a text and the braces open around them.

`statements.py` tells what comes: a statement, a brace, an `else`. Where braces do not pair up it
also asks here, by indentation, which blocks must be over.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from ..kernel.finding import Finding, Place
from .findings import NestedTooDeep, TooManyMistakes, TooManyStatements, Unclosed
from .limits import Limits
from .syntax import Comment
from .tokens import Fault, Token


@dataclass(slots=True)
class Piece:
    """One statement: its tokens, without a block's braces, and what was wrong among them.

    `body` and `otherwise` are the pieces in the braces and in those after the token `or_else`, None
    where there are none. `end` is where the last token or closing brace ends.
    """

    tokens: list[Token] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    body: list[Piece] | None = None
    otherwise: list[Piece] | None = None
    or_else: Token | None = None
    end: int = 0


@dataclass(frozen=True, slots=True)
class Pieces:
    """All statements of a text in order, its comments, and what ended the reading early."""

    top: list[Piece]
    comments: tuple[Comment, ...]
    stops: tuple[Finding, ...]
    unpaired: int


@dataclass(slots=True)
class Open:
    """A block whose closing brace is awaited. `opener` is None for one without an opening brace;
    `is_chain` for an `else` that goes on with another `if` and ends with it."""

    piece: Piece
    into: list[Piece]
    opener: Token | None
    indent: int
    is_chain: bool = False


class Tally:
    """Counts statements and mistakes against their limits; `stops` says why to read no further."""

    def __init__(self, limits: Limits) -> None:
        self.limits = limits
        self.statements = 0
        self.mistakes = 0
        self.stops: list[Finding] = []

    def statement(self, place: Place) -> None:
        self.statements += 1
        if self.statements > self.limits.statements:
            self.stops.append(TooManyStatements(place=place, most=self.limits.statements))

    def fault(self, finding: Finding, is_fatal: bool = False) -> Fault:
        """The finding among the tokens, counted."""
        place = finding.place or Place("", 0, 0)
        self.mistakes += 1
        if self.mistakes == self.limits.mistakes:
            self.stops.append(TooManyMistakes(place=place, most=self.limits.mistakes))
        return Fault(finding, is_fatal, place.start, place.end)


class Blocks:
    """The pieces so far, and the blocks open around the next one, the innermost last."""

    def __init__(self, tally: Tally) -> None:
        self.tally = tally
        self.top: list[Piece] = []
        self.open: list[Open] = []
        self.unpaired = 0  # braces without a partner
        self.awaiting_else: Piece | None = None  # an `if` that has just been closed
        self.else_of: Piece | None = None  # the `if` whose `else` has been read, and no more

    @property
    def here(self) -> list[Piece]:
        """Where the next statement belongs."""
        return self.open[-1].into if self.open else self.top

    # ---- opening ----

    def begin(self, piece: Piece, opener: Token, indent: int) -> None:
        """Open the block of a head, or of the `else` just read; `piece` then has no part in it."""
        if len(self.open) >= self.tally.limits.depth:
            stop = NestedTooDeep(place=opener.place, most=self.tally.limits.depth)
            self.tally.stops.append(stop)
            return
        if self.else_of:
            self.branch(opener, indent)
        else:
            self.here.append(piece)
            piece.body = []
            self.open.append(Open(piece, piece.body, opener, indent))
        self.awaiting_else = None

    def branch(self, opener: Token | None, indent: int, is_chain: bool = False) -> None:
        """Open what follows the `else` just read."""
        piece, self.else_of = self.else_of, None
        if piece is not None:
            piece.otherwise = []
            self.open.append(Open(piece, piece.otherwise, opener, indent, is_chain))

    def take_else(self, token: Token) -> bool:
        """Whether an `else` follows an `if`; if so, its block is expected next."""
        piece, self.awaiting_else = self.awaiting_else, None
        if piece is None:
            return False
        self.else_of = piece
        piece.or_else = token
        piece.end = token.end
        return True

    # ---- closing ----

    def close(self, end: int) -> None:
        """Close the innermost block."""
        piece = self.open.pop().piece
        piece.end = max(piece.end, end)
        self.awaiting_else = None
        if piece.otherwise is None and piece.tokens[0].type == "IF":
            self.awaiting_else = piece
        else:
            self.end_chains()

    def no_else(self) -> None:
        """Something other than an `else` follows the block just closed."""
        if self.awaiting_else is not None:
            self.awaiting_else = None
            self.end_chains()

    def end_chains(self) -> None:
        """Close every `else` whose `if` has just ended."""
        while self.open and self.open[-1].is_chain:
            chain = self.open.pop()
            inner = chain.into[-1] if chain.into else chain.piece
            chain.piece.end = max(chain.piece.end, inner.end)

    # ---- braces without a partner ----

    def close_further_in(self, indent: int) -> None:
        """Close the blocks that a line as far out, or further, shows to be over."""
        while self.open and indent <= self.open[-1].indent:
            self.give_up()

    def close_inside(self, indent: int) -> None:
        """Close the blocks inside the one that a closing brace stands under."""
        if any(block.indent == indent for block in self.open):
            while self.open[-1].indent != indent:
                self.give_up()

    def close_unopened(self, token: Token, indent: int) -> None:
        """Close the blocks without an opening brace whose lines are over."""
        while self.open and self.open[-1].opener is None and not self.open[-1].is_chain:
            if token.type == "RBRACE" or indent > self.open[-1].indent:
                return
            self.close(self.open[-1].piece.end)

    def give_up(self) -> None:
        """Close the innermost block where its last statement ends, its brace being missing."""
        block = self.open[-1]
        inner = block.into[-1].end if block.into else block.piece.end
        self.close(inner)
        if block.opener is None:
            return
        self.unpaired += 1
        keyword = block.piece.tokens[0].text if block.piece.otherwise is None else "else"
        finding = Unclosed(
            place=block.opener.place,
            opener="{",
            closer="}",
            statement="" if keyword == "{" else keyword,
            before=Place(block.opener.file, inner, inner),
            indent=block.indent,
        )
        block.piece.faults.append(self.tally.fault(finding))

    def finish(self) -> None:
        """Close every block at the end of the text; silently where the reading was stopped."""
        while self.open:
            if self.tally.stops:
                self.open.pop()
            else:
                self.give_up()
