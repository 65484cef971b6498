"""Version 2: the melt record. An entry stays as it was written; a later one that names it takes its place."""

STATEMENTS = (
    """
    CREATE TABLE melt (
        number INTEGER PRIMARY KEY AUTOINCREMENT,
        uid TEXT NOT NULL UNIQUE,
        ore TEXT NOT NULL,
        recipe TEXT NOT NULL,
        ticket INTEGER NOT NULL REFERENCES ticket (number),
        replaces TEXT UNIQUE REFERENCES melt (uid),
        struck INTEGER NOT NULL CHECK (struck IN (0, 1)),
        recorded TEXT NOT NULL,
        document TEXT NOT NULL
    )
    """,
    "CREATE INDEX melt_by_ore ON melt (ore)",
    """
    CREATE TRIGGER melt_is_not_changed BEFORE UPDATE ON melt
    BEGIN SELECT RAISE (ABORT, 'a melt stays as it was recorded'); END
    """,
    """
    CREATE TRIGGER melt_is_not_deleted BEFORE DELETE ON melt
    BEGIN SELECT RAISE (ABORT, 'a melt stays'); END
    """,
)
