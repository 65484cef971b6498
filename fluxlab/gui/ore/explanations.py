"""What F1 says on the Ore place: what a part shows, how it is worked out, and where that comes from."""

from fluxlab.gui.explain import Explanation

SUM = Explanation(
    "Sum of the likely shares",
    "Mineral shares are scaled to 100 % before anything is worked out. Between 99.5 and 100.5 % nothing is said; below "
    "80 % the figures are marked doubtful, above 120 % they are refused.",
    "share used = likely share ÷ sum of the likely shares",
    "limits: judgement",
)
HEAPS = Explanation(
    "From raw to calcine",
    "The dry material behind this charge and what is left of it after the roast, as heaps of one shape and one scale. "
    "The mass follows from the minerals, the volume from the bulk density you entered or from an estimate.",
    "width of a heap ∝ cube root of its volume",
    "bulk density not entered: half the density of the grains, judgement",
)
ROAST = Explanation(
    "Roast",
    "A perfect roast: every sulphide becomes the oxide that is stable in air, carbonates and hydrates lose their gas. "
    "What a real roast leaves behind is not worked out in this version.",
    "weight change = (calcine − raw) ÷ raw; the range moves one mineral after the other to its low and its high",
    "element balance of each mineral; IUPAC standard atomic weights",
)
OXIDES = Explanation(
    "The material in the pot as oxides",
    "What the material brings into the slag, in per cent of its dry mass. The grey bar is the likely range, from the "
    "low and high shares of the minerals.",
    "moves of the single shares, added as a root of squares",
    "element balance of each mineral; IUPAC standard atomic weights",
)
APART = Explanation(
    "Not in the slag model",
    "What the material holds besides slag oxides, metal and gas: it is listed so that nothing is lost sight of, but no "
    "figure of the slag counts it.",
)
METALS = Explanation(
    "Silver and gold",
    "The grade as the laboratory gave it, the same in grams per tonne, and what is in this charge. What the listed "
    "minerals do not hold of it is put into the mineral that you name; where they hold more, the assay counts.",
    "1 oz per short ton = 34.2857 g/t; 1 oz per long ton = 30.6122 g/t",
    "troy ounce 31.1034768 g and pound 453.59237 g, both exact by definition",
)
RESIDUAL = Explanation(
    "What the assay is taken for",
    "The shares of the ticked minerals are sought with which their elements come nearest to the assay; none can be "
    "below nothing. What stays unexplained is the sum of the differences, element by element.",
    "non-negative least squares, each element weighted by its range",
    "without a range an element counts to 5 % of itself, at least 0.05 % of the sample: judgement",
)
FACTS = Explanation(
    "What this speaks of",
    "Whether shares and grades were found on raw ore, on the concentrate or on the calcine, and which of them goes "
    "into the pot. Described raw and melted as calcine, the material goes through the perfect roast.",
    "dry mass = mass as weighed × (1 − moisture)",
)
