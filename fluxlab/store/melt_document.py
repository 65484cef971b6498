"""Melts as documents."""

from collections.abc import Sequence

from fluxlab.learn.melt import Melt
from fluxlab.store import document
from fluxlab.store.codec import CODEC, Read


def melt_text(melt: Melt) -> str:
    """A melt as a document."""
    return document.write("melt", melt=CODEC.plain(melt))


def read_melt(text: str, *, ranges: bool = True) -> Read[Melt]:
    """The melt of a melt document; `ranges` refuses numbers that make no sense."""
    parts = document.read_parts(text, ("melt",), ("melt",))
    if parts.value is None:
        return Read(None, parts.issues)
    return CODEC.value(Melt, parts.value.get("melt"), "melt", ranges=ranges)


def melts_text(melts: Sequence[Melt]) -> str:
    """Melts as one document."""
    return document.write("melts", melts=[CODEC.plain(melt) for melt in melts])


def read_melts(text: str) -> Read[tuple[Melt, ...]]:
    """The melts of a document of several."""
    parts = document.read_parts(text, ("melts",), ("melts",))
    if parts.value is None:
        return Read(None, parts.issues)
    listed: type[tuple[Melt, ...]] = tuple[Melt, ...]
    return CODEC.value(listed, parts.value.get("melts"), "melts")
