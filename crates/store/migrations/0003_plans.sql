-- Which revisions a plan was made from.

CREATE TABLE plan (
  id       INTEGER PRIMARY KEY AUTOINCREMENT,
  event    TEXT NOT NULL,
  settings TEXT NOT NULL,             -- what the plan was asked with beside the book
  who      TEXT NOT NULL CHECK (who <> ''),
  at       TEXT NOT NULL,
  zone     TEXT NOT NULL
) STRICT;

CREATE INDEX plan_by_event ON plan (event, id);

CREATE TABLE plan_page (
  plan   INTEGER NOT NULL REFERENCES plan (id),
  page   TEXT    NOT NULL,
  number INTEGER NOT NULL,
  PRIMARY KEY (plan, page),
  FOREIGN KEY (page, number) REFERENCES revision (page, number)
) STRICT, WITHOUT ROWID;

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
