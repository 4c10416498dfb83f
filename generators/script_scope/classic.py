"""Write modules as one classic script: a function of its own, and one global for what it shares."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from .join import Part, in_one_scope


def classic_script(parts: Sequence[Part], *, wanted: Collection[str], shorter: bool) -> str:
    """Return the text of a script.

    What it needs of scripts before it stands at its top, and what others want of it at its end.

    Parameters
    ----------
    parts : sequence of Part
        In the order in which they must run.
    wanted : collection of names
        What others ask for; what no part hands on is none of it.
    shorter : bool
        As in `in_one_scope`.

    Raises
    ------
    NotOneScope
    """
    own = frozenset[str]().union(*(part.hands_on for part in parts))
    taken = sorted(frozenset[str]().union(*(part.takes for part in parts)) - own)
    handed_on = sorted(own.intersection(wanted))
    return "\n".join(
        [
            "(function (Ohm) {",
            '"use strict";',
            *([f"const {{ {', '.join(taken)} }} = Ohm;"] if taken else []),
            *in_one_scope(parts, shorter=shorter),
            *([f"Object.assign(Ohm, {{ {', '.join(handed_on)} }});"] if handed_on else []),
            "})(globalThis.Ohm = globalThis.Ohm || {});\n",
        ]
    )
