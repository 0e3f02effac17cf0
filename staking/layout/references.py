"""Reference lines on the ground, each after the lines it is measured from."""

from __future__ import annotations

from dataclasses import replace

from staking.kinds.ground import Ground
from staking.layout.trouble import Trouble
from staking.sitefile.declared import Site


def with_references(site: Site, ground: Ground, trouble: Trouble) -> Ground:
    """The ground with every declared reference line added. Raises SolveError for those that cannot be drawn."""
    waiting = list(enumerate(site.declared.references))
    names = {reference.name for _, reference in waiting}
    lines = dict(ground.lines)
    while waiting:
        ready = [(i, ref) for i, ref in waiting if all(need in lines or need not in names for need in ref.needs)]
        for index, reference in ready:
            with trouble.at("references", index):
                lines[reference.name] = reference.base_line(replace(ground, lines=lines))
        trouble.stop()
        waiting = [entry for entry in waiting if entry not in ready]
    order = {reference.name: i for i, reference in enumerate(site.declared.references)}
    ordered = sorted(lines.items(), key=lambda item: order.get(item[0], -1))
    return replace(ground, lines=dict(ordered))
