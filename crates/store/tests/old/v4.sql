PRAGMA application_id = 1396788308;
PRAGMA user_version = 4;
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
CREATE TABLE device (
  id       TEXT PRIMARY KEY,
  name     TEXT NOT NULL,
  since    TEXT NOT NULL,
  since_zone TEXT NOT NULL,
  left_at  TEXT,
  left_zone TEXT,
  CHECK ((left_at IS NULL) = (left_zone IS NULL))
) STRICT, WITHOUT ROWID;
INSERT INTO "device" VALUES('tablet-2','by the smoker','2027-10-01T12:30:00.000000000Z','America/Toronto',NULL,NULL);
CREATE TABLE log (
  sequence  INTEGER PRIMARY KEY AUTOINCREMENT CHECK (sequence >= 1),
  id        TEXT NOT NULL UNIQUE,     -- made by the client: the same id is stored once
  at        TEXT NOT NULL,            -- when it happened
  zone      TEXT NOT NULL,
  recorded_at   TEXT NOT NULL,        -- when the store was given it
  recorded_zone TEXT NOT NULL,
  who       TEXT NOT NULL CHECK (who <> ''),
  device    TEXT NOT NULL CHECK (device <> ''),
  event     TEXT NOT NULL,
  component TEXT,
  step      TEXT,
  lot       TEXT,
  part      TEXT,                     -- which piece, pan or probe of it
  kind      TEXT NOT NULL,
  corrects  INTEGER REFERENCES log (sequence),
  number    TEXT,                     -- decimal, as it was entered
  unit      TEXT,
  words     TEXT NOT NULL,
  before    BLOB NOT NULL CHECK (length(before) = 32),
  hash      BLOB NOT NULL CHECK (length(hash) = 32),
  CHECK ((number IS NULL) = (unit IS NULL)),
  CHECK ((corrects IS NULL) = (kind <> 'correction')),
  CHECK (corrects IS NULL OR corrects < sequence)
) STRICT;
INSERT INTO "log" VALUES(1,'tablet-2:1','2027-10-01T12:30:00.000000000Z','America/Toronto','2027-10-01T12:30:00.000000000Z','UTC','Maren','tablet-2','harvest-supper','hot-smoked-char',NULL,'char-1',NULL,'started',NULL,NULL,NULL,'',X'0000000000000000000000000000000000000000000000000000000000000000',X'BEE62AC6D650CB23634CAD708F6F2CBFF550FF8FFF78405F50F04B81A04C41CA');
INSERT INTO "log" VALUES(2,'tablet-2:2','2027-10-02T12:30:00.000000000Z','America/Toronto','2027-10-02T12:30:00.000000000Z','UTC','Maren','tablet-2','harvest-supper','hot-smoked-char',NULL,'char-1','probe 2','weighed',NULL,'5.220','kg','five fish',X'BEE62AC6D650CB23634CAD708F6F2CBFF550FF8FFF78405F50F04B81A04C41CA',X'9F5697022A067648571EF5C448842F455F1A5C807014B14BBB60822D96219CBD');
INSERT INTO "log" VALUES(3,'tablet-2:3','2027-10-03T12:30:00.000000000Z','America/Toronto','2027-10-03T12:30:00.000000000Z','UTC','Maren','tablet-2','harvest-supper','hot-smoked-char',NULL,'char-1','probe 2','temperature',NULL,'145.4','°F','coldest of three',X'9F5697022A067648571EF5C448842F455F1A5C807014B14BBB60822D96219CBD',X'BA09A6B5AFFF85E5AFFCBD5665B369721E27A073795D9D39AC7713587FC7C26F');
INSERT INTO "log" VALUES(4,'tablet-2:4','2027-10-04T12:30:00.000000000Z','America/Toronto','2027-10-04T12:30:00.000000000Z','UTC','Maren','tablet-2','harvest-supper','hot-smoked-char',NULL,'char-1','probe 2','correction',3,'62.8','°C','read the wrong probe',X'BA09A6B5AFFF85E5AFFCBD5665B369721E27A073795D9D39AC7713587FC7C26F',X'CFF3AA083A7AA60FC1A500C8AA412851319AE87D0E4CB94C482465DE1D4FA631');
INSERT INTO "log" VALUES(5,'tablet-2:5','2027-10-05T12:30:00.000000000Z','America/Toronto','2027-10-05T12:30:00.000000000Z','UTC','Maren','tablet-2','harvest-supper','hot-smoked-char',NULL,'char-1',NULL,'note',NULL,NULL,NULL,'two
lines, and 4:emoji 🐟
',X'CFF3AA083A7AA60FC1A500C8AA412851319AE87D0E4CB94C482465DE1D4FA631',X'D12F916D4977BBFC9093E1D5C919A03D3D5BC77C600F4134DC3FADD1857AAA7A');
CREATE TABLE person (
  id       INTEGER PRIMARY KEY AUTOINCREMENT,
  name     TEXT NOT NULL UNIQUE CHECK (name <> ''),
  role     TEXT NOT NULL,
  password TEXT,                      -- a hash, opaque here; NULL: cannot sign in with a password
  since    TEXT NOT NULL,
  since_zone TEXT NOT NULL,
  left_at  TEXT,                      -- from then on no session of theirs opens or holds
  left_zone TEXT,
  CHECK ((left_at IS NULL) = (left_zone IS NULL))
) STRICT;
INSERT INTO "person" VALUES(1,'Maren','instructor','$opaque$','2027-10-01T12:30:00.000000000Z','America/Toronto',NULL,NULL);
INSERT INTO "person" VALUES(2,'Ode','learner',NULL,'2027-10-01T12:30:00.000000000Z','America/Toronto','2027-10-05T12:30:00.000000000Z','America/Toronto');
CREATE TABLE plan (
  id       INTEGER PRIMARY KEY AUTOINCREMENT,
  event    TEXT NOT NULL,
  settings TEXT NOT NULL,             -- what the plan was asked with beside the book
  who      TEXT NOT NULL CHECK (who <> ''),
  at       TEXT NOT NULL,
  zone     TEXT NOT NULL
) STRICT;
INSERT INTO "plan" VALUES(1,'harvest-supper','covers=72','Maren','2027-10-04T12:30:00.000000000Z','America/Toronto');
CREATE TABLE plan_page (
  plan   INTEGER NOT NULL REFERENCES plan (id),
  page   TEXT    NOT NULL,
  number INTEGER NOT NULL,
  PRIMARY KEY (plan, page),
  FOREIGN KEY (page, number) REFERENCES revision (page, number)
) STRICT, WITHOUT ROWID;
INSERT INTO "plan_page" VALUES(1,'book.toml',1);
INSERT INTO "plan_page" VALUES(1,'recipes/char.toml',1);
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
CREATE TABLE session (
  key      TEXT PRIMARY KEY,          -- what the caller makes of the cookie: hand in a hash of it
  person   INTEGER NOT NULL REFERENCES person (id),
  device   TEXT NOT NULL REFERENCES device (id),
  since    TEXT NOT NULL,
  ends     TEXT NOT NULL,             -- instant, fixed width, so that text order is time order
  CHECK (ends > since)
) STRICT, WITHOUT ROWID;
INSERT INTO "session" VALUES('k1',1,'tablet-2','2027-10-05T12:30:00.000000000Z','2027-10-06T12:30:00.000000000Z');
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
CREATE INDEX log_by_event ON log (event, sequence);
CREATE INDEX log_by_lot ON log (lot, sequence) WHERE lot IS NOT NULL;
CREATE INDEX log_by_corrects ON log (corrects) WHERE corrects IS NOT NULL;
CREATE TRIGGER log_is_not_changed BEFORE UPDATE ON log
BEGIN SELECT RAISE(ABORT, 'the log is never changed: append a correction'); END;
CREATE TRIGGER log_is_not_deleted BEFORE DELETE ON log
BEGIN SELECT RAISE(ABORT, 'the log is never shortened: append a correction'); END;
CREATE TRIGGER log_goes_on BEFORE INSERT ON log
WHEN NEW.sequence IS NOT (SELECT coalesce(max(sequence), 0) + 1 FROM log)
  OR EXISTS (SELECT 1 FROM log WHERE id = NEW.id)
  OR NEW.before IS NOT coalesce((SELECT hash FROM log WHERE sequence = NEW.sequence - 1), zeroblob(32))
BEGIN SELECT RAISE(ABORT, 'the log goes on from its last entry'); END;
CREATE INDEX plan_by_event ON plan (event, id);
CREATE TRIGGER plan_is_not_changed BEFORE UPDATE ON plan
BEGIN SELECT RAISE(ABORT, 'a plan on record is never changed'); END;
CREATE TRIGGER plan_is_not_deleted BEFORE DELETE ON plan
BEGIN SELECT RAISE(ABORT, 'a plan on record is never deleted'); END;
CREATE TRIGGER plan_is_new BEFORE INSERT ON plan
WHEN EXISTS (SELECT 1 FROM plan WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'a plan on record is never replaced'); END;
CREATE TRIGGER plan_page_is_not_changed BEFORE UPDATE ON plan_page
BEGIN SELECT RAISE(ABORT, 'a plan on record is never changed'); END;
CREATE TRIGGER plan_page_is_not_deleted BEFORE DELETE ON plan_page
BEGIN SELECT RAISE(ABORT, 'a plan on record is never deleted'); END;
CREATE TRIGGER plan_page_is_new BEFORE INSERT ON plan_page
WHEN EXISTS (SELECT 1 FROM plan_page WHERE plan = NEW.plan AND page = NEW.page)
BEGIN SELECT RAISE(ABORT, 'a plan on record is never replaced'); END;
CREATE INDEX session_by_person ON session (person);
CREATE INDEX session_by_device ON session (device);
CREATE INDEX session_by_end ON session (ends);
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('revision',5);
INSERT INTO "sqlite_sequence" VALUES('conflict',2);
INSERT INTO "sqlite_sequence" VALUES('log',5);
INSERT INTO "sqlite_sequence" VALUES('plan',1);
INSERT INTO "sqlite_sequence" VALUES('person',2);
COMMIT;
