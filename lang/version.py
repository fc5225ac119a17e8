"""Which version is this? The same figure as in `pyproject.toml`, at hand without a search."""

VERSION = "0.1.0"
