"""Tables in the program's own hand: one model, one view, one painter for ore shares, fluxes, pots and moulds."""
