"""Solves one kitchen with CP-SAT and prints one line: status,value,bound,seconds,first_seconds.

    python cpsat.py FILE SECONDS [WORKERS]

The model: start variables with the calendars' holes taken out; lags as linear constraints; one optional interval for each task and person
who fits, no-overlap for each person; cumulative for machines shared by amount (closed hours as fixed intervals); for one-load machines
a no-overlap of holds lengthened by the change-over; absolute values for wishes; overtime as an element of the start for each person.
Holds between two tasks are intervals of variable size. People with the same hours and skills are not merged, as in ours.
"""

import json
import sys
import time

from ortools.sat.python import cp_model

SCALE = 1000


def joined(spans):
    out = []
    for a, b in sorted(spans):
        if out and a <= out[-1][1]:
            out[-1][1] = max(out[-1][1], b)
        else:
            out.append([a, b])
    return out


class First(cp_model.CpSolverSolutionCallback):
    def __init__(self):
        super().__init__()
        self.begun, self.first = time.time(), None

    def on_solution_callback(self):
        if self.first is None:
            self.first = time.time() - self.begun


def longest(problem):
    """Earliest starts by lags and bounds alone: where early tasks would like to be."""
    tasks = problem["tasks"]
    low = [t["earliest"] for t in tasks]
    at = lambda p: tasks[p[0]]["duration"] if p[1] == "end" else 0
    arcs = []
    for l in problem["links"]:
        shift = at(l["from"]) - at(l["to"])
        arcs.append((l["from"][0], l["to"][0], l["min"] + shift))
        if l["max"] is not None:
            arcs.append((l["to"][0], l["from"][0], -(l["max"] + shift)))
    for _ in tasks:
        moved = False
        for a, b, w in arcs:
            if low[a] + w > low[b]:
                low[b], moved = low[a] + w, True
        if not moved:
            break
    return low


def solve(problem, seconds, workers):
    begun = time.time()
    m = cp_model.CpModel()
    tasks = problem["tasks"]
    start = []
    for t in tasks:
        start.append(m.NewIntVar(t["earliest"], t["latest"], t["id"]))
    moment = lambda p: start[p[0]] + (tasks[p[0]]["duration"] if p[1] == "end" else 0)
    for l in problem["links"]:
        m.Add(moment(l["to"]) - moment(l["from"]) >= l["min"])
        if l["max"] is not None:
            m.Add(moment(l["to"]) - moment(l["from"]) <= l["max"])
    of_person = [[] for _ in problem["people"]]
    price, overtime_price = [], problem["overtime_weight"]
    for i, t in enumerate(tasks):
        crew = t["crew"]
        if not crew:
            continue
        chosen = []
        for p, who in enumerate(problem["people"]):
            if crew["skill"] is not None and crew["skill"] not in who["skills"]:
                continue
            d = t["duration"]
            spans = [[a, b - d] for a, b in joined(who["available"] + who["overtime"]) if b - d >= a]
            spans = [[max(a, t["earliest"]), min(b, t["latest"])] for a, b in spans]
            spans = [s for s in spans if s[0] <= s[1]]
            if not spans:
                continue
            x = m.NewBoolVar("")
            chosen.append(x)
            m.AddLinearExpressionInDomain(start[i], cp_model.Domain.FromIntervals(spans)).OnlyEnforceIf(x)
            if d > 0:
                of_person[p].append(m.NewOptionalFixedSizeIntervalVar(start[i], d, x, ""))
            if overtime_price > 0 and who["overtime"]:
                # Minutes outside the regular hours: at least what lies after the shift's end or before its start.
                regular = joined(who["available"])
                y = m.NewIntVar(0, d, "")
                for k, (a, b) in enumerate(regular):
                    nxt = regular[k + 1][0] if k + 1 < len(regular) else 10**7
                    here = m.NewBoolVar("")
                    # This shift's stretch, its overtime up to the next shift included.
                    m.AddLinearExpressionInDomain(start[i], cp_model.Domain(a, nxt - 1)).OnlyEnforceIf(here)
                    m.AddLinearExpressionInDomain(start[i], cp_model.Domain.FromIntervals([[-(10**8), a - 1], [nxt, 10**8]])).OnlyEnforceIf(here.Not())
                    late = m.NewIntVar(-(10**8), d, "")
                    m.AddMinEquality(late, [start[i] + d - b, d])
                    m.Add(y >= late).OnlyEnforceIf([x, here])
                price.append(round(overtime_price * SCALE) * y)
        m.Add(sum(chosen) == crew["count"])
    for intervals in of_person:
        m.AddNoOverlap(intervals)
    # Redundant, as in ours: for each skill asked for (and for everybody) how many who have it are there.
    for skill in {t["crew"]["skill"] for t in tasks if t["crew"]}:
        fits = [who for who in problem["people"] if skill is None or skill in who["skills"]]
        intervals, amounts, turns = [], [], {0: len(fits)}
        for i, t in enumerate(tasks):
            if t["crew"] and t["duration"] > 0 and (skill is None or t["crew"]["skill"] == skill):
                intervals.append(m.NewFixedSizeIntervalVar(start[i], t["duration"], ""))
                amounts.append(t["crew"]["count"])
        for who in fits:
            for a, b in joined(who["available"] + who["overtime"]):
                turns[a] = turns.get(a, 0) - 1
                turns[b] = turns.get(b, 0) + 1
        away, at = 0, sorted(turns)
        for a, b in zip(at, at[1:] + [10**5]):
            away += turns[a]
            if away:
                intervals.append(m.NewFixedSizeIntervalVar(a, b - a, ""))
                amounts.append(away)
        m.AddCumulative(intervals, amounts, len(fits))
    for k, machine in enumerate(problem["machines"]):
        holds = [h for h in problem["occupancies"] if h["machine"] == k]
        if machine["change_over"] is None:
            intervals, amounts = [], []
            for h in holds:
                if h["from"][0] == h["to"][0]:
                    size = tasks[h["from"][0]]["duration"]
                    intervals.append(m.NewFixedSizeIntervalVar(start[h["from"][0]], size, ""))
                else:
                    size = m.NewIntVar(0, 10**5, "")
                    intervals.append(m.NewIntervalVar(moment(h["from"]), size, moment(h["to"]), ""))
                amounts.append(h["amount"])
            for a, b in joined(machine["unavailable"]):
                intervals.append(m.NewFixedSizeIntervalVar(a, b - a, ""))
                amounts.append(machine["capacity"])
            if intervals:
                m.AddCumulative(intervals, amounts, machine["capacity"])
        else:
            gap = machine["change_over"]
            plain, padded = [], []
            for h in holds:
                size = m.NewIntVar(0, 10**5, "")
                plain.append(m.NewIntervalVar(moment(h["from"]), size, moment(h["to"]), ""))
                padded.append(m.NewIntervalVar(moment(h["from"]), size + gap, moment(h["to"]) + gap, ""))
            m.AddNoOverlap(padded)
            m.AddNoOverlap(plain + [m.NewFixedSizeIntervalVar(a, b - a, "") for a, b in joined(machine["unavailable"])])
    low = longest(problem)
    for i, t in enumerate(tasks):
        if t["lean"] is None or t["weight"] == 0:
            continue
        wish = low[i] if t["lean"] == "early" else t["lean"]
        away = m.NewIntVar(0, 10**6, "")
        m.AddAbsEquality(away, start[i] - wish)
        price.append(round(t["weight"] * SCALE) * away)
    m.Minimize(sum(price))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers
    solver.parameters.max_time_in_seconds = max(0.1, seconds - (time.time() - begun))
    solver.parameters.cp_model_probing_level = 0
    watch = First()
    status = solver.Solve(m, watch)
    name = {cp_model.OPTIMAL: "proved", cp_model.FEASIBLE: "feasible", cp_model.INFEASIBLE: "impossible"}.get(status, "not found")
    found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    value = f"{solver.ObjectiveValue() / SCALE:.3f}" if found else ""
    bound = f"{solver.BestObjectiveBound() / SCALE:.3f}" if name != "impossible" else ""
    first = f"{watch.first:.2f}" if watch.first is not None else ""
    return f"{name},{value},{bound},{time.time() - begun:.2f},{first}"


if __name__ == "__main__":
    with open(sys.argv[1]) as file:
        print(solve(json.load(file), float(sys.argv[2]), int(sys.argv[3]) if len(sys.argv) > 3 else 2))
