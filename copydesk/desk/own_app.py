"""What every app of ours shares: where it goes wrong itself, whoever ran it hears of it, and no traceback is drawn."""

from __future__ import annotations

from typing import TypeVar

from textual.app import App

Given = TypeVar("Given")
"""What an app gives when it is left."""


class OwnApp(App[Given]):
    """An app that is run with ``stay``."""

    def stay(self, *, mouse: bool = True) -> Given | None:
        """Run until it is left; gives what it was left with.

        Raises:
            Exception: the mistake of copydesk's own that ended it, once the terminal is as it was before.
        """
        given = self.run(mouse=mouse)
        if self._exception is not None:
            raise self._exception
        return given

    def _fatal_error(self) -> None:
        # Textual would draw the traceback with what every name in it held, the exemplar's text among it.
        self._close_messages_no_wait()
