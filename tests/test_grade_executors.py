"""The same folder on this process, on threads, on a pool of processes and on a Dask cluster: the same rows."""

import multiprocessing
import os
import pickle
from concurrent.futures import Future, ProcessPoolExecutor, ThreadPoolExecutor

import pytest

from latheworks.course import grade, grade_judge
from latheworks.plan import barrel_plan
from latheworks.shop import lathe, rack
from latheworks.units import Q_
from tests.grade_class import COURSE, answers, entry, hand_in, taught, teach

KEYS = ("ana-7", "ben-2", "cy", "dora", "eli")
FORK = multiprocessing.get_context("fork") if "fork" in multiprocessing.get_all_start_methods() else None


@pytest.fixture(scope="module", autouse=True)
def lesson():
    with taught():
        yield


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """A class with good, slipping and damaged files, more than one parcel of them."""
    place = tmp_path_factory.mktemp("in")
    for key in KEYS:
        hand_in(place, key)
    for number in range(20):
        key = f"s{number:02}"
        hand_in(place, key, {"x9.size": answers(key)["x9.size"] if number % 2 else entry("3 mm")})
    (place / "bad.json").write_text("{")
    (place / "Bad.json").write_text("{")
    return place


def graded(folder, executor=None, **more):
    return grade(folder, executor, assignment="x9", course=COURSE, roster={"ana-7": "team-3", "ben-2": None,
    "zoe": None},
                 **more)  # fmt: skip


@pytest.fixture(scope="module")
def alone(folder):
    return graded(folder)


def test_threads_and_processes_give_equal_rows(folder, alone):
    assert len(alone.rows) == len(KEYS) + 20 + 2 + 1
    assert {row.code for row in alone.rows} == {"graded", "not whole", "odd name", "no file"}
    with ThreadPoolExecutor(3) as pool:
        assert graded(folder, pool) == alone
    with ProcessPoolExecutor(2, initializer=teach) as pool:
        assert graded(folder, pool) == alone


def test_processes_that_start_afresh_get_lathe_and_rack_with_their_units(folder, alone):
    """A worker that inherits nothing gets the instructor's lathe and rack."""
    fresh = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(1, mp_context=fresh, initializer=teach) as pool:
        assert graded(folder, pool, lathe=lathe(), rack=rack()) == alone


def test_what_comes_out_of_another_process_reckons_with_what_is_here():
    """The way to a worker and back: a stock registry's quantity could not even be compared with one of ours."""
    sent = pickle.loads(pickle.dumps((lathe(), barrel_plan(), Q_([1.0, 2.0], "mm/rev"))))
    assert sent[0].fastest_spindle + Q_(1.0, "rpm") > lathe().fastest_spindle
    assert sent[:2] == (lathe(), barrel_plan())
    assert (sent[2] == Q_([1.0, 2.0], "mm/rev")).all()


def test_a_dask_cluster_gives_equal_rows(folder, alone):
    """A small cluster on this machine's loopback."""
    import distributed  # late: it takes seconds, and the other tests do without

    with distributed.LocalCluster(n_workers=2, threads_per_worker=1, host="127.0.0.1", dashboard_address=None,
                                  silence_logs=50) as cluster, distributed.Client(cluster) as client:  # fmt: skip
        assert all(address.startswith("tcp://127.0.0.1:") for address in client.scheduler_info()["workers"])
        client.run(teach)
        with client.get_executor() as pool:
            assert graded(folder, pool) == alone


def test_workers_get_no_course_key(folder):
    seen = []

    class Watched(ThreadPoolExecutor):
        def submit(self, job, *given):
            seen.append(repr(given))
            return super().submit(job, *given)

    with Watched(1) as pool:
        graded(folder, pool)
    assert len(seen) > 2
    assert not any(COURSE in given for given in seen)
    assert any("group:team-3:" in given for given in seen)


def test_no_more_than_a_few_parcels_are_on_their_way(folder, monkeypatch):
    from latheworks.course.grade import grade as function

    module = __import__("sys").modules[function.__module__]
    monkeypatch.setattr(module, "AHEAD", 2)
    monkeypatch.setattr(module, "FILES", 1)
    waiting, most = set(), []

    class Slow:
        """Does the work only when the result is asked for."""

        def submit(self, job, asked, parcel):
            waiting.add(parcel[0].place)
            most.append(len(waiting))
            late = Future()
            late.result = lambda timeout=None: waiting.discard(parcel[0].place) or job(asked, parcel)
            return late

    graded(folder, Slow())
    assert max(most) == 2
    assert not waiting


@pytest.mark.skipif(FORK is None, reason="workers that inherit a changed function need fork")
def test_a_worker_that_dies_costs_its_parcel_and_no_row(folder, alone, monkeypatch):
    def dies(asked, handed):
        if handed.student == "cy":
            os._exit(1)
        return real(asked, handed)

    real = grade_judge.judge_file
    monkeypatch.setattr(grade_judge, "judge_file", dies)
    with ProcessPoolExecutor(1, mp_context=FORK) as pool:
        grades = graded(folder, pool)
    assert [(row.student, row.place) for row in grades.rows] == [(row.student, row.place) for row in alone.rows]
    states = {row.student: row.code for row in grades.rows}
    assert states["cy"] == "grader stopped"
    assert all(row.score == 0.0 for row in grades.rows if row.code == "grader stopped")


@pytest.mark.parametrize("answer", [None, [], "rows", 5, RuntimeError("secret")])
def test_an_executor_that_answers_nonsense_costs_points_and_no_row(folder, alone, answer):
    class Odd:
        def submit(self, *_):
            late = Future()
            late.set_exception(answer) if isinstance(answer, Exception) else late.set_result(answer)
            return late

    class Refuses:
        def submit(self, *_):
            raise RuntimeError("secret")

    for pool in (Odd(), Refuses()):
        grades = graded(folder, pool)
        assert [row.place for row in grades.rows] == [row.place for row in alone.rows]
        assert {row.code for row in grades.rows} == {"grader stopped", "odd name", "no file"}
        assert "secret" not in repr(grades.rows)
