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
    "A perfect roast turns every sulphide into the oxide that is stable in air and drives carbonates and hydrates out; "
    "no roast gets there. The plan reckons mineral by mineral how far heat and time go: labile sulphur and arsenic "
    "first, then the rest, with sulphates and arsenates that stay. Weights before and after are held against some two "
    "thousand roasts: those that would weigh the same say how much sulphur may still be there. A small loss can hide "
    "sulphate. How much raw material and silver is behind the charge goes by the weights too; what the reckoned roast "
    "misses of them is put down to dust and to shares other than the likely. Weights that no roast explains leave the "
    "plan to reckon with. The weight before is taken as it went on the tray, its moisture with it.",
    "weight change = (calcine − raw) ÷ raw, dry; ranges are nine in ten",
    "element balance of each mineral; times, shares of sulphate and their ranges: memory and judgement, to be "
    "overwritten under “Own figures of the roast”; sulphate temperatures computed from published tables",
)
PROGRAMME = Explanation(
    "Roast programme",
    "The steps of the roast for this ore: dry, low roast below clotting, main burn, finish at red heat, test by "
    "weighing again. The low roast stays lower the more stibnite, sulphosalts or realgar the ore holds, but begins "
    "where the plan says.",
    "",
    "the source of each step stands behind it; ignition ± 50 °C",
)
OWN_ROAST = Explanation(
    "Own figures of the roast",
    "What is burnt, what stays as sulphate or arsenate, what fumes: the program takes it from memory and judgement. "
    "Where you have weighed or assayed it, give your own figure; an empty field goes back to the program's.",
    "",
    "memory and judgement",
)
OWN_PROGRAMME = Explanation(
    "Own figures of the programme",
    "Heat and time of each step, how fast minerals burn, where a bed clots or takes fire, and how far weights may be "
    "off: the program takes them from memory and judgement. Where you know your furnace or your ore better, give your "
    "own figure; an empty field goes back to the program's.",
    "time = minutes to burn through × (bed ÷ 10 mm) to a power × grain ÷ 0.1 mm, half of it for each such rise of heat",
    "memory and judgement; ignition from memory of Friedrich 1909",
)
LOT = Explanation(
    "The lot",
    "What the concentrate was won from. With the weights and grades of lot and concentrate the recovery follows by "
    "weight; with the grades of lot, concentrate and tailing it follows without any weight. The surer of the two is "
    "shown. The sample's weight and largest grain tell how far its grade may be off by chance.",
    "two products: recovery = c (h − t) ÷ (h (c − t)) with grades of head, concentrate, tailing",
    "mass balance, computed; errors of assays: memory and judgement; sampling: Gy's estimate, from memory; both to be "
    "overwritten under “Own figures of the lot”",
)
OWN_LOT = Explanation(
    "Own figures of the lot",
    "How far assays and weights may be off, and the factors with which the chance of a sample is reckoned: the program "
    "takes them from memory and judgement. Where you know your laboratory, your balance or your grains better, give "
    "your own figure; an empty field goes back to the program's.",
    "variance of a sample = shape × sizes × mineral × free grain × grain³ × (1 ÷ sample − 1 ÷ lot)",
    "memory and judgement; the form of Gy's estimate, from memory",
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
    "into the pot. Described raw and melted as calcine, the material goes through the roast.",
    "dry mass = mass as weighed × (1 − moisture)",
)
