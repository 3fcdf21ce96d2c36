"""The link between the page and its kernel, told not to wait.

A small message may be held back until the one before it is acknowledged, which on one machine takes up to 40 ms:
as long as a bench needs to draw. Without the wait a picture follows the key.
"""

from typing import Any

from jupyter_server.services.kernels.connection.channels import ZMQChannelsWebsocketConnection


class PromptLink(ZMQChannelsWebsocketConnection):
    """The usual link, with TCP_NODELAY; JupyterLab is told of it by `latheworks.opening`."""

    def connect(self) -> Any:
        """Open the link as usual, and send from then on without waiting."""
        self.websocket_handler.set_nodelay(True)
        return super().connect()
