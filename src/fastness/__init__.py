"""fastness: finds what can be won in club players' games, and proves every verdict."""

__version__ = "0.1.0"
