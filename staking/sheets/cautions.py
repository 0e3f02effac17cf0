"""Safety and law in our own words: what every sheet must say, and where it comes from.

Sources: licensed work, Nevada NRS 625.040 and South Dakota SDCL 36-18A-4; utilities, 29 CFR 1926.651(b) and the state
one-call centres' pages (Mississippi 811: hand-dig zone 18 in); overhead lines, 29 CFR 1926.1408 Table A as a company
safety manual reproduces it (10 ft to 50 kV); bars and stakes, OSHA letter of 2006-04-24 on 1926.701(b);
excavations, 29 CFR 1926.652(a)(1) and 1926.651(j)(2) as quoted in public files; form survey, City of Boerne TX and
other building departments. Metres beside feet are rounded to the safe side.
"""

from __future__ import annotations

ALWAYS: tuple[str, ...] = (
    "This is not a boundary survey. Lot lines are as they were given; only a licensed surveyor locates a "
    "property line, "
    "and a fence, curb or walk is not one. Check lot and block on the ground before the first stake.",
    "Setbacks and codes are those of the local authority; its word goes before this sheet. Ask whether the forms must "
    "be surveyed or inspected before the pour.",
    "Have underground utilities located before a stake is driven (in the US: call 811 and wait for the marks). Dig by "
    "hand beside the marks.",
    "Keep rods, poles and booms well away from overhead lines: 10 ft (3.1 m) at the least up to 50 kV, more above; "
    "ask the line's owner.",
    "Cap or guard upright stakes, pins and bars. Stay out of an unprotected excavation 5 ft (1.5 m) deep or showing "
    "any sign of failing; keep spoil 2 ft (0.61 m) from its edge.",
    "Footings, reinforcement and anything that carries load belong to licensed design. Nothing here approves anything.",
)

LANDMARK = "The slab is placed from a fence, curb, walk or wall; that tells nothing about the property line."
