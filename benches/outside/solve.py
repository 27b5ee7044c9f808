"""Solves the open model of each case with two outside solvers, and holds our answers against theirs.

Usage: solve.py COACH OUT.md SECONDS CASE.yaml...

Of each case we say how good the best week is. Here the whole week is written as a linear model in
whole numbers and solved by HiGHS (branch and cut) and CP-SAT (clause learning), one thread each.
A solution counts only after it was held against the model in exact integers. Exit 1 where anything
disagrees.
"""

import datetime
import json
import math
import os
import platform
import subprocess
import sys
import tempfile
import time

import highspy
import ortools
from ortools.sat.python import cp_model

LEVELS = ["last", "middle", "first"]


class Model:
    """What an MPS file says, read without the solvers' own readers."""

    def __init__(self, path):
        self.rows, self.columns = {}, {}
        self.worth = False
        section, self.cost = None, {}
        for line in open(path, encoding="ascii"):
            if line.startswith("*"):
                self.worth |= "worth" in line and "OBJ" in line
                continue
            words = line.split()
            if not line.startswith(" "):
                section = words[0]
            elif section == "ROWS" and words[0] != "N":
                self.rows[words[1]] = [words[0], 0, {}]
            elif section == "COLUMNS" and words[1] != "'MARKER'":
                name, row, times = words
                self.columns.setdefault(name, [0, None])
                if row == "OBJ":
                    self.cost[name] = int(times)
                else:
                    self.rows[row][2][name] = int(times)
            elif section == "RHS":
                self.rows[words[1]][1] = int(words[2])
            elif section == "BOUNDS":
                self.bound(words)

    def bound(self, words):
        ends = self.columns[words[2]]
        if words[0] == "BV":
            ends[:] = [0, 1]
        elif words[0] == "FX":
            ends[:] = [int(words[3])] * 2
        elif words[0] == "LO":
            ends[0] = int(words[3])
        elif words[0] == "UP":
            ends[1] = int(words[3])

    def close(self):
        """Ends for columns that have none: more than any line asks for is never needed."""
        for name in [name for name, ends in self.columns.items() if ends[1] is None]:
            most = 0
            for sense, amount, terms in self.rows.values():
                own = terms.get(name, 0)
                if own == 0:
                    continue
                # The most that the others can lack for this line to hold.
                sign = 1 if sense == "L" else -1
                if sign * own > 0:
                    continue
                lack = -sign * amount
                for other, times in terms.items():
                    if other != name:
                        low, high = self.columns[other]
                        lack += max(sign * times * low, sign * times * high)
                most = max(most, math.ceil(lack / abs(own)))
            self.columns[name][1] = most

    def objective(self, values):
        """The objective of exact values; None where a bound or a line is broken."""
        for name, (low, high) in self.columns.items():
            if values[name] < low or (high is not None and values[name] > high):
                return None
        for sense, amount, terms in self.rows.values():
            total = sum(times * values[name] for name, times in terms.items())
            if (total > amount and sense != "G") or (total < amount and sense != "L"):
                return None
        cost = sum(times * values[name] for name, times in self.cost.items())
        return -cost if self.worth else cost


class Result:
    """What a solver says: `optimum`, `none`, or `open` with what it has and what may still be."""

    def __init__(self, says, value=None, bound=None, seconds=0.0, values=None):
        self.says, self.value, self.bound = says, value, bound
        self.seconds, self.values = seconds, values


def highs(path, model, limit):
    solver = highspy.Highs()
    for option, value in {
        "output_flag": False,
        "threads": 1,
        "mip_rel_gap": 0.0,
        "mip_abs_gap": 1e-6,
        "time_limit": float(limit),
    }.items():
        solver.setOptionValue(option, value)
    started = time.monotonic()
    solver.readModel(path)
    solver.run()
    seconds = time.monotonic() - started
    status = solver.getModelStatus()
    if status in (
        highspy.HighsModelStatus.kInfeasible,
        highspy.HighsModelStatus.kUnboundedOrInfeasible,
    ):
        return Result("none", seconds=seconds)
    info = solver.getInfo()
    bound = info.mip_dual_bound
    bound = (-bound if model.worth else bound) if abs(bound) < 1e15 else None
    if info.primal_solution_status != 2:
        return Result("open", None, bound, seconds)
    names = solver.getLp().col_names_
    values = dict(zip(names, (round(v) for v in solver.getSolution().col_value)))
    says = "optimum" if status == highspy.HighsModelStatus.kOptimal else "open"
    return Result(says, model.objective(values), bound, seconds, values)


def cp_sat(model, limit):
    model.close()
    problem = cp_model.CpModel()
    columns = {
        name: problem.new_int_var(low, high, name)
        for name, (low, high) in model.columns.items()
    }
    for sense, amount, terms in model.rows.values():
        total = sum(times * columns[name] for name, times in terms.items())
        if sense == "L":
            problem.add(total <= amount)
        elif sense == "G":
            problem.add(total >= amount)
        else:
            problem.add(total == amount)
    cost = sum(times * columns[name] for name, times in model.cost.items())
    problem.minimize(cost)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = float(limit)
    started = time.monotonic()
    status = solver.solve(problem)
    seconds = time.monotonic() - started
    if status == cp_model.INFEASIBLE:
        return Result("none", seconds=seconds)
    bound = solver.best_objective_bound
    bound = -bound if model.worth else bound
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return Result("open", None, bound, seconds)
    values = {name: solver.value(column) for name, column in columns.items()}
    says = "optimum" if status == cp_model.OPTIMAL else "open"
    return Result(says, model.objective(values), bound, seconds, values)


def judged(result, ours, limit, most):
    """`equal`, `within` (we left it open too, or the solver did), or what is wrong.

    `ours` is what we reach, `limit` how good it could be by our own bound: the same where claimed;
    `most` says whether more is better.
    """
    sign = 1 if most else -1
    if result.says == "none":
        return "WRONG: it says that there is none"
    if result.says == "optimum":
        if result.value is None:
            return "WRONG: its solution breaks the model"
        if result.value == ours:
            return "equal" if ours == limit else "ours unproven"
        between = sign * ours < sign * result.value <= sign * limit
        return "within our bound" if between else "WRONG"
    if result.value is not None and sign * result.value > sign * limit:
        return "WRONG: it found better"
    if result.bound is not None and sign * ours > sign * result.bound + 0.5:
        return "WRONG: it proves less"
    return "open"


def coach(program, case, *more):
    done = subprocess.run(
        [program, "week", case, *more], capture_output=True, text=True, check=False
    )
    return done.returncode, done.stdout, done.stderr


def export(program, case, folder, seek):
    more = ["--seek", seek] if seek else []
    code, text, wrong = coach(program, case, "--as", "mps", *more)
    if code != 0:
        sys.exit(f"{case}: no model: {wrong}")
    path = os.path.join(folder, f"{os.path.basename(case)}-{seek}.mps")
    with open(path, "w", encoding="ascii") as file:
        file.write(text)
    return path


def one(program, case, folder, limit):
    """A line of the table, and whether all of it agrees."""
    started = time.monotonic()
    code, text, wrong = coach(program, case, "--as", "json")
    took = 1000 * (time.monotonic() - started)
    name = os.path.basename(case).removesuffix(".yaml")
    if code not in (0, 1):
        return [name, f"{took:.0f}", f"exit {code}", "", "", "", wrong.strip()], None, None
    answer = json.loads(text)
    if code == 1:
        stages, proof, missed = [(None, None, None)], "none", [0, 0, 0]
    else:
        proof = answer["proof"]
        missed = [answer["missed"][level] for level in LEVELS]
        bound = answer.get("bound") or {}
        least = bound.get("missed", answer["missed"])
        worth = bound.get("worth", answer["worth"])
        stages = []
        if any(missed):
            for level, units in zip(LEVELS, missed):
                stages.append((level, units, least[level]))
            # The bound on worth is of weeks that miss as few as the bound on units says.
            if least != answer["missed"]:
                worth = math.inf
        stages.append(("worth" if any(missed) else None, answer["worth"], worth))
    cells, verdicts = {"HiGHS": [], "CP-SAT": []}, []
    seconds = {"HiGHS": 0.0, "CP-SAT": 0.0}
    for seek, ours, best in stages:
        path = export(program, case, folder, seek)
        model = Model(path)
        for solver in cells:
            result = highs(path, model, limit) if solver == "HiGHS" else cp_sat(model, limit)
            seconds[solver] += result.seconds
            if ours is None:
                verdict = {"none": "equal", "open": "open"}.get(result.says, "WRONG")
            else:
                verdict = judged(result, ours, best, model.worth)
            verdicts.append(verdict)
            shown = {"none": "none", "optimum": f"{result.value}"}.get(
                result.says, f"{result.value}..{result.bound}"
            )
            cells[solver].append(shown)
            if os.environ.get("KEEP") and result.values:
                keep(case, solver, seek, result.values)
    say = [f"{', '.join(cells[solver])} ({seconds[solver]:.1f} s)" for solver in cells]
    wrong = [verdict for verdict in verdicts if verdict.startswith("WRONG")]
    if wrong:
        verdict = wrong[0]
    elif all(v == "equal" for v in verdicts):
        verdict = "equal"
    else:
        verdict = ", ".join(sorted(set(verdicts) - {"equal"}))
    ours = "no week" if code == 1 else ", ".join(
        str(stage[1]) for stage in stages
    )
    times = [took / 1000, seconds["HiGHS"], seconds["CP-SAT"]]
    return [name, f"{took:.0f}", ours, proof, *say, verdict], verdict, times


def summary(times):
    """A table of all times: median, p95, worst and sum of each, and how often ours each takes, case by case."""

    def at(values, part):
        return sorted(values)[round((len(values) - 1) * part / 100)]

    lines = ["| seconds | median | p95 | worst | sum | median ratio to ours |", "|---|---|---|---|---|---|"]
    for place, name in enumerate(["ours", "HiGHS", "CP-SAT"]):
        own = [each[place] for each in times]
        ratio = at([each[place] / each[0] for each in times], 50)
        lines.append(
            f"| {name} | {at(own, 50):.2f} | {at(own, 95):.2f} | {at(own, 100):.2f} | {sum(own):.0f} | {ratio:.1f} |"
        )
    return "\n".join(lines) + "\n"


def keep(case, solver, seek, values):
    """The items of a solution, one a line, for a look at them."""
    path = os.path.join(os.environ["KEEP"], f"{os.path.basename(case)}-{solver}-{seek}.txt")
    with open(path, "w", encoding="ascii") as file:
        for name, value in sorted(values.items()):
            if value and name.startswith(("x_", "y_")):
                file.write(name + "\n")


def main():
    program, out, limit, cases = sys.argv[1], sys.argv[2], int(sys.argv[3]), sys.argv[4:]
    head = ["case", "ms", "ours", "proof", "HiGHS", "CP-SAT", "equal?"]
    lines, verdicts, times = [], [], []
    print(" | ".join(head), flush=True)
    with tempfile.TemporaryDirectory() as folder:
        for case in cases:
            line, verdict, took = one(program, case, folder, limit)
            print(" | ".join(line), flush=True)
            lines.append(line)
            times.extend([took] if took else [])
            verdicts.append(verdict or "no answer")
    with open("/proc/cpuinfo", encoding="utf-8") as info:
        names = [line.split(":")[1].strip() for line in info if line.startswith("model name")]
    wrong = sum(verdict.startswith("WRONG") for verdict in verdicts)
    equal = sum(verdict == "equal" for verdict in verdicts)
    counts = f"{len(cases)} cases: {equal} equal and proven on all three sides, {wrong} disagree."
    with open(out, "w", encoding="utf-8") as file:
        file.write("# Our weeks against two outside solvers\n\n")
        file.write(
            f"{datetime.date.today()}, {names[0] if names else platform.machine()}, "
            f"{os.cpu_count()} shared cores, {platform.system()}; HiGHS "
            f"{highspy.Highs().version()}, CP-SAT {ortools.__version__}, one thread each, "
            f"{limit} s for each model. Written by `benches/outside/run.sh`.\n\n"
        )
        file.write(
            "Where something gives way there are four models: fewest units missed on each level, "
            "then worth; numbers stand in that order. `equal`: ours is claimed best, and both "
            "solvers prove the same optimum. `ours unproven`: the same, but we stopped at our "
            "limit of work. `within our bound`: we stopped, and their optimum is better than our "
            "week and no better than our bound. `open`: a solver stopped, and what it knows does "
            "not speak against ours.\n\n"
        )
        file.write(counts + "\n\n")
        file.write(
            "Ours is a process of its own, with reading the rules and wording the week; of the solvers only the solving "
            "counts, of all models of a case.\n\n"
        )
        file.write(summary(times) + "\n")
        file.write("| " + " | ".join(head) + " |\n")
        file.write("|" + "---|" * len(head) + "\n")
        for line in lines:
            file.write("| " + " | ".join(line) + " |\n")
    print(counts)
    print(summary(times))
    sys.exit(1 if wrong else 0)


main()
