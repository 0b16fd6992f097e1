#!/usr/bin/env python3
"""Makes the computed tables of this folder with general-purpose libraries. Not run in CI.

    python3.11 -m venv /tmp/oracles
    /tmp/oracles/bin/pip install phreeqc==1.1.1 CoolProp==8.0.0 PsychroLib==2.5.0 \
        scipy==1.17.1 numpy==2.4.6 mpmath==1.4.1 pint==0.25.3 chemicals==1.5.2
    /tmp/oracles/bin/python validation/oracles.py

Each row says which library, which version and which call made its value. Nothing here reads the Rust
crates; where a formula is worked twice (once there, once here) the row says so, because such a row
checks arithmetic and not nature. `published.csv` files are typed from what was read and are not
written by this script.
"""
import csv
import math
import pathlib
from fractions import Fraction as Q
from importlib.metadata import version

import CoolProp.CoolProp as cp
import mpmath as mp
import phreeqc
import pint
import psychrolib as psy
from chemicals import iapws95_Psat
from scipy import integrate, optimize, stats

HERE = pathlib.Path(__file__).parent
V = {n: f"{n} {version(n)}" for n in
     ["phreeqc", "CoolProp", "PsychroLib", "scipy", "mpmath", "pint", "chemicals"]}
mp.mp.dps = 30
rows = {}


def put(folder, quantity, inputs, value, unit, lib, call, status="computed"):
    """One row. `inputs` is a dict; the case name is built from it."""
    text = ";".join(f"{k}={v}" for k, v in inputs.items())
    rows.setdefault(folder, []).append(
        [quantity, text, f"{float(value):.13g}", unit, V.get(lib, lib), status, call])


# ---------------------------------------------------------------- PHREEQC
def run(database, text, heads, punch):
    p = phreeqc.Phreeqc()
    p.LoadBuiltInDatabase(database)
    block = "".join(f"{10 * (i + 1)} PUNCH {b}\n" for i, b in enumerate(punch))
    p.RunString(text + f"\nSELECTED_OUTPUT\n-reset false\nUSER_PUNCH\n-headings {heads}\n{block}END\n")
    out = p.GetSelectedOutput()
    return {k: v[-1] for k, v in out.items()}


M_NACL = 58.44


def nacl(m, t, database="pitzer.dat"):
    text = f"SOLUTION 1\ntemp {t}\npH 7 charge\nunits mol/kgw\nNa {m}\nCl {m}\n"
    return run(database, text, "aw phi rho", ["ACT('H2O')", "OSMOTIC", "RHO"])


def molality(w):
    return w / (1 - w) / M_NACL * 1000


PZ = "LoadBuiltInDatabase('pitzer.dat'); ACT('H2O')"
for m in [0.2, 0.3, 0.7, 0.8, 1.2, 1.5, 1.8, 2.3, 2.7, 3.3, 3.7, 4.5, 5.3, 5.8]:
    r = nacl(m, 25)
    put("water_activity", "nacl", dict(molality=m, celsius=25), r["aw"], "1", "phreeqc", PZ)
    if m in (0.3, 0.8, 1.5, 2.7, 3.7, 5.3):
        put("water_activity", "osmotic", dict(molality=m, celsius=25), r["phi"], "1", "phreeqc",
            "LoadBuiltInDatabase('pitzer.dat'); OSMOTIC")
for m in [0.5, 1.5, 2.5, 4.0]:
    put("water_activity", "nacl", dict(molality=m, celsius=5), nacl(m, 5)["aw"], "1", "phreeqc", PZ)
for w in [1, 1.5, 4.5, 7, 9, 12, 15, 18, 22, 25]:
    put("water_activity", "water_phase_salt", dict(percent=w, celsius=25),
        nacl(molality(w / 100), 25)["aw"], "1", "phreeqc", PZ)

# Norrish and Ross: the same remembered constants worked a second time, at other points.
NORRISH = {"sucrose": (6.47, 342.297), "glucose": (2.25, 180.156), "glycerol": (1.16, 92.094),
           "lactose": (10.2, 342.297)}


def norrish(name, w):
    k, mol = NORRISH[name]
    xs = (mp.mpf(w) / mol) / (mp.mpf(w) / mol + (1 - mp.mpf(w)) / mp.mpf("18.0153"))
    return (1 - xs) * mp.e ** (-k * xs ** 2)


for name, w in [("sucrose", 10), ("sucrose", 30), ("sucrose", 45), ("sucrose", 55), ("glucose", 20),
                ("glucose", 40), ("glycerol", 15), ("glycerol", 30), ("lactose", 10)]:
    put("water_activity", "norrish", dict(solute=name, percent=w), norrish(name, w / 100), "1",
        "mpmath", "Xw exp(-K Xs^2), the same remembered K worked a second time", "from memory")

# ---------------------------------------------------------------- brine as a liquid
for w in [2, 4, 7, 9, 12, 14, 16, 18, 22, 25]:
    put("brine_properties", "density", dict(percent=w, celsius=25), nacl(molality(w / 100), 25)["rho"] * 1000,
        "kg/m3", "phreeqc", "LoadBuiltInDatabase('pitzer.dat'); RHO")
for w in [5.279, 10.558, 15.837, 21.116]:
    put("brine_properties", "density", dict(percent=w, celsius=15.56),
        nacl(molality(w / 100), 15.56)["rho"] * 1000, "kg/m3", "phreeqc",
        "LoadBuiltInDatabase('pitzer.dat'); RHO")
for t in [4, 20]:
    for w in [3, 7, 12, 17, 22]:
        f = f"INCOMP::MNA[{w / 100}]"
        put("brine_properties", "density", dict(percent=w, celsius=t),
            cp.PropsSI("D", "T", 273.15 + t, "P", 101325, f), "kg/m3", "CoolProp", f"PropsSI('D', {f})")
        put("brine_properties", "specific_heat", dict(percent=w, celsius=t),
            cp.PropsSI("C", "T", 273.15 + t, "P", 101325, f), "J/(kg K)", "CoolProp", f"PropsSI('C', {f})")
for w in [1, 2, 4, 6, 7, 9, 12, 14, 17, 19, 22]:
    f = f"INCOMP::MNA[{w / 100}]"
    put("brine_properties", "freezing", dict(percent=w),
        cp.PropsSI("T_freeze", "T", 300, "P", 101325, f) - 273.15, "°C", "CoolProp", f"PropsSI('T_freeze', {f})")


def liquidus(w, database):
    m = molality(w / 100)

    def si(t):
        text = f"SOLUTION 1\ntemp {t}\npH 7 charge\nunits mol/kgw\nNa {m}\nCl {m}\n"
        return run(database, text, "si", ["SI('Ice(s)')"])["si"]
    return optimize.brentq(si, -22, -0.2, xtol=1e-4)


for w in [4, 7, 12, 17]:
    for d in ["ColdChem.dat", "frezchem.dat"]:
        try:
            put("brine_properties", "freezing", dict(percent=w), liquidus(w, d), "°C", "phreeqc",
                f"LoadBuiltInDatabase('{d}'); SI('Ice(s)') = 0 by scipy brentq")
        except Exception as e:  # noqa: BLE001
            print("liquidus", w, d, e)


def halite(t):
    text = f"SOLUTION 1\ntemp {t}\npH 7 charge\nEQUILIBRIUM_PHASES 1\nHalite 0 20\nSAVE solution 1\n"
    return run("pitzer.dat", text, "na", ["TOT('Na')"])["na"] * M_NACL / 10


for t in [5, 15, 30, 40, 50, 70, 80]:
    put("brine_properties", "solubility", dict(celsius=t), halite(t), "g/100 g water", "phreeqc",
        "LoadBuiltInDatabase('pitzer.dat'); EQUILIBRIUM_PHASES Halite")


# ---------------------------------------------------------------- acid
def ph(database, totals, extra="", t=25):
    text = extra + f"\nSOLUTION 1\ntemp {t}\npH 5 charge\nunits mol/kgw\n"
    text += "".join(f"{k} {v}\n" for k, v in totals.items() if v)
    return run(database, text, "ph mu", ["-LA('H+')", "MU"])


def acid(inputs):
    t = {"Acetate": inputs.get("acetic", 0) + inputs.get("sodium_acetate", 0),
         "Citrate": inputs.get("citric", 0),
         "Na": inputs.get("sodium_acetate", 0) + inputs.get("salt", 0), "Cl": inputs.get("salt", 0)}
    r = ph("minteq.v4.dat", t)
    put("acid", "ph", inputs, r["ph"], "pH", "phreeqc", "LoadBuiltInDatabase('minteq.v4.dat'); -LA('H+')")


for a in [0.005, 0.02, 0.05, 0.2, 0.3, 0.42, 0.7, 0.84]:
    acid(dict(acetic=a))
for a, b in [(0.05, 0.05), (0.1, 0.05), (0.05, 0.1), (0.2, 0.1), (0.1, 0.2), (0.2, 0.2), (0.02, 0.02), (0.3, 0.1)]:
    acid(dict(acetic=a, sodium_acetate=b))
for c in [0.005, 0.02, 0.05, 0.2]:
    acid(dict(citric=c))
for a, c in [(0.1, 0.05), (0.2, 0.02), (0.42, 0.05), (0.05, 0.1)]:
    acid(dict(acetic=a, citric=c))
for a, s in [(0.1, 0.1), (0.2, 0.2), (0.42, 0.3), (0.3, 0.45), (0.84, 0.4)]:
    acid(dict(acetic=a, salt=s))

# Lactic and tartaric are in no bundled database: the species are put in here, with the constants the
# crate remembers. The engine solves them with its own Davies equation; neutral molecules get 0.1 I.
LACTIC = """
SOLUTION_MASTER_SPECIES
Lac Lac- 1.0 89.07 89.07
SOLUTION_SPECIES
Lac- = Lac-
log_k 0
H+ + Lac- = HLac
log_k 3.8597
"""
for c in [0.01, 0.05, 0.2, 0.5]:
    r = ph("minteq.v4.dat", {"Lac": c}, LACTIC)
    put("acid", "ph", dict(lactic=c), r["ph"], "pH", "phreeqc",
        "minteq.v4.dat with HLac log_k 3.8597 put in; -LA('H+')", "from memory")
for c, a in [(0.05, 0.05), (0.1, 0.2), (0.02, 0.1)]:
    r = ph("minteq.v4.dat", {"Lac": c, "Acetate": a}, LACTIC)
    put("acid", "ph", dict(lactic=c, acetic=a), r["ph"], "pH", "phreeqc",
        "minteq.v4.dat with HLac log_k 3.8597 put in; -LA('H+')", "from memory")

# A pickle with a vegetable in it. The vegetable is a model, invented: malic, citric, glutamic and phosphoric
# acid, mol/kg, half made into potassium salts until the raw thing stands at its pH, nine tenths water. PHREEQC
# solves the trial (how much vinegar of 5 % brings 100 g in 100 g of water to the pH after) and the pickle; the
# crate is given the trial alone and must find the pickle with its one straight buffer.
MALIC = """
SOLUTION_MASTER_SPECIES
Mal Mal-2 2.0 132.07 132.07
SOLUTION_SPECIES
Mal-2 = Mal-2
log_k 0
H+ + Mal-2 = HMal-
log_k 5.11
2H+ + Mal-2 = H2Mal
log_k 8.51
"""
VEGETABLES = {
    "malic": (6.1, {"Mal": 0.025, "Citrate": 0.005, "P": 0.010}),
    "citric": (5.9, {"Mal": 0.005, "Citrate": 0.015, "P": 0.008}),
    "thin": (6.2, {"Mal": 0.008, "Glutamate": 0.008, "P": 0.008}),
}
M_ACETIC, WATER_OF_VEGETABLE, STRENGTH = 60.052, 0.9, 0.05


def mixed(moles, potassium, water_g, vegetable_g, vinegar_g, salt_g):
    water = (water_g + vegetable_g * WATER_OF_VEGETABLE + vinegar_g * (1 - STRENGTH)) / 1000
    totals = {k: v * vegetable_g / 1000 / water for k, v in moles.items()}
    totals["K"] = potassium * vegetable_g / 1000 / water
    totals["Acetate"] = vinegar_g * STRENGTH / M_ACETIC / water
    totals["Na"] = totals["Cl"] = salt_g / M_NACL / water
    return ph("minteq.v4.dat", totals, MALIC)["ph"]


def vegetable_rows():
    for name, (before, moles) in VEGETABLES.items():
        raw = lambda k: mixed(moles, k, 0, 100, 0, 0) - before
        potassium = optimize.brentq(raw, 0.0, 0.12, xtol=1e-12)
        start = mixed(moles, potassium, 100, 100, 0, 0)
        for after in (4.2, 3.8):
            needed = optimize.brentq(
                lambda v: mixed(moles, potassium, 100, 100, v, 0) - after, 0.01, 400, xtol=1e-10)
            for vinegar, water, salt in [(676, 390, 39), (400, 600, 20), (200, 800, 20), (100, 900, 20)]:
                value = mixed(moles, potassium, water, 1299, vinegar, salt)
                put("acid", "pickle_of_trial",
                    dict(model=name, before=f"{start:.6f}", after=after, trial_vinegar=f"{needed:.6f}",
                         vinegar=vinegar, water=water, salt=salt, vegetable=1299),
                    value, "pH", "phreeqc", "minteq.v4.dat with malic acid 3.40 and 5.11 put in; -LA('H+')", "from memory")


vegetable_rows()

# ---------------------------------------------------------------- air
psy.SetUnitSystem(psy.SI)
AIR = [(2, 75), (3, 85), (4, 70), (6, 90), (8, 60), (10, 80), (12, 65), (50, 30), (60, 20), (70, 15), (80, 10), (20, 50)]
for t, rh in AIR:
    W = psy.GetHumRatioFromRelHum(t, rh / 100, 101325)
    twb = psy.GetTWetBulbFromRelHum(t, rh / 100, 101325)
    put("psychrometrics", "humidity_ratio", dict(celsius=t, percent=rh), W, "kg/kg", "PsychroLib", "GetHumRatioFromRelHum")
    put("psychrometrics", "wet_bulb", dict(celsius=t, percent=rh), twb, "°C", "PsychroLib", "GetTWetBulbFromRelHum")
    put("psychrometrics", "dew_point", dict(celsius=t, percent=rh), psy.GetTDewPointFromRelHum(t, rh / 100), "°C",
        "PsychroLib", "GetTDewPointFromRelHum")
for t in [2, 5, 12, 25, 40, 55, 65, 80]:
    put("psychrometrics", "saturation_pressure", dict(celsius=t), iapws95_Psat(273.15 + t), "Pa", "chemicals", "iapws95_Psat")
for t, rh, h in [(3, 85, 10), (8, 60, 12), (12, 65, 20), (50, 30, 15), (70, 15, 20), (20, 50, 8)]:
    twb = psy.GetTWetBulbFromRelHum(t, rh / 100, 101325)
    hfg = (cp.PropsSI("H", "T", 273.15 + twb, "Q", 1, "Water") - cp.PropsSI("H", "T", 273.15 + twb, "Q", 0, "Water"))
    put("psychrometrics", "evaporation", dict(celsius=t, percent=rh, h=h), h * (t - twb) / hfg * 3.6e6, "g/(m2 h)",
        "PsychroLib", "h (T - GetTWetBulbFromRelHum)/(H(Q=1) - H(Q=0) of CoolProp water at the wet bulb)")

# ---------------------------------------------------------------- diffusion with a step at the surface
pi = mp.pi


def slab_mean(fo):
    return 1 - mp.fsum(8 / ((2 * n + 1) ** 2 * pi ** 2) * mp.e ** (-((2 * n + 1) * pi / 2) ** 2 * fo) for n in range(200))


def bracketed(f, low, high):
    """A root between two points; 80 halvings are beyond the digits kept."""
    return mp.findroot(f, (mp.mpf(low), mp.mpf(high)), solver="bisect", tol=1e-25, maxsteps=200, verify=False)


def slab_at(fo, x):
    """Uptake at x, 0 in the middle and 1 at the open face."""
    return 1 - sum(4 * (-1) ** n / ((2 * n + 1) * pi) * mp.e ** (-((2 * n + 1) * pi / 2) ** 2 * fo)
                   * mp.cos((2 * n + 1) * pi * x / 2) for n in range(200))


MP = "series of the diffusion equation, 30 digits"
for fo in ["0.005", "0.015", "0.03", "0.07", "0.08", "0.15", "0.25", "0.35", "0.4", "0.6", "0.75", "0.9", "1.2", "1.8"]:
    put("diffusion", "slab_mean", dict(fo=fo), slab_mean(mp.mpf(fo)), "1", "mpmath", MP)
for fo in ["0.03", "0.07", "0.15", "0.25", "0.4", "0.6", "0.9", "1.2"]:
    put("diffusion", "slab_centre", dict(fo=fo), slab_at(mp.mpf(fo), 0), "1", "mpmath", MP)
for fo, x in [("0.05", "0.5"), ("0.15", "0.5"), ("0.15", "0.75"), ("0.4", "0.25"), ("0.4", "0.9")]:
    put("diffusion", "slab_at", dict(fo=fo, x=x), slab_at(mp.mpf(fo), mp.mpf(x)), "1", "mpmath", MP)
for target in ["0.3", "0.6", "0.7", "0.8"]:
    put("diffusion", "slab_fo_mean", dict(uptake=target),
        bracketed(lambda f: slab_mean(f) - mp.mpf(target), "0.01", 5), "1", "mpmath", "findroot of " + MP)
    put("diffusion", "slab_fo_centre", dict(uptake=target),
        bracketed(lambda f: slab_at(f, 0) - mp.mpf(target), "0.01", 5), "1", "mpmath", "findroot of " + MP)

J0 = [mp.besseljzero(0, k) for k in range(1, 120)]


def cylinder_mean(fo):
    return 1 - sum(4 / a ** 2 * mp.e ** (-a ** 2 * fo) for a in J0)


def cylinder_centre(fo):
    return 1 - sum(2 / (a * mp.besselj(1, a)) * mp.e ** (-a ** 2 * fo) for a in J0)


for fo in ["0.02", "0.05", "0.1", "0.2", "0.4"]:
    put("diffusion", "cylinder_mean", dict(fo=fo), cylinder_mean(mp.mpf(fo)), "1", "mpmath", MP + ", Bessel zeros")
    put("diffusion", "cylinder_centre", dict(fo=fo), cylinder_centre(mp.mpf(fo)), "1", "mpmath", MP + ", Bessel zeros")

for aspect in [1, 1.5, 3]:
    for fo in ["0.03", "0.08", "0.15", "0.3", "0.7"]:
        f = mp.mpf(fo)
        put("diffusion", "rectangle_mean", dict(fo=fo, aspect=aspect),
            1 - (1 - slab_mean(f)) * (1 - slab_mean(f / mp.mpf(aspect) ** 2)), "1", "mpmath", "product of slabs, " + MP)
    for fo in ["0.15", "0.3", "0.7"]:
        f = mp.mpf(fo)
        put("diffusion", "rectangle_centre", dict(fo=fo, aspect=aspect),
            1 - (1 - slab_at(f, 0)) * (1 - slab_at(f / mp.mpf(aspect) ** 2, 0)), "1", "mpmath", "product of slabs, " + MP)


def bath(fo, a):
    total = mp.mpf(0)
    for k in range(1, 120):
        low, high = (k - mp.mpf(1) / 2) * pi, k * pi
        q = bracketed(lambda q: mp.sin(q) + a * q * mp.cos(q), low, high)
        total += 2 * a * (1 + a) / (1 + a + a ** 2 * q ** 2) * mp.e ** (-q ** 2 * fo)
    return 1 - total


mp.mp.dps = 20
for a in ["0.5", "1.5", "3", "8"]:
    for fo in ["0.02", "0.07", "0.15", "0.3", "0.7"]:
        put("diffusion", "bath", dict(fo=fo, alpha=a), bath(mp.mpf(fo), mp.mpf(a)), "1", "mpmath",
            "series of the limited bath, 120 terms, 20 digits")
mp.mp.dps = 30

# Piece, not dimensionless: D t / L^2 by pint, uptake by the series.
for d, mm, hours, faces in [(2.5e-10, 25, 12, 1), (2.5e-10, 25, 12, 2), (1e-10, 12, 24, 1), (4e-10, 40, 48, 2), (1.5e-10, 18, 8, 2), (2.5e-10, 60, 168, 2)]:
    length = mm / faces / 1000
    put("diffusion", "piece_mean", dict(d=d, mm=mm, hours=hours, faces=faces),
        slab_mean(mp.mpf(d) * hours * 3600 / mp.mpf(length) ** 2), "1", "mpmath", MP)

# The same pieces for the finite volumes of the transport model, which know no series.
FV = "series, for a model that sums none: " + MP
for d, mm, hours, faces in [(2.5e-10, 25, 4, 1), (2.5e-10, 25, 24, 1), (2.5e-10, 25, 24, 2), (1e-10, 12, 12, 1), (4e-10, 40, 48, 2), (2.5e-10, 60, 168, 2), (3e-10, 18, 40, 2)]:
    fo = mp.mpf(d) * hours * 3600 / (mp.mpf(mm) / faces / 1000) ** 2
    put("transport", "slab_mean", dict(d=d, mm=mm, hours=hours, faces=faces), slab_mean(fo), "1", "mpmath", FV)
    put("transport", "slab_core", dict(d=d, mm=mm, hours=hours, faces=faces), slab_at(fo, 0), "1", "mpmath", FV)
for d, mm, hours in [(2.5e-10, 40, 12), (2.5e-10, 40, 72), (3e-10, 60, 120)]:
    fo = mp.mpf(d) * hours * 3600 / (mp.mpf(mm) / 2000) ** 2
    put("transport", "cylinder_mean", dict(d=d, mm=mm, hours=hours), cylinder_mean(fo), "1", "mpmath", FV)
for d, thick, wide, hours, faces in [(2.5e-10, 20, 30, 12, 1), (2.5e-10, 20, 30, 12, 2), (2.5e-10, 15, 25, 24, 1), (1.5e-10, 25, 25, 24, 2)]:
    a = mp.mpf(d) * hours * 3600 / (mp.mpf(thick) / faces / 1000) ** 2
    b = mp.mpf(d) * hours * 3600 / (mp.mpf(wide) / 2000) ** 2
    put("transport", "finger_mean", dict(d=d, mm=thick, wide_mm=wide, hours=hours, faces=faces),
        1 - (1 - slab_mean(a)) * (1 - slab_mean(b)), "1", "mpmath", "product of two series; " + FV)
mp.mp.dps = 20
for alpha, mm, hours in [(1, 24, 6), (2, 24, 24), (0.8, 30, 12), (4, 20, 12)]:
    fo = mp.mpf(2.5e-10) * hours * 3600 / (mp.mpf(mm) / 2000) ** 2
    put("transport", "bath_mean", dict(d=2.5e-10, mm=mm, hours=hours, faces=2, alpha=alpha), bath(fo, mp.mpf(alpha)), "1", "mpmath", "series of the limited bath")
mp.mp.dps = 30
for x0, xe, k, h in [(0.002, 0.18, 0.05, 10), (0, 0.12, 0.2, 5)]:
    put("transport", "first_order", dict(start=x0, end=xe, k=k, hours=h), mp.mpf(x0) * mp.e ** (-mp.mpf(k) * h) + mp.mpf(xe) * (1 - mp.e ** (-mp.mpf(k) * h)), "1", "mpmath", "X0 e^-kt + Xe (1 - e^-kt)")

# ---------------------------------------------------------------- heat with a resistance at the surface
def slab_roots(bi, n=60):
    return [bracketed(lambda z: z * mp.sin(z) - bi * mp.cos(z), k * pi, (k + mp.mpf(1) / 2) * pi) for k in range(n)]


def slab_theta(bi, fo, where):
    total = mp.mpf(0)
    for z in slab_roots(bi):
        a = 4 * mp.sin(z) / (2 * z + mp.sin(2 * z)) * mp.e ** (-z ** 2 * fo)
        total += a * {"centre": 1, "surface": mp.cos(z), "mean": mp.sin(z) / z}[where]
    return total


ROOT = "first root and coefficient of the characteristic equation, 30 digits"
for bi in ["0.05", "0.2", "0.3", "0.7", "1.5", "3", "4", "7", "15", "30", "50"]:
    z = slab_roots(mp.mpf(bi), 1)[0]
    put("heat", "slab_root", dict(bi=bi), z, "1", "mpmath", ROOT)
    put("heat", "slab_coefficient", dict(bi=bi), 4 * mp.sin(z) / (2 * z + mp.sin(2 * z)), "1", "mpmath", ROOT)
for bi in ["0.2", "0.5", "2", "5", "20"]:
    b = mp.mpf(bi)
    f = lambda z: z * mp.besselj(1, z) - b * mp.besselj(0, z)
    z = bracketed(f, "1e-3", "2.4048")
    put("heat", "cylinder_root", dict(bi=bi), z, "1", "mpmath", ROOT)
    put("heat", "cylinder_coefficient", dict(bi=bi), 2 / z * mp.besselj(1, z) / (mp.besselj(0, z) ** 2 + mp.besselj(1, z) ** 2), "1", "mpmath", ROOT)
    g = lambda z: z * mp.cos(z) - (1 - b) * mp.sin(z)
    z = bracketed(g, "1e-3", "3.14159")
    put("heat", "sphere_root", dict(bi=bi), z, "1", "mpmath", ROOT)
    put("heat", "sphere_coefficient", dict(bi=bi), 4 * (mp.sin(z) - z * mp.cos(z)) / (2 * z - mp.sin(2 * z)), "1", "mpmath", ROOT)
for bi, fo in [("0.3", "1"), ("0.7", "0.5"), ("2", "0.1"), ("2", "0.5"), ("3", "0.3"), ("4", "1"), ("7", "0.15"),
               ("15", "0.4"), ("30", "0.25"), ("0.5", "2"), ("1.5", "0.05"), ("50", "0.8")]:
    for where in ["centre", "mean", "surface"]:
        put("heat", "slab_" + where, dict(bi=bi, fo=fo), slab_theta(mp.mpf(bi), mp.mpf(fo), where), "1", "mpmath",
            "full series, 60 terms, 30 digits")

# Minutes for the middle of a salmon slab to get there; properties held at 4 °C as in the property table.
K, ALPHA = mp.mpf("0.4670"), mp.mpf("1.2820e-7")
for half, air, h, start, goal in [(10, 0, 12, 15, 4), (12.5, 1, 25, 20, 3), (15, 75, 20, 5, 63), (20, 80, 15, 4, 60), (25, 2, 20, 63, 21), (15, 0, 250, 60, 5)]:
    bi = mp.mpf(h) * half / 1000 / K
    goal_theta = mp.mpf(goal - air) / (start - air)
    some = [(z, 4 * mp.sin(z) / (2 * z + mp.sin(2 * z))) for z in slab_roots(bi, 20)]
    fo = bracketed(lambda f: mp.fsum(a * mp.e ** (-z ** 2 * f) for z, a in some) - goal_theta, "0.05", "100")
    put("heat", "slab_minutes", dict(half_mm=half, air=air, h=h, start=start, goal=goal, k="0.4670", alpha="1.2820e-7"),
        fo * (mp.mpf(half) / 1000) ** 2 / ALPHA / 60, "min", "mpmath", "findroot of the full series")

# A programme of two airs has no series; the method of lines stands for it: 200 cells, constant
# properties, stiff integrator of scipy.
def programme(half_m, k, alpha, airs, start):
    n = 200
    dx = half_m / n
    rho_c = k / alpha
    temp = [start] * n
    # scipy's stiff integrator on the method of lines
    import numpy as np

    def rate(air, h):
        def f(_, y):
            flow = np.empty(n + 1)
            flow[0] = 0
            flow[1:n] = k * (y[:-1] - y[1:]) / dx
            flow[n] = (y[-1] - air) / (1 / h + dx / 2 / k)
            return (flow[:-1] - flow[1:]) / rho_c / dx
        return f
    y = np.array(temp, dtype=float)
    for air, h, minutes in airs:
        y = integrate.solve_ivp(rate(air, h), (0, minutes * 60), y, method="BDF", rtol=1e-8, atol=1e-8).y[:, -1]
    core = y[0] + (y[0] - y[1]) / 8
    return core, y.mean()


for half, airs, start in [(12.5, [(50, 15, 60), (82, 20, 75)], 4), (10, [(30, 12, 120), (70, 20, 60)], 3), (20, [(75, 20, 90), (2, 15, 120)], 5)]:
    core, mean = programme(half / 1000, 0.4670, 1.2820e-7, airs, start)
    text = " ".join(f"{a}:{h}:{m}" for a, h, m in airs)
    put("heat", "programme_core", dict(half_mm=half, airs=text, start=start, k="0.4670", alpha="1.2820e-7"), core, "°C", "scipy", "solve_ivp BDF, 200 cells, constant properties")
    put("heat", "programme_mean", dict(half_mm=half, airs=text, start=start, k="0.4670", alpha="1.2820e-7"), mean, "°C", "scipy", "solve_ivp BDF, 200 cells, constant properties")

# ---------------------------------------------------------------- cooling and steeping
for start, goal, air, tau in [(57, 21, 3, 1.5), (60, 5, 1, 0.8), (90, 10, -3, 2.4)]:
    put("cooling", "hours_between", {"start": start, "goal": goal, "air": air, "tau": tau}, mp.mpf(tau) * mp.log(mp.mpf(start - air) / (goal - air)), "h", "mpmath", "tau ln((start-air)/(goal-air))")
    put("cooling", "after", {"start": start, "air": air, "tau": tau, "hours": 2}, air + (start - air) * mp.e ** (-2 / mp.mpf(tau)), "°C", "mpmath", "air + (start-air) e^(-t/tau)")
for start, goal, air, tau in [(57, 21, 3, 1.5), (90, 10, -3, 2.4)]:
    t = integrate.solve_ivp(lambda _, y: -(y - air) / tau, (0, 50), [start], rtol=1e-11, atol=1e-11, events=[lambda _, y: y[0] - goal]).t_events[0][0]
    put("cooling", "hours_between", {"start": start, "goal": goal, "air": air, "tau": tau, "way": "ode"}, t, "h", "scipy", "solve_ivp of dT/dt = -(T-air)/tau with an event")
for half, h, air in [(10, 15, 3), (20, 12, 2), (25, 20, 0), (12.5, 8, 4)]:
    bi = mp.mpf(h) * half / 1000 / K
    some = [(z, 4 * mp.sin(z) / (2 * z + mp.sin(2 * z))) for z in slab_roots(bi, 20)]
    for goal, name in [(21, "core_to_middle"), (5, "core_to_end")]:
        left = mp.mpf(goal - air) / (57 - air)
        fo = bracketed(lambda f: mp.fsum(a * mp.e ** (-z ** 2 * f) for z, a in some) - left, "0.02", "200")
        hours = fo * (mp.mpf(half) / 1000) ** 2 / ALPHA / 3600
        if hours < 11:
            put("cooling", name, dict(half_mm=half, h=h, air=air, k="0.4670", alpha="1.2820e-7"), hours, "h", "mpmath", "findroot of the full series, from the start of the rule to its stages")
for mm, d, hours in [(3, 2e-10, 2), (3, 1e-9, 2), (6, 2e-10, 12), (10, 1e-9, 8)]:
    fo = mp.mpf(d) * hours * 3600 / (mp.mpf(mm) / 2000) ** 2
    put("steeping", "middle_after", dict(mm=mm, d=d, hours=hours), slab_at(fo, 0), "1", "mpmath", MP)
    put("steeping", "whole_after", dict(mm=mm, d=d, hours=hours), slab_mean(fo), "1", "mpmath", MP)
for mm, d, share in [(3, 2e-10, "0.9"), (6, 1e-9, "0.8"), (8, 5e-10, "0.95")]:
    hours = bracketed(lambda f: slab_at(f, 0) - mp.mpf(share), "0.01", 5) * (mp.mpf(mm) / 2000) ** 2 / mp.mpf(d) / 3600
    put("steeping", "hours_to_middle", dict(mm=mm, d=d, share=share), hours, "h", "mpmath", "findroot of " + MP)

# ---------------------------------------------------------------- lethality
HISTORIES = {
    "ramp": [(0, 4), (60, 66), (90, 66), (150, 10)],
    "cabinet": [(0, 4), (30, 30), (90, 55), (150, 68), (180, 70), (200, 60), (260, 10)],
    "dip": [(0, 60), (10, 64), (15, 61), (25, 65), (40, 65)],
    "short": [(0, 58), (8, 72), (10, 72), (14, 50)],
    "slow": [(0, 20), (240, 60), (300, 62), (360, 20)],
}


def lethal(points, ref, z):
    total = 0
    for (t0, a), (t1, b) in zip(points, points[1:]):
        f = lambda t: 10 ** ((a + (b - a) * (t - t0) / (t1 - t0) - ref) / z)
        total += integrate.quad(f, t0, t1, epsabs=0, epsrel=1e-12)[0]
    return total


for name, points in HISTORIES.items():
    for ref, z in [(70, 7.5), (70, 10), (60, 7.0)]:
        put("lethality", "history", dict(points=" ".join(f"{t}:{c}" for t, c in points), reference=ref, z=z),
            lethal(points, ref, z), "min", "scipy", "integrate.quad of 10**((T-ref)/z), piece by piece")
for t, z in [(58, 7.5), (62, 7.5), (66, 7.5), (75, 7.5), (64, 7.0), (80, 10)]:
    put("lethality", "equivalent", dict(minutes=2, at=70, z=z, celsius=t), mp.mpf(2) * mp.mpf(10) ** ((70 - mp.mpf(t)) / mp.mpf(z)),
        "min", "mpmath", "2 * 10**((70-T)/z)")

# ---------------------------------------------------------------- Choi and Okos, worked a second time
CO = {
    "k": {"water": (.57109, 1.7625e-3, -6.7036e-6), "protein": (.17881, 1.1958e-3, -2.7178e-6), "fat": (.18071, -2.7604e-4, -1.7749e-7),
          "carbohydrate": (.20141, 1.3874e-3, -4.3312e-6), "fibre": (.18331, 1.2497e-3, -3.1683e-6), "ash": (.32962, 1.4011e-3, -2.9069e-6)},
    "rho": {"water": (997.18, 3.1439e-3, -3.7574e-3), "protein": (1329.9, -.5184, 0), "fat": (925.59, -.41757, 0),
            "carbohydrate": (1599.1, -.31046, 0), "fibre": (1311.5, -.36589, 0), "ash": (2423.8, -.28063, 0)},
    "cp": {"water": (4.1762, -9.0864e-5, 5.4731e-6), "protein": (2.0082, 1.2089e-3, -1.3129e-6), "fat": (1.9842, 1.4733e-3, -4.8008e-6),
           "carbohydrate": (1.5488, 1.9625e-3, -5.9399e-6), "fibre": (1.8459, 1.8306e-3, -4.6509e-6), "ash": (1.0926, 1.8896e-3, -3.6817e-6)},
}
FOODS = {  # shares of the whole, summing to one
    "fat salmon fillet": dict(water=.64, protein=.20, fat=.148, ash=.012),
    "vegetable in liquor": dict(water=.90, protein=.012, fat=.002, carbohydrate=.058, fibre=.02, ash=.008),
    "cured duck breast": dict(water=.60, protein=.25, fat=.10, carbohydrate=.01, ash=.04),
}
for food, x in FOODS.items():
    for t in [2, 25, 70]:
        at = lambda p, c: sum(q * t ** i for i, q in enumerate(CO[p][c]))
        volume = {c: w / at("rho", c) for c, w in x.items()}
        rho = 1 / sum(volume.values())
        heat = sum(w * at("cp", c) for c, w in x.items())
        k = sum(v * rho * at("k", c) for c, v in volume.items())
        inputs = dict(celsius=t, **x)
        for q, value, unit in [("density", rho, "kg/m3"), ("specific_heat", heat, "kJ/(kg K)"), ("conductivity", k, "W/(m K)"),
                               ("diffusivity", k / rho / heat / 1000, "m2/s")]:
            put("thermal_properties", q, inputs, value, unit, "python 3.11",
                "polynomials of Choi and Okos as found in two copies, worked a second time", "second-hand")
for t in [5, 20, 40, 60, 80]:
    for q, key, unit, scale in [("density", "D", "kg/m3", 1), ("specific_heat", "C", "kJ/(kg K)", 1e-3), ("conductivity", "L", "W/(m K)", 1)]:
        put("thermal_properties", q, dict(celsius=t, water=1.0), cp.PropsSI(key, "T", 273.15 + t, "P", 101325, "Water") * scale,
            unit, "CoolProp", f"PropsSI('{key}', 'Water'): the water alone, independent of Choi and Okos")

# ---------------------------------------------------------------- units
u = pint.UnitRegistry()
Qy = u.Quantity
for text, to, unit in [("3.7 pound", "gram", "g"), ("11.5 ounce", "gram", "g"), ("2.25 gallon", "milliliter", "mL"),
                       ("3 pint", "milliliter", "mL"), ("1.75 cup", "milliliter", "mL"), ("5 tablespoon", "milliliter", "mL"),
                       ("7 teaspoon", "milliliter", "mL"), ("3 fluid_ounce", "milliliter", "mL"), ("2 quart", "milliliter", "mL"),
                       ("1.5 imperial_gallon", "milliliter", "mL"), ("2 imperial_pint", "milliliter", "mL"), ("9 imperial_fluid_ounce", "milliliter", "mL"),
                       ("4.5 inch", "millimeter", "mm"), ("2 foot", "millimeter", "mm"), ("3.5 kilogram", "pound", "lb"), ("900 gram", "ounce", "oz"),
                       ("37 millimeter", "inch", "in")]:
    value, name = text.split()
    put("units", "convert", dict(amount=value, of=name, to=to), Qy(float(value), name).to(to).magnitude, unit, "pint", f"Quantity({text}).to({to})")
for f in [28.4, 38, 60, 135, 165, -4]:
    put("units", "fahrenheit", dict(f=f), Qy(f, u.degF).to(u.degC).magnitude, "°C", "pint", "Quantity(degF).to(degC)")
for d in [10, 36]:
    put("units", "fahrenheit_span", dict(f=d), Qy(d, u.delta_degF).to(u.delta_degC).magnitude, "K", "pint", "delta_degF to delta_degC")

# ---------------------------------------------------------------- emulsion
for oil, aq, ro, ra in [(300, 75, .915, 1.006), (450, 150, .92, 1.02), (250, 200, .914, 1.05), (120, 40, .918, 1.10), (600, 60, .916, 1.01)]:
    a, b = Q(oil) / Q(str(ro)), Q(aq) / Q(str(ra))
    put("emulsion", "oil_volume_fraction", dict(oil_g=oil, aqueous_g=aq, oil_density=ro, aqueous_density=ra), a / (a + b), "1", "python 3.11", "exact fractions")
put("emulsion", "closest_packing", {}, mp.pi / (3 * mp.sqrt(2)), "1", "mpmath", "pi/(3 sqrt 2), equal spheres")

# ---------------------------------------------------------------- mass balances, in exact fractions
PY = "exact fractions of Python"
for salt, water, food, share in [(60, 1500, 900, "0.74"), (35, 800, 1200, "0.68"), (120, 3000, 2500, "0.72")]:
    put("brine", "equilibrium_water_phase", dict(salt_g=salt, water_g=water, food_g=food, food_water=share),
        100 * Q(salt) / (salt + water + food * Q(share)), "%", "python 3.11", PY)
for g, frm, to in [(5000, "18", "8"), (2500, "26", "15.8"), (1200, "12", "10")]:
    put("brine", "dilution", dict(brine_g=g, percent=frm, to=to), Q(g) * Q(frm) / Q(to) - g, "g", "python 3.11", PY)
for t, goal, m in [(18, 3, 5000), (25, 4, 3000), (12, 2, 8000)]:
    # Real heat of melting and of the water between, instead of the trade's 80.
    hm, h0 = 333.55, lambda c: cp.PropsSI("H", "T", 273.15 + max(c, 0.01), "P", 101325, "Water") / 1000
    ice = m * (h0(t) - h0(goal)) / (hm + h0(t))
    put("brine", "ice", dict(total_g=m, tap=t, wanted=goal), ice, "g", "CoolProp",
        "enthalpy balance, PropsSI('H', 'Water') and 333.55 kJ/kg for ice (the latter from memory)", "from memory")
for p, w in [("2.5", "0.66"), ("3", "0.72"), ("2.2", "0.62")]:
    put("water_phase_salt", "equilibrium_cure", dict(salt_per_100=p, water=w), 100 * Q(p) / (Q(p) + 100 * Q(w)), "%", "python 3.11", PY)
for s, w in [("3.1", "58.2"), ("1.9", "68.4"), ("4.4", "55")]:
    put("water_phase_salt", "sample", dict(salt=s, water=w), 100 * Q(s) / (Q(s) + Q(w)), "%", "python 3.11", PY)
for x, liquor, veg in [(50, 1000, 800), ("21", 700, 1400), ("64.5", 1500, 1500)]:
    put("pickle", "of_all", dict(solute_g=x, liquor_g=liquor, edible_g=veg), 100 * Q(x) / (Q(liquor) + veg), "%", "python 3.11", PY)
for a, al, st, want in [("20", 2000, "6", "1.5"), ("12", 1500, "5", "1.2")]:
    put("pickle", "vinegar_to_add", dict(acid_g=a, all_g=al, strength=st, wanted=want),
        (Q(want) / 100 * al - Q(a)) / (Q(st) / 100 - Q(want) / 100), "g", "python 3.11", PY)
for frm, to in [(25, 34), (20, 30), (12, 9), (40, 55)]:
    put("thickness", "factor", {"from": frm, "to": to}, (Q(to) / Q(frm)) ** 2, "1", "python 3.11", PY)
    put("thickness", "series_factor", {"from": frm, "to": to},
        bracketed(lambda f: slab_mean(f * (mp.mpf(frm) / to) ** 2) - mp.mpf("0.8"), "0.01", 20)
        / bracketed(lambda f: slab_mean(f) - mp.mpf("0.8"), "0.01", 20), "1", "mpmath",
        "ratio of the times at which the mean of a slab reaches 0.8: the series does not know the square law")
for before, after, days, share in [(420, 381, 5, "0.70"), (1850, 1720, 6, "0.65"), (377, 340, 7, "0.75")]:
    k = mp.log(mp.mpf(before) / after) / days
    put("drying", "days_to", dict(before_g=before, after_g=after, days=days, share=share), -mp.log(mp.mpf(share)) / k, "d", "mpmath", "ln")
for watts, mm in [(1500, 200), (2500, 260)]:
    hfg = (cp.PropsSI("H", "P", 101325, "Q", 1, "Water") - cp.PropsSI("H", "P", 101325, "Q", 0, "Water"))
    loss = watts * 1800 / hfg * 1000
    put("evaporation", "boil_off", dict(watts=watts, rate=f"{loss * 2 / (math.pi * (mm / 20) ** 2):.12g}", mm=mm, minutes=30), loss, "g",
        "CoolProp", "power over H(Q=1)-H(Q=0) at 1 atm; the rate is that loss over the pan's area and the time, worked here")
WEIGHINGS = {"duck": [(0, 358.9), (3, 332.0), (7, 301.0), (10, 284.5)], "coppa": [(0, 1850), (5, 1742), (12, 1610), (20, 1497), (30, 1371)], "scatter": [(0, 420), (2, 409), (4, 391), (6, 388), (8, 371)]}
for name, points in WEIGHINGS.items():
    x, y = [p[0] for p in points], [math.log(p[1]) for p in points]
    fit = stats.linregress(x, y)
    half = stats.t.ppf(0.975, len(x) - 2) * fit.stderr
    text = " ".join(f"{a}:{b}" for a, b in points)
    put("hanging", "rate", dict(points=text), -fit.slope, "1/d", "scipy", "stats.linregress of ln weight")
    put("hanging", "rate_least", dict(points=text), -fit.slope - half, "1/d", "scipy", "stats.linregress, stats.t.ppf(0.975)")
    put("hanging", "rate_most", dict(points=text), -fit.slope + half, "1/d", "scipy", "stats.linregress, stats.t.ppf(0.975)")
    for day in (9, 15):
        put("hanging", "weight_at", dict(points=text, day=day), math.exp(fit.intercept + fit.slope * day), "g", "scipy", "stats.linregress of ln weight")
    goal = 0.7 * points[0][1]
    put("hanging", "day_of", dict(points=text, grams=f"{goal:.10g}"), (math.log(goal) - fit.intercept) / fit.slope, "d", "scipy", "stats.linregress of ln weight")
    n, mean, squares = len(x), sum(x) / len(x), sum((a - sum(x) / len(x)) ** 2 for a in x)
    scatter = math.sqrt(sum((b - fit.intercept - fit.slope * a) ** 2 for a, b in zip(x, y)) / (n - 2))
    band = lambda day, sign: (fit.intercept + fit.slope * day + sign * stats.t.ppf(0.975, n - 2) * scatter * math.sqrt(1 + 1 / n + (day - mean) ** 2 / squares)) - math.log(goal)
    try:
        put("hanging", "day_earliest", dict(points=text, grams=f"{goal:.10g}"), optimize.brentq(lambda d: band(d, -1), 0, 400), "d", "scipy", "brentq of the prediction band of stats.linregress")
        put("hanging", "day_latest", dict(points=text, grams=f"{goal:.10g}"), optimize.brentq(lambda d: band(d, 1), 0, 400), "d", "scipy", "brentq of the prediction band of stats.linregress")
    except ValueError as e:
        print("hanging", name, e)

for t, rh, h, film in [(3, 80, 12, 100), (8, 65, 20, 60), (12, 55, 10, 150), (4, 75, 25, 80)]:
    twb = psy.GetTWetBulbFromRelHum(t, rh / 100, 101325)
    # Latent heat of vapour over water, extended a little below zero by the table's slope, as a wet film is taken.
    at = max(twb, 0.01)
    hfg = (cp.PropsSI("H", "T", 273.15 + at, "Q", 1, "Water") - cp.PropsSI("H", "T", 273.15 + at, "Q", 0, "Water"))
    if twb < 0.01:
        continue
    loss = h * (t - twb) / hfg * 3.6e6
    inputs = dict(celsius=t, wet_bulb=f"{twb:.12g}", h=h)
    put("pellicle", "loss", inputs, loss, "g/(m2 h)", "CoolProp", "h (T - Twb)/(H(Q=1) - H(Q=0)), wet bulb by PsychroLib 2.5.0")
    put("pellicle", "film_hours", dict(film=film, **inputs), film / loss, "h", "CoolProp", "film over that loss")

LAWS = {"normal:40:2": stats.norm(40, 2), "lognormal:2.5:3": stats.lognorm(math.log(3), scale=2.5), "triangular:18:22:30": stats.triang((22 - 18) / 12, 18, 12), "uniform:2:5": stats.uniform(2, 3)}
for text, law in LAWS.items():
    for q in (0.05, 0.5, 0.95):
        put("spread", "quantile", dict(law=text, share=q), law.ppf(q), "1", "scipy", "stats ppf")
    put("spread", "mean", dict(law=text), law.mean(), "1", "scipy", "stats mean")
# A sum of two normals and the chance of being above a mark.
put("spread", "chance_of_sum", dict(a="normal:10:3", b="normal:5:4", above=20), stats.norm(15, 5).sf(20), "1", "scipy", "stats.norm(15, 5).sf(20): a sum of normals is normal")

for steps, served in [(("0.93", "0.9", "0.8"), 2500), (("0.62", "0.95", "0.88", "0.97"), 6000)]:
    raw = Q(served)
    for y in steps:
        raw /= Q(y)
    put("yields", "raw_for", dict(served_g=served, steps=" ".join(steps)), raw, "g", "python 3.11", PY)

for folder, found in rows.items():
    (HERE / folder).mkdir(exist_ok=True)
    with open(HERE / folder / "case.csv", "w", newline="", encoding="utf-8") as f:
        w = csv.writer(f, lineterminator="\n")
        w.writerow(["quantity", "inputs", "value", "unit", "source", "status", "call"])
        w.writerows(found)
    print(folder, len(found))
print("all", sum(map(len, rows.values())))
