"""The typed Python face of the compiled core; nothing else may import `_native`."""

from fastness.core._native import version

__all__ = ["version"]
