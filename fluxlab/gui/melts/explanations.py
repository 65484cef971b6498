"""What F1 says of the parts of the Melts place."""

from fluxlab.gui.explain import Explanation

MEANS = Explanation(
    "Yield and recovery",
    "Yield is the button over the ore charged, both as weighed. It counts lead, copper and all else that is metal. "
    "Recovery, here silver back, is the silver of the button over the silver that the charge held; it needs the "
    "button's fineness and the ore's assay. The mean weighs each melt by its own error; where melts scatter more than "
    "their errors explain, its range is widened by as much. What all melts share, the error of the ore's assay, is "
    "added at the end; the yield knows no such error. Both means are of the same melts: one that stands apart, whose "
    "figures cannot all be true or whose silver back is not known counts in neither.",
    "yield = button / ore charged;  silver back = button × fineness / (ore charged × grade)",
    "errors of factors add as a root of squares: JCGM 100:2008, 5.1.6; widening: R. T. Birge, 1932; both from memory. "
    "Errors of assays: memory and judgement, kept with each melt",
)
TREND = Explanation(
    "By melt",
    "Rings are what was got, with their likely range (9 in 10); grey bars with a blade are what was expected on the "
    "ticket. No more than all of it can come back, so the range ends there; a ring above it says that the ore's assay "
    "or a weight is wrong. A melt stands apart when it lies more than 3.5 times the usual spread from the middle of "
    "the others, and farther than its own error would bring it; below four melts none can. It is left out of the mean, "
    "and the words beside it say in what its record differs.",
    "0.6745 × (value − median) / median deviation, in logarithms",
    "B. Iglewicz and D. Hoaglin, How to Detect and Handle Outliers, 1993 (from memory)",
)
SHEET = Explanation(
    "One melt",
    "What was weighed and read, beside what the ticket let expect. Nothing here is ever changed: a correction is a new "
    "entry that takes the place of this one, and both stay in the library.",
    "error of a weighing = step / √6;  slag and skin on a clean button of 10 g 0.05 g, as its surface, unless entered",
    "two readings, each anywhere within half a step: JCGM 100:2008, 4.3.7, from memory; skin 0.05 to 0.2 g from "
    "memory, that it is 0.05 g on 10 g and goes with the surface judgement",
)
CHANGE = Explanation(
    "What to change next time",
    "Each look points to some causes; the recipe makes some of them likelier than others. The likeliest stand first, "
    "with what of the recipe speaks for them; heat and hold count as they were in this melt. A change has a button "
    "where it was tried on the recipe and helps, without a new block, a broken limit or another button. It is one step "
    "and can be undone.",
    "",
    "the table of looks and causes, each row with its source",
)
