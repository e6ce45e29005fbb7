"""Seeded networks against networkx 3: longest paths forward and back, with lags, waits and the links of gangs."""

from __future__ import annotations

import random
from datetime import date, timedelta
from itertools import combinations
from typing import Any

import networkx
import pytest

from generator.lime.season import Calendar
from generator.programme.effects import with_gangs
from generator.programme.network import Activity, Id, Link, Network, Wait, Work
from generator.programme.schedule import Schedule, schedule
from generator.values import replace

EVERY_DAY = Calendar(7)
START = date(2027, 1, 4)
NETWORKS_NR = 1000


def random_network(seed: int, gangs: int) -> Network:
    """Up to 25 activities on a seven-day calendar, given in a shuffled order; some are waits, some have gangs."""
    draw = random.Random(seed)
    activities: list[Activity] = []
    for nr in range(draw.randint(1, 25)):
        before = draw.sample(activities, min(len(activities), draw.randint(0, 3)))
        links = tuple(Link(activity.id, draw.choice((0, 0, 0, 2, 9))) for activity in before)
        wait = draw.random() < 0.25
        takes = Wait(draw.randint(0, 21)) if wait else Work(draw.randint(1, 12), EVERY_DAY)
        gang = "" if wait or not gangs else draw.choice(("", "masonry", "plaster"))
        activities.append(Activity(f"{nr}", takes, links, gang, draw.choice("NSE") if gang else ""))
    draw.shuffle(activities)
    return Network(tuple(activities), {"masonry": max(1, gangs)})


def graph(found: Schedule) -> Any:
    """Nodes are the starts of activities, an arc the least days from start to start; from `in`, to `out`."""
    arcs = networkx.DiGraph()
    by_id = {activity.id: activity for activity in found.network.activities}
    gang_links = [(later, Link(earlier)) for earlier, later, _ in found.held.links]
    links = [(activity.id, link) for activity in by_id.values() for link in activity.after]
    for activity in by_id.values():
        arcs.add_edge("in", activity.id, weight=0)
        arcs.add_edge(activity.id, "out", weight=last_day(activity))
    for later, link in (*links, *gang_links):
        both_work = isinstance(by_id[link.after].takes, Work) and isinstance(by_id[later].takes, Work)
        days = last_day(by_id[link.after]) + max(link.wait_days, int(both_work))
        known = arcs.get_edge_data(link.after, later, {"weight": 0})["weight"]
        arcs.add_edge(link.after, later, weight=max(days, known))
    return arcs


def last_day(activity: Activity) -> int:
    """Days from its start to its finish: one fewer than worked, all of a wait and at least one."""
    days = activity.takes.days
    assert isinstance(days, int)
    return days - 1 if isinstance(activity.takes, Work) else max(1, days)


def longest_from(arcs: Any, node: Id) -> dict[Id, int]:
    """The longest path from a node to each other, by Bellman and Ford on the weights turned below zero."""
    turned = networkx.DiGraph()
    turned.add_weighted_edges_from((one, other, -days) for one, other, days in arcs.edges(data="weight"))
    return {id: -days for id, days in networkx.single_source_bellman_ford_path_length(turned, node).items()}


def check(found: Schedule) -> None:
    arcs = graph(found)
    early, back = longest_from(arcs, "in"), longest_from(arcs.reverse(), "out")
    assert (found.end - START).days == networkx.dag_longest_path_length(arcs) == early["out"]
    for id, dates in found.dates.items():
        assert (dates.early_start - START).days == early[id]
        assert (dates.late_start - START).days == early["out"] - back[id]
        assert dates.total_float_days == early["out"] - back[id] - early[id]
        slips = [early[later] - early[id] - arcs[id][later]["weight"] for later in arcs[id] if later != "out"]
        assert dates.free_float_days == min(slips, default=early["out"] - early[id] - arcs[id]["out"]["weight"])
    chain = [id for id, _ in found.chain()]
    assert all(found.dates[id].total_float_days == 0 for id in chain)  # every day is worked: no weekend in it
    assert (
        sum(arcs[one][other]["weight"] for one, other in zip(("in", *chain), (*chain, "out"), strict=True))
        == (early["out"])
    )


def check_network(seed: int) -> None:
    """Half of the networks have gangs, one or two of the first trade."""
    check(schedule(random_network(seed, gangs=seed % 2 * (1 + seed // 2 % 2)), START))


def test_random_networks_have_the_dates_floats_and_chains_of_longest_paths() -> None:
    for seed in range(0, NETWORKS_NR, 5):
        check_network(seed)


@pytest.mark.slow
def test_a_thousand_random_networks_have_the_dates_floats_and_chains_of_longest_paths() -> None:
    for seed in range(NETWORKS_NR):
        check_network(seed)


def test_on_walls_that_share_a_face_no_two_are_worked_on_at_once_also_where_some_work_is_put_last() -> None:
    for seed in range(1, 400, 2):
        network = random_network(seed, gangs=1 + seed // 2 % 2)
        shared = [replace(one, face="face" if one.place in ("N", "S") else "") for one in network.activities]
        found = schedule(Network(tuple(shared), network.gangs), START)
        check(found)
        job, order, _ = found.dates.reckoned
        worked = [number for number, one in enumerate(shared) if one.face]
        put_last = order.putting_last(job.frame, set(worked[:2]))
        for passed in (job.early(order), job.early(put_last)):
            for one, other in combinations(worked, 2):
                if shared[one].place != shared[other].place:
                    apart = (passed.finishes[a] < passed.starts[b] for a, b in ((one, other), (other, one)))
                    assert any(apart), (seed, shared[one].id, shared[other].id)


def test_a_further_gang_comes_to_the_same_as_if_every_way_of_using_fewer_were_tried_again() -> None:
    for seed in range(60):
        network = random_network(seed, 1)
        planned = schedule(network, START, START + timedelta(20))
        for trade in ("masonry", "plaster"):
            found = with_gangs(planned, trade, 2)
            anew = schedule(found.network, START, planned.completion)
            best = min((planned.short_days, planned.end), (anew.short_days, anew.end))
            assert (found.short_days, found.end) == best, (seed, trade)
