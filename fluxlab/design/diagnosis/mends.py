"""Which changes a cause asks for, the one to try first in front. Each is judged before it is offered."""

from collections.abc import Mapping
from types import MappingProxyType

from fluxlab.design.diagnosis.candidate import Candidate as Try
from fluxlab.design.diagnosis.flux_changes import (
    anhydrous,
    fluorspar,
    iron_for_matte,
    less,
    more,
    more_litharge,
    nitre_for_sulphur,
    no_iron,
)
from fluxlab.design.diagnosis.plan_changes import (
    cooler,
    hotter,
    in_parts,
    larger_charge,
    long_enough,
    longer,
    roast_first,
    roast_longer,
)
from fluxlab.design.diagnosis.reducer_changes import (
    less_reducer,
    less_reducer_for_lead,
    more_reducer,
    no_reducer,
    reduce_iron,
    reduce_manganese,
)

_BY_PARTS = "each part has quietened before the next one swells or gives gas"
_SOAKS = "quartz combines with the flux that lies beside it before the next part comes on top"
_EVAPORATES = "less evaporates from a cooler melt: computed vapour pressures"

CANDIDATES: Mapping[str, tuple[Try, ...]] = MappingProxyType(
    {
        "iron-slag": (Try(more("silica")), Try(more("borax"))),
        "ferric-iron": (Try(reduce_iron),),
        "copper-slag": (Try(more_litharge), Try(more("borax"))),
        "manganese": (Try(reduce_manganese),),
        "chromite": (
            Try(more("borax")),
            Try(more("soda")),
            Try(fluorspar),
            Try(longer, "the grains go into the slag slowly: from memory"),
        ),
        "unfinished": (Try(longer), Try(hotter)),
        "stiff-slag": (Try(more("borax")), Try(fluorspar), Try(hotter)),
        "wrong-flux": (Try(more("borax")), Try(more("soda"))),
        "quartz-left": (Try(in_parts, _SOAKS), Try(more("soda"))),
        "free-lime": (Try(less("soda")), Try(more("borax"))),
        "lime-alumina": (Try(more("silica")), Try(more("borax")), Try(fluorspar)),
        "too-basic": (Try(more("silica")), Try(more("borax"))),
        "too-acid": (Try(more("soda")),),
        "litharge-spent": (Try(less_reducer), Try(more_litharge)),
        "phosphate": (Try(fluorspar),),
        "pot-scour": (Try(more("silica")),),
        "milky-solids": (
            Try(less("fluorspar")),
            Try(more("soda")),
            Try(hotter, "a hotter slag takes up more of the solids: from memory"),
        ),
        "zinc-slag": (Try(more("silica")), Try(more("borax")), Try(more("soda"))),
        "barite": (Try(no_reducer),),
        "matte": (Try(roast_first), Try(iron_for_matte), Try(nitre_for_sulphur)),
        "sulphate-left": (Try(roast_longer),),
        "speiss": (Try(no_iron), Try(roast_first)),
        "base-button": (Try(less_reducer, "less copper and antimony comes down with less reducer: from memory"),),
        "sulphur-button": (Try(roast_first), Try(iron_for_matte), Try(nitre_for_sulphur)),
        "under-reduced": (Try(more_reducer),),
        "over-reduced": (Try(less_reducer),),
        "small-collector": (Try(larger_charge),),
        "soda-sulphide": (Try(iron_for_matte), Try(roast_first)),
        "gas-formers": (Try(in_parts),),
        "hydrated": (Try(anhydrous), Try(in_parts, _BY_PARTS)),
        "nitre": (Try(in_parts, _BY_PARTS), Try(less("nitre"))),
        "arsenic-fume": (Try(more("soda"), "soda holds arsenic in the slag: Beringer 1904, p. 22"),),
        "lead-fume": (Try(cooler, _EVAPORATES),),
        "zinc-fume": (Try(cooler, _EVAPORATES),),
        "lead-button": (Try(less_reducer_for_lead),),
        "iron-bullion": (Try(less_reducer), Try(no_iron)),
        "cold-pour": (Try(hotter),),
        "short-hold": (Try(long_enough),),
        "roast-short": (Try(roast_longer),),
    }
)
