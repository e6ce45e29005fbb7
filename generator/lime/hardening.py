"""Hardening of lime: rate by temperature under three laws, and carbonation depth.

No activation energy measured on lime was found: the laws are those of cement, kept apart as a range, and
size a wait; they prove nothing about a wall. Confidence of a source: R read, r read in a weak copy, M from
memory, X computed from the figures named.
"""

from __future__ import annotations

import math
from typing import Final

from generator.lime.limits import checked
from generator.values import Range

REFERENCE_C: Final = 20.0
TEMPERATURE_LIMITS_C: Final = (0.0, 40.0)  # at 0 C water freezes; above 40 C the wall dries first
KELVIN_AT_0_C: Final = 273.15
GAS_J_PER_MOL_K: Final = 8.314462618  # CODATA 2018, exact
NURSE_SAUL_DATUM_C: Final = -10.0  # usual in cement work (M)
ARRHENIUS_KJ_PER_MOL: Final = 40.0  # usual for cement (M); none was found for lime
CEMENT_LAW_KJ_PER_MOL: Final = 33.5  # Freiesleben Hansen and Pedersen, 20 C and over (M),
CEMENT_LAW_KJ_PER_MOL_K: Final = 1.47  # and for each degree below 20 C (M)

CARBONATION_LIMITS: Final = (0.0, 10.0)  # mm per square root of a day


def nurse_saul_rate(temperature_c: float, datum_c: float = NURSE_SAUL_DATUM_C) -> float:
    """The hardening rate against 20 C by Nurse and Saul's maturity.

        rate = (T - datum) / (20 - datum)

    A ratio. Valid for 0 to 40 C and a datum of -15 C to 0 C; ValueError outside. Source: law R, datum
    of -10 C M. Worked: 10 C is 0.667.

    >>> round(nurse_saul_rate(10.0), 3)
    0.667
    """
    datum = checked("datum_c", datum_c, -15.0, 0.0)
    return (checked("temperature_c", temperature_c, *TEMPERATURE_LIMITS_C) - datum) / (REFERENCE_C - datum)


def arrhenius_rate(temperature_c: float, activation_kj_per_mol: float) -> float:
    """The hardening rate against 20 C by Arrhenius's law.

        rate = exp(-E / R * (1 / T - 1 / 293.15)),   T in kelvin

    A ratio. Valid for 0 to 40 C and energies of 10 to 100 kJ/mol; ValueError outside. Source: law R, any
    energy for lime M. Worked: 10 C at 40 kJ/mol is 0.560.

    >>> round(arrhenius_rate(10.0, 40.0), 3)
    0.56
    """
    energy_j = checked("activation_kj_per_mol", activation_kj_per_mol, 10.0, 100.0) * 1000.0
    kelvin = checked("temperature_c", temperature_c, *TEMPERATURE_LIMITS_C) + KELVIN_AT_0_C
    return math.exp(-energy_j / GAS_J_PER_MOL_K * (1.0 / kelvin - 1.0 / (REFERENCE_C + KELVIN_AT_0_C)))


def cement_law_rate(temperature_c: float) -> float:
    """The hardening rate against 20 C by the equivalent-age law of cement, the slowest in the cold.

        Arrhenius with E = 33.5 + 1.47 * (20 - T) kJ/mol below 20 C, 33.5 from 20 C up

    A ratio. Valid for 0 to 40 C; ValueError outside. Source: Freiesleben Hansen and Pedersen (M). Worked:
    10 C is 0.497, which agrees with a lime supplier's "10 C colder halves the rate" (r).

    >>> round(cement_law_rate(10.0), 3)
    0.497
    """
    colder_k = max(0.0, REFERENCE_C - checked("temperature_c", temperature_c, *TEMPERATURE_LIMITS_C))
    return arrhenius_rate(temperature_c, CEMENT_LAW_KJ_PER_MOL + CEMENT_LAW_KJ_PER_MOL_K * colder_k)


def relative_rate(temperature_c: float, activation_kj_per_mol: float = ARRHENIUS_KJ_PER_MOL) -> Range[float]:
    """The hardening rate against 20 C by the three laws: the slowest, the middle and the fastest.

        Nurse-Saul (-10 C);   Arrhenius;   cement equivalent age

    A ratio. Valid for 0 to 40 C; ValueError outside. Source: the three functions above. Worked: 5 C is 0.293,
    0.413 and 0.500.

    >>> rate = relative_rate(5.0)
    >>> round(rate.low, 3), round(rate.likely, 3), round(rate.high, 3)
    (0.293, 0.413, 0.5)
    """
    return Range(
        *sorted(
            (
                nurse_saul_rate(temperature_c),
                arrhenius_rate(temperature_c, activation_kj_per_mol),
                cement_law_rate(temperature_c),
            )
        )
    )


def carbonation_depth_mm(days: float, k_mm_per_sqrt_day: Range[float]) -> Range[float]:
    """The depth that a mortar may have carbonated to after so many days of being neither wet nor very dry.

        depth = k * sqrt(days)

    mm. Valid for days from 0 up, k of 0 to 10; ValueError outside. Uncertain by a factor of two at least: no
    measured k for air lime was found; 1.0 to 1.5 follows from a prism's assumed 180 to 365 days (M, low), 1.1
    to 2.1 from diffusion (X on M), both for drier mortar than an outside wall. For sizing waits, never for
    acceptance. Source: square-root law (R). Worked: k of 1.5 is 15 mm after 100 days.

    >>> carbonation_depth_mm(100.0, Range(1.0, 1.5, 2.0)).likely
    15.0
    """
    checked("k_mm_per_sqrt_day", k_mm_per_sqrt_day.low, *CARBONATION_LIMITS)
    checked("k_mm_per_sqrt_day", k_mm_per_sqrt_day.high, *CARBONATION_LIMITS)
    return k_mm_per_sqrt_day.times(math.sqrt(checked("days", days, 0.0)))
