"""A quantity with its arithmetic: one row of the sheet of quantities and of its table."""

from __future__ import annotations

from dataclasses import dataclass

from staking.layout.computed import Layout


@dataclass(frozen=True, slots=True)
class Row:
    """A quantity. how: the arithmetic in words and figures. other: the same in another unit.

    shown: how people read it, where that is not amount and unit. buy: what it is called on the list of what to order;
    empty where it is none of that.
    """

    group: str
    item: str
    amount: str
    unit: str
    how: str
    other: tuple[str, str] = ("", "")
    shown: str = ""
    buy: str = ""

    @property
    def quantity(self) -> str:
        """With its unit."""
        if self.shown:
            return self.shown
        return f"{self.amount} {self.unit.removesuffix('s') if self.amount == '1' else self.unit}"

    @property
    def both(self) -> str:
        """With its unit, and in the other one where there is one: who delivers may count in that."""
        return f"{self.quantity}; {' '.join(self.other)}" if self.other[0] else self.quantity


def volume_row(layout: Layout, group: str, item: str, volume: float, how: str, *, buy: str = "") -> Row:
    """A volume [m3] in both units."""
    (amount, unit), other = layout.notation.volumes(volume)
    return Row(group, item, amount, unit, how, other, buy=buy)


def length_row(layout: Layout, group: str, item: str, length: float, how: str, *, buy: str = "") -> Row:
    """A length [m], as a decimal for the table and as a tape has it for the sheet."""
    write = layout.notation
    return Row(group, item, write.decimal(length), write.unit.name, how, shown=write.length(length), buy=buy)


def divided(layout: Layout, volume: float) -> str:
    """Cubic feet divided by 27 into yards; cubic metres as they are."""
    if layout.site.unit.name == "m":
        return layout.notation.volume(volume)
    return f"{layout.notation.cubic(volume)} / 27 = {layout.notation.volume(volume)}"


def more_by(layout: Layout, volume: float, *shares: float | None) -> tuple[float, str]:
    """A volume [m3] with shares added, and the arithmetic: 26.94 cu yd x 1.05 = 28.29 cu yd."""
    given = [share for share in shares if share is not None]
    whole = volume
    for share in given:
        whole *= 1 + share
    factors = "".join(f" x {layout.notation.factor(1 + share)}" for share in given)
    return whole, f"{layout.notation.volume(volume)}{factors} = {layout.notation.volume(whole)}"
