"""The figures that a pot is reckoned with, table by table: as shipped, or with the operator's own in their place."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from fluxlab import resources
from fluxlab.fusion.nitre import NitreConstants, nitre_constants
from fluxlab.fusion.sulphate import SulphateConstants, sulphate_constants

Table = Mapping[str, Any]
OwnWindows = Mapping[tuple[str, str], tuple[float | None, float | None]]
"""The operator's temperatures [degC] from which on and up to which a mineral, by formula, gives off a gas."""
TABLES = ("bullion", "deportment", "foam", "heat", "litharge", "losses", "redox", "sulphur")
"""The tables of resources/fusion whose figures may be replaced."""


@dataclass(frozen=True, slots=True)
class OwnShare:
    """The operator's own shares of one element in his pot [0..1], to metal, as fume, to matte with speiss; None as the
    table has it."""

    metal: float | None = None
    fume: float | None = None
    matte: float | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Tables:
    """The tables of resources/fusion by name, each with its rows as there, and what is worked out of them once.

    `own` are the operator's shares of elements by symbol; for these the priors of `deportment` do not count. `windows`
    are his for the gases of minerals, `ferrous_first` his word on iron going to FeO before lead comes down (None: as
    the route has it).
    """

    bullion: Table
    deportment: Table
    foam: Table
    heat: Table
    litharge: Table
    losses: Table
    redox: Table
    sulphur: Table
    sulphate: SulphateConstants
    nitre: NitreConstants
    own: Mapping[str, OwnShare] = field(default_factory=dict)
    windows: OwnWindows = field(default_factory=dict)
    ferrous_first: bool | None = None


@cache
def shipped_tables() -> Tables:
    """All tables as shipped."""
    return tables_of({})


def shipped_table(name: str) -> Table:
    """One table as shipped; to be read, not changed."""
    return resources.toml(f"fusion/{name}.toml")


def tables_of(
    replaced: Mapping[str, Table],
    own: Mapping[str, OwnShare] | None = None,
    windows: OwnWindows | None = None,
    ferrous_first: bool | None = None,
) -> Tables:
    """The tables with some of them replaced by name, the operator's shares, windows of gases and order of iron."""
    rows = {name: replaced.get(name) or shipped_table(name) for name in TABLES}
    litharge = rows["litharge"]
    return Tables(
        **rows,
        sulphate=sulphate_constants() if "litharge" not in replaced else SulphateConstants.of(litharge["sulphate"]),
        nitre=nitre_constants() if "litharge" not in replaced else NitreConstants.of(litharge["nitre"]),
        own=own or {},
        windows=windows or {},
        ferrous_first=ferrous_first,
    )
