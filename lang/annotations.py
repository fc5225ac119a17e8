"""What does `--format annotations` print? A line a finding, as a code review that reads the logs of
its build takes them to show each finding on its line.

    ::error file=tray.dry,line=9,col=15,endLine=9,endColumn=20,title=N105::there is no stock …

Per cent signs and line ends are written `%25`, `%0D` and `%0A`; in the values before the second
`::` colons and commas too, `%3A` and `%2C`. Lines and columns count from 1, in characters,
`endColumn` just past the last. Readers take columns only for what stands on one line, so none are
given for more.
"""

from __future__ import annotations

from collections.abc import Iterable

from .columns import safe
from .results import Result, is_setting
from .roots import Root


def as_annotations(results: Iterable[Result], faults: Iterable[str], root: Root) -> str:
    """One line each, what could not be read at all last."""
    lines = [annotation(result, root) for result in results]
    lines += [f"::error title=dryfit::{_data(fault)}" for fault in faults]
    return "".join(f"{line}\n" for line in lines)


def annotation(result: Result, root: Root) -> str:
    """The finding as one line, without its line end."""
    message = result.message
    tests = ", ".join(f'"{test}"' for test in result.tests)
    values = {
        **_where(result, root),
        "title": f"{message.code} in test {tests}" if tests else message.code,
    }
    written = ",".join(f"{name}={_value(value)}" for name, value in values.items())
    title, *more = result.sentences
    said = [title, *([message.words.label] if message.words.label else []), *more]
    return f"::{message.severity.value} {written}::{_data(chr(10).join(said))}"


def _where(result: Result, root: Root) -> dict[str, str | int]:
    """The file, and in it what can be pointed at: what was set from outside stands in none."""
    place = result.message.place
    if place is None or is_setting(place):
        return {"file": root.name(result.file)}
    found: dict[str, str | int] = {"file": root.name(place.file)}
    lines = result.pages.by_file.get(place.file)
    if lines is None:
        return found
    first, last = lines.position(place.start), lines.position(place.end)
    if first.line != last.line:
        return {**found, "line": first.line, "endLine": last.line}
    columns = {"col": first.column, "endLine": last.line, "endColumn": last.column}
    return {**found, "line": first.line, **columns}


def _data(text: str) -> str:
    """The text on one line."""
    lines = (safe(line).replace("%", "%25") for line in text.replace("\r", "\n").split("\n"))
    return "%0A".join(lines)


def _value(value: str | int) -> str:
    return _data(str(value)).replace(":", "%3A").replace(",", "%2C")
