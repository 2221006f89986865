"""How people write each unit: kind by kind, each unit's name for the converter with its usual spellings."""

from __future__ import annotations

# Without spaces, dots, hyphens and powers' signs, in small letters.
SPELLINGS: dict[str, dict[str, str]] = {
    "length": {
        "mm": "mm millimetre millimetres millimeter millimeters",
        "cm": "cm centimetre centimetres centimeter centimeters",
        "m": "m metre metres meter meters",
        "km": "km kms kilometre kilometres kilometer kilometers",
        "um": "um micrometre micrometres micron microns",
        "in": 'in inch inches "',
        "ft": "ft foot feet",
        "mile": "mi mile miles",
    },
    "volume": {
        "mL": "ml cc cm3 millilitre millilitres milliliter milliliters ccm",
        "L": "l litre litres liter liters",
        "mm**3": "mm3",
        "in**3": "in3 cuin cubicinch cubicinches",
        "US_fluid_ounce": "floz oz ounce ounces fluidounce fluidounces usfloz",
        "imperial_fluid_ounce": "floz oz ounce ounces fluidounce fluidounces impfloz",
    },
    "area": {
        "mm**2": "mm2 sqmm squaremillimetres squaremillimeters",
        "cm**2": "cm2 sqcm squarecentimetres squarecentimeters",
        "in**2": "in2 sqin squareinch squareinches",
    },
    "temperature": {
        "degC": "°c c degc degreesc celsius degreescelsius ° deg degree degrees",
        "degF": "°f f degf degreesf fahrenheit degreesfahrenheit",
        "K": "k kelvin",
    },
    "rise": {
        "delta_degC": "°c c degc degreesc celsius degreescelsius ° deg degree degrees k kelvin °crise",
        "delta_degF": "°f f degf degreesf fahrenheit degreesfahrenheit",
    },
    "pressure": {
        "MPa": "mpa megapascal megapascals n/mm2",
        "kPa": "kpa kilopascal kilopascals",
        "bar": "bar bars",
        "psi": "psi lb/in2 lbf/in2 poundspersquareinch",
    },
    "force": {
        "N": "n newton newtons",
        "kN": "kn kilonewton kilonewtons",
        "lbf": "lbf lb lbs pound pounds poundforce",
        "kgf": "kgf",
    },
    "torque": {
        "N*m": "nm newtonmetre newtonmetres newtonmeter newtonmeters",
        "kN*m": "knm",
        "lbf*ft": "lbfft lbft ftlb ftlbf ftlbs lbsft footpound footpounds poundfeet poundfoot",
        "lbf*in": "lbfin lbin inlb inlbf inlbs lbsin inchpound inchpounds poundinch poundinches",
        "kgf*m": "kgfm",
    },
    "ratio": {
        "percent": "% percent pct",
        "dimensionless": "times x × ratio",
    },
    "angle": {
        "degree": "° deg degree degrees",
        "radian": "rad radian radians",
    },
    "speed": {
        "km/hour": "km/h kmh kph kilometresperhour kilometersperhour",
        "mph": "mph mi/h milesperhour",
        "m/s": "m/s metrespersecond meterspersecond",
        "ft/s": "ft/s fps feetpersecond",
    },
    "acceleration": {
        "m/s**2": "m/s2 m/s/s metrespersecondsquared meterspersecondsquared",
        "ft/s**2": "ft/s2 ft/s/s",
        "standard_gravity": "g",
    },
    "time": {
        "s": "s sec secs second seconds",
        "minute": "min mins minute minutes",
        "hour": "h hr hrs hour hours",
    },
    "mass": {
        "kg": "kg kgs kilogram kilograms",
        "g": "g gram grams",
        "lb": "lb lbs lbm pound pounds",
    },
    "energy": {
        "J": "j joule joules",
        "kJ": "kj kilojoule kilojoules",
        "MJ": "mj megajoule megajoules",
        "BTU": "btu",
    },
    "flow": {
        "mL/minute": "ml/min cc/min cm3/min mlpermin millilitresperminute millilitersperminute",
        "mL/s": "ml/s cc/s",
        "in**3/minute": "in3/min",
    },
}
