"""The four routes as data: what they inherit, their automatic targets, their words."""

from typing import get_args

import pytest

from fluxlab import resources
from fluxlab.fusion.routes import ChargeFacts, RouteName, automatic_ends, flux_to_ore_wish, routes
from fluxlab.materials.fluxes import shipped

FACTS = ChargeFacts(charge=90.0, sulphur=5.0, slagged_share=0.65)


def test_every_route_is_there_under_its_own_name() -> None:
    assert set(routes()) == set(get_args(RouteName))
    assert all(name == route.name for name, route in routes().items())


@pytest.mark.parametrize(("route", "convention", "lo", "hi"), [
    ("roast and melt", "SB", 1.0, 2.5),
    ("nitre", "S", 1.5, 2.0),
    ("iron", "S", None, 1.0),
    ("lead collection", "S", 1.5, 3.0),
])  # fmt: skip
def test_the_degree_of_a_route_names_its_convention(
    route: RouteName, convention: str, lo: float | None, hi: float | None
) -> None:
    degree = next(target for target in routes()[route].targets if target.key == "degree")
    assert (degree.convention, degree.lo, degree.hi, degree.hi_kind) == (convention, lo, hi, "wish")


def test_a_route_inherits_what_it_does_not_name() -> None:
    base = {target.key: target for target in routes()["roast and melt"].targets}
    for name in ("nitre", "iron", "lead collection"):
        own = {target.key: target for target in routes()[name].targets}
        assert set(base) <= set(own)
        assert all(own[key] == base[key] for key in base if key != "degree")


def test_musts_and_wishes_are_those_of_the_bench() -> None:
    base = {target.key: target for target in routes()["roast and melt"].targets}
    musts = {key for key, t in base.items() if t.hi is not None and t.hi_kind == "must"}
    musts |= {key for key, t in base.items() if t.lo is not None and t.lo_kind == "must"}
    assert musts == {
        "degree",
        "borate",
        "viscosity",
        "cap:ZnO",
        "cap:FeO",
        "cap:Na2O",
        "fluorspar",
        "cover",
        "loose_fill",
        "mould_fill",
    }
    assert base["basicity"].on is False
    assert base["mould_fill"].hi == 90.0
    assert base["mould_room"].hi == 67.0


def test_the_loose_fill_stays_under_the_two_thirds_that_a_caution_asks_for() -> None:
    loose = next(target for target in routes()["roast and melt"].targets if target.key == "loose_fill")
    assert loose.hi is not None
    assert 66.6 < loose.hi <= 200.0 / 3.0


def test_every_target_says_where_it_is_from_and_has_words_of_its_own() -> None:
    words = resources.toml("targets.toml")
    for route in routes().values():
        for target in route.targets:
            assert target.source, target.key
            assert target.key in words


def test_only_automatic_targets_are_left_without_ends() -> None:
    for route in routes().values():
        for target in route.targets:
            open_ended = target.lo is None and target.hi is None
            assert open_ended == (target.auto or target.key == "basicity"), target.key


def test_every_free_flux_and_every_driver_stands_on_a_new_shelf() -> None:
    shelf = {component.uid: component for component in shipped()}
    for route in routes().values():
        assert set(route.free) <= set(shelf)
        assert route.driver in route.free
        power = shelf[route.driver].lead_power
        assert (power > 0.0) == (route.driver_is == "reducer")


def test_nitre_and_litharge_are_kept_out_of_graphite() -> None:
    assert routes()["nitre"].pots == ("clay",)
    assert routes()["lead collection"].pots == ("clay",)


@pytest.mark.parametrize(("share", "wish"), [(0.0, 1.0), (0.5, 1.0), (0.65, 1.5), (0.8, 2.0), (0.95, 2.0)])
def test_a_dirty_charge_wants_two_parts_and_a_clean_one_one(share: float, wish: float) -> None:
    assert flux_to_ore_wish(share) == pytest.approx(wish)


def test_automatic_targets_follow_the_charge() -> None:
    assert automatic_ends("flux_to_ore", FACTS) == (pytest.approx(1.5), None)
    assert automatic_ends("soda_for_sulphur", FACTS) == (pytest.approx(5.0 * 3.306 * 1.2, rel=1e-3), None)
    assert automatic_ends("litharge_left", FACTS) == (pytest.approx(60.0), None)
    assert automatic_ends("lead_button", FACTS) == (pytest.approx(84.0), pytest.approx(96.0))


def test_every_automatic_target_has_its_rule() -> None:
    for route in routes().values():
        for target in route.targets:
            if target.auto:
                assert automatic_ends(target.key, FACTS)[0] is not None


def test_a_target_that_is_not_automatic_has_no_rule() -> None:
    with pytest.raises(KeyError):
        automatic_ends("degree", FACTS)


def test_every_route_tells_its_aims_and_brings_rules_that_there_are() -> None:
    rules = resources.toml("cautions.toml")
    states = {name: route.states for name, route in routes().items()}
    assert states == {
        "roast and melt": ("neutral",),
        "nitre": ("oxidising", "neutral"),
        "iron": ("reducing with iron",),
        "lead collection": ("reducing", "reducing with iron"),
    }
    for route in routes().values():
        assert 0.0 <= route.budget[0] < route.budget[1]
        assert route.cautions
        assert all(rule in rules for rule in route.cautions)
        assert route.pot_source
    assert [name for name, route in routes().items() if route.collects] == ["lead collection"]
