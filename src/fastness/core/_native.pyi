# The docstrings stand in crates/python, where the functions are written.

__all__ = ["version"]

def version() -> str: ...
