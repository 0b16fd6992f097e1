"""Invented kitchens to put on the clock, with fixed seeds, as JSON for both solvers.

    python kitchens.py OUT TASKS KIND OBJECTIVE SEED

KIND: loose, tight or infeasible. OBJECTIVE: wishes (weighted minutes away from wished starts, and overtime) or span (how soon
everything is on the plate). Work is a graph: parts of a dish go their own ways (cure, brine, pickle, dressing), split into
loads and meet again when the dish is put together; some dishes wait for a base that others use too.
"""

import json
import random
import sys

DAY = 1440
SKILLS = ["knife", "smoke", "sauce"]


class Kitchen:
    def __init__(self, tasks, kind, objective, seed):
        self.dice = random.Random(f"{tasks} {kind} {objective} {seed}")
        self.kind, self.objective = kind, objective
        self.tasks, self.links, self.holds = [], [], []
        self.loads = 0
        self.days = 6
        self.wanted = tasks

    def task(self, what, minutes, crew=None, earliest=0, latest=None, lean=None, weight=0.0):
        latest = self.days * DAY - minutes if latest is None else latest
        if self.objective == "span":
            lean, weight = None, 0.0
        self.tasks.append(
            dict(id=f"{what} {len(self.tasks)}", duration=minutes, crew=crew, earliest=earliest, latest=latest, lean=lean, weight=weight)
        )
        return len(self.tasks) - 1

    def link(self, a, b, least, most=None, edge="end"):
        self.links.append({"from": [a, edge], "to": [b, "start"], "min": least, "max": most})

    def hold(self, machine, amount, a, b, load=None, edges=("start", "end")):
        if load is None:
            self.loads += 1
            load = self.loads
        self.holds.append({"machine": machine, "amount": amount, "from": [a, edges[0]], "to": [b, edges[1]], "load": load})

    def crew(self, count, skill):
        return {"count": count, "skill": skill}

    def dish(self, serve_day, base):
        d = self.dice
        serve = serve_day * DAY + d.choice([11, 12, 18, 19]) * 60
        plate = self.task("plate", d.randrange(20, 50, 5), self.crew(d.choice([1, 2, 2]), None), serve - 4 * 60, serve - 30, serve - 90, 1.0)
        parts = d.randrange(2, 5)
        for _ in range(parts):
            getattr(self, d.choice(["cured", "smoked", "pickled", "dressing"]))(plate, serve, base)
        return plate

    def cured(self, plate, serve, base):
        d = self.dice
        trim = self.task("trim", d.randrange(15, 50, 5), self.crew(1, "knife"), lean=serve - 3 * DAY, weight=0.2)
        cure = self.task("rub", d.randrange(10, 30, 5), self.crew(1, None))
        rinse = self.task("rinse", d.randrange(10, 25, 5), self.crew(1, None), lean=serve - 2 * DAY, weight=0.3)
        slice_ = self.task("slice", d.randrange(20, 60, 5), self.crew(1, "knife"), lean=serve - 240, weight=1.0)
        least = d.randrange(12, 24) * 60
        self.link(trim, cure, 0, 90)
        self.link(cure, rinse, least, least + d.randrange(6, 12) * 60)
        self.hold(0, d.randrange(1, 4), cure, rinse, edges=("start", "start"))
        self.link(rinse, slice_, 8 * 60, 60 * 60)
        self.hold(0, 1, rinse, slice_, edges=("end", "start"))
        self.link(slice_, plate, 0, 8 * 60)

    def smoked(self, plate, serve, base):
        d = self.dice
        brine = self.task("brine", d.randrange(15, 40, 5), self.crew(1, None), lean=serve - 2 * DAY, weight=0.2)
        dry = self.task("hang", d.randrange(10, 20, 5), self.crew(1, None))
        least = d.randrange(6, 14) * 60
        self.link(brine, dry, least, least + 10 * 60)
        self.hold(0, d.randrange(1, 3), brine, dry, edges=("start", "start"))
        portion = self.task("portion", d.randrange(20, 50, 5), self.crew(1, "knife"), lean=serve - 240, weight=1.0)
        for _ in range(d.choice([1, 1, 2])):
            load = self.task("load", 10, self.crew(1, "smoke"))
            out = self.task("unload", 10, self.crew(1, "smoke"), lean=serve - DAY, weight=0.3)
            hours = d.randrange(120, 300, 15)
            self.link(dry, load, 60, 12 * 60)
            self.link(load, out, hours, hours + 30)
            self.hold(1, 1, load, out, edges=("start", "end"))
            if d.random() < 0.5:
                turn = self.task("turn", 5, self.crew(1, None))
                self.link(load, turn, hours // 2 - 20, hours // 2 + 20)
            self.link(out, portion, 90, 72 * 60)
        self.link(portion, plate, 0, 8 * 60)

    def pickled(self, plate, serve, base):
        d = self.dice
        cut = self.task("cut", d.randrange(10, 40, 5), self.crew(1, None), lean=serve - 3 * DAY, weight=0.1)
        boil = self.task("boil", d.randrange(20, 40, 5), None, lean=None)
        pour = self.task("pour", 10, self.crew(1, "sauce"))
        self.link(boil, pour, 0, 30)
        self.hold(2, 1, boil, boil)
        self.link(cut, pour, 0, 4 * 60)
        self.link(pour, plate, 24 * 60, 96 * 60)
        self.hold(0, 1, pour, plate, edges=("end", "start"))

    def dressing(self, plate, serve, base):
        d = self.dice
        make = self.task("make", d.randrange(10, 35, 5), self.crew(1, "sauce"), lean=serve - 300, weight=0.5)
        if base is not None:
            self.link(base, make, 0, 60 * 60)
        season = self.task("season", 10, self.crew(1, None))
        self.link(make, season, 30, 8 * 60)
        self.link(season, plate, 0, 10 * 60)

    def build(self):
        d = self.dice
        # Cooking in a base day (day 3) and services on days 4 and 5.
        plates, base = [], None
        while len(self.tasks) < self.wanted - 1:
            if base is None or d.random() < 0.15:
                stock = self.task("stock", d.randrange(180, 360, 30), None, lean=None)
                strain = self.task("strain", 20, self.crew(1, "sauce"), lean=3 * DAY + 600, weight=0.1)
                self.link(stock, strain, 0, 60)
                self.hold(2, 1, stock, strain, edges=("start", "start"))
                base = strain
            plates.append(self.dish(d.choice([4, 5]), base))
        if self.objective == "span":
            last = self.task("done", 0)
            self.tasks[last].update(lean="early", weight=1.0)
            for plate in plates:
                self.link(plate, last, 0)
            for plate in plates:
                # Nobody waits for guests: everything may be on the plate as soon as it is ready.
                self.tasks[plate].update(earliest=0, latest=self.days * DAY - 60)
        n = len(self.tasks)
        each = {"loose": 9, "tight": 16, "infeasible": 26}[self.kind]
        people = max(3, round(n / each))
        persons = []
        for p in range(people):
            skills = [SKILLS[p % 3]] + [s for s in SKILLS if d.random() < 0.35]
            begin = d.choice([6, 7, 8, 10, 12])
            spans = [[day * DAY + begin * 60, day * DAY + begin * 60 + 8 * 60] for day in range(self.days) if d.random() < 0.92]
            over = [[b, b + 120] for _, b in spans] if d.random() < 0.5 else []
            persons.append(dict(id=f"p{p}", skills=sorted(set(skills)), available=spans, overtime=over))
        smokes = sum(hold["machine"] == 1 for hold in self.holds)
        boils = sum(hold["machine"] == 2 for hold in self.holds)
        share = {"loose": 8, "tight": 12, "infeasible": 22}[self.kind]
        night = [[day * DAY - 2 * 60, day * DAY + 6 * 60] for day in range(self.days + 1)]
        machines = [dict(id="cold room", capacity=max(6, n * {"loose": 3, "tight": 2, "infeasible": 2}[self.kind] // 6), change_over=None, unavailable=[])]
        # Several smokers: each load is given one, as a kitchen's plan gives it.
        smokers = max(1, -(-smokes // share))
        machines += [dict(id=f"smoker {k}", capacity=1, change_over=40, unavailable=night) for k in range(smokers)]
        machines.append(dict(id="stoves", capacity=max(2, boils // 8), change_over=None, unavailable=night))
        turn = 0
        for hold in self.holds:
            if hold["machine"] == 1:
                hold["machine"] = 1 + turn % smokers
                turn += 1
            elif hold["machine"] == 2:
                hold["machine"] = len(machines) - 1
        return dict(people=persons, machines=machines, tasks=self.tasks, links=self.links, occupancies=self.holds,
                    overtime_weight=0.05 if self.objective == "wishes" else 0.0)


if __name__ == "__main__":
    out, tasks, kind, objective, seed = sys.argv[1:]
    with open(out, "w") as file:
        json.dump(Kitchen(int(tasks), kind, objective, int(seed)).build(), file)
