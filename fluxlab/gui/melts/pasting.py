"""Several cells of a spreadsheet pasted into the form: one field after the other, all of them or none."""

from collections.abc import Sequence

from fluxlab.gui.melts.form_fields import FormNumber


def paste(cells: Sequence[str], fields: Sequence[FormNumber]) -> str:
    """Put cells into fields in their order; the sentence that says why nothing was pasted, "" where all was."""
    if len(cells) > len(fields):
        return f"Nothing was pasted: {len(cells)} cells, but {len(fields)} fields from here on."
    found = [(field, field.trial(cell)) for field, cell in zip(fields, cells, strict=False)]
    for field, answer in found:
        if isinstance(answer, str):
            return f"Nothing was pasted. {field.accessibleName()}: {answer}"
    for field, value in found:
        if not isinstance(value, str):
            field.set_value(value)
    return ""
