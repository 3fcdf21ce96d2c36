"""A kernel made ready while the page is still coming up, so that the first picture of a lesson need not wait for it."""

from typing import Any

from jupyter_server.services.kernels.kernelmanager import AsyncMappingKernelManager
from tornado.ioloop import IOLoop

# Run by the kernel before it takes its first cell; it leaves no name behind and says nothing.
_LOADING = "--IPKernelApp.exec_lines=__import__('latheworks.widgets');"
# After a kernel is handed out its page needs the machine; the next one is made when that page should be done [s].
PAUSE = 20.0


class ReadyKernels(AsyncMappingKernelManager):
    """The usual keeper of kernels, with one in hand that has loaded what every lesson loads.

    JupyterLab is told of it by `latheworks.opening`. The one in hand runs in the folder of the lessons; a notebook
    of another folder or another kind of kernel gets a new one, as usual. Until it is handed out it is not listed.
    """

    in_hand = ""

    async def make_ready(self) -> None:
        """Start the kernel that the next notebook gets."""
        if self.in_hand not in self:
            self.in_hand = await super().start_kernel(path="", extra_arguments=[_LOADING])  # type: ignore[arg-type]

    async def start_kernel(self, *, kernel_id: Any = None, path: Any = None, **told: Any) -> str:  # type: ignore[override]
        """Hand out the kernel in hand where it fits what is asked for, else start one; return its id."""
        ready = self.in_hand
        usual = told.get("kernel_name") in (None, "", self.default_kernel_name)
        here = path is not None and self.cwd_for_path(path) == self.cwd_for_path("")
        if ready not in self or kernel_id is not None or not usual or not here:
            return await super().start_kernel(kernel_id=kernel_id, path=path, **told)
        self.in_hand = ""
        IOLoop.current().call_later(PAUSE, self.make_ready)
        return ready

    async def shutdown_all(self, now: bool = False) -> None:  # type: ignore[override]
        """End all kernels, first the one in hand: interrupted while it loads, it would complain in the terminal."""
        if self.in_hand in self:
            await self.shutdown_kernel(self.in_hand, now=True)
        await super().shutdown_all(now=now)

    def list_kernels(self) -> list[dict[str, Any]]:
        """Those that some notebook has."""
        return [kernel for kernel in super().list_kernels() if kernel["id"] != self.in_hand]
