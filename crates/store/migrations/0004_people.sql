-- Who may sign in, from which device, until when. Unlike the record, these rows change.

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

CREATE TABLE device (
  id       TEXT PRIMARY KEY,
  name     TEXT NOT NULL,
  since    TEXT NOT NULL,
  since_zone TEXT NOT NULL,
  left_at  TEXT,
  left_zone TEXT,
  CHECK ((left_at IS NULL) = (left_zone IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE session (
  key      TEXT PRIMARY KEY,          -- what the caller makes of the cookie: hand in a hash of it
  person   INTEGER NOT NULL REFERENCES person (id),
  device   TEXT NOT NULL REFERENCES device (id),
  since    TEXT NOT NULL,
  ends     TEXT NOT NULL,             -- instant, fixed width, so that text order is time order
  CHECK (ends > since)
) STRICT, WITHOUT ROWID;

CREATE INDEX session_by_person ON session (person);
CREATE INDEX session_by_device ON session (device);
CREATE INDEX session_by_end ON session (ends);
