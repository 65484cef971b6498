"""What the parts of the library share: the file, this window's mark, the clock, and words to search by."""

import unicodedata
from datetime import UTC, datetime

from fluxlab.store.codec import Read, T
from fluxlab.store.database import Database
from fluxlab.store.problem import StoreProblem
from fluxlab.store.session import Session


class Part:
    """A part of the library, on its open file."""

    def __init__(self, database: Database, session: Session) -> None:
        self._db = database
        self._session = session


def now_text() -> str:
    """The present time as kept (UTC)."""
    return datetime.now(UTC).isoformat(timespec="milliseconds")


def moment(text: str) -> datetime:
    """A kept time."""
    return datetime.fromisoformat(text)


def clean(text: str) -> str:
    """A text without half characters, which no file can hold."""
    return text.encode("utf-8", "replace").decode("utf-8")


def findable(*texts: str) -> str:
    """Texts as they are searched: small letters, no accents, single spaces."""
    plain = unicodedata.normalize("NFKD", " ".join(texts).casefold())
    return " ".join("".join(c for c in plain if not unicodedata.combining(c)).split())


def pattern(word: str) -> str:
    """A LIKE pattern (escape character \\) for a word anywhere in a text."""
    for special in "\\%_":
        word = word.replace(special, f"\\{special}")
    return f"%{word}%"


def sound(read: Read[T], what: str) -> T:
    """The value that was read; raises StoreProblem when our own file holds what this program cannot read."""
    if read.value is None:
        first = read.issues[0]
        raise StoreProblem(f"Cannot open {what}: {first.sentence} {first.remedy}".strip())
    return read.value
