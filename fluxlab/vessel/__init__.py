"""What holds it: pots, moulds, filling and feeding."""
