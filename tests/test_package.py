"""The package in each way that people install it: the same commands, the same papers, and no junk.

No network: fresh environments see the libraries of the one that runs the tests, but not its Gaugebox.
"""

from __future__ import annotations

import csv
import hashlib
import os
import shutil
import subprocess
import sys
import sysconfig
import tarfile
import venv
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import pytest
from helpers import slow_but

from generator import __version__

ROOT = Path(__file__).resolve().parent.parent
PAPERS = ("mix-schedule.docx", "pricing-schedule.xlsx", "record.json", "specification.docx")
SHIPPED = ("clauses", "generator", "templates")
# What editors, office programs, file managers and Python leave beside the files that people wrote.
JUNK = (
    "templates/~$base.docx",
    "templates/.~lock.base.docx#",
    "clauses/.DS_Store",
    "clauses/Thumbs.db",
    "clauses/parts/.05-materials.yaml.swp",
    "clauses/parts/05-materials.yaml~",
    "clauses/parts/05-materials.yaml.orig",
    "generator/__pycache__/cli.cpython-311.pyc",
    "generator/decide/__pycache__/rules.cpython-311.pyc",
    "generator/library/__pycache__/library.cpython-311.pickle",
)
# What must not matter to the bytes.
SURROUNDINGS = (
    {"PYTHONHASHSEED": "0", "TZ": "UTC", "LANG": "C"},
    {"PYTHONHASHSEED": "1", "TZ": "Asia/Tokyo", "LANG": "de_DE.UTF-8"},
    {"PYTHONHASHSEED": "4242", "TZ": "America/St_Johns", "LANG": "C.UTF-8"},
)
WAYS = ("plain", "editable", "sdist")
SCRIPTS = "Scripts" if os.name == "nt" else "bin"

pytestmark = pytest.mark.install


@dataclass(frozen=True)
class Trees:
    """A clean copy of the checkout, what is shipped of it, the same with junk, and a home for installers."""

    clean: Path
    shipped: frozenset[str]
    littered: Path
    libraries: Path
    home: Path


@dataclass(frozen=True)
class Installed:
    """An environment into which the package was installed in one of the ways."""

    way: str
    folder: Path

    @property
    def python(self) -> Path:
        return self.folder / SCRIPTS / "python"

    @property
    def packages(self) -> Path:
        return Path(sysconfig.get_path("purelib", vars={"base": str(self.folder), "platbase": str(self.folder)}))


def run(command: Sequence[str | Path], cwd: Path, **more: str) -> str:
    """What a command prints, run with nothing of this environment but the path to system programs."""
    environment = {"PATH": os.environ.get("PATH", ""), "PYTHONDONTWRITEBYTECODE": "1", **more}
    done = subprocess.run(command, cwd=cwd, env=environment, capture_output=True, text=True, timeout=120)
    assert done.returncode == 0, f"{command}\n{done.stdout}\n{done.stderr}"
    return done.stdout


def digests(folder: Path) -> dict[str, str]:
    """The digest of every file of a folder by name."""
    return {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in sorted(folder.iterdir())}


def files_in(folder: Path, *tops: str) -> frozenset[str]:
    """The files below some folders of a folder, by path."""
    found = (path for top in tops for path in (folder / top).rglob("*") if path.is_file())
    return frozenset(path.relative_to(folder).as_posix() for path in found)


def carried(shipped: frozenset[str]) -> frozenset[str]:
    """Where an installed package holds what is shipped: the data folders lie inside it."""
    return frozenset(name if name.startswith("generator/") else f"generator/_data/{name}" for name in shipped)


def libraries_of_this_environment(folder: Path) -> Path:
    """A folder of links to every library that runs these tests, without any Gaugebox among them."""
    folder.mkdir()
    for where in dict.fromkeys((sysconfig.get_path("purelib"), sysconfig.get_path("platlib"))):
        for entry in Path(where).iterdir():
            ours = entry.name == "generator" or entry.name.lower().lstrip("_").startswith("gaugebox")
            if not ours and entry.suffix != ".pth":
                (folder / entry.name).symlink_to(entry)
    return folder


@pytest.fixture(scope="module")
def trees(tmp_path_factory: pytest.TempPathFactory) -> Trees:
    top = tmp_path_factory.mktemp("package")
    clean, littered = top / "clean", top / "littered"
    left_out = shutil.ignore_patterns(
        ".git", ".venv", "__pycache__", ".*_cache", ".hypothesis", "*.egg-info", "build", "dist"
    )
    shutil.copytree(ROOT, clean, ignore=left_out)
    shutil.rmtree(clean / "papers", ignore_errors=True)  # what the README's first command wrote, and no room
    for name in JUNK:
        (clean / name).unlink(missing_ok=True)
    shutil.copytree(clean, littered)
    for name in JUNK:
        (littered / name).parent.mkdir(exist_ok=True)
        (littered / name).write_bytes(b"junk")
    (top / "home").mkdir()
    return Trees(clean, files_in(clean, *SHIPPED), littered, libraries_of_this_environment(top / "lib"), top / "home")


@pytest.fixture(scope="module")
def sdist(trees: Trees) -> Path:
    """The source distribution, built from the littered tree."""
    out = trees.home.parent / "sdist"
    run(
        [sys.executable, "-m", "hatchling", "build", "-t", "sdist", "-d", out],
        trees.littered,
        HOME=str(trees.home),
    )
    (found,) = out.iterdir()
    return found


@pytest.fixture(scope="module", params=slow_but(1, WAYS))
def installed(request: pytest.FixtureRequest, trees: Trees, tmp_path_factory: pytest.TempPathFactory) -> Installed:
    """A fresh environment with the package installed one way, from the littered tree."""
    way = request.param
    made = Installed(way, tmp_path_factory.mktemp(way) / "venv")
    venv.create(made.folder, with_pip=False, symlinks=os.name != "nt")
    (made.packages / "libraries.pth").write_text(f"{trees.libraries}\n", encoding="utf-8")
    source = request.getfixturevalue("sdist") if way == "sdist" else trees.littered
    run(
        [made.python, "-m", "pip", "install", "-q", "--no-index", "--no-deps", "--no-build-isolation",
         "--no-compile", "--disable-pip-version-check", *(["-e"] if way == "editable" else []), source],
        made.folder, HOME=str(trees.home),
    )  # fmt: skip
    return made


@pytest.fixture(scope="module")
def expected(trees: Trees) -> Mapping[str, str]:
    """The digests of the example's papers, written straight from a checkout that is not installed."""
    out = trees.home.parent / "from-checkout"
    write: tuple[str | Path, ...] = (sys.executable, "-m", "generator", "write", answers(trees.clean), "--out", out)
    run(write, trees.home, PYTHONPATH=str(trees.clean))
    return digests(out)


def answers(tree: Path) -> Path:
    return tree / "examples" / "toll-house" / "answers.yaml"


def commands(made: Installed) -> Iterator[list[str | Path]]:
    """The two ways to start an installed Gaugebox."""
    yield [made.python, "-I", "-m", "generator"]
    yield [made.folder / SCRIPTS / "gaugebox"]


def test_a_checkout_writes_the_example_without_being_installed(expected: Mapping[str, str]) -> None:
    assert tuple(expected) == PAPERS


def test_every_way_of_starting_writes_the_same_bytes_whatever_surrounds_it(
    installed: Installed, trees: Trees, expected: Mapping[str, str], tmp_path: Path
) -> None:
    home = tmp_path / "home"
    home.mkdir()
    surroundings = {"HOME": str(home), **SURROUNDINGS[WAYS.index(installed.way)]}
    for number, command in enumerate(commands(installed)):
        out = tmp_path / f"papers{number}"
        run([*command, "write", answers(trees.clean), "--out", out], tmp_path, **surroundings)
        assert digests(out) == expected
    assert list(home.iterdir()) == []


def test_what_was_installed_calls_itself_by_the_version_that_the_program_tells(
    installed: Installed, tmp_path: Path
) -> None:
    code = "from importlib.metadata import version; print(f'gaugebox {version(\"gaugebox\")}')"
    assert run([installed.python, "-I", "-c", code], tmp_path) == f"gaugebox {__version__}\n"
    for command in commands(installed):
        assert run([*command, "--version"], tmp_path) == f"gaugebox {__version__}\n"


def test_the_library_read_is_the_one_installed(installed: Installed, trees: Trees, tmp_path: Path) -> None:
    code = "from generator.library.locate import shipped; print(shipped('clauses', 'library.yaml'))"
    found = Path(run([installed.python, "-I", "-c", code], tmp_path).strip())
    inside = installed.packages / "generator" / "_data" / "clauses"
    wanted = trees.littered / "clauses" if installed.way == "editable" else inside
    assert found.resolve() == wanted.resolve()


def test_an_installation_holds_what_is_shipped_and_nothing_else(installed: Installed, trees: Trees) -> None:
    (record,) = installed.packages.glob("gaugebox-*.dist-info/RECORD")
    listed = {row[0] for row in csv.reader(record.read_text(encoding="utf-8").splitlines())}
    held = {name for name in listed if not name.startswith((record.parent.name, ".."))}
    if installed.way == "editable":  # only the way to the checkout
        assert [Path(name).suffix for name in held] == [".pth"]
    else:
        assert held == carried(trees.shipped)


def test_the_face_that_letters_the_drawings_comes_with_its_licence(installed: Installed, tmp_path: Path) -> None:
    code = "from generator.drawing.text import face_file; print(face_file(False).parent)"
    folder = Path(run([installed.python, "-I", "-c", code], tmp_path).strip())
    held = {path.name for path in folder.iterdir()}
    assert held == {"LICENSE", "LiberationSans-Bold.ttf", "LiberationSans-Regular.ttf"}


def test_a_source_distribution_holds_all_that_building_and_testing_need_and_no_junk(sdist: Path, trees: Trees) -> None:
    with tarfile.open(sdist) as archive:
        names = {name.partition("/")[2] for name in archive.getnames()}
    assert not names & set(JUNK)
    assert names >= trees.shipped
    assert names >= files_in(trees.clean, "tests", "examples")
    assert names >= {"README.md", "DEVELOPERS.md", "pyproject.toml"}


def test_a_package_without_its_library_says_what_is_missing_and_where_it_looked(trees: Trees, tmp_path: Path) -> None:
    shutil.copytree(trees.clean / "generator", tmp_path / "generator")
    done = subprocess.run(
        [sys.executable, "-m", "generator", "check", answers(trees.clean)],
        cwd=trees.home, env={"PATH": os.environ.get("PATH", ""), "PYTHONPATH": str(tmp_path)},
        capture_output=True, text=True, timeout=120,
    )  # fmt: skip
    assert done.returncode == 1
    assert "the shipped 'clauses' folder is missing" in done.stderr
    assert str(tmp_path / "clauses") in done.stderr
    assert "Traceback" not in done.stderr
