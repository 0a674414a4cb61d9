"""Makes follower_waveforms.json: followers behind a full-wave reservoir, solved by SciPy's LSODA.

Needs Python 3, NumPy and SciPy. The equations stand in README.md beside this file.
"""

import json
import sys

import numpy as np
import scipy
from scipy.integrate import solve_ivp

THERMAL_VOLTAGE = 0.025852
REVERSE_BETA = 4.0
SAMPLES = 256
FINE = 8


def device(circuit, v, vb):
    """Base current, output volts and collector (drain) current."""
    amps, ohms = circuit["load_A"], circuit["load_ohm"]
    conductance = 0.0 if ohms is None else 1.0 / ohms
    if circuit["device"] == "mosfet":
        rds = circuit["rds_on_ohm"]
        out = min(vb - circuit["vgs_V"], (v - amps * rds) / (1 + conductance * rds))
        return 0.0, out, amps + conductance * out
    beta = circuit["beta"]
    nominal = circuit["vbe_at_A"]
    saturation = nominal / (1 + 1 / beta) / np.exp(circuit["vbe_V"] / THERMAL_VOLTAGE)
    y = np.exp(min((vb - v) / THERMAL_VOLTAGE, 300))
    total = amps + conductance * (vb - circuit["vbe_V"])
    for _ in range(4):
        x = (total / saturation + y + 1 / beta) / (1 + 1 / beta)
        out = vb - THERMAL_VOLTAGE * np.log(x)
        total = amps + conductance * out
    base = saturation * ((x - 1) / beta + (y - 1) / REVERSE_BETA)
    return base, out, total - base


def state(circuit, t, s):
    vc, vb = s
    drop = 2 * circuit["diode_drop_V"]
    resistance = circuit["source_ohm"] + 2 * circuit["diode_slope_ohm"]
    esr = circuit["esr_ohm"]
    emf = abs(circuit["peak_V"] * np.sin(2 * np.pi * circuit["mains_Hz"] * t)) - drop
    load = circuit["load_A"]
    v = vc
    for _ in range(60):
        base, out, collector = device(circuit, v, vb)
        load = collector + (v - vb) / circuit["base_ohm"]
        open_node = vc - esr * load
        i = max(0.0, (emf - open_node) / (resistance + esr))
        node = open_node + esr * i
        done = abs(node - v) < 1e-12
        v = node if done or esr == 0 else 0.5 * (v + node)
        if done:
            break
    return v, i, base, out, load


def derivative(circuit):
    def rhs(t, s):
        v, i, base, _, load = state(circuit, t, s)
        vb = s[1]
        leg = 0.0 if circuit["divider_ohm"] is None else vb / circuit["divider_ohm"]
        into_base = (v - vb) / circuit["base_ohm"] - base - leg
        return [(i - load) / circuit["reservoir_F"], into_base / circuit["base_F"]]

    return rhs


def periodic(circuit):
    period = 1 / (2 * circuit["mains_Hz"])
    rhs = derivative(circuit)

    def run(s):
        step = period / 300
        return solve_ivp(rhs, (0, period), s, method="LSODA", rtol=1e-9, atol=1e-10, max_step=step).y[:, -1]

    top = circuit["peak_V"] - 2 * circuit["diode_drop_V"]
    s = np.array([top - 1, top - 2])
    for _ in range(30):
        miss = run(s) - s
        if np.max(np.abs(miss)) < 1e-8:
            return s, period
        jacobian = np.zeros((2, 2))
        for j in range(2):
            moved = s.copy()
            moved[j] += 1e-4
            jacobian[:, j] = (run(moved) - moved - miss) / 1e-4
        s = s + np.clip(np.linalg.solve(jacobian, -miss), -3, 3)
    raise RuntimeError("no periodic solution: " + json.dumps(circuit))


def answer(circuit):
    s, period = periodic(circuit)
    t = np.linspace(0, period, SAMPLES * FINE + 1)
    y = solve_ivp(
        derivative(circuit), (0, period), s, method="LSODA", rtol=1e-9, atol=1e-10, max_step=period / 800, t_eval=t
    ).y
    rows = np.array([state(circuit, tt, y[:, k]) for k, tt in enumerate(t)])
    v, out = rows[:, 0], rows[:, 3]
    mean = np.trapezoid(out, t) / period
    return {
        "circuit": circuit,
        "period_s": period,
        "input_V": [round(float(x), 6) for x in v[:-1:FINE]],
        "output_mean_V": float(mean),
        "output_min_V": float(out.min()),
        "output_max_V": float(out.max()),
        "output_ripple_rms_V": float(np.sqrt(np.trapezoid((out - mean) ** 2, t) / period)),
    }


def clamped_answer(circuit):
    """A bipolar follower under the clamp law, base current I / beta; reservoir without ESR."""
    period = 1 / (2 * circuit["mains_Hz"])
    resistance = circuit["source_ohm"] + 2 * circuit["diode_slope_ohm"]
    amps, base_ohm, base_farad = circuit["load_A"], circuit["base_ohm"], circuit["base_F"]
    need = amps / circuit["beta"]
    above = circuit["vbe_V"] - circuit["vce_sat_V"]

    def source(t, v):
        emf = abs(circuit["peak_V"] * np.sin(2 * np.pi * circuit["mains_Hz"] * t)) - 2 * circuit["diode_drop_V"]
        return max(0.0, (emf - v) / resistance)

    def free(t, s):
        v, vb = s
        load = amps - need + (v - vb) / base_ohm
        return [(source(t, v) - load) / circuit["reservoir_F"], ((v - vb) / base_ohm - need) / base_farad]

    def stuck(t, s):
        slope = (source(t, s[0]) - amps) / (circuit["reservoir_F"] + base_farad)
        return [slope, slope]

    def reaches(_, s):
        return s[1] - s[0] - above

    def leaves(t, s):
        return (s[0] - s[1]) / base_ohm - base_farad * stuck(t, s)[0] - need

    reaches.terminal, reaches.direction = True, 1
    leaves.terminal, leaves.direction = True, -1

    def run(s, instants=None):
        t, pieces, held = 0.0, [], s[1] - s[0] - above >= -1e-12
        while t < period - 1e-12:
            law, event = (stuck, leaves) if held else (free, reaches)
            step = solve_ivp(law, (t, period), s, method="LSODA", rtol=1e-10, atol=1e-11, max_step=period / 600,
                             events=event, dense_output=True)
            pieces.append((t, step.t[-1], step.sol))
            t, s, held = step.t[-1], step.y[:, -1].copy(), not held
        if instants is None:
            return s
        return np.array([next(sol(x) for a, b, sol in pieces if a <= x <= b + 1e-12) for x in instants]).T

    top = circuit["peak_V"] - 2 * circuit["diode_drop_V"]
    s = np.array([top - 4, top - 4 + above - 0.05])
    for _ in range(400):
        end = run(s)
        done, s = np.max(np.abs(end - s)) < 1e-8, end
        if done:
            break
    t = np.linspace(0, period, SAMPLES * FINE + 1)
    v, vb = run(s, t)
    out = vb - circuit["vbe_V"]
    mean = np.trapezoid(out, t) / period
    return {
        "circuit": circuit,
        "period_s": period,
        "input_V": [round(float(x), 6) for x in v[:-1:FINE]],
        "output_mean_V": float(mean),
        "output_min_V": float(out.min()),
        "output_max_V": float(out.max()),
        "output_ripple_rms_V": float(np.sqrt(np.trapezoid((out - mean) ** 2, t) / period)),
    }


def circuits():
    shared = {"diode_drop_V": 0.8, "diode_slope_ohm": 0.03, "divider_ohm": None, "load_ohm": None}
    bipolar = {"device": "bipolar", "vbe_V": 0.7}
    mosfet = {"device": "mosfet"}
    root2 = 2**0.5
    yield {**shared, **bipolar, "name": "roomy bipolar", "mains_Hz": 50, "peak_V": 17.25 * root2, "source_ohm": 0.6,
           "reservoir_F": 0.0047, "esr_ohm": 0.03, "load_A": 0.5, "vbe_at_A": 0.5, "base_ohm": 1000.0,
           "base_F": 1e-4, "beta": 100.0}
    yield {**shared, **bipolar, "name": "saturating bipolar", "mains_Hz": 60, "peak_V": 24 * root2, "source_ohm": 0.8,
           "reservoir_F": 0.0015, "esr_ohm": 0.0, "load_A": 1.0, "vbe_at_A": 1.0, "base_ohm": 100.0,
           "base_F": 1e-3, "beta": 200.0}
    yield {**shared, **mosfet, "name": "roomy mosfet", "mains_Hz": 50, "peak_V": 25 * root2, "source_ohm": 0.7,
           "reservoir_F": 0.0047, "esr_ohm": 0.03, "load_A": 1.0, "base_ohm": 1e5, "base_F": 1e-6,
           "vgs_V": 3.3, "rds_on_ohm": 0.05}
    yield {**shared, **mosfet, "name": "mosfet that passes dips", "mains_Hz": 60, "peak_V": 20 * root2,
           "source_ohm": 0.3, "reservoir_F": 0.001, "esr_ohm": 0.1, "load_A": 1.2, "base_ohm": 2.2e5,
           "base_F": 4.7e-7, "vgs_V": 3.2, "rds_on_ohm": 0.05}
    random = np.random.default_rng(20240917)
    for k in range(20):
        amps = float(round(10 ** random.uniform(-1.3, 0.3), 3))
        peak = float(round(random.uniform(14, 40), 2))
        hertz = int(random.choice([50, 60]))
        wanted = random.uniform(0.5, 5)
        case = {**shared, "mains_Hz": hertz, "peak_V": peak, "source_ohm": float(round(peak / amps * random.uniform(0.005, 0.02), 3)),
                "reservoir_F": float(round(amps / (2 * hertz * wanted), 6)), "esr_ohm": float(round(random.choice([0, 0.02, 0.1]), 3)),
                "load_A": amps, "name": f"random {k}"}
        if random.uniform() < 0.25:
            case["load_ohm"] = float(round(peak / amps * 2, 1))
            case["load_A"] = float(round(amps / 2, 4))
        if k % 3 == 2:
            case.update(mosfet, base_ohm=float(round(10 ** random.uniform(4, 5.5))), vgs_V=float(round(random.uniform(1.5, 4.5), 2)),
                        rds_on_ohm=0.05)
            case["base_F"] = float(10 ** random.uniform(-1.5, 0) / case["base_ohm"])
        else:
            beta = float(round(random.uniform(40, 300)))
            case.update(bipolar, beta=beta, vbe_at_A=amps, base_ohm=float(round(beta / amps * random.uniform(0.02, 1.2), 1)))
            case["base_F"] = float(10 ** random.uniform(-2, -0.3) / case["base_ohm"])
        if random.uniform() < 0.2:
            case["divider_ohm"] = case["base_ohm"] * 9
        yield case


if __name__ == "__main__":
    made = f"NumPy {np.__version__}, SciPy {scipy.__version__} (solve_ivp LSODA, rtol 1e-9)"
    cases = []
    for circuit in circuits():
        cases.append(answer(circuit))
        print(circuit["name"], circuit["device"], {k: v for k, v in cases[-1].items() if k.startswith("output")}, file=sys.stderr)
    saturating = next(one for one in circuits() if one["name"] == "saturating bipolar")
    clamped = clamped_answer({**saturating, "name": "saturating bipolar, clamped", "vce_sat_V": 0.3})
    print({k: v for k, v in clamped.items() if k.startswith("output")}, file=sys.stderr)
    with open("follower_waveforms.json", "w") as file:
        json.dump({"format": "follower_waveforms/1", "made": made, "cases": cases, "clamped": [clamped]}, file)
        file.write("\n")
