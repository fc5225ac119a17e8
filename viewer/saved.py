"""How does a piece become one file that shows itself, from a disk and without a network?

In: the page's files and a picture. Out: one HTML text. The data stands in it as text that no parser
of HTML can take for markup; a policy in the file lets the browser run our script and style, known
by their digests, fetch nothing, and send nothing anywhere.
"""

from __future__ import annotations

import base64
import hashlib
import html
import re

from ..kernel.faults import InternalError
from .pagefiles import SCRIPT, STYLE, PageFiles
from .scene import Picture

SCENE_ID, PIECE_ID = "dryfit-scene", "dryfit-glb"
PIECE_TYPE = "application/octet-stream+base64"

MARK = "<!-- saved by dryfit -->"
"""Ends every such file, so that a later run knows its own and may replace it."""

_STYLE_TAG = re.compile(rf'<link\b[^>]*\bhref="(?:\./)?{re.escape(STYLE)}"[^>]*>')
_SCRIPT_TAG = re.compile(rf'<script\b[^>]*\bsrc="(?:\./)?{re.escape(SCRIPT)}"[^>]*>\s*</script>')
_TITLE = re.compile(r"<title>[^<]*</title>")
_HEAD = re.compile(r"<head>")
_END = re.compile(r"</body>")

_UNSAFE = {ord(c): f"\\u{ord(c):04x}" for c in "<>&\u2028\u2029"}


def saved_page(files: PageFiles, shown: Picture, title: str) -> str:
    """The whole file, ending in `MARK`; the same picture gives the same bytes."""
    script, style = inline_script(files.script), inline_style(files.style)
    data = (
        f'<script type="application/json" id="{SCENE_ID}">{inline_json(shown.scene)}</script>\n'
        f'<script type="{PIECE_TYPE}" id="{PIECE_ID}">{_base64(shown.piece)}</script>\n'
    )
    policy = f'<meta http-equiv="Content-Security-Policy" content="{_policy(script, style)}">'
    page = _once(_STYLE_TAG, f"<style>{style}</style>", files.template)
    page = _once(_SCRIPT_TAG, "", page)
    page = _once(_TITLE, f"<title>{html.escape(title)}</title>", page)
    page = _once(_HEAD, f"<head>\n{policy}", page)
    page = _once(_END, f"{data}<script>{script}</script>\n</body>", page)
    return f"{page.rstrip()}\n{MARK}\n"


def inline_json(document: bytes) -> str:
    """The document with every character that could end a script, open a comment or break a line
    written as an escape: in JSON they stand inside strings alone.

    >>> inline_json(b'["</script><!--"]')
    '["\\\\u003c/script\\\\u003e\\\\u003c!--"]'
    """
    return document.decode().translate(_UNSAFE)


def inline_script(code: str) -> str:
    """Our bundle as it may stand in a page. InternalError where it holds what would end it or
    start a comment: the bundler writes such strings apart."""
    if re.search(r"</script|<script|<!--", code, re.IGNORECASE):
        raise InternalError("the page's script holds text that HTML would take for markup")
    return code


def inline_style(rules: str) -> str:
    """The same for the style."""
    if re.search(r"</style|<!--", rules, re.IGNORECASE):
        raise InternalError("the page's style holds text that HTML would take for markup")
    return rules


def _policy(script: str, style: str) -> str:
    return (
        f"default-src 'none'; script-src {_digest(script)}; style-src {_digest(style)}; "
        "img-src data: blob:; base-uri 'none'; form-action 'none'"
    )


def _digest(content: str) -> str:
    """As the policy names it: of the content exactly as it stands between its tags."""
    return f"'sha256-{_base64(hashlib.sha256(content.encode()).digest())}'"


def _base64(data: bytes) -> str:
    return base64.b64encode(data).decode("ascii")


def _once(pattern: re.Pattern[str], by: str, page: str) -> str:
    made, count = pattern.subn(lambda _: by, page)
    if count != 1:
        raise InternalError(f"the page's template holds {pattern.pattern!r} {count} times")
    return made
