"""Which tables may a site file have, which record holds the keys of each, and what is an example of a key?"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from staking.kinds.courses import COURSES
from staking.kinds.fields import Record
from staking.kinds.outlines import OUTLINES
from staking.kinds.outlines.levels import Footing, Recess, Thickened
from staking.kinds.outlines.slab import Part
from staking.kinds.placements import PLACEMENTS
from staking.kinds.references import REFERENCES
from staking.kinds.stakes import STAKES
from staking.sitefile import (
    as_built_declared,
    coordinates_declared,
    declared,
    fit_declared,
    ground_declared,
    heights_declared,
    instrument_declared,
    landxml_declared,
    levels_declared,
    lot_declared,
    plan_declared,
    stakeout_declared,
    takeoff_declared,
    tape_declared,
)

# the records a table may hold, by their kind; a table of one kind has it under ""
RECORDS: Mapping[str, Mapping[str, type[Record]]] = MappingProxyType(
    {
        "": {"": declared.Declared},
        "site": {"": declared.About},
        "coordinates": {"": coordinates_declared.Coordinates},
        "coordinates.scaled_about": {"": coordinates_declared.ScaledAbout},
        "coordinates.truncated": {"": coordinates_declared.Truncated},
        "notation": {"": declared.Writing},
        "points": {"": declared.GivenPoint},
        "point_files": {"": declared.PointFile},
        "lot": {"": lot_declared.Lot},
        "lot.parcel": {"": landxml_declared.ParcelSource},
        "lot.courses": COURSES,
        "lot.vara": {"": lot_declared.Vara},
        "setbacks": {"": lot_declared.Setback},
        "separations": {"": lot_declared.Separation},
        "margins": {"": lot_declared.Margins},
        "keep_clear": {
            "along": lot_declared.AlongSide,
            "around": lot_declared.AroundPoint,
            "points": lot_declared.InsidePoints,
        },
        "references": REFERENCES,
        "slab": OUTLINES,
        "slab.parts": {"": Part},
        "slab.recesses": {"": Recess},
        "slab.thickened": {"": Thickened},
        "slab.footings": {"": Footing},
        "placement": PLACEMENTS,
        "stakes": STAKES,
        "stakeout": {"": stakeout_declared.StakeList},
        "numbering": {"": declared.Numbering},
        "tape": {"": tape_declared.Tape},
        "floor": {"": heights_declared.Floor},
        "rod": {"": heights_declared.Rod},
        "level_setups": {"": heights_declared.LevelSetup},
        "stake_tops": {"": heights_declared.StakeTops},
        "forms": {"": takeoff_declared.Forms},
        "concrete": {"": takeoff_declared.Concrete},
        "base": {"": takeoff_declared.Base},
        "vapour_sheet": {"": takeoff_declared.VapourSheet},
        "reinforcement": {"": takeoff_declared.Reinforcement},
        "levels": {"": levels_declared.Levels},
        "ground": {"": ground_declared.GroundSource},
        "ground.break_lines": {"": ground_declared.BreakLine},
        "earthwork": {"": ground_declared.Earthwork},
        "water": {"": ground_declared.Water},
        "overdig": {"": ground_declared.Overdig},
        "as_built": {"": as_built_declared.AsBuilt},
        "plan": {"": plan_declared.PlanSheet},
        "revisions": {"": plan_declared.Revision},
        "features": {"": plan_declared.Feature},
        "fit": {"": fit_declared.FitAsked},
        "fit.recorded": {"": fit_declared.Recorded},
        "pairs": {"": fit_declared.Pair},
        "second_system": {"": coordinates_declared.SecondSystem},
        "setup": {"": instrument_declared.SetupDeclared},
        "setup.shots": {"": instrument_declared.Shot},
        "instrument": instrument_declared.INSTRUMENTS,
        "on_earth": {"": coordinates_declared.OnEarth},
    }
)

# a value for every key that must be there
EXAMPLES: Mapping[str, str] = MappingProxyType(
    {
        "along": '"rear"',
        "around": '"P1"',
        "at": '"P1"',
        "back": '"6\'"',
        "benchmark": '"BM"',
        "book": '"levels.csv"',
        "bearing": '"N 12-30-15 E"',
        "between": '["lot east", "lot west"]',
        "clear": '"9\'"',
        "corner": '"front-right"',
        "corners": '["P1", "P2", "P3", "P4"]',
        "cut_depth": '"10\'"',
        "cut_width": '"12\'"',
        "date": "2026-04-18",
        "crs": '"EPSG:26913"',
        "depth": '"36\'"',
        "distance": '"5\'"',
        "east": "5000.0",
        "from": '"lot east"',
        "grade": '"II"',
        "front": '"south"',
        "lap": '"6 in"',
        "cover": '"3 in"',
        "least": '"5 ft"',
        "length": '"100\'"',
        "lower": '"4 in"',
        "latitude": "40.4462",
        "longitude": "-79.9767",
        "mark": '"A"',
        "missing": '"back-right"',
        "name": '"..."',
        "north": "5000.0",
        "path": '"control.csv"',
        "point": '"P1"',
        "points": '["P1", "P2", "P3"]',
        "ppm": "2",
        "radius": '"15\'"',
        "reference": '"lot front"',
        "seconds": "5",
        "side": '"front"',
        "scale": "1.0",
        "sides": '["front", "east", "rear", "west"]',
        "spacing": '"10\'"',
        "thickness": '"4 in"',
        "through": '["K1", "K2"]',
        "source": '"..."',
        "to": '"lot front"',
        "top": '"2 ft"',
        "toward": '"P1"',
        "turn": '"right"',
        "wall": '"left"',
        "unit": '"ft"',
        "what": '"..."',
        "width": '"24\'"',
    }
)


def keys_of(record: type[Record]) -> list[str]:
    """The keys of a record as files write them."""
    return [field.alias or name for name, field in record.model_fields.items()]
