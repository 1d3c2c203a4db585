"""A hot body in a closed box that cools through its walls: the figures of tests/lap/closed_box.rs.

An implementation of its own, with scipy alone: the box's air and walls have one temperature and store nothing, so that

    C dT/dt = -[h A (T - T_c) + e s A (T^4 - T_c^4)],   U (T_c - T_day) = the same heat

h of a vertical plate in still air (Churchill & Chu 1975), properties of air at the film temperature by ISO 2533.
Needs scipy; run by hand: python3 tests/lap/closed_box.py
"""

import math

from scipy.constants import Stefan_Boltzmann
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

DAY, PRESSURE = 293.15, 101325.0
AREA, HEIGHT, EMISSIVITY = 0.3, 0.06, 0.75
CAPACITY = 4.0 * 480.0
WALLS = 6.0


def still(hot, around):
    film = (hot + around) / 2
    viscosity = 1.458e-6 * film**1.5 / (film + 110.4)
    conductivity = 2.648151e-3 * film**1.5 / (film + 245.4 * 10 ** (-12 / film))
    prandtl = 1006.0 * viscosity / conductivity
    kinematic = viscosity * 287.052874 * film / PRESSURE
    rayleigh = 9.80665 / film * abs(hot - around) * HEIGHT**3 * prandtl / kinematic**2
    root = 0.825 + 0.387 * rayleigh ** (1 / 6) / (1 + (0.492 / prandtl) ** (9 / 16)) ** (8 / 27)
    return root**2 * conductivity / HEIGHT


def heat(hot, around):
    radiated = EMISSIVITY * Stefan_Boltzmann * AREA * (hot**4 - around**4)
    return still(hot, around) * AREA * (hot - around) + radiated


def box(hot):
    return brentq(lambda around: heat(hot, around) - WALLS * (around - DAY), DAY, hot, xtol=1e-12)


run = solve_ivp(
    lambda _, state: [-heat(state[0], box(state[0])) / CAPACITY],
    (0, 1800),
    [520 + 273.15],
    method="LSODA",
    rtol=1e-11,
    atol=1e-9,
    dense_output=True,
)
for seconds in (0, 30, 120, 300, 600, 1200, 1800):
    hot = float(run.sol(seconds)[0])
    around = box(hot)
    radiated = EMISSIVITY * Stefan_Boltzmann * AREA * (hot**4 - around**4)
    print(f"({seconds:.1f}, {hot - 273.15:.4f}, {around - 273.15:.4f}),  // radiated {radiated / heat(hot, around):.3f}")
