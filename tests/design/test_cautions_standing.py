"""Sentences that stand whatever the recipe is."""

from fluxlab import resources
from fluxlab.design import edits
from fluxlab.design.cautions.standing import standing
from fluxlab.design.evaluate import evaluate
from fluxlab.design.report_text import text_of
from fluxlab.design.start import demo_work


def test_they_name_the_authority_the_licence_the_assayer_and_the_law_on_nitrates() -> None:
    words = " ".join(standing(nitrate=True))
    for told in (
        "Local codes, permits and licensed practice are the authority",
        "may need a licence",
        "a licensed assayer",
        "no assay",
        "nitrates is regulated in some countries",
    ):
        assert told in words


def test_nitrates_are_named_only_where_there_are_any() -> None:
    everything, without = standing(nitrate=True), standing(nitrate=False)
    assert len(everything) == len(without) + 1
    assert set(without) < set(everything)


def test_a_short_form_stands_for_each() -> None:
    rows = resources.toml("standing.toml")
    assert standing(nitrate=True, short=True) == tuple(row["short"] for row in rows.values())
    assert all(len(row["short"]) < len(row["sentence"]) for row in rows.values())


def test_the_printed_report_ends_with_them() -> None:
    demo = demo_work()
    plain = " ".join(text_of(evaluate(demo)).split())
    assert plain.endswith(standing(nitrate=False)[-1])
    assert standing(nitrate=True)[-1] not in plain
    nitre = " ".join(text_of(evaluate(edits.fix_weight(demo, "nitre", 3.0)[1])).split())
    assert nitre.endswith(standing(nitrate=True)[-1])
