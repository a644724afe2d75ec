"""The wheel holds exactly the rules and schemas of the tree, and serves them from another folder."""

from __future__ import annotations

import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("dist")
    subprocess.run(
        [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(folder), str(ROOT)],
        check=True, capture_output=True,
    )  # fmt: skip
    return next(folder.glob("*.whl"))


def test_rules_and_schemas_of_the_wheel_are_those_of_the_tree(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    for folder in ("rules", "schemas"):
        tree = {
            f"advisor/_data/{path.relative_to(ROOT).as_posix()}"
            for path in (ROOT / folder).rglob("*")
            if path.suffix in (".yaml", ".json")
        }
        assert tree == {name for name in names if name.startswith(f"advisor/_data/{folder}/")}
    assert "advisor/demo/coolant-tank.yaml" in names


def test_the_unpacked_wheel_answers_from_another_folder(wheel: Path, tmp_path: Path) -> None:
    zipfile.ZipFile(wheel).extractall(tmp_path / "site")
    code = (
        f"import sys; sys.path.insert(0, {str(tmp_path / 'site')!r}); "
        "sys.argv = ['prestrike', 'setup', '--metal', '304', '--thickness', '2 mm', '--joint', 'butt', '--brief']; "
        "import advisor; assert 'site' in advisor.__file__; from advisor.cli.main import run; run()"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code], cwd=tmp_path, capture_output=True, text=True, check=False,
        env={"PRESTRIKE_CACHE": str(tmp_path / "cache"), "PATH": "", "HOME": str(tmp_path)},
    )  # fmt: skip
    assert ran.returncode == 0, ran.stderr
    assert "Current" in ran.stdout
