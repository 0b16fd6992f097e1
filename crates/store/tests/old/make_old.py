#!/usr/bin/env python3
"""Writes v1.sql .. v4.sql: databases as versions 1 to 4 of the store left them, as SQL text.

Independent of the Rust code: tables come from the migration files through Python's sqlite3, hashes
from hashlib, the canonical form is written here from docs/store.md. The files are frozen; run this
again only to add a version (`python3 make_old.py N` writes vN.sql), never to rewrite an old one.
"""
import hashlib, pathlib, sqlite3, sys

here = pathlib.Path(__file__).parent
steps = sorted((here / "../../migrations").glob("*.sql"))
AT = "2027-10-0{}T12:30:00.000000000Z"
ZONE = "America/Toronto"


def sha(data: bytes) -> bytes:
    return hashlib.sha256(data).digest()


def canonical(entry: dict, form: str = "log entry") -> bytes:
    out = f"saltern {form}, form 1\n".encode()
    for name, value in entry.items():
        if value is not None:
            value = str(value).encode()
            out += name.encode() + b" " + str(len(value)).encode() + b":" + value + b"\n"
    return out


def revision(db, seq, page, number, kind, text, who, day):
    said = {"book-number": seq, "page": page, "number": number, "parent": number - 1 or None,
            "kind": kind, "who": who, "at": AT.format(day), "zone": ZONE, "text": text}
    db.execute(
        "INSERT INTO revision VALUES (?,?,?,?,?,?,?,?,?,?)",
        (seq, page, number, number - 1 or None, kind, text, who, AT.format(day), ZONE,
         sha(canonical(said, "page revision"))))


def pages(db):
    char = "recipes/char.toml"
    revision(db, 1, "book.toml", 1, "book", "book = \"Old house\"\r\n", "Maren", 1)
    revision(db, 2, char, 1, "recipe", "recipe = \"char\" # čar 🐟\n", "Maren", 1)
    revision(db, 3, char, 2, "recipe", "recipe = \"char\"\nname = \"Char\"\n", "Ode", 2)
    revision(db, 4, "gone.toml", 1, "unread", "\ufeffx = 1", "Ode", 2)
    revision(db, 5, "gone.toml", 2, "unread", None, "Ode", 3)
    text = "recipe = \"char\"\nname = \"Arctic char\"\n"
    said = {"page": char, "parent": 1, "met": 2, "who": "Maren", "at": AT.format(3), "zone": ZONE,
            "text": text}
    for id in (1, 2):
        db.execute("INSERT INTO conflict VALUES (?,?,?,?,?,?,?,?,?)",
                   (id, char, 1, 2, text, "Maren", AT.format(3), ZONE,
                    sha(canonical(said, "page conflict"))))
    db.execute("INSERT INTO settlement VALUES (1, NULL, 'Ode', ?, ?)", (AT.format(3), ZONE))


def log(db):
    before = bytes(32)
    said = [
        ("started", None, None, None, ""),
        ("weighed", None, "5.220", "kg", "five fish"),
        ("temperature", None, "145.4", "°F", "coldest of three"),
        ("correction", 3, "62.8", "°C", "read the wrong probe"),
        ("note", None, None, None, "two\nlines, and 4:emoji 🐟\n"),
    ]
    for sequence, (kind, corrects, number, unit, words) in enumerate(said, 1):
        entry = {
            "sequence": sequence, "before": before.hex(),
            "recorded-at": AT.format(sequence), "recorded-zone": "UTC",
            "id": f"tablet-2:{sequence}", "at": AT.format(sequence), "zone": ZONE,
            "who": "Maren", "device": "tablet-2", "event": "harvest-supper",
            "component": "hot-smoked-char", "step": None, "lot": "char-1",
            "part": "probe 2" if number else None,
            "kind": kind, "corrects": corrects, "number": number, "unit": unit, "words": words,
        }
        hash = sha(canonical(entry))
        e = entry
        db.execute(
            "INSERT INTO log VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)",
            (sequence, e["id"], e["at"], e["zone"], e["recorded-at"], e["recorded-zone"], e["who"],
             e["device"], e["event"], e["component"], e["step"], e["lot"], e["part"], kind, corrects,
             number, unit, words, before, hash))
        before = hash
    return before


def plans(db):
    db.execute("INSERT INTO plan VALUES (1,'harvest-supper','covers=72','Maren',?,?)",
               (AT.format(4), ZONE))
    db.execute("INSERT INTO plan_page VALUES (1,'book.toml',1), (1,'recipes/char.toml',1)")


def people(db):
    db.execute("INSERT INTO person VALUES (1,'Maren','instructor','$opaque$',?,?,NULL,NULL)",
               (AT.format(1), ZONE))
    db.execute("INSERT INTO person VALUES (2,'Ode','learner',NULL,?,?,?,?)",
               (AT.format(1), ZONE, AT.format(5), ZONE))
    db.execute("INSERT INTO device VALUES ('tablet-2','by the smoker',?,?,NULL,NULL)",
               (AT.format(1), ZONE))
    db.execute("INSERT INTO session VALUES ('k1',1,'tablet-2',?,?)", (AT.format(5), AT.format(6)))


fills = [pages, log, plans, people]
wanted = [int(a) for a in sys.argv[1:]] or range(1, len(fills) + 1)
for version in wanted:
    db = sqlite3.connect(":memory:")
    for step, fill in zip(steps[:version], fills):
        db.executescript(step.read_text())
        head = fill(db)
        if fill is log:
            print(f"v{version}: hash of entry 5 is {head.hex()}")
    db.commit()
    path = here / f"v{version}.sql"
    if path.exists():
        print(f"{path.name} is there and stays as it is")
        continue
    # iterdump of Python 3.11 and later; newlines inside a text stay inside their quotes.
    dump = "\n".join(db.iterdump())
    path.write_text(
        f"PRAGMA application_id = {0x53414C54};\nPRAGMA user_version = {version};\n{dump}\n",
        newline="")
