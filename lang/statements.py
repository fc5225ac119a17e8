"""Where does each statement of a text begin and end, and which block does it stand in?

Tokens come in, pieces go out: the tokens of one statement each, and for a block the pieces in its
braces. No grammar here, only lines, brackets and the words that begin a statement, so that a
mistake in one statement cannot spill into the next.

A bracket left open ends where the next line begins a statement. For a brace left open the lines'
indentation decides, but only in a text whose braces do not pair up; in any other it means nothing.
"""

from __future__ import annotations

from typing import Final

from ..kernel.finding import Finding, Place
from ..kernel.near import nearest
from .blocks import Blocks, Open, Piece, Pieces, Tally
from .findings import (
    ElseAlone,
    ExtraWord,
    NestedTooDeep,
    NoBlock,
    StatementTooLong,
    StrayCloser,
    TwoOnALine,
    Unclosed,
    UnclosedText,
)
from .limits import Limits
from .source import Source
from .starts import (
    BLOCKS,
    END_OF_LINE,
    GOES_ON,
    HANGS,
    LISTS,
    NEXT_START,
    PLAIN,
    START_WORDS,
    STARTS,
    WORDS,
)
from .syntax import Comment
from .tokens import SIGNS, Fault, Token, scan, with_next

_HIDING: Final = (Unclosed, StrayCloser, UnclosedText)
"""Slips after which a bracket of the same statement may seem to have no partner."""

_CLOSERS: Final = {"LPAR": ")", "LSQB": "]", "LBRACE": "}"}
_OPENERS: Final = {"RPAR": "LPAR", "RSQB": "LSQB"}


def split(source: Source, limits: Limits) -> Pieces:
    """The statements of a text; never raises, whatever the text."""
    plain = Splitter(source, limits, by_indentation=False).pieces()
    if not plain.unpaired or plain.stops:
        return plain
    by_indentation = Splitter(source, limits, by_indentation=True).pieces()
    return by_indentation if by_indentation.unpaired <= plain.unpaired else plain


class Splitter:
    """The state of one pass over the tokens."""

    def __init__(self, source: Source, limits: Limits, by_indentation: bool) -> None:
        self.source = source
        self.file = source.name
        self.limits = limits
        self.by_indentation = by_indentation
        self.tally = Tally(limits)
        self.blocks = Blocks(self.tally)
        self.piece = Piece()
        self.brackets: list[Token] = []
        self.comments: list[Comment] = []
        self.new_line = True  # nothing but blanks stood on the line so far
        self.parted = True  # a line end or brace stands before
        self.after_block = False  # a closing brace is the last thing on this line
        self.line_start = 0
        self.indent = 0  # of the statement being read
        self.skipping = False  # the statement is too long or too deep to be kept
        self.resume: int | None = None  # where to go on reading, past what is skipped
        self.last: Token | None = None

    def pieces(self) -> Pieces:
        start: int | None = 0
        while start is not None:
            start = self.read_from(start)
        self.finish()
        blocks, stops = self.blocks, tuple(self.tally.stops)
        return Pieces(blocks.top, tuple(self.comments), stops, blocks.unpaired)

    def read_from(self, start: int) -> int | None:
        """Read on from an offset; gives the offset to go on at, None at the end."""
        for token, following in with_next(scan(self.source, self.limits, start)):
            if isinstance(token, Fault):
                self.take_fault(token)
            elif token.type == "NEWLINE":
                self.parted = True
                if token.text != ";":
                    self.new_line, self.line_start = True, token.end
            elif token.type == "COMMENT":
                self.take_comment(token)
            else:
                word = self.as_name(token, following) if token.type in WORDS else token
                if word.type in PLAIN and self.piece.tokens and not self.parted:
                    self.add(word)
                else:
                    self.take(word, following)
                    self.new_line = self.parted = False
                self.last = word
            if self.tally.stops:
                return None
            if self.resume is not None:
                resume, self.resume = self.resume, None
                return resume
        return None

    # ---- single tokens ----

    def take_comment(self, token: Token) -> None:
        self.tally.statement(token.place)
        text = token.text[1:].rstrip()
        place = Place(token.file, token.start, token.start + 1 + len(text))
        self.comments.append(Comment(text, self.new_line, place))

    def take_fault(self, fault: Fault) -> None:
        if self.parted and not self.brackets and not (self.piece.tokens and self.hangs()):
            self.end_statement(None)
        self.parted = False
        self.note(fault.finding, fault.is_fatal)

    def take(self, token: Token, following: str) -> None:
        kind = token.type
        if self.parted and (self.piece.tokens or self.piece.faults or self.blocks.else_of):
            self.at_line_start(token)
        if not self.piece.tokens:
            self.before_statement(token)
        if self.tally.stops:
            return
        if self.skipping:
            if kind == "RBRACE":
                self.close_brace(token)
            return
        if self.blocks.else_of and kind not in ("LBRACE", "IF"):
            self.end_statement(token)
        if kind == "ELSE" and not self.piece.tokens:
            self.take_else(token)
        elif kind in _CLOSERS:
            self.open(token, following)
        elif kind in _OPENERS:
            self.close(token)
        elif kind == "RBRACE":
            self.close_brace(token)
        else:
            self.blocks.branch(None, self.indent, is_chain=True)
            in_list = self.brackets and self.brackets[-1].type == "LBRACE"
            self.add(token.meant(token.text, "NAME") if in_list and kind == "XYZ" else token)

    def as_name(self, token: Token, following: str) -> Token:
        """The token as a plain name where no word is reserved: after a dot, before a colon, as the
        word of a property."""
        last = self.last if self.piece.tokens else None
        in_list = bool(self.brackets) and self.brackets[-1].type == "LBRACE"
        begins = in_list and (
            self.parted or (last is not None and last.type in ("COMMA", "LBRACE"))
        )
        after_dot = last is not None and last.type == "DOT"
        if following == "COLON" or after_dot or (begins and not self.leaves_list(token, following)):
            return token.meant(token.text, "NAME")
        return token

    def leaves_list(self, token: Token, following: str) -> bool:
        """Whether a line in the braces of a list is more likely the next statement, the brace
        having been forgotten: it begins with the word of a statement and is no further in."""
        return (
            token.type in STARTS
            and self.new_line
            and following in ("NAME", "XYZ", "TEXT", *STARTS)
            and token.start - self.line_start <= self.indent
        )

    def add(self, token: Token) -> None:
        piece = self.piece
        piece.tokens.append(token)
        piece.end = token.end
        if len(piece.tokens) > self.limits.statement_words:
            place = Place(self.file, piece.tokens[0].start, piece.tokens[0].end)
            self.note(StatementTooLong(place=place, most=self.limits.statement_words), True)
            self.skip()

    def skip(self) -> None:
        """Read no more of this statement; it ends where a line begins another."""
        self.skipping = True
        following = NEXT_START.search(self.source.text, self.piece.end)
        self.resume = following.start() if following else len(self.source.text)
        del self.piece.tokens[1:]
        self.brackets.clear()

    def add_line_end(self, token: Token) -> None:
        """Part two properties that stand on lines of their own, without a comma between them."""
        if self.piece.tokens[-1].type not in ("LBRACE", "COMMA"):
            self.add(Token("_NL", "", self.file, token.start, token.start))

    # ---- lines ----

    def hangs(self) -> bool:
        return self.last is not None and self.last.type in HANGS

    def at_line_start(self, token: Token) -> None:
        """Decide whether a line begins a new statement, while one is being read."""
        starts = token.type in STARTS and not (token.type == "IF" and self.hangs())
        if self.brackets:
            opener = self.brackets[-1]
            if starts and (token.type != "IF" or opener.type == "LBRACE"):
                self.leave_brackets()
                self.end_statement(token)
            elif opener.type == "LBRACE" and token.type not in ("RBRACE", "COMMA"):
                self.add_line_end(token)
            return
        if self.blocks.else_of and token.type in ("LBRACE", "IF"):
            return
        if starts or not self.piece.tokens or not self.goes_on(token):
            self.end_statement(token)

    def goes_on(self, token: Token) -> bool:
        """Whether a line goes on with the statement of the line before."""
        if token.type == "ELSE":  # it does if it answers a `then`
            kinds = [before.type for before in self.piece.tokens]
            return kinds.count("THEN") > kinds.count("ELSE")
        is_span = token.type == "XYZ" and self.piece.tokens[0].type in ("BOARD", "SWING")
        return token.type in GOES_ON or is_span or self.hangs() or self.skipping

    def before_statement(self, token: Token) -> None:
        """What the first token of a statement settles."""
        kind = token.type
        if kind != "ELSE":
            self.blocks.no_else()
        if self.new_line:
            indent = token.start - self.line_start
            if self.by_indentation and kind not in ("RBRACE", "ELSE"):
                self.blocks.close_further_in(indent)
            self.blocks.close_unopened(token, indent)
            self.indent = indent
        elif self.after_block and kind not in ("ELSE", "RBRACE"):
            self.note(TwoOnALine(place=token.place, keyword=token.text, statement="}"))
        self.after_block = False
        if kind not in ("RBRACE", "ELSE"):
            self.tally.statement(token.place)

    # ---- brackets ----

    def open(self, token: Token, following: str) -> None:
        if token.type == "LBRACE":
            if self.is_doubled():
                self.note_doubled(token)
                return
            if self.blocks.else_of or self.holds_statements(following):
                self.leave_brackets()
                self.open_block(token)
                return
            while self.brackets and self.brackets[-1].type != "LBRACE":
                self.leave_bracket()
        self.brackets.append(token)
        self.add(token)
        if len(self.brackets) + len(self.blocks.open) > self.limits.depth:
            self.note(NestedTooDeep(place=token.place, most=self.limits.depth), True)
            self.skip()

    def is_doubled(self) -> bool:
        """Whether a brace follows right on one that opened a block."""
        begins = not self.piece.tokens and not self.parted and not self.blocks.else_of
        return begins and self.last is not None and self.last.type == "LBRACE"

    def note_doubled(self, token: Token) -> None:
        if not self.piece.faults:
            self.note(ExtraWord(place=token.place, found="{", after="{", statement=""))

    def holds_statements(self, following: str) -> bool:
        """Whether a brace opens a block of statements, rather than a list of properties."""
        tokens = self.piece.tokens
        if not tokens:
            return True
        kind = tokens[0].type
        if any(bracket.type == "LBRACE" for bracket in self.brackets):
            return False
        if kind in STARTS:
            return kind in BLOCKS
        near = nearest(tokens[0].text, START_WORDS)
        return near.upper() in BLOCKS if near else following in STARTS

    def close(self, token: Token) -> None:
        wanted = _OPENERS[token.type]
        while self.brackets and self.brackets[-1].type != wanted:
            if not any(bracket.type == wanted for bracket in self.brackets):
                break
            self.leave_bracket()
        if self.brackets and self.brackets[-1].type == wanted:
            self.brackets.pop()
            self.add(token)
        else:
            self.note_pairing(StrayCloser(place=token.place, found=token.text))

    def close_brace(self, token: Token) -> None:
        while self.brackets and (self.brackets[-1].type != "LBRACE" or self.is_further_out(token)):
            self.leave_bracket()
        if self.brackets:
            self.brackets.pop()
            if self.piece.tokens[-1].type in ("_NL", "COMMA"):
                self.piece.tokens.pop()
            self.add(token)
            return
        if self.piece.tokens and not self.parted and not self.closes_here(token):
            self.keep_stray_brace(token)
            return
        if self.piece.tokens or self.piece.faults or self.blocks.else_of:
            self.end_statement(token)
        self.close_block(token)

    def closes_here(self, token: Token) -> bool:
        """Whether a brace behind a statement on its line may close the block it stands in: that
        block was opened on the same line, or nothing but its end follows."""
        if not self.blocks.open:
            return False
        opener = self.blocks.open[-1].opener
        if opener is not None and opener.start >= self.line_start:
            return True
        if self.piece.tokens[0].type in LISTS and not self.has_list():
            return False
        return END_OF_LINE.match(self.source.text, token.end) is not None

    def has_list(self) -> bool:
        return any(token.type == "LBRACE" for token in self.piece.tokens)

    def keep_stray_brace(self, token: Token) -> None:
        """A brace amid a statement: of a list that was not opened, or for no reason at all."""
        if self.piece.tokens[0].type in LISTS and not self.has_list():
            self.add(token)
        else:
            self.note_pairing(StrayCloser(place=token.place, found=token.text))

    def is_further_out(self, token: Token) -> bool:
        """Whether a brace, by its line's indentation, cannot close the list it stands in."""
        indent = token.start - self.line_start
        return self.by_indentation and self.new_line and indent < self.indent

    def leave_brackets(self) -> None:
        while self.brackets:
            self.leave_bracket()

    def leave_bracket(self) -> None:
        """Give up on the innermost open bracket; the tokens get the sign that was left out."""
        opener = self.brackets.pop()
        end = self.piece.end
        closer = _CLOSERS[opener.type]
        at = Place(self.file, end, end)
        keyword = self.piece.tokens[0].text if self.piece.tokens else ""
        unclosed = Unclosed(
            place=opener.place,
            opener=opener.text,
            closer=closer,
            statement=keyword,
            before=at,
            indent=self.indent,
        )
        self.note_pairing(unclosed)
        if opener.type == "LBRACE" and self.piece.tokens[-1].type in ("_NL", "COMMA"):
            self.piece.tokens.pop()
        self.piece.tokens.append(Token(SIGNS[closer], closer, self.file, end, end))

    # ---- statements and blocks ----

    def end_statement(self, following: Token | None) -> None:
        """Finish the statement being read; `following` is the token that begins what comes next."""
        if self.brackets:
            self.leave_brackets()
        piece, self.piece, self.skipping = self.piece, Piece(), False
        if self.blocks.else_of:
            parent, self.blocks.else_of = self.blocks.else_of, None
            parent.otherwise = []
            self.note_no_block(piece, "else")
            self.begin_unopened(parent, parent.otherwise, following)
        if not piece.tokens and not piece.faults:
            return
        self.blocks.here.append(piece)
        if piece.tokens and piece.tokens[0].type in BLOCKS:
            self.note_no_block(piece, piece.tokens[0].text)
            piece.body = []
            self.begin_unopened(piece, piece.body, following)

    def begin_unopened(self, piece: Piece, into: list[Piece], following: Token | None) -> None:
        """Open a block whose brace is missing, if the next line stands further in."""
        if following is None or not self.new_line or following.type == "RBRACE":
            return
        if following.start - self.line_start > self.indent:
            self.blocks.open.append(Open(piece, into, None, self.indent))

    def note_no_block(self, piece: Piece, keyword: str) -> None:
        """Note that a block has no opening brace."""
        last = piece.tokens[-1] if piece.tokens else self.last
        if last is not None and not piece.faults:
            piece.faults.append(self.tally.fault(NoBlock(place=last.place, statement=keyword)))

    def open_block(self, token: Token) -> None:
        piece = self.piece
        if not self.blocks.else_of:
            self.piece, self.skipping = Piece(), False
            if not piece.tokens:
                piece.tokens.append(token)
        self.blocks.begin(piece, token, self.indent)
        self.after_block = False

    def close_block(self, token: Token) -> None:
        if self.by_indentation and self.new_line:
            self.blocks.close_inside(token.start - self.line_start)
        if self.blocks.open:
            self.blocks.close(token.end)
            self.after_block = True
            return
        self.blocks.unpaired += 1
        self.note(StrayCloser(place=token.place, found="}"))
        self.end_statement(None)

    def take_else(self, token: Token) -> None:
        if not self.blocks.take_else(token):
            self.note(ElseAlone(place=token.place), True)
            self.add(token)

    def finish(self) -> None:
        """End what is still open at the end of the text."""
        if self.tally.stops:
            self.brackets.clear()
            self.piece = Piece(faults=self.piece.faults)
            self.blocks.else_of = None
        self.end_statement(None)
        self.blocks.finish()

    # ---- findings ----

    def note(self, finding: Finding, is_fatal: bool = False) -> None:
        self.piece.faults.append(self.tally.fault(finding, is_fatal))

    def note_pairing(self, finding: Finding) -> None:
        """Note a bracket without its partner, unless the same slip may have been told already."""
        if not any(isinstance(fault.finding, _HIDING) for fault in self.piece.faults):
            self.note(finding)
