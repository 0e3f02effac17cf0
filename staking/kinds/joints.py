"""How far apart may contraction joints lie, by a published table?"""

from __future__ import annotations

from staking.kinds.lumber import INCH

TIMES = 24  # the thickness; the table's 8, 10, 12, 14, 16 ft for slabs of 4, 5, 6, 7, 8 in
LONGEST = 1.5  # long side of a panel over its short one; K. Basham, a trade article on joints, as mirrored in public
SOURCE = "PCA floor booklet, 2nd ed. 1983, table as reproduced in public: slump 4 to 6 in, aggregate under 3/4 in"


def joint_spacing(thickness: float) -> float | None:
    """The spacing [m] for a slab's thickness [m]; None outside the table, 4 to 8 in."""
    return TIMES * thickness if 4 * INCH - 1e-6 <= thickness <= 8 * INCH + 1e-6 else None
