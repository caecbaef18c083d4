"""A 60-day forecast, ours beside SciPy's solve_ivp: the same equations, the same grid, the same error.

  forecast.py NATIVE    NATIVE is the program forecast built from forecast.cpp. Prints, asserts nothing.
The error is the largest relative difference of the loss from day 3 on against our run at 160 cells and 0.25 h.
SciPy runs at the loosest of several tolerances that is no further off than ours.
"""
import pathlib
import statistics
import subprocess
import sys
import time

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent / "reference" / "drying"))
import solve_ivp as scipy_side  # noqa: E402

CELLS, STEP_H, REPEATS = 30, 6, 5


def main():
    program = sys.argv[1]
    truth = scipy_side.native(program, 160, 0.25)
    ours_error = scipy_side.worst(scipy_side.native(program, CELLS, STEP_H), truth)
    body = scipy_side.Salami(CELLS)
    chosen = None
    for rtol in (1e-2, 3e-3, 1e-3, 3e-4, 1e-4, 3e-5, 1e-5, 1e-6, 1e-7):
        losses, calls = body.run(rtol)
        error = scipy_side.worst(losses, truth)
        print(f"  solve_ivp rtol {rtol:.0e}: error {100 * error:.4f} %, {calls} right-hand sides")
        if error <= ours_error * 1.02:
            chosen = (rtol, error)
            break
    if chosen is None:
        chosen = (rtol, error)
    ours_ms, theirs_ms = [], []
    for _ in range(REPEATS):  # in turn, so that a busy machine slows both
        run = subprocess.run([program, "time", str(CELLS), str(STEP_H), "21"], check=True, capture_output=True, text=True)
        ours_ms.append(float(run.stdout))
        start = time.perf_counter()
        body.run(chosen[0])
        theirs_ms.append(1e3 * (time.perf_counter() - start))
    ours, theirs = statistics.median(ours_ms), statistics.median(theirs_ms)
    print(f"60-day forecast, {CELLS} cells, error against 160 cells and 0.25 h")
    print(f"  ours       {ours:9.2f} ms, error {100 * ours_error:.4f} %, steps of {STEP_H} h")
    print(f"  solve_ivp  {theirs:9.2f} ms, error {100 * chosen[1]:.4f} %, BDF, rtol {chosen[0]:.0e}")
    print(f"  ratio      {theirs / ours:9.1f}")
    fit = subprocess.run([program, "fit", "24", "9"], check=True, capture_output=True, text=True)
    run_ms, learn_ms, whole_ms, slice_ms = map(float, fit.stdout.split())
    print("24 pieces of 10 weighings, beside one 60-day run on the fit's grid (20 cells, steps of 24 h)")
    print(f"  one run    {run_ms:9.3f} ms")
    print(f"  refit      {learn_ms:9.2f} ms, {learn_ms / run_ms:.1f} runs")
    print(f"  forecast   {whole_ms:9.2f} ms, {whole_ms / run_ms:.1f} runs; longest slice {slice_ms:.3f} ms")


if __name__ == "__main__":
    main()
