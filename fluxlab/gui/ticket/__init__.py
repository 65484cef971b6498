"""The weigh-out ticket on paper, part by part, in millimetres."""
