"""How often the vectors of drills must meet each kind, form, mark and verdict."""

from __future__ import annotations

DRILLS: dict[str, dict[str, int]] = {
    "seeded": {"drawn": 400},
    "drills": {
        "a set": 200,
        "none": 30,
        "ohm ohm": 100,
        "temperature temperature": 100,
        "verdict choice": 100,
        "blinks choice": 100,
        "place tap": 80,
        "plug tap": 40,
        "plug choice": 40,
        "order order": 100,
        "safe order": 60,
        "safe choice": 60,
        "meter display": 150,
        "kills choice": 100,
        "drill.right": 400,
        "drill.wrong": 400,
        "drill.off-warm": 60,
        "drill.off-cold": 60,
        "drill.no-temperature": 2,
        "drill.wrong-ohm": 20,
        "drill.wrong-half": 50,
        "drill.because-within": 5,
        "drill.because-outside": 10,
        "drill.because-undecided": 20,
        "drill.because-open": 15,
        "drill.because-short": 8,
        "drill.because-beyond-meter": 5,
        "field.unreadable": 10,
    },
}
