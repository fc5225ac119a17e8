"""The form of a scene and of messages, as the schema that ships states it, and scenes to hold
against it."""

import json
from importlib.resources import files
from pathlib import Path
from typing import Any

from dryfit.lang.files import DiskFiles, Files, MemoryFiles
from dryfit.lang.inspection import Inspection, Request
from dryfit.viewer.looking import Looking
from dryfit.viewer.scene import Picture

SCHEMA: dict[str, Any] = json.loads(
    files("dryfit.viewer").joinpath("scene.schema.json").read_text("utf-8")
)

MESSAGES: dict[str, Any] = {
    "$defs": SCHEMA["$defs"],
    "type": "array",
    "items": {"$ref": "#/$defs/message"},
}
"""What a page is told while the text is broken."""


def shown(path: Path) -> tuple[Inspection, Picture]:
    """A design on the disk, checked, as its page is given it."""
    return _shown(Request(file=str(path)), DiskFiles())


def shown_text(text: str) -> tuple[Inspection, Picture]:
    return _shown(Request(file="piece.dry"), MemoryFiles({"piece.dry": text}))


def _shown(request: Request, read_from: Files) -> tuple[Inspection, Picture]:
    looking = Looking(request)
    inspection = looking.checked(looking.read(read_from))
    return inspection, looking.seen(inspection, looking.worked(inspection))


def document(picture: Picture) -> dict[str, Any]:
    return dict(json.loads(picture.scene))
