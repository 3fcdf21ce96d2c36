"""The kernel in hand: handed out where it fits, hidden until then, loaded with what lessons load, and never needed."""

import asyncio

import pytest

from latheworks import ready_kernel
from latheworks.ready_kernel import ReadyKernels


@pytest.fixture
def run(tmp_path):
    """Run something with a keeper of kernels over a folder with another in it; all kernels end with it."""

    def run_it(what):
        async def inside():
            keeper = ReadyKernels(root_dir=str(tmp_path))
            try:
                return await what(keeper)
            finally:
                await keeper.shutdown_all(now=True)

        (tmp_path / "homework").mkdir()
        return asyncio.run(inside())

    return run_it


async def say(keeper, kernel_id, code):
    """What a kernel prints when it runs this, and the number it gives the cell."""
    client = keeper.get_kernel(kernel_id).client()
    client.start_channels()
    try:
        await client.wait_for_ready(timeout=60)
        said = []
        reply = await client.execute_interactive(code, timeout=60, output_hook=lambda message: said.append(message))
    finally:
        client.stop_channels()
    assert reply["content"]["status"] == "ok", reply["content"]
    texts = [message["content"]["text"] for message in said if message["msg_type"] == "stream"]
    return "".join(texts), reply["content"]["execution_count"]


def test_it_is_hidden_then_handed_out_to_a_notebook_beside_the_lessons(run, monkeypatch):
    monkeypatch.setattr(ready_kernel, "PAUSE", 0.01)

    async def work(keeper):
        assert keeper.default_kernel_name
        await keeper.make_ready()
        first = keeper.in_hand
        await keeper.make_ready()
        assert keeper.in_hand == first
        assert keeper.list_kernels() == []
        assert len(keeper.list_kernel_ids()) == 1
        assert await keeper.start_kernel(path="", kernel_name=keeper.default_kernel_name) == first
        assert [kernel["id"] for kernel in keeper.list_kernels()] == [first]
        # The next one is made a while later, by itself.
        for _ in range(1000):
            await asyncio.sleep(0.01)
            if keeper.in_hand:
                break
        assert keeper.in_hand not in ("", first)
        assert len(keeper.list_kernels()) == 1

    run(work)


def test_it_has_loaded_what_lessons_load_and_left_no_trace(run):
    code = "import sys; print('latheworks.widgets' in sys.modules, [n for n in dir() if n[0] != '_'])"

    async def work(keeper):
        await keeper.make_ready()
        ready = await keeper.start_kernel(path="")
        usual = await keeper.start_kernel(path="homework")
        return ready, usual, await say(keeper, ready, code), await say(keeper, usual, code)

    ready, usual, (said, count), (said_usual, count_usual) = run(work)
    assert ready != usual
    assert said.startswith("True ")
    # The same names, the same first number, as a kernel that nobody prepared.
    assert said.removeprefix("True ") == said_usual.removeprefix("False ")
    assert count == count_usual == 1


@pytest.mark.parametrize("asked", [{"path": "homework"}, {"kernel_id": "a-name-of-its-own", "path": ""}, {}])
def test_whoever_asks_for_something_else_gets_a_new_one(run, asked):
    async def work(keeper):
        await keeper.make_ready()
        other = await keeper.start_kernel(**asked)
        assert other != keeper.in_hand
        assert keeper.in_hand in keeper
        assert [kernel["id"] for kernel in keeper.list_kernels()] == [other]

    run(work)


def test_one_that_died_in_hand_is_not_handed_out(run):
    async def work(keeper):
        await keeper.make_ready()
        dead = keeper.in_hand
        await keeper.shutdown_kernel(dead, now=True)
        fresh = await keeper.start_kernel(path="")
        assert fresh != dead
        assert fresh in keeper

    run(work)
