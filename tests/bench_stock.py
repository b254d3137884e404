"""Stock plans of `matchmark stock-plan` beside an exact solver (OR-Tools CP-SAT over all cut patterns).

    python -m pip install ortools
    python tests/bench_stock.py target/release/matchmark [instances]

Small kits, so that all patterns can be listed. Says how many plans cost what the exact solver says and how many bounds hold.
"""

import json
import random
import subprocess
import sys
import time

from ortools.sat.python import cp_model

UNIT = 10_000  # to a millimetre, and to a unit of money
STOCK = [6000, 6096, 7315, 7500]


def draw(source):
    priced = source.random() < 0.5
    stock = [
        {"length": length, "price": round(length * source.uniform(0.0062, 0.0078), 2) if priced else None}
        for length in source.sample(STOCK, source.randint(1, 3))
    ]
    if source.random() < 0.3:
        stock.append({"length": source.randint(1500, 4500), "price": 5.0 if priced else None, "count": 1})
    lengths = {round(source.uniform(300, 2800), 1) for _ in range(source.randint(3, 7))}
    parts = [{"id": f"P{n}", "length": x, "count": source.choice([1, 1, 2])} for n, x in enumerate(sorted(lengths))]
    kerf, trim = source.choice([0, 1.5, 2, 3, 25]), source.choice([0, 5, 10])
    return {"kerf": kerf, "trim": trim, "stock": stock, "parts": parts, "time_limit_s": 10}


def patterns(request):
    """Every way to cut one bar by the rules of the saw: its entry in the stock, and how many of each part."""
    kerf, parts = round(request["kerf"] * UNIT), request["parts"]

    def fill(part, rest, cuts):
        if part == len(parts):
            if any(cuts) and (rest == 0 or rest >= kerf):
                yield tuple(cuts)
            return
        size = round(parts[part]["length"] * UNIT) + kerf
        for count in range(min(parts[part]["count"], rest // size) + 1):
            yield from fill(part + 1, rest - count * size, cuts + [count])

    for entry, bar in enumerate(request["stock"]):
        room = round((bar["length"] - request["trim"]) * UNIT) + kerf
        for cuts in fill(0, room, []):
            yield entry, cuts


def least_cost(request):
    model = cp_model.CpModel()
    columns = [(entry, cuts, model.new_int_var(0, 20, "")) for entry, cuts in patterns(request)]
    for part, wanted in enumerate(request["parts"]):
        model.add(sum(cuts[part] * bars for _, cuts, bars in columns) == wanted["count"])
    for entry, bar in enumerate(request["stock"]):
        if bar.get("count") is not None:
            model.add(sum(bars for which, _, bars in columns if which == entry) <= bar["count"])
    cost = [round((bar["length"] if bar["price"] is None else bar["price"]) * UNIT) for bar in request["stock"]]
    model.minimize(sum(cost[entry] * bars for entry, _, bars in columns))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return solver.objective_value / UNIT


def main():
    binary, instances = sys.argv[1], int(sys.argv[2]) if len(sys.argv) > 2 else 200
    source = random.Random(1)
    equal = bounds = proven = 0
    ours = theirs = 0.0
    for _ in range(instances):
        request = draw(source)
        start = time.perf_counter()
        run = subprocess.run([binary, "stock-plan", "-"], input=json.dumps(request), capture_output=True, text=True, check=True)
        plan, middle = json.loads(run.stdout), time.perf_counter()
        least = least_cost(request)
        ours, theirs = ours + middle - start, theirs + time.perf_counter() - middle
        equal += abs(plan["cost"] - least) < 1e-3
        bounds += plan["bound"] <= least + 1e-3
        proven += plan["optimal"]
    print(f"{instances} kits: {equal} cost what is least, {bounds} bounds hold, {proven} proven")
    print(f"matchmark {ours:.1f} s with starting the process, exact solver {theirs:.1f} s")


if __name__ == "__main__":
    main()
