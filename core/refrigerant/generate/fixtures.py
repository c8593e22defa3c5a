"""The check grid of one refrigerant: plain CoolProp flashes at points that no fit uses as a node.

The fits come from continuation (states.py); these rows come from `update(QT_INPUTS, ...)` and
`update(PT_INPUTS, ...)`. Where such a flash of a mixture fails, the continued state is written and
counted in `continued`; where both exist they must agree, or the generator stops.
"""

from typing import Dict, List, Optional

import CoolProp
from CoolProp.CoolProp import AbstractState

from fluids import Spec
from states import LIQUID, PHASE, VAPOUR, Fluid, State

# The plain flashes of mixtures stop early: up to 4e-8 in density was seen (R-454B at low pressure).
AGREEMENT = 1e-6


class DirectFlash:
    """Plain flashes of one fluid, on the same reference of h and s."""

    def __init__(self, spec: Spec, fluid: Fluid):
        self._fluid = fluid
        self._sat = AbstractState("HEOS", spec.fluid)
        self._one = {q: AbstractState("HEOS", spec.fluid) for q in (LIQUID, VAPOUR)}
        for q, state in self._one.items():
            state.specify_phase(PHASE[q])
        self.t_min = self._sat.Tmin()
        self.continued = 0

    def saturated(self, q: int, t: float) -> State:
        continued = self._fluid.saturated_at_t(q, t)
        return self._checked(continued, self._sat, CoolProp.QT_INPUTS, q, t)

    def single(self, q: int, continued: State) -> State:
        return self._checked(continued, self._one[q], CoolProp.PT_INPUTS, continued.p, continued.t)

    def _checked(self, continued: State, state: AbstractState, inputs: int, a: float, b: float):
        direct = self._flash(state, inputs, a, b)
        if direct is None:
            self.continued += 1
            return continued
        for kind in ("p", "t", "rho"):
            x, y = getattr(direct, kind), getattr(continued, kind)
            if abs(x - y) > AGREEMENT * abs(y):
                raise ValueError(f"{self._fluid.name}: {kind} {x} by flash, {y} by continuation")
        return direct

    def _flash(self, state: AbstractState, inputs: int, a: float, b: float) -> Optional[State]:
        try:
            state.update(inputs, a, b)
        except ValueError:
            return None
        if inputs == CoolProp.PT_INPUTS:
            # CoolProp can land on the mechanically unstable root between the two phases.
            slope = state.first_partial_deriv(CoolProp.iP, CoolProp.iDmolar, CoolProp.iT)
            if not slope > 0:
                return None
        return self._fluid.output(state)


def _row(state: State) -> List[float]:
    return [
        round(state.p, 3),
        round(state.t, 7),
        round(state.h, 3),
        round(state.s, 6),
        round(state.rho, 7),
    ]


def _points(low: float, high: float, count: int) -> List[float]:
    """`count` values strictly inside (low, high), at irregular places (golden-ratio steps)."""
    golden = 0.6180339887498949
    return sorted(low + (high - low) * ((0.31 + golden * k) % 1.0) for k in range(count))


def fixture(identity: str, spec: Spec, fluid: Fluid, limits: Dict[str, float]) -> Dict:
    """Saturated, superheated and subcooled states of one refrigerant."""
    direct = DirectFlash(spec, fluid)
    low, high = limits["tMin_K"], limits["tMax_K"]
    temperatures = _points(low, high, 60)
    rows: Dict[str, List[List[float]]] = {
        "bubble": [_row(direct.saturated(LIQUID, t)) for t in temperatures],
        "dew": [_row(direct.saturated(VAPOUR, t)) for t in temperatures],
    }
    for name, q, span, count in (
        ("superheated", VAPOUR, limits["superheatMax_K"], 9),
        ("subcooled", LIQUID, limits["subcoolingMax_K"], 7),
    ):
        offsets = _points(0.0, span, count)
        pressures = [fluid.saturated_at_t(q, t).p for t in _points(low, high, 13)]
        pressures = [p for p in pressures if limits["pMin_Pa"] < p < limits["pMax_Pa"]]
        states = [s for p in pressures for s in fluid.isobar(q, p, offsets)]
        # Below its stated limit an equation can have a second, spurious root that a flash finds.
        rows[name] = [_row(direct.single(q, s)) for s in states if s.t >= direct.t_min]
    return {
        "id": identity,
        "source": f"CoolProp {CoolProp.__version__}, HEOS, {spec.fluid}: T-Q and P-T flashes",
        "continued": direct.continued,
        "columns": ["p_Pa", "t_K", "h_J_kg", "s_J_kgK", "rho_kg_m3"],
        **rows,
    }
