"""What does a page of the reference look like, as text, as Markdown and as HTML?

A page is a title, a lead and sections of plain parts: one record for all three forms, so that they
cannot tell different things. Words come from elsewhere; nothing is worked out here.
"""

from __future__ import annotations

import textwrap
from dataclasses import dataclass
from html import escape
from typing import TypeAlias, assert_never

WIDTH, WIDEST = 88, 100
"""Characters that a line of prose holds in the text form, and a row of a table."""


@dataclass(frozen=True, slots=True)
class Paragraph:
    text: str


@dataclass(frozen=True, slots=True)
class Bullets:
    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A row of headings and rows as long; `numbers` are the columns set to the right."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numbers: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class Program:
    text: str


@dataclass(frozen=True, slots=True)
class Pictures:
    """Files beside the page, each with the words that stand for it; `instead` in the text form."""

    files: tuple[tuple[str, str], ...]
    instead: str


Part: TypeAlias = Paragraph | Bullets | Table | Program | Pictures


@dataclass(frozen=True, slots=True)
class Section:
    """`title` empty for what stands under the page's own."""

    title: str
    parts: tuple[Part, ...]


@dataclass(frozen=True, slots=True)
class Page:
    title: str
    sections: tuple[Section, ...]


# -- text ----------------------------------------------------------------------------------------


def as_text(page: Page) -> str:
    """The page for a terminal, no line of prose longer than `WIDTH`."""
    blocks = [page.title]
    for section in page.sections:
        parts = [_part_text(part, bool(section.title)) for part in section.parts]
        if section.title and parts:
            blocks.append(f"{section.title}\n{parts[0]}")
            parts = parts[1:]
        blocks += parts
    return "\n\n".join(blocks) + "\n"


def _part_text(part: Part, indented: bool) -> str:
    before = "  " if indented else ""
    match part:
        case Paragraph(text):
            return textwrap.fill(text, WIDTH, initial_indent=before, subsequent_indent=before)
        case Bullets(items):
            return "\n".join(
                textwrap.fill(
                    item, WIDTH, initial_indent=f"{before}- ", subsequent_indent=f"{before}  "
                )
                for item in items
            )
        case Table():
            return "\n".join(f"{before}{line}".rstrip() for line in _columns(part))
        case Program(text):
            return textwrap.indent(text.rstrip(), before)
        case Pictures(instead=text):
            return _part_text(Paragraph(text), indented)
        case _:
            assert_never(part)


def _columns(table: Table) -> list[str]:
    """The rows in columns; the last one wraps under itself where it runs over the width."""
    rows = (table.head, *table.rows) if any(table.head) else table.rows
    last = len(table.head) - 1
    wide = [max(len(row[k]) for row in rows) for k in range(last)]
    room = max(20, WIDEST - sum(wide) - 2 * last - 2)
    lines = []
    for row in rows:
        cells = [
            cell.rjust(wide[k]) if k in table.numbers else cell.ljust(wide[k])
            for k, cell in enumerate(row[:last])
        ]
        first, *more = textwrap.wrap(row[last], room) or [""]
        lines.append("  ".join((*cells, first)))
        lines += [f"{' ' * (sum(wide) + 2 * last)}{line}" for line in more]
    return lines


# -- Markdown ------------------------------------------------------------------------------------


def as_markdown(page: Page) -> str:
    """The page in CommonMark with tables."""
    blocks = [f"# {page.title}"]
    for section in page.sections:
        blocks += [f"## {section.title}"] if section.title else []
        blocks += [_part_markdown(part) for part in section.parts]
    return "\n\n".join(blocks) + "\n"


def _part_markdown(part: Part) -> str:
    match part:
        case Paragraph(text):
            return text
        case Bullets(items):
            return "\n".join(f"- {item}" for item in items)
        case Table(head, rows, numbers):
            rule = ("--:" if k in numbers else "---" for k in range(len(head)))
            return "\n".join(f"| {' | '.join(map(_cell, row))} |" for row in (head, rule, *rows))
        case Program(text):
            return f"```dry\n{text.rstrip()}\n```"
        case Pictures(files=files):
            return "\n".join(f"![{words}]({name})" for name, words in files)
        case _:
            assert_never(part)


def _cell(text: str) -> str:
    return text.replace("|", "\\|")


# -- HTML ----------------------------------------------------------------------------------------


def as_html(page: Page) -> str:
    """The page's sections as HTML, to stand inside a document; every word is escaped."""
    blocks = [f"<h1>{escape(page.title)}</h1>"]
    for section in page.sections:
        blocks += [f"<h2>{_inline(section.title)}</h2>"] if section.title else []
        blocks += [_part_html(part) for part in section.parts]
    return "\n".join(blocks)


def _part_html(part: Part) -> str:
    match part:
        case Paragraph(text):
            return f"<p>{_inline(text)}</p>"
        case Bullets(items):
            return f"<ul>{''.join(f'<li>{_inline(item)}</li>' for item in items)}</ul>"
        case Table(head, rows, numbers):
            lines = [_row_html(head, "th", numbers)] if any(head) else []
            lines += [_row_html(row, "td", numbers) for row in rows]
            return f'<div class="wide"><table>{"".join(lines)}</table></div>'
        case Program(text):
            return f"<pre>{escape(text.rstrip())}</pre>"
        case Pictures(files=files):
            drawn = (f'<img src="{escape(n)}" alt="{escape(words)}">' for n, words in files)
            return f'<div class="pair">{"".join(drawn)}</div>'
        case _:
            assert_never(part)


def _row_html(row: tuple[str, ...], tag: str, numbers: frozenset[int]) -> str:
    cells = (
        f"<{tag}{' class=number' if k in numbers else ''}>{_inline(cell)}</{tag}>"
        for k, cell in enumerate(row)
    )
    return f"<tr>{''.join(cells)}</tr>"


def _inline(text: str) -> str:
    """The text escaped, what stands in ticks as code."""
    parts = escape(text).split("`")
    if len(parts) % 2 == 0:
        return "`".join(parts)
    return "".join(f"<code>{part}</code>" if k % 2 else part for k, part in enumerate(parts))
