"""What came out of one melt, as it was weighed, seen and noted: the value that the record keeps."""

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from fluxlab.materials.estimate import Estimate

Assayer = Literal["assayer", "x-ray gun", "own guess"]
Feed = Literal["ore", "concentrate", "calcine"]
NOTHING = 1e-9
"""Less than a thousandth of a microgram is nothing [g]; judgement, beyond every balance."""


@dataclass(frozen=True, slots=True)
class Weighing:
    """One weighing of the ticket [g]: what was asked for, and what the balance showed (None = not read back)."""

    what: str
    name: str
    asked: float
    read: float | None = None

    @property
    def grams(self) -> float:
        """What went into the pot as far as it is known [g]."""
        return self.asked if self.read is None else self.read


@dataclass(frozen=True, slots=True)
class Fineness:
    """What the button is made of: silver and gold [mass %], on whose word.

    `error` is one standard deviation of the silver [% of its value], None = what is usual for that word.
    """

    silver: float | None = None
    gold: float | None = None
    by: Assayer = "own guess"
    error: float | None = None


@dataclass(frozen=True, slots=True)
class Beforehand:
    """What was known and said of the melt before it was poured, kept so that it can be held against what came out.

    `silver` and `gold` [g] are what the charge as asked for holds by the assay. `grade_error` is that of the assay,
    which all melts of an ore share, `charge_error` that of one charge against the lot, both as one standard deviation
    [% of the value]. `limit` [g] is the silver and gold that can come out at most. What was predicted: `button`,
    `matte`, `speiss`, `slag` [g], `silver_recovery`, `gold_recovery` [%], each None where nothing was said.
    `pour_temperature` [degC] and `hold` [min] as the ticket asked for. From `roast_least` to `roast_most` [% of what
    goes on the tray] the weight can change in a roast of the ore as described, None where no such roast is known.
    """

    silver: float | None = None
    gold: float | None = None
    grade_error: float = 0.0
    charge_error: float = 0.0
    limit: float | None = None
    button: Estimate | None = None
    matte: Estimate | None = None
    speiss: Estimate | None = None
    slag: Estimate | None = None
    silver_recovery: Estimate | None = None
    gold_recovery: Estimate | None = None
    pour_temperature: float | None = None
    hold: float | None = None
    roast_least: float | None = None
    roast_most: float | None = None


@dataclass(frozen=True, slots=True)
class Melt:
    """One entry of the melt record. What was not weighed, measured or seen is None or empty, never a guess.

    `uid` is the entry's own id; `replaces` that of the entry it corrects, "" for a first one; a `struck` entry says
    that there was no such melt. `ore`, `recipe`, `revision` and `ticket` (its number in the library) say what was
    melted, `recipe_name`, `ticket_name` and `route` the same in words.

    Masses [g]: `weighed` in the order of the ticket, `roast_before` and `roast_after` on the tray, `button`, `matte`,
    `slag`, `speiss`, `prills` picked out of the slag, `pot_change` of the empty pot. `balance_step` is that of the
    balance for the charge, `button_step` that of the one which weighed the button, None = the same. `skin` is what slag
    and skin on the button may weigh, as one standard deviation, None = what is usual on a clean one.
    Times [min]: `in_fire` from the charge in the fire to the pour, `hold` of the quiet melt, `roasted`. Temperatures
    [degC]: `pour_temperature`, `roast_temperature`, `mould_temperature`. `froth` is how near it came to the rim [mm],
    `button_density` [g/cm3], `calcine_sulphur` by the laboratory [mass %], `fluidity` from 1 (stands) to 5 (water).
    `seen` are keys of resources/diagnosis.toml.
    """

    uid: str
    ore: str
    recipe: str
    revision: int | None
    ticket: int
    poured: datetime
    weighed: tuple[Weighing, ...]
    replaces: str = ""
    struck: bool = False
    recipe_name: str = ""
    ticket_name: str = ""
    route: str = ""
    feed: Feed = "calcine"
    balance_step: float = 0.1
    button_step: float | None = None
    roast_before: float | None = None
    roast_after: float | None = None
    button: float | None = None
    skin: float | None = None
    matte: float | None = None
    slag: float | None = None
    speiss: float | None = None
    prills: float | None = None
    pot_change: float | None = None
    in_fire: float | None = None
    hold: float | None = None
    roasted: float | None = None
    pour_temperature: float | None = None
    roast_temperature: float | None = None
    mould_temperature: float | None = None
    froth: float | None = None
    button_density: float | None = None
    calcine_sulphur: float | None = None
    fluidity: int | None = None
    seen: tuple[str, ...] = ()
    fineness: Fineness | None = None
    beforehand: Beforehand = Beforehand()
    notes: str = ""

    @property
    def charge(self) -> float:
        """What was melted, without the fluxes [g]; the ticket names it first."""
        return self.weighed[0].grams if self.weighed else 0.0

    @property
    def total(self) -> float:
        """All that went into the pot [g]."""
        return sum(weighing.grams for weighing in self.weighed)

    @property
    def button_shows(self) -> float:
        """Step of the balance that weighed the button [g]."""
        return self.balance_step if self.button_step is None else self.button_step

    def held(self, metal: Literal["silver", "gold"]) -> float | None:
        """Metal that the charge as weighed holds by the assay [g], None where no grade is known."""
        said = self.beforehand.silver if metal == "silver" else self.beforehand.gold
        asked = self.weighed[0].asked if self.weighed else 0.0
        return None if said is None or asked <= NOTHING else said * self.charge / asked
