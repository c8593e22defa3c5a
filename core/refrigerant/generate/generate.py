"""Writes data/<id>.json for every refrigerant and the check grids of fixtures/reference/refrigerant.

Usage: generate.py --data DIR --fixtures DIR [--only ID ...]

Every number is rounded to a fixed number of decimals, far above the noise of the solvers (about
1e-12 relative) and far below the error that is promised.
"""

import argparse
import math
import os
from typing import Callable, Dict, List, Tuple

import CoolProp

import chebyshev
from document import write_document
from fixtures import fixture
from fluids import (
    CLASS_SOURCE,
    COMPOSITION_MEMORY,
    COMPOSITION_SOURCE,
    CRITICAL_FRACTION,
    SPECS,
    SUBCOOLING_MAX_K,
    SUPERHEAT_MAX_K,
    Spec,
    T_HIGH_K,
    T_LOW_K,
)
from states import LIQUID, VAPOUR, Fluid, State

SAMPLES_LINE, KEEP_LINE = 56, 28
SAMPLES_P, KEEP_P = 40, 24
SAMPLES_OFFSET, KEEP_OFFSET = 28, 14
STRETCH_K = 4.0
DECIMALS = {"T": 7, "lnp": 10, "h": 2, "s": 5, "z": 8, "rho": 4}
GAS_CONSTANT = 8.314462618


class Axis:
    """A linear map between [low, high] and [-1, 1]."""

    def __init__(self, low: float, high: float):
        self.low, self.high = low, high

    def value(self, u: float) -> float:
        return self.low + (self.high - self.low) * (u + 1.0) / 2.0

    def unit(self, value: float) -> float:
        return 2.0 * (value - self.low) / (self.high - self.low) - 1.0


def between(count: int) -> List[float]:
    """Check points in [-1, 1] that crowd at both ends as the nodes do and fall between them."""
    return [-math.cos(math.pi * k / count) for k in range(count + 1)]


def rounded(values, decimals: int):
    """The numbers as they are written, so that errors are measured on the written series."""
    if isinstance(values, list):
        return [rounded(v, decimals) for v in values]
    return round(values, decimals) + 0.0


def fit_line(f: Callable[[float], float], axis: Axis, decimals: int) -> List[float]:
    series = chebyshev.fit_function(lambda u: f(axis.value(u)), SAMPLES_LINE, KEEP_LINE)
    return rounded(series, decimals)


def offset_axis(span: float) -> Axis:
    """The axis of ln(1 + offset / STRETCH_K): fine steps near saturation, coarse far from it."""
    return Axis(0.0, math.log(1.0 + span / STRETCH_K))


def offset_of(axis: Axis, w: float) -> float:
    return max(0.0, STRETCH_K * math.expm1(axis.value(w)))


def property_of(kind: str, gas: float) -> Callable[[State], float]:
    if kind == "z":
        return lambda s: s.p / (s.rho * gas * s.t)
    return lambda s: float(getattr(s, kind))


def fit_region(fluid: Fluid, q: int, log_p: Axis, span: float) -> Tuple[Dict, Dict]:
    """The 2-D series of one phase and their largest errors at points between the nodes."""
    axis = offset_axis(span)
    gas = GAS_CONSTANT / fluid.molar_mass
    sample_w = [offset_of(axis, w) for w in chebyshev.nodes(SAMPLES_OFFSET)]
    grid = [
        fluid.isobar(q, math.exp(log_p.value(u)), sample_w) for u in chebyshev.nodes(SAMPLES_P)
    ]
    check_u, check_w = between(47), between(24)
    checks = [
        fluid.isobar(q, math.exp(log_p.value(u)), [offset_of(axis, w) for w in check_w])
        for u in check_u
    ]
    series, errors = {}, {}
    for kind in ("h", "s", "z" if q == VAPOUR else "rho"):
        value = property_of(kind, gas)
        c = chebyshev.fit_grid([[value(s) for s in row] for row in grid], KEEP_P, KEEP_OFFSET)
        c = rounded(c, DECIMALS[kind])
        worst = 0.0
        for u, row in zip(check_u, checks):
            for w, state in zip(check_w, row):
                error = abs(chebyshev.evaluate_grid(c, u, w) - value(state))
                worst = max(worst, error / value(state) if kind in ("z", "rho") else error)
        series[kind] = c
        errors[kind] = worst
    return series, errors


def line_errors(fluid: Fluid, curves: Dict, q: int, log_p: Axis) -> Dict[str, float]:
    """Largest error of T(p), and of T -> p -> T through both series."""
    forward = curves["tDew" if q == VAPOUR else "tBubble"]
    inverse = curves["pDew" if q == VAPOUR else "pBubble"]
    t_axis = Axis(inverse["from"], inverse["to"])
    worst = trip = 0.0
    for u in between(301):
        t = chebyshev.evaluate(forward["c"], u)
        worst = max(worst, abs(t - fluid.saturated_at_p(q, math.exp(log_p.value(u))).t))
        back = chebyshev.evaluate(inverse["c"], t_axis.unit(t))
        trip = max(trip, abs(chebyshev.evaluate(forward["c"], log_p.unit(back)) - t))
    return {"t": worst, "trip": trip}


def fit_saturation(fluid: Fluid, q: int, log_p: Axis) -> Dict[str, Dict]:
    name = "Dew" if q == VAPOUR else "Bubble"
    forward = fit_line(lambda x: fluid.saturated_at_p(q, math.exp(x)).t, log_p, DECIMALS["T"])
    # A millikelvin beyond both ends, so that the inverse of an end point is inside.
    t_axis = Axis(
        math.floor(fluid.saturated_at_p(q, math.exp(log_p.low)).t * 1e3 - 1) / 1e3,
        math.ceil(fluid.saturated_at_p(q, math.exp(log_p.high)).t * 1e3 + 1) / 1e3,
    )
    inverse = fit_line(
        lambda t: math.log(fluid.saturated_at_t(q, t).p), t_axis, DECIMALS["lnp"]
    )
    return {
        f"t{name}": {"from": log_p.low, "to": log_p.high, "c": forward},
        f"p{name}": {"from": t_axis.low, "to": t_axis.high, "c": inverse},
    }


def critical_temperature(spec: Spec) -> float:
    state = CoolProp.AbstractState("HEOS", spec.fluid)
    if not spec.mixture:
        return state.T_critical()
    points = [p for p in state.all_critical_points() if p.stable]
    return max(p.T for p in points)


def composition(spec: Spec):
    if spec.composition is not None:
        return {"massFraction": spec.composition, "source": COMPOSITION_MEMORY}
    state = CoolProp.AbstractState("HEOS", spec.fluid)
    names = state.fluid_names()
    fractions = state.get_mass_fractions() if spec.mixture else [1.0]
    parts = {name: round(x, 4) for name, x in zip(names, fractions)}
    return {"massFraction": parts, "source": COMPOSITION_SOURCE if spec.mixture else "pure fluid"}


def notes(spec: Spec) -> List[str]:
    out = [
        "h, s and density of saturated liquid and vapour are the edges (subcooling 0, superheat 0) "
        "of the two-dimensional series: there is no step at saturation.",
        "Where a corner of the subcooled or superheated region lies outside the stated limits of "
        "the equation of state, the equation itself is used beyond them; it is smooth there.",
    ]
    if spec.mixture:
        out.append(
            "CoolProp's P-Q and T-Q flashes of mixtures fail at scattered points of this range. "
            "Every saturation state was solved from a converged neighbour (update_with_guesses), "
            "marching from 0 degC; where the plain flash works both agree within 1e-6 relative."
        )
    if spec.fluid in ("R410A", "R404A"):
        out.append(
            "The pseudo-pure equation gives bubble and dew pressure by its own ancillary equations."
        )
    return out


def document(identity: str, spec: Spec, fluid: Fluid, t_critical: float, t_high: float) -> Dict:
    p_low = math.floor(fluid.saturated_at_t(VAPOUR, T_LOW_K).p)
    p_high = math.ceil(fluid.saturated_at_t(LIQUID, t_high).p)
    log_p = Axis(rounded(math.log(p_low), 10), rounded(math.log(p_high), 10))
    curves = {**fit_saturation(fluid, LIQUID, log_p), **fit_saturation(fluid, VAPOUR, log_p)}
    vapour, vapour_error = fit_region(fluid, VAPOUR, log_p, SUPERHEAT_MAX_K)
    liquid, liquid_error = fit_region(fluid, LIQUID, log_p, SUBCOOLING_MAX_K)
    bubble = line_errors(fluid, curves, LIQUID, log_p)
    dew = line_errors(fluid, curves, VAPOUR, log_p)
    return {
        "id": identity,
        "source": {
            "program": f"CoolProp {CoolProp.__version__}",
            "backend": "HEOS",
            "fluid": spec.fluid,
            "model": spec.model,
            "references": list(spec.references),
        },
        "safetyClass": {"value": spec.safety_class, "source": CLASS_SOURCE},
        "composition": composition(spec),
        "referenceState": "IIR: h = 200 kJ/kg and s = 1 kJ/(kg K) for saturated liquid at 0 degC",
        "molarMass_kg_mol": round(fluid.molar_mass, 9),
        "criticalTemperature_K": round(t_critical, 2),
        "gasConstant_J_kgK": round(GAS_CONSTANT / fluid.molar_mass, 9),
        "range": {
            "pMin_Pa": p_low,
            "pMax_Pa": p_high,
            "tMin_K": T_LOW_K,
            "tMax_K": t_high,
            "superheatMax_K": SUPERHEAT_MAX_K,
            "subcoolingMax_K": SUBCOOLING_MAX_K,
        },
        "maxError": {
            "tBubble_K": bound(bubble["t"], 1e-6),
            "tDew_K": bound(dew["t"], 1e-6),
            "roundTrip_K": bound(max(bubble["trip"], dew["trip"]), 1e-6),
            "hLiquid_J_kg": bound(liquid_error["h"], 0.2),
            "sLiquid_J_kgK": bound(liquid_error["s"], 2e-4),
            "rhoLiquid_relative": bound(liquid_error["rho"], 2e-6),
            "hVapour_J_kg": bound(vapour_error["h"], 0.2),
            "sVapour_J_kgK": bound(vapour_error["s"], 2e-4),
            "rhoVapour_relative": bound(vapour_error["z"], 1e-6),
        },
        "notes": notes(spec),
        "stretch_K": STRETCH_K,
        "saturation": curves,
        "vapour": vapour,
        "liquid": liquid,
    }


def bound(error: float, floor: float) -> float:
    """An error rounded up to one digit, and never below ten steps of the written digits.

    Below that the last rounding decides, which may differ from one processor to another.
    """
    worst = max(error, floor)
    scale = 10.0 ** math.floor(math.log10(worst))
    return float(f"{math.ceil(worst / scale - 1e-9) * scale:.0e}")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--data", required=True)
    parser.add_argument("--fixtures", required=True)
    parser.add_argument("--only", nargs="*", default=list(SPECS))
    args = parser.parse_args()
    for identity in args.only:
        spec = SPECS[identity]
        t_critical = critical_temperature(spec)
        t_high = min(T_HIGH_K, math.floor(CRITICAL_FRACTION * t_critical * 100) / 100)
        fluid = Fluid(spec.fluid, spec.mixture, T_LOW_K, t_high)
        made = document(identity, spec, fluid, t_critical, t_high)
        write_document(os.path.join(args.data, f"{identity}.json"), made)
        grid = fixture(identity, spec, fluid, made["range"])
        write_document(os.path.join(args.fixtures, f"{identity}.json"), grid)
        print(identity, made["maxError"], flush=True)


if __name__ == "__main__":
    main()
