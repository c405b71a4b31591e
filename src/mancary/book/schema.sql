-- One row a fact. Nothing is ever updated, deleted or replaced; see the triggers.
CREATE TABLE fact (
    number        INTEGER PRIMARY KEY AUTOINCREMENT,  -- order of writing, never used again
    id            TEXT NOT NULL UNIQUE,               -- UUID, made where the fact was typed
    kind          TEXT NOT NULL,
    version       INTEGER NOT NULL,
    happened      TEXT NOT NULL,                      -- ISO 8601, only as exact as it is known
    typed         TEXT NOT NULL,                      -- ISO 8601 UTC, the typing device's clock
    clock_error_s REAL,                               -- that clock less the book's, where known
    written       TEXT NOT NULL,                      -- ISO 8601 UTC, the book's clock
    body          TEXT NOT NULL CHECK (json_valid(body)),
    seal          TEXT NOT NULL                       -- SHA-256 over the seal before and this row
) STRICT;

CREATE INDEX fact_by_kind ON fact (kind, number);

-- All that a fact is about: box:A01, colony:A01.1, shelf:A1, fact:<id> ... A row holds nothing beside
-- its key, so replacing one changes nothing, and a stray one breaks the fact's seal.
CREATE TABLE fact_subject (
    subject TEXT NOT NULL,
    number  INTEGER NOT NULL,
    PRIMARY KEY (subject, number)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER fact_is_never_updated BEFORE UPDATE ON fact
BEGIN SELECT RAISE(ABORT, 'the book is append-only'); END;

CREATE TRIGGER fact_is_never_deleted BEFORE DELETE ON fact
BEGIN SELECT RAISE(ABORT, 'the book is append-only'); END;

-- INSERT OR REPLACE deletes without firing a delete trigger.
CREATE TRIGGER fact_is_never_replaced BEFORE INSERT ON fact
WHEN NEW.number <= (SELECT max(number) FROM fact)
    OR EXISTS (SELECT 1 FROM fact WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'the book is append-only'); END;

CREATE TRIGGER fact_subject_is_never_updated BEFORE UPDATE ON fact_subject
BEGIN SELECT RAISE(ABORT, 'the book is append-only'); END;

CREATE TRIGGER fact_subject_is_never_deleted BEFORE DELETE ON fact_subject
BEGIN SELECT RAISE(ABORT, 'the book is append-only'); END;

-- What the facts add up to, box by box. May be thrown away at any time.
CREATE TABLE standing (
    box  TEXT PRIMARY KEY,
    body BLOB NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE standing_upto (
    one    INTEGER PRIMARY KEY CHECK (one = 1),
    number INTEGER NOT NULL,
    shape  INTEGER NOT NULL
) STRICT;
