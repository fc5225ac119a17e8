"""How is a file named to other programs: relative to the folder dryfit was run in, or whole?

Paths are text with `/` between their parts; nothing here looks at the disk.

>>> root = Root("/home/shed")
>>> root.inside("/home/shed/seed tray.dry"), root.inside("../rail.dry")
('seed%20tray.dry', None)
>>> root.uri("../rail.dry"), root.name("./parts/rail.dry")
('file:///home/rail.dry', 'parts/rail.dry')
"""

from __future__ import annotations

from dataclasses import dataclass
from posixpath import join, normpath
from urllib.parse import quote


@dataclass(frozen=True, slots=True)
class Root:
    """A folder, whole."""

    folder: str

    def name(self, file: str) -> str:
        """The file's path from this folder, its whole path where it lies outside."""
        whole = normpath(join(self.folder, file))
        return whole.removeprefix(self.folder.rstrip("/") + "/")

    def inside(self, file: str) -> str | None:
        """The same as a relative URI; None where the file lies outside."""
        name = self.name(file)
        return None if name.startswith("/") else _quoted(name)

    def uri(self, file: str) -> str:
        """The file's whole path as a URI."""
        return f"file://{_quoted(normpath(join(self.folder, file)))}"


def _quoted(path: str) -> str:
    """The path as it stands in a URI; a name that is no UTF-8 keeps its bytes."""
    return quote(path, safe="/", errors="surrogateescape")
