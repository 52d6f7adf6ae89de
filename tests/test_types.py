"""The TypeScript types are those of the models: made from them, and never left behind."""

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest
from plytide import bodies

WEB = Path(__file__).parents[1] / "web"


@pytest.fixture(scope="module")
def made() -> ModuleType:
    """web/make_types.py as a module."""
    spec = importlib.util.spec_from_file_location("make_types", WEB / "make_types.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_entry_types_follow_the_entry_models(made: ModuleType) -> None:
    assert (WEB / "src/log/kinds.ts").read_text() == made.kinds_ts(), "run python web/make_types.py"


def test_summary_types_follow_the_shape_of_the_summary(made: ModuleType) -> None:
    assert (WEB / "src/log/summary.ts").read_text() == made.summary_ts(), "run python web/make_types.py"


def test_every_kind_and_every_field_is_there(made: ModuleType) -> None:
    text = made.kinds_ts()
    for kind, model in bodies.BODIES.items():
        assert f"\n  {kind}: " in text
        block = text.split(f"{model.__name__.rstrip('_')}Body ", 1)[1].split("\n}\n", 1)[0]
        for name in model.model_fields:
            assert f"\n  {name}" in block, f"{kind}.{name}"


def test_a_changed_model_changes_the_types(made: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    class Comfort(bodies.Comfort):
        mood: int = 0

    before = made.kinds_ts()
    monkeypatch.setitem(bodies.BODIES, "comfort", Comfort)
    assert made.kinds_ts() != before


def test_a_form_without_a_typescript_type_is_not_passed_over(made: ModuleType) -> None:
    with pytest.raises(ValueError, match="no TypeScript form"):
        made._type({"type": "object"})
