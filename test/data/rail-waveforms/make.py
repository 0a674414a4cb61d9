"""Makes rail_waveforms.json: reservoir waveforms of the regulator cases in ../reference-cases/rectifier_cases.json.

Needs Python 3, NumPy and SciPy. Fixed-drop diodes, integrated by DOP853 in short steps to periodic steady state.
"""

import json

import numpy as np
import scipy
from scipy.integrate import solve_ivp
from scipy.optimize import minimize_scalar

SAMPLES = 200


def waveform(one):
    c = one["inputs"]
    half = c["rectifier"] == "half_wave" or c["one_diode_open"]
    hertz = c["mains_frequency_Hz"]
    period = (1 if half else 0.5) / hertz
    omega = 2 * np.pi * hertz
    drop = c["diodes_in_path"] * c["diode_fixed_forward_drop_V"]
    rs = c["derived_total_series_resistance_ohm"] + c["diodes_in_path"] * c["diode_fixed_slope_resistance_ohm"]
    cap, esr, amps = c["reservoir_capacitance_F"], c["reservoir_esr_ohm"], c["reservoir_total_constant_current_A"]
    assert c["load_resistance_ohm"] is None

    def current(t, vc):
        wave = c["derived_noload_peak_V"] * np.sin(omega * t)
        emf = (wave if half else abs(wave)) - drop
        return max(0.0, (emf - (vc - esr * amps)) / (rs + esr))

    def rhs(t, y):
        return [(current(t, y[0]) - amps) / cap]

    def run(start, dense=False):
        return solve_ivp(rhs, (0, period), [start], method="DOP853", rtol=1e-10, atol=1e-11, max_step=period / 2000,
                         dense_output=dense)

    start = c["derived_noload_peak_V"] - drop
    for _ in range(100):
        end = run(start).y[0, -1]
        moved = run(start + 1e-4).y[0, -1]
        slope = (moved - end) / 1e-4
        step = (end - start) / (1 - slope)
        start += step
        if abs(step) < 1e-9:
            break
    sol = run(start, True).sol
    node = lambda t: sol(t)[0] + esr * (current(t, sol(t)[0]) - amps)
    grid = np.linspace(0, period, 20001)
    values = np.array([node(t) for t in grid])
    extremes = []
    for k, sign in ((values.argmin(), 1), (values.argmax(), -1)):
        low, high = max(0, grid[k] - period / 20000), min(period, grid[k] + period / 20000)
        extremes.append(minimize_scalar(lambda t: sign * node(t), bounds=(low, high), method="bounded",
                                        options={"xatol": 1e-12}).x)
    instants = np.unique(np.concatenate([np.arange(SAMPLES) * period / SAMPLES, [t for t in extremes if t < period]]))
    return {"id": one["id"], "period_s": period, "instants_s": [float(f"{t:.9g}") for t in instants],
            "volts": [round(float(node(t)), 6) for t in instants]}


if __name__ == "__main__":
    with open("../reference-cases/rectifier_cases.json") as file:
        cases = [one for one in json.load(file)["cases"] if "regulator_on_fixed_drop" in one["answers"]]
    made = f"NumPy {np.__version__}, SciPy {scipy.__version__} (solve_ivp DOP853, rtol 1e-10)"
    waves = []
    for one in cases:
        waves.append(waveform(one))
        answer = one["answers"]["fixed_drop"]
        print(one["id"], min(waves[-1]["volts"]) - answer["v_min_V"], max(waves[-1]["volts"]) - answer["v_max_V"])
    with open("rail_waveforms.json", "w") as file:
        json.dump({"format": "rail_waveforms/1", "made": made, "cases": waves}, file)
        file.write("\n")
