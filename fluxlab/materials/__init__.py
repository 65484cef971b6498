"""What goes in: formulas, oxides, minerals and fluxes."""
