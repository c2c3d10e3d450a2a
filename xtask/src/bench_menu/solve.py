"""The yardsticks: one programme in free MPS, solved by HiGHS or CP-SAT without a start.

Usage: solve.py highs|cpsat FILE SECONDS [SOLUTION]. Prints: status value bound seconds. With `check` for the solver it adds up
the point in SOLUTION by HiGHS with every column fixed and prints the same.
"""
import sys
import time


def highs(path, seconds, solution):
    import highspy

    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    solver.readModel(path)
    solver.setOptionValue("threads", 2)
    solver.setOptionValue("time_limit", seconds)
    solver.setOptionValue("mip_rel_gap", 0.0)
    if solution:
        chosen = {}
        for line in open(solution, encoding="utf-8"):
            name, value = line.split()
            chosen[name] = float(value)
        for column in range(solver.getNumCol()):
            value = chosen.pop(solver.getColName(column)[1], 0.0)
            solver.changeColBounds(column, value, value)
        if chosen:
            raise SystemExit(f"unknown columns: {sorted(chosen)[:5]}")
    begun = time.time()
    solver.run()
    info = solver.getInfo()
    status = solver.modelStatusToString(solver.getModelStatus()).replace(" ", "-")
    print(status, round(info.objective_function_value, 6), round(info.mip_dual_bound, 6), round(time.time() - begun, 2))


def cpsat(path, seconds):
    from ortools.linear_solver.python import model_builder

    model = model_builder.Model()
    with open(path, encoding="utf-8") as file:
        text = "".join(line for line in file if not line.startswith("*"))
    if not model.import_from_mps_string(text):
        raise SystemExit("the programme cannot be read")
    solver = model_builder.Solver("sat")
    solver.set_time_limit_in_seconds(seconds)
    solver.set_solver_specific_parameters("num_workers:2")
    begun = time.time()
    status = solver.solve(model)
    value = round(solver.objective_value, 6) if status.name in ("OPTIMAL", "FEASIBLE") else "nan"
    bound = round(solver.best_objective_bound, 6) if status.name in ("OPTIMAL", "FEASIBLE") else "nan"
    print(status.name, value, bound, round(time.time() - begun, 2))


def main():
    which, path, seconds = sys.argv[1], sys.argv[2], float(sys.argv[3])
    if which == "cpsat":
        cpsat(path, seconds)
    else:
        highs(path, seconds, sys.argv[4] if which == "check" else None)


main()
