"""Reads what `saltern export` wrote with programs of others, and holds it against the plan's own JSON.

icalendar (RFC 5545), openpyxl (xlsx), csv of the standard library, jsonschema (JSON Schema 2020-12).
Fails on the first thing that is not so; says at the end how much was looked at.
"""

import csv
import datetime as dt
import json
import pathlib
import sys
import zoneinfo

import icalendar
import jsonschema
import openpyxl

out, schema_file = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2])
EVENTS = ["harvest-supper", "duck-class", "orchard-lunch"]
looked = {}


def count(what, n=1):
    looked[what] = looked.get(what, 0) + n


def require(truth, *said):
    if not truth:
        raise SystemExit("independent readers: " + " ".join(str(s) for s in said))


def hour(text):
    """An hour of the JSON as an instant; the zone's name in brackets is dropped."""
    return dt.datetime.fromisoformat(text.split("[")[0])


def calendar(name):
    raw = (out / name).read_bytes()
    require(raw.count(b"\n") == raw.count(b"\r\n"), name, "has bare line feeds")
    require(all(len(line) <= 75 for line in raw.split(b"\r\n")), name, "has a line of more than 75 octets")
    cal = icalendar.Calendar.from_ical(raw)
    wrong = [(c.name, c.errors) for c in cal.walk() if c.errors]
    require(not wrong, name, wrong)
    events = {}
    for event in cal.walk("VEVENT"):
        for key in ["UID", "DTSTAMP", "DTSTART", "SUMMARY", "SEQUENCE", "LAST-MODIFIED"]:
            require(key in event, name, "an entry has no", key)
        uid = str(event["UID"])
        require(uid not in events, name, uid, "twice")
        events[uid] = event
    count("calendar entries", len(events))
    return cal, events


def same_instant(cal, prop, when, what):
    """The value by the tz database, and again by the VTIMEZONE in the file alone."""
    value = prop.dt
    require(value.astimezone(dt.timezone.utc) == when.astimezone(dt.timezone.utc), what, value, "is not", when)
    zones = {str(z["TZID"]): z for z in cal.walk("VTIMEZONE")}
    zone = prop.params.get("TZID")
    if zone is None:
        return
    require(zone in zones, what, zone, "is not described in the file")
    wall = value.replace(tzinfo=None)
    offset = None
    start = None
    for part in zones[zone].subcomponents:
        begins = part["DTSTART"].dt
        if begins <= wall and (start is None or begins > start):
            start, offset = begins, part["TZOFFSETTO"].td
    require(offset is not None, what, "lies before every observance of", zone)
    require(wall - offset == when.astimezone(dt.timezone.utc).replace(tzinfo=None), what, "by the file's own zone")
    # And the file's zone against the tz database that Python has.
    require(wall.replace(tzinfo=zoneinfo.ZoneInfo(zone)).utcoffset() == offset, what, "offset of", zone)


def check_calendar(event, plan):
    cal, events = calendar(f"{event}.ics")
    tasks = {t["id"]: t for t in plan["schedule"]["tasks"]}
    found = {uid.split("@")[0].removeprefix("task."): e for uid, e in events.items() if uid.startswith("task.")}
    wanted = {i for i, t in tasks.items() if t["kind"] != "passing"}
    require(set(found) == wanted, event, "tasks", set(found) ^ wanted)
    for i, e in found.items():
        same_instant(cal, e["DTSTART"], hour(tasks[i]["start"]), f"{event} {i} start")
        end = e["DTEND"] if "DTEND" in e else e["DTSTART"]
        same_instant(cal, end, hour(tasks[i]["end"]), f"{event} {i} end")
        alarms = e.walk("VALARM")
        require(len(alarms) == 1, event, i, "alarms")
        ring = alarms[0]["TRIGGER"].dt
        require(hour(tasks[i]["start"]) <= ring <= hour(tasks[i]["latest"]), event, i, "alarm", ring)
    orders = {(line["supplier"], line["order_by"]) for line in plan["order"] if line["order_by"]}
    written = [e for uid, e in events.items() if uid.startswith("order.")]
    at = {e["DTSTART"].dt.astimezone(dt.timezone.utc) for e in written}
    require(at == {hour(o).astimezone(dt.timezone.utc) for _, o in orders}, event, "cut-offs")
    days = {i.removesuffix(".discard_by"): f["value"].split()[1] for i, f in plan["figures"].items() if i.endswith(".discard_by")}
    written = {uid.split("@")[0].removeprefix("discard."): e["DTSTART"].dt.isoformat() for uid, e in events.items() if uid.startswith("discard.")}
    require(days == written, event, "discard dates", days, written)
    return events


def merged(first, second):
    """What a calendar program has after importing both: by UID, the higher SEQUENCE wins."""
    have = dict(first)
    for uid, event in second.items():
        if uid not in have or int(event["SEQUENCE"]) > int(have[uid]["SEQUENCE"]):
            have[uid] = event
    return have


def check_replan():
    _, first = calendar("harvest-supper.ics")
    _, second = calendar("replanned.ics")
    _, third = calendar("back.ics")
    have = merged(first, second)
    require(len(have) == len(second), "the re-planned calendar leaves", set(have) - set(second))
    for uid, event in have.items():
        require(event["DTSTART"].dt == second[uid]["DTSTART"].dt, uid, "was not updated")
    again = merged(have, second)
    require({u: e.to_ical() for u, e in again.items()} == {u: e.to_ical() for u, e in have.items()}, "imported twice it differs")
    moved = [u for u in first if first[u]["DTSTART"].dt != second[u]["DTSTART"].dt]
    require(moved, "90 minutes later moved nothing")
    require(all(int(second[u]["SEQUENCE"]) == 1 for u in moved), "what moved has no next SEQUENCE")
    back = merged(have, third)
    live = {u: e for u, e in back.items() if str(e["STATUS"]) != "CANCELLED"}
    require(set(live) == set(first), "what was called off is still there", set(live) ^ set(first))
    require(all(live[u]["DTSTART"].dt == first[u]["DTSTART"].dt for u in first), "back is not where it was")
    gone = [u for u in third if str(third[u]["STATUS"]) == "CANCELLED"]
    require(gone, "nothing was called off")
    count("entries called off", len(gone))


def rows(sheet):
    head = [c.value for c in sheet[1]]
    return head, [[c.value for c in row] for row in sheet.iter_rows(min_row=2)]


def check_workbook(event, plan):
    book = openpyxl.load_workbook(out / f"{event}.xlsx")
    for sheet in book:
        require(sheet.freeze_panes == "A2", event, sheet.title, "headings do not stay")
        require(sheet.print_title_rows == "$1:$1", event, sheet.title, "headings do not repeat in print")
        for row in sheet.iter_rows():
            for cell in row:
                require(cell.data_type != "f", event, sheet.title, cell.coordinate, "is a formula")
        with open(out / event / f"{sheet.title}.csv", newline="", encoding="utf-8") as file:
            table = list(csv.reader(file))
        head, body = rows(sheet)
        require(table[0] == head, event, sheet.title, "headings of csv and xlsx")
        require(len(table) == len(body) + 1, event, sheet.title, "rows of csv and xlsx")
        for text, values in zip(table[1:], body):
            require(len(text) == len(values), event, sheet.title, "cells of csv and xlsx")
            for a, b in zip(text, values):
                if isinstance(b, (int, float)):
                    require(float(a) == float(b), event, sheet.title, a, b)
                elif b is None:
                    require(a == "", event, sheet.title, a, "and an empty cell")
                elif isinstance(b, str):
                    require(a.lstrip("'") == b.lstrip("'"), event, sheet.title, a, b)
                count("cells")
    head, body = rows(book["order"])
    names = {"item": "item", "need (g)": "need_g", "need (pieces)": "need_pieces", "packs needed": "need_packs", "packs to buy": "packs",
             "pack (g)": "pack_g", "price ($)": "price", "price per": "price_per", "cost needed ($)": "cost_needed", "cost bought ($)": "cost_bought"}
    require(len(body) == len(plan["order"]), event, "order lines")
    for values, line in zip(body, plan["order"]):
        for heading, key in names.items():
            require(values[head.index(heading)] == line[key], event, heading, values[head.index(heading)], line[key])
    head, body = rows(book["cost"])
    amount = {r[0]: (r[head.index("amount ($)")], r[head.index("per cover ($)")]) for r in body}
    cost = plan["cost"]
    for what, money, each in [("food needed", "food_needed", "per_cover_needed"), ("food bought", "food_bought", "per_cover_bought"),
                              ("labour, all", "labour", "labour_per_cover"), ("prime cost", "prime", "prime_per_cover")]:
        require(amount[what] == (cost[money], cost[each]), event, what, amount[what])
    head, body = rows(book["verdicts"])
    said = [(r[head.index("verdict")], r[head.index("value")], r[head.index("limit")]) for r in body]
    require(said == [(v["verdict"], v["value"], v["limit"]) for v in plan["verdicts"]], event, "verdicts")
    head, body = rows(book["prep"])
    tasks = [t for t in plan["schedule"]["tasks"] if t["people"]]
    require([r[head.index("task")] for r in body] == [t["id"] for t in tasks], event, "prep list")
    for r, t in zip(body, tasks):
        require(r[head.index("start")] == hour(t["start"]).replace(tzinfo=None), event, t["id"], "start on the prep list")
        length = (hour(t["end"]) - hour(t["start"])).total_seconds() / 60
        require(r[head.index("minutes (min)")] == length, event, t["id"], "minutes on the prep list")


def check_recipe(file):
    recipe = json.loads(file.read_text(encoding="utf-8"))
    require(recipe["@context"] == "https://schema.org" and recipe["@type"] == "Recipe", file.name, "is no Recipe")
    for key in ["name", "recipeIngredient", "recipeInstructions", "recipeYield"]:
        require(recipe.get(key), file.name, "has no", key)
    require(all(isinstance(line, str) for line in recipe["recipeIngredient"]), file.name, "lines are texts")
    for step in recipe["recipeInstructions"]:
        require(step["@type"] == "HowToStep" and step["text"], file.name, "steps")
    count("recipes")
    count("recipe lines", len(recipe["recipeIngredient"]))


schema = json.loads(schema_file.read_text(encoding="utf-8"))
jsonschema.Draft202012Validator.check_schema(schema)
validator = jsonschema.Draft202012Validator(schema)
for event in EVENTS:
    plan = json.loads((out / f"{event}.json").read_text(encoding="utf-8"))
    wrong = [f"{e.json_path}: {e.message[:200]}" for e in list(validator.iter_errors(plan))[:5]]
    require(not wrong, event, wrong)
    count("plans")
    check_calendar(event, plan)
    check_workbook(event, plan)
check_replan()
for file in sorted(out.glob("*.jsonld")):
    check_recipe(file)
require(looked.get("recipes", 0) >= 10, "recipes missing")
print("independent readers: " + ", ".join(f"{n} {what}" for what, n in sorted(looked.items())))
