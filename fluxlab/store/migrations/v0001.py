"""Version 1: ore types, recipes with revisions that stay, drafts, shelf, tickets. Frozen once released."""

STATEMENTS = (
    """
    CREATE TABLE meta (
        key TEXT PRIMARY KEY,
        value TEXT NOT NULL
    )
    """,
    """
    CREATE TABLE ore (
        uid TEXT PRIMARY KEY,
        family TEXT NOT NULL,
        name TEXT NOT NULL,
        finder TEXT NOT NULL,
        archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1)),
        changed TEXT NOT NULL,
        document TEXT NOT NULL
    )
    """,
    """
    CREATE TABLE recipe (
        uid TEXT PRIMARY KEY,
        ore TEXT NOT NULL REFERENCES ore (uid),
        name TEXT NOT NULL,
        finder TEXT NOT NULL,
        archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1)),
        made TEXT NOT NULL
    )
    """,
    "CREATE INDEX recipe_by_ore ON recipe (ore)",
    """
    CREATE TABLE revision (
        recipe TEXT NOT NULL REFERENCES recipe (uid),
        number INTEGER NOT NULL CHECK (number > 0),
        saved TEXT NOT NULL,
        note TEXT NOT NULL,
        document TEXT NOT NULL,
        PRIMARY KEY (recipe, number)
    )
    """,
    """
    CREATE TRIGGER revision_is_not_changed BEFORE UPDATE ON revision
    BEGIN SELECT RAISE (ABORT, 'a revision stays as it is'); END
    """,
    """
    CREATE TRIGGER revision_is_not_deleted BEFORE DELETE ON revision
    BEGIN SELECT RAISE (ABORT, 'a revision stays'); END
    """,
    """
    CREATE TABLE draft (
        recipe TEXT NOT NULL,
        session TEXT NOT NULL,
        base INTEGER,
        ore_name TEXT NOT NULL,
        name TEXT NOT NULL,
        saved TEXT NOT NULL,
        document TEXT NOT NULL,
        PRIMARY KEY (recipe, session)
    )
    """,
    """
    CREATE TABLE shelf (
        number INTEGER PRIMARY KEY AUTOINCREMENT,
        saved TEXT NOT NULL,
        document TEXT NOT NULL
    )
    """,
    """
    CREATE TABLE ticket (
        number INTEGER PRIMARY KEY AUTOINCREMENT,
        ore TEXT NOT NULL,
        recipe TEXT NOT NULL,
        revision INTEGER,
        copy INTEGER NOT NULL CHECK (copy > 0),
        printed TEXT NOT NULL,
        confirmed TEXT NOT NULL,
        document TEXT NOT NULL
    )
    """,
    "CREATE INDEX ticket_by_ore ON ticket (ore)",
    "CREATE INDEX ticket_by_recipe ON ticket (recipe)",
    """
    CREATE TRIGGER ticket_is_not_changed BEFORE UPDATE ON ticket
    BEGIN SELECT RAISE (ABORT, 'a ticket stays as it was printed'); END
    """,
    """
    CREATE TRIGGER ticket_is_not_deleted BEFORE DELETE ON ticket
    BEGIN SELECT RAISE (ABORT, 'a ticket stays'); END
    """,
)
