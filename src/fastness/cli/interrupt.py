"""What Ctrl-C does while the core is at work."""

import signal
import threading


def stop_at_once() -> None:
    """Let Ctrl-C end the program by itself from now on.

    The core hears no Ctrl-C while it works, which may take a while. For commands that have
    nothing to tidy up.
    """
    handled = signal.getsignal(signal.SIGINT) is signal.default_int_handler
    if handled and threading.current_thread() is threading.main_thread():
        signal.signal(signal.SIGINT, signal.SIG_DFL)
