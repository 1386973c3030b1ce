"""Form assembly with PuLP and CBC on the same problems as the benchmark, for the table in DEVELOPERS.md.

    cargo bench --workspace --bench assembly -- --write FOLDER     writes the problems as JSON and prints our figures
    python3 tests/peers/assembly.py FOLDER [SECONDS]               solves them with CBC and prints its figures

Needs: pip install pulp (brings CBC). The problems hold 2PL information in whole units, so that both
solve exactly the same numbers.
"""
import json
import pathlib
import resource
import sys
import time

import pulp


def processor():
    """Seconds of a processor that solvers have used: on a busy machine fewer than those of the clock."""
    usage = resource.getrusage(resource.RUSAGE_CHILDREN)
    return usage.ru_utime + usage.ru_stime


def solve(problem, seconds):
    items, forms = problem["lines"], problem["forms"]
    anchors = set(problem["anchors"])
    program = pulp.LpProblem("forms", pulp.LpMinimize)
    d = pulp.LpVariable("d", lowBound=0)
    program += d
    x = [
        [
            1 if i in anchors else pulp.LpVariable(f"x_{i}_{f}", cat="Binary")
            for f in range(forms)
        ]
        for i in range(len(items))
    ]
    for f in range(forms):
        for line, number in enumerate(problem["wanted"]):
            program += pulp.lpSum(x[i][f] for i in range(len(items)) if items[i] == line) == number
        for one, other in problem["enemies"]:
            program += x[one][f] + x[other][f] <= 1
        for target in problem["targets"]:
            wanted = target["wanted"] / 1e6
            information = pulp.lpSum(
                x[i][f] * (target["weights"][i] / 1e6) for i in range(len(items))
            )
            program += information - wanted <= d
            program += wanted - information <= d
    for i in range(len(items)):
        if i not in anchors:
            program += pulp.lpSum(x[i]) <= 1
    begun = time.time()
    used = processor()
    program.solve(pulp.PULP_CBC_CMD(msg=False, timeLimit=seconds, timeMode="cpu", threads=1))
    taken = time.time() - begun
    used = processor() - used
    worst = None
    if program.sol_status in (pulp.LpSolutionOptimal, pulp.LpSolutionIntegerFeasible):
        chosen = [
            [i for i in range(len(items)) if (x[i][f] if isinstance(x[i][f], int) else x[i][f].value()) > 0.5]
            for f in range(forms)
        ]
        worst = max(
            abs(sum(t["weights"][i] for i in form) - t["wanted"]) / 1e6
            for form in chosen
            for t in problem["targets"]
        )
    return worst, taken, used, pulp.LpStatus[program.status]


def main():
    folder = pathlib.Path(sys.argv[1])
    seconds = float(sys.argv[2]) if len(sys.argv) > 2 else 60.0
    print(f"PuLP {pulp.__version__} with CBC, one thread, {seconds:.0f} s of a processor allowed")
    for path in sorted(folder.glob("*.json")):
        worst, taken, used, status = solve(json.loads(path.read_text()), seconds)
        deviation = "none found" if worst is None else f"{worst:.4f} % of the target"
        print(f"{path.stem:<28} {deviation:>26}   {taken:6.1f} s, {used:.1f} s of a processor   {status}")


if __name__ == "__main__":
    main()
