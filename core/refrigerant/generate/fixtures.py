"""The check grid of one refrigerant: plain CoolProp states at points that no fit uses as a node."""

from typing import Dict

from fluids import Spec
from states import LIQUID, VAPOUR, Fluid, State


def _row(state: State):
    return [
        round(state.p, 3),
        round(state.t, 7),
        round(state.h, 3),
        round(state.s, 6),
        round(state.rho, 7),
    ]


def _points(low: float, high: float, count: int):
    """`count` values strictly inside (low, high), at irregular places (golden-ratio steps)."""
    golden = 0.6180339887498949
    return sorted(low + (high - low) * ((0.31 + golden * k) % 1.0) for k in range(count))


def fixture(identity: str, spec: Spec, fluid: Fluid, limits: Dict[str, float]) -> Dict:
    """Saturation, superheated and subcooled states: columns p Pa, T K, h J/kg, s J/(kg K), rho kg/m3."""
    temperatures = _points(limits["tMin_K"], limits["tMax_K"], 60)
    log = [fluid.saturated_at_t(VAPOUR, t).p for t in _points(limits["tMin_K"], limits["tMax_K"] - 8, 13)]
    superheats = _points(0.0, limits["superheatMax_K"], 9)
    subcoolings = _points(0.0, limits["subcoolingMax_K"], 7)
    return {
        "id": identity,
        "source": f"CoolProp 8.0.0, HEOS, {spec.fluid}",
        "columns": ["p_Pa", "t_K", "h_J_kg", "s_J_kgK", "rho_kg_m3"],
        "bubble": [_row(fluid.saturated_at_t(LIQUID, t)) for t in temperatures],
        "dew": [_row(fluid.saturated_at_t(VAPOUR, t)) for t in temperatures],
        "superheated": [_row(s) for p in log for s in fluid.isobar(VAPOUR, p, superheats)],
        "subcooled": [_row(s) for p in log for s in fluid.isobar(LIQUID, p, subcoolings)],
    }
