"""What the weights of a melt show by themselves, as the keys under which the eye would note it."""

from fluxlab.learn.melt import Melt


def shown_by_weights(melt: Melt) -> tuple[str, ...]:
    """Keys of resources/diagnosis.toml that the weights stand for: a button outside what was predicted, matte, speiss,
    prills."""
    found = []
    said = melt.beforehand.button
    if melt.button is not None and said is not None:
        if melt.button < said.low:
            found.append("button-small")
        elif melt.button > said.high:
            found.append("button-large")
    if melt.matte:
        found.append("layer-grey")
    if melt.speiss:
        found.append("layer-white")
    if melt.prills:
        found.append("slag-prills")
    return tuple(found)


def all_seen(melt: Melt) -> tuple[str, ...]:
    """What was ticked, and what the weights show besides."""
    return tuple(dict.fromkeys((*melt.seen, *shown_by_weights(melt))))
