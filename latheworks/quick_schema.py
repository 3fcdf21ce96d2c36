"""jsonschema, imported without the grammar of web addresses that it takes seconds to build where that is installed."""

import sys
from typing import Any

_GRAMMAR = "rfc3987_syntax"


def jsonschema() -> Any:
    """Return the module; its check of internationalized addresses, which nothing here asks for, is left out."""
    held = sys.modules.get(_GRAMMAR, _GRAMMAR)
    # A name without a module is refused at once, and jsonschema does without it.
    sys.modules[_GRAMMAR] = None  # type: ignore[assignment]
    try:
        import jsonschema
        import jsonschema.exceptions
    finally:
        if held is _GRAMMAR:
            del sys.modules[_GRAMMAR]
        else:
            sys.modules[_GRAMMAR] = held  # type: ignore[assignment]
    return jsonschema
