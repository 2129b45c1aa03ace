"""Where plans live, and which plans are demonstrations."""

import shutil
from pathlib import Path

import pytest

from wizard import locations


def test_in_a_checkout_plans_live_in_its_saved_plans(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(root)
    assert locations.plans_folder() == root / "saved_plans"


def test_elsewhere_plans_live_in_the_folder_for_user_data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("platformdirs.user_data_path", lambda name, **_: tmp_path / "data" / name)
    assert locations.plans_folder() == tmp_path / "data" / "shaftlog" / "plans"
    assert list(tmp_path.iterdir()) == []


def test_an_installed_package_brings_its_demonstrations_which_are_never_edited_in_place(
    root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As a wheel lays them out: no checkout around the package, the demonstrations inside it."""
    package = tmp_path / "site-packages" / "wizard"
    (package / "demonstrations").mkdir(parents=True)
    for name in locations.DEMONSTRATIONS:
        shutil.copy(root / "saved_plans" / name, package / "demonstrations")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(locations, "__file__", str(package / "locations.py"))
    monkeypatch.setattr(locations, "CHECKOUT", package.parent)
    found = locations.demonstrations()
    assert [path.name for path in found] == list(locations.DEMONSTRATIONS)
    assert all(path.parent == package / "demonstrations" for path in found)
    assert all(map(locations.is_demonstration, found))
    copied = tmp_path / "bittern.toml"
    shutil.copy(found[0], copied)
    assert not locations.is_demonstration(copied)
