"""What does `dryfit test --format junit` print? Verdicts as JUnit XML, for build servers.

There is no one standard; the elements written are those that every reader knows: `testsuites`,
`testsuite`, `testcase`, `failure` and `skipped`. No time is written: the same text gives the same
bytes.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from xml.sax.saxutils import escape, quoteattr

from .render import Message
from .verdicts import Verdict

DESIGN = "the design"
"""The name of the case that stands for what was found outside all tests."""

_UNFIT = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""Characters that XML 1.0 has no place for."""


def as_junit(
    files: Sequence[tuple[str, Sequence[Verdict]]], drawn: Callable[[str, Message], str]
) -> str:
    """The verdicts of each file as a suite; `drawn` gives a message of a file as it is shown."""
    suites = "".join(_suite(file, found, drawn) for file, found in files)
    return f'<?xml version="1.0" encoding="UTF-8"?>\n<testsuites>\n{suites}</testsuites>\n'


def _suite(file: str, found: Sequence[Verdict], drawn: Callable[[str, Message], str]) -> str:
    failed = sum(bool(v.messages) for v in found)
    skipped = sum(not v.was_tried and not v.messages for v in found)
    head = (
        f"<testsuite name={_attribute(file)} tests={_attribute(len(found))}"
        f" failures={_attribute(failed)} errors={_attribute(0)} skipped={_attribute(skipped)}>\n"
    )
    return head + "".join(_case(file, v, drawn) for v in found) + "</testsuite>\n"


def _case(file: str, verdict: Verdict, drawn: Callable[[str, Message], str]) -> str:
    head = f"<testcase classname={_attribute(file)} name={_attribute(verdict.name or DESIGN)}"
    if verdict.messages:
        title = verdict.messages[0].words.title
        body = "\n\n".join(drawn(file, message) for message in verdict.messages)
        return f"{head}><failure message={_attribute(title)}>{_text(body)}</failure></testcase>\n"
    if not verdict.was_tried:
        return f'{head}><skipped message="the design could not be made out"/></testcase>\n'
    return f"{head}/>\n"


def _attribute(value: object) -> str:
    return quoteattr(_clean(str(value)))


def _text(value: str) -> str:
    return escape(_clean(value))


def _clean(value: str) -> str:
    return _UNFIT.sub("\ufffd", value)
