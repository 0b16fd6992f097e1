-- What happened, appended and never edited; each entry holds the hash of the one before.

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

CREATE INDEX log_by_event ON log (event, sequence);
CREATE INDEX log_by_lot ON log (lot, sequence) WHERE lot IS NOT NULL;
CREATE INDEX log_by_corrects ON log (corrects) WHERE corrects IS NOT NULL;

CREATE TRIGGER log_is_not_changed BEFORE UPDATE ON log
BEGIN SELECT RAISE(ABORT, 'the log is never changed: append a correction'); END;
CREATE TRIGGER log_is_not_deleted BEFORE DELETE ON log
BEGIN SELECT RAISE(ABORT, 'the log is never shortened: append a correction'); END;
-- "insert or replace" deletes without asking the trigger above; this one is asked first.
CREATE TRIGGER log_goes_on BEFORE INSERT ON log
WHEN NEW.sequence IS NOT (SELECT coalesce(max(sequence), 0) + 1 FROM log)
  OR EXISTS (SELECT 1 FROM log WHERE id = NEW.id)
  OR NEW.before IS NOT coalesce((SELECT hash FROM log WHERE sequence = NEW.sequence - 1), zeroblob(32))
BEGIN SELECT RAISE(ABORT, 'the log goes on from its last entry'); END;
