import pytest

from stairguard.relations.declared import DECLARED
from stairguard.relations.printed.catalogue import RELATIONS

# Names that other programs may rely on: the contract's own list.
CONTRACT = {
    "step-sphere": ["rise", "run", "nosing", "lift", "sphere"],
    "rail-meets-top": ["rise", "run", "flight_height", "landing_height", "station"],
    "rail-meets-bottom": ["rise", "run", "flight_height", "landing_height", "station"],
    "half-turn": ["run", "lower", "upper"],
    "bend": ["pitch_in", "pitch_out", "turn", "bend"],
}


@pytest.mark.parametrize("name", CONTRACT)
def test_contract_names_and_symbols(name: str) -> None:
    assert [symbol.name for symbol in RELATIONS[name].symbols] == CONTRACT[name]


@pytest.mark.parametrize("name", DECLARED)
def test_equation_mentions_exactly_the_declared_symbols(name: str) -> None:
    relation = DECLARED[name]
    assert relation.equation.free_symbols == {item.symbol for item in relation.symbols}


@pytest.mark.parametrize("name", DECLARED)
def test_every_relation_says_what_it_means_where_it_holds_and_whence(name: str) -> None:
    info = RELATIONS[name]
    assert info.title
    assert info.validity
    assert info.source
    assert all(symbol.meaning for symbol in info.symbols)


def test_each_function_has_a_name_of_its_own_and_is_listed_by_its_relation() -> None:
    closed = [closed.function for relation in DECLARED.values() for closed in relation.closed]
    assert len(closed) == len(set(closed))
    for name, relation in DECLARED.items():
        first, *rest = (closed.function for closed in relation.closed)
        assert list(RELATIONS[name].functions) == [first, f"{first}_partials", *rest]
