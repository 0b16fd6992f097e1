-- Pages of the book as revisions, and saves that met a newer revision.

CREATE TABLE revision (
  seq     INTEGER PRIMARY KEY AUTOINCREMENT,
  page    TEXT    NOT NULL,
  number  INTEGER NOT NULL CHECK (number >= 1),
  parent  INTEGER,
  kind    TEXT    NOT NULL,
  text    TEXT,                       -- NULL: the page was taken out of the book
  who     TEXT    NOT NULL CHECK (who <> ''),
  at      TEXT    NOT NULL,
  zone    TEXT    NOT NULL,
  hash    BLOB    NOT NULL CHECK (length(hash) = 32),   -- of all of it, not of the text alone
  UNIQUE (page, number),
  FOREIGN KEY (page, parent) REFERENCES revision (page, number),
  CHECK ((parent IS NULL) = (number = 1)),
  CHECK (parent IS NULL OR parent = number - 1)
) STRICT;

CREATE TRIGGER revision_is_not_changed BEFORE UPDATE ON revision
BEGIN SELECT RAISE(ABORT, 'a revision is never changed'); END;
CREATE TRIGGER revision_is_not_deleted BEFORE DELETE ON revision
BEGIN SELECT RAISE(ABORT, 'a revision is never deleted'); END;
CREATE TRIGGER revision_is_new BEFORE INSERT ON revision
WHEN EXISTS (SELECT 1 FROM revision
             WHERE seq = NEW.seq OR (page = NEW.page AND number = NEW.number))
BEGIN SELECT RAISE(ABORT, 'a revision is never replaced'); END;

CREATE TABLE conflict (
  id      INTEGER PRIMARY KEY AUTOINCREMENT,
  page    TEXT    NOT NULL,
  parent  INTEGER,                    -- what the writer had in hand; NULL: thought the page new
  met     INTEGER NOT NULL,           -- the newest revision at that moment
  text    TEXT,                       -- NULL: the writer wanted the page taken out
  who     TEXT    NOT NULL CHECK (who <> ''),
  at      TEXT    NOT NULL,
  zone    TEXT    NOT NULL,
  hash    BLOB    NOT NULL CHECK (length(hash) = 32),
  FOREIGN KEY (page, parent) REFERENCES revision (page, number),
  FOREIGN KEY (page, met)    REFERENCES revision (page, number)
) STRICT;

CREATE INDEX conflict_by_page ON conflict (page);

CREATE TRIGGER conflict_is_not_changed BEFORE UPDATE ON conflict
BEGIN SELECT RAISE(ABORT, 'a conflict is settled, never changed'); END;
CREATE TRIGGER conflict_is_not_deleted BEFORE DELETE ON conflict
BEGIN SELECT RAISE(ABORT, 'a conflict is settled, never deleted'); END;
CREATE TRIGGER conflict_is_new BEFORE INSERT ON conflict
WHEN EXISTS (SELECT 1 FROM conflict WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'a conflict is never replaced'); END;

CREATE TABLE settlement (
  conflict INTEGER PRIMARY KEY REFERENCES conflict (id),
  number   INTEGER,                   -- the revision that took it in; NULL: let go on purpose
  who      TEXT NOT NULL CHECK (who <> ''),
  at       TEXT NOT NULL,
  zone     TEXT NOT NULL
) STRICT;

CREATE TRIGGER settlement_is_not_changed BEFORE UPDATE ON settlement
BEGIN SELECT RAISE(ABORT, 'a settlement is never changed'); END;
CREATE TRIGGER settlement_is_not_deleted BEFORE DELETE ON settlement
BEGIN SELECT RAISE(ABORT, 'a settlement is never deleted'); END;
CREATE TRIGGER settlement_is_new BEFORE INSERT ON settlement
WHEN EXISTS (SELECT 1 FROM settlement WHERE conflict = NEW.conflict)
BEGIN SELECT RAISE(ABORT, 'a settlement is never replaced'); END;
