"""Thermodynamic states of one refrigerant from CoolProp, by continuation from known neighbours.

CoolProp's P-Q and T-Q flashes of mixtures start from an estimate and fail, or settle on the trivial
solution, at scattered points (R-407C near 2.5 MPa, R-448A at 338 K, R-454B near 4.0 MPa among
others). The flash that starts from a converged neighbour does not, so every saturation state of a
mixture is reached from a table built by marching away from 0 degC. Single-phase states are reached
from saturation by solving p(rho, T) = p with Newton's method, in steps of temperature.
"""

import bisect
from dataclasses import dataclass
from typing import Dict, List, Tuple

import CoolProp
import CoolProp.CoolProp as CP
from CoolProp.CoolProp import AbstractState, PyGuessesStructure

START_K = 273.15
MARCH_K = 0.5
WALK_K = 8.0
LIQUID, VAPOUR = 0, 1
PHASE = {LIQUID: CoolProp.iphase_liquid, VAPOUR: CoolProp.iphase_gas}

# The equations are smooth for some kelvin outside their stated limits; the spec of each fluid
# says where a fit reaches there.
CP.set_config_bool(CP.DONT_CHECK_PROPERTY_LIMITS, True)


@dataclass(frozen=True)
class State:
    """p in Pa, T in K, h in J/kg, s in J/(kg K), rho in kg/m3."""

    p: float
    t: float
    h: float
    s: float
    rho: float


class Fluid:
    """One refrigerant by its CoolProp name, h and s on the IIR reference (200 kJ/kg, 1 kJ/(kg K))."""

    def __init__(self, name: str, mixture: bool, t_low: float, t_high: float):
        self.name = name
        self.mixture = mixture
        self._sat = AbstractState("HEOS", name)
        self._one = {q: AbstractState("HEOS", name) for q in (LIQUID, VAPOUR)}
        for q, state in self._one.items():
            state.specify_phase(PHASE[q])
        self.molar_mass = self._sat.molar_mass()
        self._h0 = self._s0 = 0.0
        self._march: Dict[int, Tuple[List[float], List[float], List[PyGuessesStructure]]] = {}
        if mixture:
            for q in (LIQUID, VAPOUR):
                self._march[q] = self._build_march(q, t_low - 12.0, t_high + 8.0)
        reference = self.saturated_at_t(LIQUID, START_K)
        self._h0, self._s0 = reference.h - 200e3, reference.s - 1e3

    def _guess(self) -> PyGuessesStructure:
        a, g = self._sat, PyGuessesStructure()
        g.T, g.p = a.T(), a.p()
        g.rhomolar_liq = a.saturated_liquid_keyed_output(CoolProp.iDmolar)
        g.rhomolar_vap = a.saturated_vapor_keyed_output(CoolProp.iDmolar)
        g.x, g.y = a.mole_fractions_liquid(), a.mole_fractions_vapor()
        if g.rhomolar_liq < 1.05 * g.rhomolar_vap:
            raise ValueError(f"{self.name}: trivial phase split at {g.T} K")
        return g

    def _build_march(self, q: int, t_low: float, t_high: float):
        found: List[Tuple[float, float, PyGuessesStructure]] = []
        for step, end in ((-MARCH_K, t_low), (MARCH_K, t_high)):
            t = START_K
            self._sat.update(CoolProp.QT_INPUTS, q, t)
            guess = self._guess()
            found.append((t, guess.p, guess))
            while (end - t) * step > 0:
                t += step
                guess.T = t
                try:
                    self._sat.update_with_guesses(CoolProp.QT_INPUTS, q, t, guess)
                    guess = self._guess()
                except ValueError:
                    break  # the critical region: the caller's range ends before it
                found.append((t, guess.p, guess))
        found.sort(key=lambda row: row[0])
        return [r[0] for r in found], [r[1] for r in found], [r[2] for r in found]

    def _nearest(self, q: int, axis: int, value: float) -> PyGuessesStructure:
        keys, guesses = self._march[q][axis], self._march[q][2]
        if not keys[0] <= value <= keys[-1]:
            raise ValueError(f"{self.name}: {value} is outside the marched saturation curve")
        return guesses[min(bisect.bisect_left(keys, value), len(keys) - 1)]

    def output(self, a: AbstractState) -> State:
        """The state an AbstractState of this fluid stands at, h and s on the IIR reference."""
        return State(a.p(), a.T(), a.hmass() - self._h0, a.smass() - self._s0, a.rhomass())

    def saturated_at_t(self, q: int, t: float) -> State:
        """Bubble (q = 0) or dew (q = 1) state at temperature t."""
        if self.mixture:
            self._sat.update_with_guesses(CoolProp.QT_INPUTS, q, t, self._nearest(q, 0, t))
        else:
            self._sat.update(CoolProp.QT_INPUTS, q, t)
        return self.output(self._sat)

    def saturated_at_p(self, q: int, p: float) -> State:
        """Bubble (q = 0) or dew (q = 1) state at pressure p."""
        if self.mixture:
            self._sat.update_with_guesses(CoolProp.PQ_INPUTS, p, q, self._nearest(q, 1, p))
        else:
            self._sat.update(CoolProp.PQ_INPUTS, p, q)
        return self.output(self._sat)

    def isobar(self, q: int, p: float, offsets: List[float]) -> List[State]:
        """Single-phase states at p and T_sat + offset (vapour) or T_sat - offset (liquid).

        `offsets` ascend from zero.
        """
        start = self.saturated_at_p(q, p)
        a, sign = self._one[q], 1.0 if q == VAPOUR else -1.0
        rho, reached, out = start.rho / self.molar_mass, 0.0, []
        for offset in offsets:
            while True:
                reached = min(offset, reached + WALK_K)
                rho = self._density(a, p, start.t + sign * reached, rho)
                if reached >= offset:
                    break
            out.append(self.output(a))
        return out

    def _density(self, a: AbstractState, p: float, t: float, rho: float) -> float:
        for _ in range(60):
            a.update(CoolProp.DmolarT_INPUTS, rho, t)
            slope = a.first_partial_deriv(CoolProp.iP, CoolProp.iDmolar, CoolProp.iT)
            if not slope > 0:
                raise ValueError(f"{self.name}: mechanically unstable at {t} K, {p} Pa")
            step = (p - a.p()) / slope
            rho += max(-0.2 * rho, min(0.2 * rho, step))
            if abs(step) < 1e-13 * rho:
                a.update(CoolProp.DmolarT_INPUTS, rho, t)
                return rho
        # Rounding can keep the last step above the tolerance: accept it when it is that small.
        if abs(step) < 1e-10 * rho:
            a.update(CoolProp.DmolarT_INPUTS, rho, t)
            return rho
        raise ValueError(f"{self.name}: no density at {t} K, {p} Pa")
