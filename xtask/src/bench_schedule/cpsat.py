"""The yardstick: one project file, two workers of CP-SAT, a limit of processor time. Prints: status makespan bound cpu.

Usage: cpsat.py FILE SECONDS. Processor seconds of all threads, halved, count from the start of the search; the
making of the model in Python does not. The clock may take five times as long.
"""
import json
import sys
import threading
import time

from ortools.sat.python import cp_model


def tables(text):
    lines = text.splitlines()

    def rows(heading):
        at = next(i for i, line in enumerate(lines) if line.startswith(heading)) + 1
        found = []
        while at < len(lines) and not lines[at].startswith("*"):
            words = lines[at].split()
            if words and all(word.lstrip("-").isdigit() for word in words):
                found.append([int(word) for word in words])
            at += 1
        return found

    return rows


def read_psplib(text):
    rows = tables(text)

    def count(word):
        line = next(line for line in text.splitlines() if line.strip().startswith(word))
        return int(line.split(":")[1].split()[0])

    held, spent = count("- renewable"), count("- nonrenewable")
    modes, job = {}, None
    for row in rows("REQUESTS/DURATIONS"):
        extra = len(row) - 1 - held - spent
        if extra == 2:
            job = row[0]
        row = row[extra:]
        modes.setdefault(job, []).append((row[0], list(enumerate(row[1 : 1 + held])), list(enumerate(row[1 + held :])), 0))
    names = sorted(modes)
    place = {name: at for at, name in enumerate(names)}
    amounts = rows("RESOURCEAVAIL")[0]
    lags = [(place[row[0]], place[to], 0, None) for row in rows("PRECEDENCE") for to in row[3:]]
    return [modes[name] for name in names], amounts[:held], amounts[held:], lags, [], []


def read_kitchen(text):
    data = json.loads(text)
    resources = {entry["id"]: at for at, entry in enumerate(data["resources"])}
    place = {task["id"]: at for at, task in enumerate(data["tasks"])}
    ready = {(entry["task"], entry["mode"]): entry["earliest"] for entry in data.get("ready", [])}
    tasks = []
    for task in data["tasks"]:
        modes = []
        for at, mode in enumerate(task["modes"]):
            uses = [(resources[name], amount) for name, amount in mode.get("uses", {}).items()]
            modes.append((mode["minutes"], uses, [], ready.get((task["id"], at), 0)))
        tasks.append(modes)
    lags = [(place[lag["after"]], place[lag["task"]], lag["min"], lag.get("max")) for lag in data.get("lags", [])]
    offsets = [(place[o["task"]], place[o["of"]], o["min"], o["max"]) for o in data.get("offsets", [])]
    changes = [
        (place[c["a"]], c["a_mode"], place[c["b"]], c["b_mode"], c["a_to_b"], c["b_to_a"])
        for c in data.get("changeovers", [])
    ]
    return tasks, [entry["capacity"] for entry in data["resources"]], [], lags, offsets, changes


def build(parts):
    tasks, capacities, supplies, lags, offsets, changes = parts
    model = cp_model.CpModel()
    horizon = sum(max(mode[0] + mode[3] for mode in modes) for modes in tasks)
    horizon += sum(max(lag[2], 0) for lag in lags) + sum(max(o[3], 0) for o in offsets)
    horizon += len(tasks) * max([max(c[4], c[5]) for c in changes], default=0)
    starts, ends, chosen = [], [], []
    held = [[] for _ in capacities]
    spent = [[] for _ in supplies]
    for modes in tasks:
        start, end = model.new_int_var(0, horizon, ""), model.new_int_var(0, horizon, "")
        literals = [model.new_bool_var("") for _ in modes] if len(modes) > 1 else [None]
        if len(modes) > 1:
            model.add_exactly_one(literals)
        for literal, (length, uses, spends, earliest) in zip(literals, modes):
            if literal is None:
                interval = model.new_interval_var(start, length, end, "")
                model.add(start >= earliest)
            else:
                interval = model.new_optional_interval_var(start, length, end, literal, "")
                model.add(start >= earliest).only_enforce_if(literal)
            for at, amount in uses:
                if amount and length:
                    held[at].append((interval, amount))
            for at, amount in spends:
                if amount:
                    spent[at].append(amount * (1 if literal is None else literal))
        starts.append(start)
        ends.append(end)
        chosen.append(literals)
    for at, capacity in enumerate(capacities):
        if held[at]:
            model.add_cumulative([one[0] for one in held[at]], [one[1] for one in held[at]], capacity)
    for at, amount in enumerate(supplies):
        model.add(sum(spent[at]) <= amount)
    for source, target, least, most in lags:
        model.add(starts[target] >= ends[source] + least)
        if most is not None:
            model.add(starts[target] <= ends[source] + most)
    for visit, of, least, most in offsets:
        model.add(starts[visit] >= starts[of] + least)
        model.add(starts[visit] <= starts[of] + most)
    for a, a_mode, b, b_mode, a_to_b, b_to_a in changes:
        first = model.new_bool_var("")
        both = [literal for literal in (chosen[a][a_mode], chosen[b][b_mode]) if literal is not None]
        model.add(starts[b] >= ends[a] + a_to_b).only_enforce_if([first] + both)
        model.add(starts[a] >= ends[b] + b_to_a).only_enforce_if([first.negated()] + both)
    makespan = model.new_int_var(0, horizon, "")
    for end in ends:
        model.add(makespan >= end)
    model.minimize(makespan)
    return model


def main():
    path, seconds = sys.argv[1], float(sys.argv[2])
    with open(path, encoding="latin-1") as file:
        text = file.read()
    model = build(read_kitchen(text) if path.endswith(".json") else read_psplib(text))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 2
    solver.parameters.random_seed = 1
    solver.parameters.max_time_in_seconds = 5 * seconds
    done = threading.Event()
    begun = time.process_time()

    def watch():
        while not done.wait(0.005):
            if time.process_time() - begun >= 2 * seconds:
                solver.stop_search()

    watcher = threading.Thread(target=watch)
    watcher.start()
    status = solver.solve(model)
    done.set()
    watcher.join()
    word = {cp_model.OPTIMAL: "proven", cp_model.FEASIBLE: "best", cp_model.INFEASIBLE: "infeasible"}.get(status, "stopped")
    found = word in ("proven", "best")
    value = int(solver.objective_value) if found else -1
    bound = -1 if word == "infeasible" else int(solver.best_objective_bound)
    print(word, value, bound, round(time.process_time() - begun, 3))


main()
