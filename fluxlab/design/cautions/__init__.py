"""The caution rules: which of them a plan meets, how grave, and why.

Words, sources and who may lift a block are data (resources/cautions.toml); the condition of each rule stands in one of
the modules here, by theme. R39 alone is not asked of a plan but of the melt record, in learn/checks. There is no way to
silence them together.
"""

from collections.abc import Callable, Mapping
from functools import cache
from types import MappingProxyType

from fluxlab import resources
from fluxlab.design.cautions import melt, ore, oxidisers, place, poisons, sulphur, vessels
from fluxlab.design.cautions.findings import Finding
from fluxlab.design.facts import Facts
from fluxlab.design.report_types import Caution

CONDITIONS: Mapping[str, Callable[[Facts], Finding]] = MappingProxyType(
    {
        "R01": vessels.damp,
        "R02": vessels.mould,
        "R03": vessels.hot_mould,
        "R04": vessels.mould_room,
        "R05": vessels.heap,
        "R06": vessels.gassy_heap,
        "R07": vessels.swollen_heap,
        "R08": vessels.hot_foam,
        "R09": oxidisers.nitre_load,
        "R10": oxidisers.nitre_by_the_spoon,
        "R11": oxidisers.nitre_with_fuel,
        "R12": oxidisers.nitre_on_sulphide,
        "R13": oxidisers.nitre_in_graphite,
        "R14": oxidisers.forbidden,
        "R15": poisons.mercury,
        "R16": poisons.arsenic,
        "R17": poisons.other_fume,
        "R18": poisons.lead,
        "R19": poisons.sulphur_dioxide,
        "R20": poisons.fluoride,
        "R21": poisons.chloride,
        "R22": sulphur.matte,
        "R23": sulphur.much_matte,
        "R24": sulphur.sulphide_slag,
        "R25": sulphur.speiss,
        "R26": oxidisers.iron_against_nitre,
        "R27": sulphur.under_reduced,
        "R28": sulphur.over_reduced,
        "R29": sulphur.sulphate_left,
        "R30": sulphur.clotting_roast,
        "R31": melt.stiff_slag,
        "R32": melt.slow_settling,
        "R33": melt.fuming_hold,
        "R34": ore.refractory,
        "R35": sulphur.sulphate_gangue,
        "R36": ore.carbonate,
        "R37": ore.manganese,
        "R38": poisons.silica_dust,
        "R40": place.wet_residues,
        "R41": place.quench,
        "R42": place.opened_early,
        "R43": place.worn_pot,
        "R44": place.scrap,
        "R45": place.propane,
        "R46": place.lean_burner,
        "R47": ore.unknown,
        "R48": ore.radioactive,
        "R49": place.disposal,
        "R50": place.people,
    }
)

_GRAVITY = {"block": 0, "warn": 1, "caution": 2}


@cache
def _words(rule: str) -> dict[str, str]:
    table = resources.toml("cautions.toml")[rule]
    return {key: str(value) for key, value in table.items()}


def cautions(facts: Facts) -> tuple[Caution, ...]:
    """The rules that a plan meets, the gravest first: of the blocks those that nobody may lift."""
    found = []
    for rule, condition in CONDITIONS.items():
        finding = condition(facts)
        if finding is None:
            continue
        level, because = finding
        words = _words(rule)
        lift = words["lift"] if level == "block" else "cause"
        assert lift in ("never", "operator", "cause")
        found.append(
            Caution(rule, level, words["title"], words["sentence"], because, lift, words["source"])  # type: ignore[arg-type]
        )
    return tuple(sorted(found, key=lambda c: (_GRAVITY[c.level], c.lift != "never", c.rule)))


def outstanding(found: tuple[Caution, ...], confirmed: frozenset[str] = frozenset()) -> tuple[Caution, ...]:
    """Blocks that stand: those that nobody may lift, and those the operator has not confirmed."""
    return tuple(c for c in found if c.level == "block" and not (c.lift == "operator" and c.rule in confirmed))
