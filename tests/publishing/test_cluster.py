"""A cluster of two worker processes that share no folder with us: the same pages, and none is lost with its worker."""

import os
import signal
import warnings
from collections.abc import Iterator
from pathlib import Path

import pytest

from reportgen.publishing.cluster import ClusterError
from reportgen.publishing.options import PublishOptions
from reportgen.publishing.publish import Reporting, publish
from tests.publishing.conftest import Small
from tests.publishing.small import PETRA, change_sheet, contents, reportgen

pytestmark = pytest.mark.filterwarnings("ignore")  # what the cluster's own libraries warn of is theirs

distributed = pytest.importorskip("distributed")
dask = pytest.importorskip("dask")
GIVEN_UP = {"distributed.comm.timeouts.connect": "5s"}
"""How long somebody tries to reach a worker of whose end nobody has heard yet; it is 30 s by default."""


@pytest.fixture(scope="module")
def cluster() -> Iterator["distributed.LocalCluster"]:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        with (
            dask.config.set(GIVEN_UP),
            distributed.LocalCluster(
                n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None, silence_logs=50
            ) as started,
        ):
            yield started


def test_the_cluster_makes_what_is_made_here(small: Small, cluster: "distributed.LocalCluster") -> None:
    before = contents(small.site)
    publish(small.academy, small.site, PublishOptions(cluster=cluster.scheduler_address, afresh=True))
    assert contents(small.site) == before


def test_a_worker_that_is_killed_loses_nothing(
    small: Small, cluster: "distributed.LocalCluster", tmp_path: Path
) -> None:
    """It is killed when the first student is made, while it works on the other or waits."""
    change_sheet(small.academy, PETRA)
    victims = [worker.pid for worker in cluster.workers.values()]

    def kill(done: int, of: int) -> None:
        if victims and done == 0:
            os.kill(victims.pop(), signal.SIGKILL)

    publish(
        small.academy,
        small.site,
        PublishOptions(cluster=cluster.scheduler_address, afresh=True),
        reporting=Reporting(progress=kill),
    )
    publish(small.academy, tmp_path / "here")
    assert contents(small.site) == contents(tmp_path / "here")


def test_no_cluster_at_the_address(small: Small, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("reportgen.publishing.cluster.PATIENCE", "1s")
    before = contents(small.site)
    change_sheet(small.academy, PETRA)
    result = reportgen("publish", small.academy, "--to", small.site, "--cluster", "tcp://127.0.0.1:9")
    assert result.exit_code == 2
    assert "There is no cluster at tcp://127.0.0.1:9" in result.stderr
    assert contents(small.site) == before


def test_another_version_on_the_cluster_is_refused(
    small: Small, cluster: "distributed.LocalCluster", monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("reportgen.publishing.digests.__version__", "0.0.1")
    change_sheet(small.academy, PETRA)
    with pytest.raises(ClusterError, match="would make other pages"):
        publish(small.academy, small.site, PublishOptions(cluster=cluster.scheduler_address))
