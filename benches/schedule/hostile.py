"""Writes problems nobody should send into a folder: python hostile.py FOLDER."""

import json
import sys

from kitchens import DAY, Kitchen


def write(name, problem):
    with open(f"{sys.argv[1]}/{name}.json", "w") as file:
        json.dump(problem, file)


def task(i, duration=10, crew=None, earliest=0, latest=90 * DAY, lean="early", weight=1.0):
    return dict(id=f"t{i}", duration=duration, crew=crew, earliest=earliest, latest=latest, lean=lean, weight=weight)


def link(a, b, least, most=None):
    return {"from": [a, "end"], "to": [b, "start"], "min": least, "max": most}


def problem(tasks, links=(), people=(), machines=(), holds=()):
    return dict(people=list(people), machines=list(machines), tasks=list(tasks), links=list(links), occupancies=list(holds), overtime_weight=0.0)


def person(days=90):
    return dict(id="p", skills=[], available=[[d * DAY + 420, d * DAY + 960] for d in range(days)], overtime=[])


one = {"count": 1, "skill": None}
n = 5000
# Five thousand tasks in chains of eight with waits, for twenty people.
write("5000-tasks", problem(
    [task(i, crew=one) for i in range(n)],
    [link(i, i + 1, 60, 2880) for i in range(n - 1) if i % 8 != 7],
    [person() for _ in range(20)]))
# The same with a cycle of lags through all of them that cannot be met.
write("5000-lag-cycle", problem(
    [task(i) for i in range(n)],
    [link(i, (i + 1) % n, -10 if i else -9) for i in range(n)]))
write("lag-cycle-small", problem([task(0), task(1)], [link(0, 1, 60), link(1, 0, 0)]))
write("zero-people", problem([task(i, crew=one) for i in range(300)]))
write("window-in-the-past", problem([task(0, crew=one, earliest=-9 * DAY, latest=-8 * DAY)], people=[person()]))
press = dict(id="press", capacity=1, change_over=5, unavailable=[])
for count in (300, 5000):
    write(f"{count}-on-one-machine", problem(
        [task(i, latest=15 * count) for i in range(count)], machines=[press],
        holds=[{"machine": 0, "amount": 1, "from": [i, "start"], "to": [i, "end"], "load": i} for i in range(count)]))
# The largest the learners take: eight hundred tasks with few people.
write("800-tight", Kitchen(800, "infeasible", "wishes", 1).build())
write("800-tight-span", Kitchen(800, "infeasible", "span", 1).build())
