from fluxlab.design.ticket import build
from fluxlab.design.ticket_text import WIDTH, text_of
from tests.ticket_samples import DAMP, FLUXES, FOAM, LEAD, WHEN, fitted, sample_report

TICKET = """\
============================================================================
Weigh-out ticket, copy 2 of revision 7, 14 November 2026, 15:32
Alder Gulch, table concentrate
House flux for the tables
Roast and melt, 250.0 g of calcine, flux to calcine 0.77 : 1
----------------------------------------------------------------------------
    in this order                                   weigh, g         read, g
[ ] Calcine, dry                                       250.0    ____________
[ ] Borax glass, crushed                                92.5    ____________
[ ] Soda ash, dense                                     70.0    ____________
[ ] Silica sand                                         31.0    ____________
============================================================================
    Charge as weighed                                  443.5    ____________

Crucible    Pot 3; charge 32 mm below the rim
Feed        443.5 g at once; mixed; swells to 70 %
Pour        1150 °C; hold 15 min
Mould       Cone mould 2; at 200 °C, 21 mm stay free
Metal       At most 0.900 g; silver + gold by the assay
Poured      from the top: slag 405 g oxides, 94.0 mL; metal 2.00 mL, 15 mm
            in mould

!! Damp:    Dry the charge, the flux, the pot and the mould first.
            Confirmed.
!  Lead:    Lead is in the charge: draught on, gloves, no food or children
            near, wash before you leave.

After the pour
Button ________ g   Matte ________ g   Slag ________ g   Time ________ min

Local codes, permits and licensed practice decide. No assay: a sale needs a
licensed assayer's. Dealing in or marking precious metal may need a licence.
rounded to the 0.1 g balance, re-added, every must still holds  fluxlab 7-2
"""


def written(report, **options) -> str:
    return text_of(build(report, revision=7, copy=2, when=WHEN, rounded=fitted(report), **options))


def test_the_whole_ticket_as_text():
    assert written(sample_report(fluxes=FLUXES[:3], cautions=(DAMP, LEAD)), confirmed=("R01",)) == TICKET


def test_what_is_not_confirmed_is_said_and_what_nobody_may_lift_asks_for_nothing():
    words = written(sample_report(cautions=(DAMP, FOAM)))
    assert "mould first. Not yet\n" in words.replace("first.\n            Not yet", "first. Not yet\n")
    assert "larger pot.\n" in words


def test_long_names_wrap_and_weights_stay_whole():
    name = "Borax glass ground and sieved through the coarse kitchen sieve of the back room"
    words = written(sample_report(fluxes=(("a", name, "crushed", 123456.7, ()),), charge=98765.4))
    lines = words.splitlines()
    assert max(map(len, lines)) <= WIDTH
    (row,) = [line for line in lines if "123456.7" in line]
    assert row.startswith("[ ] Borax glass ground")
    assert row.endswith("____________")
    joined = " ".join(words.split())
    assert "back room, crushed" in joined
