PRAGMA application_id = 1396788308;
PRAGMA user_version = 1;
BEGIN TRANSACTION;
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
INSERT INTO "conflict" VALUES(1,'recipes/char.toml',1,2,'recipe = "char"
name = "Arctic char"
','Maren','2027-10-03T12:30:00.000000000Z','America/Toronto',X'AF17E351E51543DD578C71D291F99D3F096B11AC3128160972BB83F09981542C');
INSERT INTO "conflict" VALUES(2,'recipes/char.toml',1,2,'recipe = "char"
name = "Arctic char"
','Maren','2027-10-03T12:30:00.000000000Z','America/Toronto',X'AF17E351E51543DD578C71D291F99D3F096B11AC3128160972BB83F09981542C');
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
INSERT INTO "revision" VALUES(1,'book.toml',1,NULL,'book','book = "Old house"
','Maren','2027-10-01T12:30:00.000000000Z','America/Toronto',X'BB8B613D06B313BE9D975AE13A2DB74B79505E1AB838606BD22E2B0C61933DD5');
INSERT INTO "revision" VALUES(2,'recipes/char.toml',1,NULL,'recipe','recipe = "char" # čar 🐟
','Maren','2027-10-01T12:30:00.000000000Z','America/Toronto',X'A40A2E0728857C295FCCE39723C43CE258260880F49CAD97C04E0861071BCD2F');
INSERT INTO "revision" VALUES(3,'recipes/char.toml',2,1,'recipe','recipe = "char"
name = "Char"
','Ode','2027-10-02T12:30:00.000000000Z','America/Toronto',X'B1656A0AD18015009F57ACBB21CA7C96919616AB75DEEE4EF681FE5BCCABE50E');
INSERT INTO "revision" VALUES(4,'gone.toml',1,NULL,'unread','﻿x = 1','Ode','2027-10-02T12:30:00.000000000Z','America/Toronto',X'1C74A5256A45239153DFB8BD0798F31307ECFC3C177531B136E2A1DEDDA7CA8D');
INSERT INTO "revision" VALUES(5,'gone.toml',2,1,'unread',NULL,'Ode','2027-10-03T12:30:00.000000000Z','America/Toronto',X'2A2F7EE49B996B69BC17D8F2E5957ACAB3D37ACB29B6AF83EE207398018F7489');
CREATE TABLE settlement (
  conflict INTEGER PRIMARY KEY REFERENCES conflict (id),
  number   INTEGER,                   -- the revision that took it in; NULL: let go on purpose
  who      TEXT NOT NULL CHECK (who <> ''),
  at       TEXT NOT NULL,
  zone     TEXT NOT NULL
) STRICT;
INSERT INTO "settlement" VALUES(1,NULL,'Ode','2027-10-03T12:30:00.000000000Z','America/Toronto');
CREATE TRIGGER revision_is_not_changed BEFORE UPDATE ON revision
BEGIN SELECT RAISE(ABORT, 'a revision is never changed'); END;
CREATE TRIGGER revision_is_not_deleted BEFORE DELETE ON revision
BEGIN SELECT RAISE(ABORT, 'a revision is never deleted'); END;
CREATE TRIGGER revision_is_new BEFORE INSERT ON revision
WHEN EXISTS (SELECT 1 FROM revision
             WHERE seq = NEW.seq OR (page = NEW.page AND number = NEW.number))
BEGIN SELECT RAISE(ABORT, 'a revision is never replaced'); END;
CREATE INDEX conflict_by_page ON conflict (page);
CREATE TRIGGER conflict_is_not_changed BEFORE UPDATE ON conflict
BEGIN SELECT RAISE(ABORT, 'a conflict is settled, never changed'); END;
CREATE TRIGGER conflict_is_not_deleted BEFORE DELETE ON conflict
BEGIN SELECT RAISE(ABORT, 'a conflict is settled, never deleted'); END;
CREATE TRIGGER conflict_is_new BEFORE INSERT ON conflict
WHEN EXISTS (SELECT 1 FROM conflict WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'a conflict is never replaced'); END;
CREATE TRIGGER settlement_is_not_changed BEFORE UPDATE ON settlement
BEGIN SELECT RAISE(ABORT, 'a settlement is never changed'); END;
CREATE TRIGGER settlement_is_not_deleted BEFORE DELETE ON settlement
BEGIN SELECT RAISE(ABORT, 'a settlement is never deleted'); END;
CREATE TRIGGER settlement_is_new BEFORE INSERT ON settlement
WHEN EXISTS (SELECT 1 FROM settlement WHERE conflict = NEW.conflict)
BEGIN SELECT RAISE(ABORT, 'a settlement is never replaced'); END;
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('revision',5);
INSERT INTO "sqlite_sequence" VALUES('conflict',2);
COMMIT;
