"""Fixtures that several rooms share, none used without being asked for; and how much a run tries."""

from __future__ import annotations

import gc
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings
from read_once import remember

ROOT = Path(__file__).resolve().parent.parent
FORKING = {"killed_at", "at_once", "multiprocessing"}
"""What a module of tests has that forks."""
SELDOM = (20_000, 20, 50)
"""How seldom garbage is searched for: so much is held for long that the search took an eighth of a run."""

# The same examples in every run, so that nothing fails by chance; more of them where the slow tests run too.
settings.register_profile("usual", derandomize=True, deadline=None, max_examples=25)
settings.register_profile("whole", derandomize=True, deadline=None, max_examples=150)


def pytest_configure(config: pytest.Config) -> None:
    """Takes few examples where slow tests are left out, and many where they are not."""
    if not config.getoption("--hypothesis-profile"):
        settings.load_profile("usual" if "not slow" in config.option.markexpr else "whole")
    gc.set_threshold(*SELDOM)


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """In a whole run, files whose tests fork come first, while little is held that a fork copies; then the largest."""
    if config.args == config.getini("testpaths"):
        count = Counter(item.path for item in items)
        items.sort(key=lambda item: (not _forks(item), -count[item.path], str(item.path)))


def _forks(item: pytest.Item) -> bool:
    return isinstance(item, pytest.Function) and not FORKING.isdisjoint(vars(item.module))


def pytest_collection_finish() -> None:
    """What has been imported and collected stays to the end, and no search for garbage need walk it again."""
    gc.freeze()


def pytest_xdist_auto_num_workers(config: pytest.Config) -> int | None:
    """No workers for a run of a few files, which is over before they have begun; else one for each processor."""
    return None if config.args == config.getini("testpaths") else 0


@pytest.fixture(scope="session", autouse=True)
def nothing_is_kept(tmp_path_factory: pytest.TempPathFactory) -> None:
    """Keeps no library in the package: a test may have changed what read it."""
    from generator.library import prepared

    pytest.MonkeyPatch().setattr(prepared, "KEPT", tmp_path_factory.mktemp("kept") / "library.pickle")


@pytest.fixture(scope="session", autouse=True)
def files_of_a_library_are_read_once() -> Iterator[None]:
    """Most tests that read a library read the shipped one with little changed: the rest is remembered by its bytes."""
    with pytest.MonkeyPatch.context() as patch:
        remember(patch)
        yield


@pytest.fixture(scope="session")
def shipped_clauses() -> Path:
    """The folder of the shipped clause library, in this checkout."""
    return ROOT / "clauses"


@pytest.fixture(scope="session")
def toll_house() -> Path:
    """The answers of the invented toll house."""
    return ROOT / "examples" / "toll-house" / "answers.yaml"
