"""The refrigerants: which CoolProp model stands behind each, and over which range."""

from dataclasses import dataclass
from typing import Dict, Optional, Tuple

# Lower end of every fit: -60 degC saturation, below the normal boiling point of R-32 (-51.7 degC)
# also at 3000 m of altitude, so that a circuit at atmospheric pressure is still in range.
T_LOW_K = 213.15
# Upper end: 70 degC saturation or 0.99 of the critical temperature, whichever is lower.
T_HIGH_K = 343.15
CRITICAL_FRACTION = 0.99
SUPERHEAT_MAX_K = 100.0
SUBCOOLING_MAX_K = 50.0

PURE = "reference equation of state of the pure fluid"
PSEUDO_PURE = "pseudo-pure equation of state of the blend"
MIXTURE = "predefined mixture: multi-fluid Helmholtz energy model with fitted pair parameters"

LEMMON_2003 = "Lemmon, Int. J. Thermophys. 24 (2003) 991-1006"
LEMMON_2004 = "R-32/R-125/R-134a pairs: Lemmon & Jacobsen, J. Phys. Chem. Ref. Data 33 (2004) 593-620"
BELL_2022 = "R-1234yf/R-134a and R-1234ze(E) pairs: Bell, J. Phys. Chem. Ref. Data 51 (2022) 013103"
BELL_2023 = "R-32/R-1234yf, R-125/R-1234yf, R-32/R-1234ze(E) pairs: Bell, J. Phys. Chem. Ref. Data 52 (2023) 013101"
BELL_2025 = "R-125/R-1234ze(E) pair: Bell, J. Chem. Eng. Data (2025)"
CLASS_SOURCE = "ASHRAE 34, from memory"
COMPOSITION_SOURCE = "mass fractions of CoolProp's predefined mixture"
COMPOSITION_MEMORY = "ASHRAE 34, from memory"


@dataclass(frozen=True)
class Spec:
    """One refrigerant. `composition` is given only where the model does not carry it."""

    fluid: str
    model: str
    references: Tuple[str, ...]
    safety_class: str
    composition: Optional[Dict[str, float]] = None

    @property
    def mixture(self) -> bool:
        return self.model == MIXTURE


SPECS: Dict[str, Spec] = {
    "R-410A": Spec("R410A", PSEUDO_PURE, (LEMMON_2003,), "A1", {"R32": 0.5, "R125": 0.5}),
    "R-32": Spec(
        "R32", PURE, ("Tillner-Roth & Yokozeki, J. Phys. Chem. Ref. Data 26 (1997) 1273-1328",), "A2L"
    ),
    "R-454B": Spec("R454B.mix", MIXTURE, (BELL_2023,), "A2L"),
    "R-22": Spec("R22", PURE, ("Kamei et al., Int. J. Thermophys. 16 (1995) 1155-1164",), "A1"),
    "R-407C": Spec("R407C.mix", MIXTURE, (LEMMON_2004,), "A1"),
    "R-134a": Spec(
        "R134a", PURE, ("Tillner-Roth & Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657-729",), "A1"
    ),
    "R-404A": Spec(
        "R404A", PSEUDO_PURE, (LEMMON_2003,), "A1", {"R125": 0.44, "R134a": 0.04, "R143a": 0.52}
    ),
    "R-448A": Spec("R448A.mix", MIXTURE, (LEMMON_2004, BELL_2022, BELL_2023, BELL_2025), "A1"),
    "R-449A": Spec("R449A.mix", MIXTURE, (LEMMON_2004, BELL_2022, BELL_2023), "A1"),
    "R-452B": Spec("R452B.mix", MIXTURE, (LEMMON_2004, BELL_2023), "A2L"),
    "R-513A": Spec("R513A.mix", MIXTURE, (BELL_2022,), "A1"),
    "R-290": Spec(
        "Propane", PURE, ("Lemmon, McLinden & Wagner, J. Chem. Eng. Data 54 (2009) 3141-3180",), "A3"
    ),
    "R-1234yf": Spec(
        "R1234yf", PURE, ("Lemmon & Akasaka, Int. J. Thermophys. 43 (2022) 119",), "A2L"
    ),
}
