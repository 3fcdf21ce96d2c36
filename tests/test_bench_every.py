"""What holds for every bench: demonstration settings beside a kept one, and the way back to the opening settings."""

import pytest

from latheworks.pictures.style import Look
from latheworks.widgets import bench as bench_module
from latheworks.widgets import display_system
from tests.benches import MAKERS


@pytest.fixture(autouse=True)
def _closed(monkeypatch):
    monkeypatch.setattr(bench_module, "STRICT", True)
    yield
    for bench in list(bench_module._open):
        bench.close()
    display_system.system = "metric"


@pytest.mark.parametrize("system", ["metric", "inch"])
@pytest.mark.parametrize("kind", MAKERS)
def test_demonstrations_beside_a_kept_setting_and_start_again(kind, system):
    display_system.system = system
    bench = MAKERS[kind]()
    opening = {name: item.value for name, item in bench.controls.items()}
    picture = bench._main.value
    bench.keep()
    for name in bench.demonstrations():
        bench.demo(name)
        assert not bench.error, name
        assert "kept" in bench.alt.lower()
        # What was moved is what would be drawn from nothing.
        fresh = bench.picture_class(Look(system)).show(bench.picture_data, bench._kept)
        assert fresh.png == bench.shown.png, name
    bench.start_again()
    assert {name: item.value for name, item in bench.controls.items()} == opening
    assert bench._main.value == picture
