"""How does a user's word stand safely in XML?"""

from __future__ import annotations

import re

_FORBIDDEN = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_MARKS = {"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;"}


def xml_text(text: str) -> str:
    """The text for an element or a quoted attribute; characters XML 1.0 has no place for become
    U+FFFD.

    >>> xml_text('<"a" & \\x00b>')
    '&lt;&quot;a&quot; &amp; \\ufffdb&gt;'
    """
    kept = _FORBIDDEN.sub("\ufffd", text)
    return "".join(_MARKS.get(c, c) for c in kept)
